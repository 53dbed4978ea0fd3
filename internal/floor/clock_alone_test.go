package floor

import (
	"reflect"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestAdvanceTellsAllAtOnce: whoever asks late is told each thing that the clock did by
// itself, at its own instant and with its own number; and what was asked has not changed.
func TestAdvanceTellsAllAtOnce(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(1), "Ada Bo", "A B")
	p.Parts = append(p.Parts, p.Parts[0])
	r := begin(t, p)
	r.must("0:20", Press{"Ada"})
	for range 2 {
		got := Advance(r.s, r.zero+time.Hour)
		// part 1 takes 1:00, then 3:00 between parts and the count-in of 0:10 before part 2
		// begins, which ends a minute later; a last press may come a minute after that
		want := []Stamped{
			{4, r.zero + time.Minute, PartEnded{Part: 1}},
			{5, r.zero + 4*time.Minute, Started{Part: 2, At: r.zero + 4*time.Minute}},
			{6, r.zero + 5*time.Minute, PartEnded{Part: 2}},
			{7, r.zero + 6*time.Minute, Ended{}},
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("Advance = %+v, want %+v", got, want)
		}
		if r.s.Part() != 1 || r.s.PartEnd(1) != None || r.s.Over() != None {
			t.Error("Advance changed the state that it was asked of")
		}
	}
	if got := Advance(r.s, r.zero+time.Minute); len(got) != 1 {
		t.Errorf("at 1:00 sharp %d things have come, want the end of the part", len(got))
	}
	if got := Advance(New(), time.Hour); got != nil {
		t.Errorf("before anything was opened the clock did %+v", got)
	}
}

// TestOpenedBeginsAnew: a second run in the same state knows nothing of the first.
func TestOpenedBeginsAnew(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada Bo", "A B"))
	r.must("0:20", Press{"Ada"})
	r.must("0:25", Give{Who: "Ada", To: "Bo"})
	r.must("0:30", Effort{Who: "Ada", Effort: 7})
	r.must("0:40", Hold{})
	r.must("0:50", Out{On: "C"})
	if len(r.s.Private()) != 1 {
		t.Errorf("%d private events, want the effort", len(r.s.Private()))
	}
	r.keep(Stamped{N: 1, E: Opened{Plan: one(everyMinute(3), "Cleo", "A")}})
	fresh := New()
	fresh.Apply(Stamped{N: 1, E: Opened{Plan: one(everyMinute(3), "Cleo", "A")}})
	events, err := Decide(r.s, Go{}, time.Hour)
	want, _ := Decide(fresh, Go{}, time.Hour)
	if err != nil || !reflect.DeepEqual(events, want) {
		t.Errorf("GO of the second run = %+v, %v; want %+v", events, err, want)
	}
	for _, e := range want {
		r.s.Apply(e)
		fresh.Apply(e)
	}
	at := time.Hour + 30*time.Second
	if got, want := dump(r.s, at), dump(fresh, at); got != want || len(r.s.Private()) != 0 {
		t.Errorf("the second run is\n%s\nwant\n%s", got, want)
	}
	if e, ok := r.s.LastUndoable(); ok {
		t.Errorf("%+v of the first run can be undone", e)
	}
}

// TestPlanStaysTheCallers: guests come into the run, not into the plan that was handed over.
func TestPlanStaysTheCallers(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(3), "Ada Bo", "A B")
	p.People = append(make([]Person, 0, 8), p.People...) // room for more in the same array
	r := begin(t, p)
	r.must("0:20", Guest{Who: "Ask"})
	if len(p.People) != 2 || p.People[:3][2].Name != "" {
		t.Errorf("the caller's people are %+v, want the two and nothing written behind them", p.People[:3])
	}
	if len(r.s.Plan().People) != 3 {
		t.Errorf("%d people in the run, want 3", len(r.s.Plan().People))
	}
}

// TestHoldInTheCountIn: a GO that is put off moves all that hangs on it, the starts of lane
// clocks too; a second stop before it goes on standing from the first.
func TestHoldInTheCountIn(t *testing.T) {
	t.Parallel()
	for _, part := range []session.Part{everyMinute(3), {Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2}} {
		r := begin(t, one(part, "Ada Bo", "A A"))
		r.at(-6*time.Second, Hold{})
		r.must("0:14", Resume{}) // 5 s to the clock, then 6 s to GO
		r.must("0:16", Hold{})
		r.must("0:26", Resume{})
		const want = 37 * time.Second
		if got := r.s.First() - r.zero; got != want {
			t.Errorf("%s: GO is at %v, want %v", part.Format, got, want)
		}
		r.refused("0:36", Press{"Ada"}, "before GO")
		r.must("0:57", Press{"Ada"})
		got := r.s.Rounds(1, 0, r.zero+time.Minute)[0]
		if got.Starts-r.zero != want || got.Work != 20*time.Second {
			t.Errorf("%s: Ada's round began at %v and took %v, want %v and 20 s", part.Format, got.Starts-r.zero, got.Work, want)
		}
		next := r.s.Tiles(nil, 1, r.zero+58*time.Second)[1]
		if due := max(next.Due, next.Since) - r.zero; part.Format == session.Ratio && due != 67*time.Second {
			t.Errorf("Bo is due at %v, want 10 s after Ada", due)
		}
	}
}
