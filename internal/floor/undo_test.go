package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestUndoTakesOneThing: an undo takes back the last thing that was done with what came of it at
// the same instant, and nothing that only looks like it.
func TestUndoTakesOneThing(t *testing.T) {
	t.Parallel()
	drop := everyMinute(6)
	drop.Late = session.DropLoad
	for _, c := range []struct {
		says string
		do   []asked
		gone []int // events of these that an undo takes back, from the last
	}{
		{"a press", []asked{{"0:20", Press{"Ada"}}, {"0:30", Press{"Bo"}}}, []int{1}},
		{"a late press with the load it changed", []asked{{"0:20", Press{"Bo"}}, {"1:05", Press{"Ada"}}}, []int{2, 1}},
		{"a strike with the reason given to it later", []asked{{"0:20", Strike{Who: "Ada", Round: 1}}, {"0:30", Strike{Who: "Ada", Round: 1, Reason: "slip"}}}, []int{1, 0}},
		{"two strikes of two people", []asked{{"0:20", Strike{Who: "Ada", Round: 1}}, {"0:30", Strike{Who: "Bo", Round: 1}}}, []int{1}},
		{"two strikes of two rounds", []asked{{"1:20", Strike{Who: "Ada", Round: 1}}, {"1:30", Strike{Who: "Ada", Round: 2}}}, []int{1}},
		{"a load changed by hand at the instant of a press of another instant", []asked{{"0:20", Press{"Ada"}}, {"0:30", StepLoad{Who: "Ada"}}}, []int{1}},
		{"a stop of the clock is not undone", []asked{{"0:20", Press{"Ada"}}, {"0:30", Hold{}}}, []int{0}},
		{"a guest with where they stand", []asked{{"0:20", Press{"Ada"}}, {"0:30", Guest{Who: "Ask"}}}, []int{2, 1}},
		{"a sled with all who were moved for it", []asked{{"0:20", Press{"Ada"}}, {"0:30", Out{On: "A"}}}, []int{2, 1}},
	} {
		r := begin(t, one(drop, "Ada Bo", "A B"))
		n := len(r.log)
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		done := slices.Clone(r.log[n:])
		r.must("1:50", Undo{})
		var gone []int
		for _, e := range r.log[n+len(done):] {
			gone = append(gone, slices.IndexFunc(done, func(was Stamped) bool { return was.N == e.E.(Undone).Of }))
		}
		if !slices.Equal(gone, c.gone) {
			t.Errorf("%s: of %+v an undo takes back %v, want %v", c.says, done, gone, c.gone)
		}
	}
}

// TestUndoneStaysUndone: what was undone does not come back when the state is made anew from its
// events, as it is for a guest, for a sled that goes out and for whatever the clock has done.
func TestUndoneStaysUndone(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(9), "Ada Bo", "A B"))
	r.must("0:10", Guest{Who: "Ask"})
	r.must("0:20", Undo{})
	r.must("0:30", Guest{Who: "Ask"})
	if n := len(r.s.Plan().People); n != 3 || !r.s.Here(2) {
		t.Errorf("%d people, the guest here %v; want 3 and the guest among them", n, n == 3 && r.s.Here(2))
	}
	r.must("0:40", Press{"Ada"})
	r.must("0:45", Undo{})
	r.must("0:50", Out{On: "C"})
	r.must("0:55", Press{"Ada"})
	if x := r.s.Rounds(1, 0, r.zero+58*time.Second)[0]; x.Work != 55*time.Second {
		t.Errorf("Ada's round took %v, want the 55 s of the press that stands", x.Work)
	}
}

// TestPressGivenAway: a press that was another's ends the round that is open for them, whatever
// number it had for the one it came from; only the last such press of that person, part and round
// is meant.
func TestPressGivenAway(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Amrap, Cap: 9 * time.Minute}, "Ada Bo", "A B"))
	r.must("0:20", Press{"Bo"})
	r.must("0:30", Press{"Ada"})
	r.must("1:00", Press{"Ada"})
	r.must("1:30", Press{"Ada"})
	r.must("1:35", Give{Who: "Ada", Round: 3, To: "Bo"})
	r.want("Bo", 100*time.Second, `
		1 0 20 done
		2 20 70 done
		3 90 - open`)
	r.want("Ada", 100*time.Second, `
		1 0 30 done
		2 30 30 done
		3 60 - open`)
	sets := begin(t, one(session.Part{Format: session.Sets, Sets: 3, Rest: 10 * time.Second}, "Ada Bo", "A B"))
	sets.must("0:10", Press{"Bo"})
	sets.must("0:20", Press{"Bo"})
	sets.must("0:30", Press{"Bo"})
	sets.must("0:32", Press{"Ada"})
	sets.must("0:40", Press{"Ada"})
	sets.must("0:45", Give{Who: "Ada", Round: 1, To: "Bo"})
	sets.want("Bo", 50*time.Second, `
		1 10 10 done
		2 30 10 done due 30 waited 0`)
}

