package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// warned gives a command and returns what the coach is told of it.
func (r *run) warned(at string, c Command) string {
	r.t.Helper()
	events, err := Decide(r.s, c, r.zero+clockOf(r.t, at))
	if err != nil {
		r.t.Errorf("%s %T: %v", at, c, err)
	}
	for _, e := range events {
		r.keep(e)
	}
	return r.s.Warning(events)
}

// Two people of 30 s on one sled, 10 s for each handover: 80 s a round. By the
// definition of the fit check, Σ(work + handover) over all who share the sled.
func TestFitIsCheckedAnewAfterAChange(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		every time.Duration
		do    Command
		want  string
	}{
		{"a sled out that leaves room", 80 * time.Second, Out{On: "B"}, ""},
		{"a sled out", 75 * time.Second, Out{On: "B"}, "does not fit: A needs 1:20 for 2, has 1:15; would fit: every 1:30 (ends 1:30 later), 27 m"},
		{"a person moved", 75 * time.Second, MoveTo{Who: "Bo", On: "A"}, "does not fit: A needs 1:20 for 2, has 1:15; would fit: every 1:30 (ends 1:30 later), 27 m"},
		{"a load", 75 * time.Second, StepLoad{Who: "Bo", Up: true}, ""},
	} {
		part := everyMinute(7)
		part.Every = c.every
		p := one(part, "Ada Bo", "A B")
		p.Parts[0].Stations[0].On = p.Parts[0].Stations[0].On[:2]
		r := begin(t, p)
		if got := r.warned("0:10", c.do); got != c.want {
			t.Errorf("%s: warned %q, want %q", c.name, got, c.want)
		}
	}
}

func TestGuestOnAFullSledIsWarnedOf(t *testing.T) {
	t.Parallel()
	part := everyMinute(20)
	p := one(part, "Ada", "A")
	p.Parts[0].Stations[0].On = p.Parts[0].Stations[0].On[:1]
	r := begin(t, p)
	// 30 s each, and 10 s with two plates of 5 s at each of the two handovers
	want := "does not fit: A needs 1:40 for 2, has 1:00; would fit: every 1:45 (ends 9:45 later), 10 m"
	r.must("0:10", Guest{Who: "Ask"})
	if got := r.s.Fit(r.zero + 6*time.Minute); got == nil || got.String() != want {
		t.Errorf("the fit check says %v, want %q", got, want)
	}
}

func TestWarmAfterTheEndIsSaid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		part session.Part
		more int
		want string
	}{
		{everyMinute(20), 0, "Cleo is not warm before this part is over: no round of it is left"},
		{everyMinute(20), 1, "Cleo is not warm before this part is over: no round of it is left; from part 2 on"},
		{session.Part{Format: session.Amrap, Cap: 20 * time.Minute}, 0, "Cleo is not warm before this part is over: no round of it is left"},
		{everyMinute(30), 0, ""},
		{session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}, 0, ""},
	} {
		p := one(c.part, "Ada Bo Cleo", "A B -")
		for range c.more {
			p.Parts = append(p.Parts, p.Parts[0])
		}
		r := begin(t, p)
		if got := r.warned("16:00", Arrive{Who: "Cleo", WarmUp: 5 * time.Minute}); got != c.want {
			t.Errorf("%s: warned %q, want %q", c.part.Format, got, c.want)
		}
	}
}

// A sled that breaks is gone from the parts to come as well, and from each station.
func TestSledOutOfEveryPart(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(2), "Ada Bo", "A B")
	p.Parts = append(p.Parts, one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2}, "Ada Bo", "A B").Parts[0])
	r := begin(t, p)
	r.must("0:10", Out{On: "A"})
	for pi := range r.s.parts {
		tr := &r.s.parts[pi].tracks[0]
		if sp := tr.spot(2, 0); sp.On != "C" {
			t.Errorf("part %d: Ada stands on %s, want C", pi+1, sp.On)
		}
	}
	r.must("0:20", Back{On: "A"})
	if sp := r.s.parts[1].tracks[0].spot(1, 0); sp.On != "A" {
		t.Errorf("after it is back Ada stands on %s in part 2, want A", sp.On)
	}
}

func TestNobodyIsLeftOnASledThatIsGoneInSilence(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Sets, Sets: 3, Rest: time.Minute}, "Ada Bo", "A A")
	p.Parts[0].Stations[0].On = p.Parts[0].Stations[0].On[:1]
	r := begin(t, p)
	want := "Ada, Bo: no other implement of that station is left; bring one back or end the part"
	if got := r.warned("0:10", Out{On: "A"}); got != want {
		t.Errorf("warned %q, want %q", got, want)
	}
}

// Whoever leaves a long pull while standing stood until then; a part that is ended
// early ends the stop as well.
func TestStopLastsUntilThePullIsLeft(t *testing.T) {
	t.Parallel()
	for _, c := range []Command{Leave{Who: "Ada"}, Skip{}} {
		r := begin(t, one(session.Part{Format: session.LongPull, StopCap: time.Minute}, "Ada Bo", "A B"))
		r.must("0:40", StopNow{Who: "Ada"})
		r.must("1:10", c)
		got := r.s.Rounds(1, 0, r.zero+3*time.Minute)[0]
		to := got.Ends
		if got.Stops[0].To != None {
			to = got.Stops[0].To
		}
		if stood := to - got.Stops[0].From; stood != 30*time.Second {
			t.Errorf("%T: stood for %v, want 30s", c, stood)
		}
	}
}

// Intervals that are shared end with the last bout of the last one, and that is
// known before they begin.
func TestSharedIntervalsEndAsPlanned(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: time.Minute, Rounds: 3}
	r := begin(t, one(part, "Ada Bo", "A A"))
	planned := r.s.plannedEnd(0, r.zero)
	r.at(10*time.Minute, Sleep{})
	if got := r.s.PartEnd(1); got != planned || got-r.zero != 210*time.Second {
		t.Errorf("ended at %v, planned %v, want 3m30s: 160 s, 30 s of handover and work before Bo, 20 s of work", got-r.zero, planned-r.zero)
	}
}

func TestLatecomerStartsARampWithItsStartLoad(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Ramp}, "Ada Bo", "A -")
	p.Parts[0].Places[1].Spots[0].Asked = 70 * kg
	r := begin(t, p)
	r.must("1:00", Arrive{Who: "Bo"})
	if sp := r.s.parts[0].tracks[1].spot(1, 0); sp.Moves != 69500*measure.Gram || !slices.Equal(sp.Stack, []string{"20 kg", "20 kg", "2.5 kg"}) {
		t.Errorf("Bo starts with %v, %v µg; want the 69.5 kg nearest to 70", sp.Stack, sp.Moves)
	}
}