// TestEndedWhileAPartRuns: what a damaged log leaves out, the next event puts right: a part ends
// with the run, and with the start of the next.
func TestEndedWhileAPartRuns(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(5), "Ada Bo", "A B")
	p.Parts = append(p.Parts, p.Parts[0], p.Parts[0])
	r := begin(t, p)
	r.keep(Stamped{N: 3, T: r.zero + 90*time.Second, E: Started{Part: 2, At: r.zero + 100*time.Second}})
	if got := r.s.PartEnd(1) - r.zero; got != 90*time.Second || r.s.Part() != 2 {
		t.Errorf("part 1 ended at %v, part %d is on; want 1:30 and part 2", got, r.s.Part())
	}
	r.keep(Stamped{N: 4, T: r.zero + 150*time.Second, E: Started{Part: 3, At: r.zero + 150*time.Second}})
	r.keep(Stamped{N: 5, T: r.zero + 200*time.Second, E: Ended{}})
	if two, three := r.s.PartEnd(2)-r.zero, r.s.PartEnd(3)-r.zero; two != 150*time.Second || three != 200*time.Second {
		t.Errorf("parts 2 and 3 ended at %v and %v, want 2:30 and 3:20", two, three)
	}
	empty := New()
	empty.Apply(Stamped{N: 1, E: Opened{Plan: p}})
	empty.Apply(Stamped{N: 2, T: time.Second, E: Ended{}})
	if empty.Over() != time.Second || empty.PartEnd(1) != None {
		t.Errorf("a run that ended before GO is over at %v", empty.Over())
	}
}

// TestAgainKeepsWhatWasStruck: a round that begins anew is struck still, and every later start
// moves with it; the start of a round that is no more is moved by nothing.
func TestAgainKeepsWhatWasStruck(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada Bo", "A B"))
	r.must("0:10", Strike{Who: "Ada", Round: 1})
	r.must("0:20", Press{"Bo"})
	r.must("0:30", Again{})
	r.must("0:55", Press{"Bo"})
	r.want("Ada", 60*time.Second, `1 35 - struck`)
	r.want("Bo", 60*time.Second, `1 35 20 in time margin 40`)
	var starts []int
	for _, at := range r.s.Starts(1, r.zero+10*time.Minute) {
		starts = append(starts, int((at - r.zero).Seconds()))
	}
	if !slices.Equal(starts, []int{35, 95, 155}) {
		t.Errorf("the rounds start at %v, want 35, 95 and 155 s", starts)
	}
	for _, round := range []int{0, 4, 5} {
		twin := begin(t, one(everyMinute(3), "Ada Bo", "A B"))
		twin.keep(Stamped{N: 3, T: twin.zero + 10*time.Second, E: Restarted{Part: 1, Round: round, At: twin.zero + 10*time.Second}})
		if got := twin.s.End(twin.zero+20*time.Second) - twin.zero; got != 3*time.Minute {
			t.Errorf("with a round %d begun anew the part ends at %v, want 3:00", round, got)
		}
	}
}

// TestCapsAreMoved: a cap of sets or of a pull at one's own pace moves too, never below nothing.
func TestCapsAreMoved(t *testing.T) {
	t.Parallel()
	for _, part := range []session.Part{
		{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2, Cap: time.Minute}, {Format: session.LongPull, StopCap: time.Minute, Cap: time.Minute},
	} {
		r := begin(t, one(part, "Ada Bo", "A B"))
		r.must("0:10", Longer{By: 30 * time.Second})
		if got := r.s.Limit(1); got != 90*time.Second {
			t.Errorf("%s: the cap is %v, want 1:30", part.Format, got)
		}
		r.must("0:20", Longer{By: -time.Hour})
		if got := r.s.Limit(1); got != 0 {
			t.Errorf("%s: the cap is %v, want none", part.Format, got)
		}
	}
	r := begin(t, one(session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "Ada", "A"))
	r.must("0:10", Longer{By: time.Minute})
	if got := r.s.Limit(1); got != 0 {
		t.Errorf("sets without a cap have got one of %v", got)
	}
}

// TestPressGivenToTheFirstOfTheList: as to anybody, it is their open round that it ends; one that is given in a set that
// runs is the last that stands, not one that was taken back.
func TestPressGivenToTheFirstOfTheList(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Amrap, Cap: 9 * time.Minute}, "Ada Bo", "A B"))
	r.must("0:20", Press{"Ada"})
	r.must("0:50", Press{"Ada"})
	r.must("1:10", Press{"Bo"})
	r.must("1:15", Give{Who: "Bo", Round: 1, To: "Ada"})
	r.want("Ada", 80*time.Second, `
		1 0 20 done
		2 20 30 done
		3 50 20 done
		4 70 - open`)
	r.keep(Stamped{N: 99, T: r.zero + 90*time.Second, E: Given{Who: "Ada", To: "Nobody", Part: 1, Round: 2}}) // of a damaged log
	r.want("Ada", 100*time.Second, `
		1 0 20 done
		2 20 50 done
		3 70 - open`)
}
