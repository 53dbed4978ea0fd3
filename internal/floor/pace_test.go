package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// A longer interval begins with the next round: the round that runs, and what was late
// in one before, keep the old one. start(k) = start(r) + (k − r)·T, by definition.
func TestLongerInterval(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(4), "Ada Bo", "A B"))
	r.must("0:50", Press{"Ada"})
	r.must("0:55", Press{"Bo"})
	r.must("1:10", Interval{90 * time.Second}) // from round 3 on
	r.must("1:58", Press{"Ada"})
	r.must("2:03", Press{"Bo"})
	r.must("3:05", Press{"Ada"})
	r.must("4:10", Press{"Ada"})
	r.want("Ada", 6*time.Minute, `
		1 0 50 in time margin 10
		2 60 58 in time margin 2
		3 120 65 in time margin 25
		4 210 40 in time margin 50`)
	r.want("Bo", 2*time.Minute+5*time.Second, `
		1 0 55 in time margin 5
		2 60 63 late margin -3
		3 120 - sat out`)
	_ = r.do(6*time.Minute, Sleep{})
	if end := r.s.PartEnd(1) - r.zero; end != 5*time.Minute {
		t.Errorf("ends at %v, want 2 × 1:00 + 2 × 1:30", end)
	}
	if got := r.s.Rounds(1, 0, r.zero+6*time.Minute); got[1].Length != time.Minute || got[2].Length != 90*time.Second {
		t.Errorf("rounds 2 and 3 are %v and %v long", got[1].Length, got[2].Length)
	}
}

// Undoing it brings the old starts back; heats to come take it over; a part that is made
// longer grows by rounds of the new one.
func TestIntervalWithTheRest(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(3), "Ada Bo", "A B")
	p.Parts[0].Heats, p.Parts[0].Places[1].Heat = 2, 2
	r := begin(t, p)
	r.must("0:10", Interval{90 * time.Second})
	r.must("0:20", Longer{90 * time.Second})
	if end := r.s.End(r.zero+time.Minute) - r.zero; end != (60+3*90)*time.Second+3*time.Minute+4*90*time.Second {
		t.Errorf("ends at %v", end)
	}
	r.must("0:30", Undo{})
	r.must("0:40", Undo{})
	if end := r.s.End(r.zero+time.Minute) - r.zero; end != 9*time.Minute {
		t.Errorf("after undo ends at %v, want 9m", end)
	}
}

// In intervals it is the rest that grows, and none comes after the last bout.
func TestLongerRestBetweenBouts(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 3}
	r := begin(t, one(part, "Ada Bo", "A A"))
	f := r.s.Fit(r.zero + time.Second)
	if want := "does not fit: A needs 0:40 for 2, has 0:40"; f != nil {
		t.Errorf("the fit check says %v, want nothing: %s", f, want)
	}
	p := one(part, "Ada Bo", "A A")
	p.Parts[0].Spec.Rest = 30 * time.Second
	r = begin(t, p)
	f = r.s.Fit(r.zero + time.Second)
	if want := "does not fit: A needs 0:40 for 2, has 0:30; would fit: rest 0:45 (ends 0:15 later)"; f == nil || f.String() != want {
		t.Fatalf("the fit check says %v, want %q", f, want)
	}
	before := r.s.End(r.zero + time.Second)
	r.must("0:05", Interval{f.Every})
	if got := r.s.End(r.zero + 6*time.Second); got-before != f.Later {
		t.Errorf("ends %v later, said %v", got-before, f.Later)
	}
	if f := r.s.Fit(r.zero + 6*time.Second); f != nil {
		t.Errorf("with the way out taken it still %v", f)
	}
}

// Either way out that the fit check prices, once taken, fits; and so it is for a
// latecomer, who pulls what all pull.
func TestWaysOutFit(t *testing.T) {
	t.Parallel()
	for _, way := range []func(f *Fit) Command{
		func(f *Fit) Command { return Interval{f.Every} },
		func(f *Fit) Command { return Metres{f.Metres} },
	} {
		part := everyMinute(7)
		part.Every = 75 * time.Second
		p := one(part, "Ada Bo Cleo Dag", "A B - A")
		p.Parts[0].Stations[0].On = p.Parts[0].Stations[0].On[:2]
		p.Parts[0].Heats, p.Parts[0].Places[3].Heat = 2, 2 // Dag alone, and as much later
		r := begin(t, p)
		r.must("0:10", Out{On: "B"})
		f := r.s.Fit(r.zero + 11*time.Second)
		before := r.s.End(r.zero + 11*time.Second)
		c := way(f)
		r.must("0:12", c)
		if f := r.s.Fit(r.zero + 13*time.Second); f != nil {
			t.Errorf("%+v taken, and it %v", c, f)
		}
		later := r.s.End(r.zero+13*time.Second) - before
		if _, longer := c.(Interval); longer != (later == f.Later) {
			t.Errorf("%+v: ends %v later, said %v", c, later, f.Later)
		}
		r.must("0:14", Arrive{Who: "Cleo", WarmUp: time.Minute})
		_ = r.do(20*time.Minute, Sleep{})
		rounds := r.s.Rounds(1, 2, r.zero+20*time.Minute)
		if len(rounds) == 0 {
			t.Error("Cleo has no round")
		}
		for _, x := range rounds {
			if m, cut := c.(Metres); cut && x.Distance != m.To {
				t.Errorf("Cleo's round %d is %v µm, want %v", x.Round, x.Distance, m.To)
			}
		}
	}
}

func TestPaceIsRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		part session.Part
		do   Command
		want string
	}{
		{everyMinute(2), Interval{time.Minute}, "that is the interval already"},
		{everyMinute(2), Interval{0}, "no round fits into that interval"},
		{everyMinute(2), Interval{25 * time.Hour}, "no round fits into that interval"},
		{everyMinute(1), Interval{2 * time.Minute}, "no round is left"},
		{everyMinute(1), Metres{10 * measure.Metre}, "no round is left"},
		{everyMinute(2), Metres{30 * measure.Metre}, "no pull is longer than that"},
		{everyMinute(2), Metres{0}, "no pull is longer than that"},
		{session.Part{Format: session.Amrap, Cap: time.Minute}, Interval{time.Minute}, "this part has no interval"},
		{session.Part{Format: session.Amrap, Cap: time.Minute}, Metres{10 * measure.Metre}, "only rounds on the clock of the class are cut for all"},
		{session.Part{Format: session.Intervals, Work: time.Minute, Rest: time.Minute, Rounds: 2}, Interval{time.Minute}, "no round fits into that interval"},
	} {
		r := begin(t, one(c.part, "Ada", "A"))
		if err := r.do(10*time.Second, c.do); err == nil || err.Error() != c.want {
			t.Errorf("%s, %+v: %v, want %q", c.part.Format, c.do, err, c.want)
		}
	}
	r := &run{t: t, s: New()}
	r.keep(Stamped{N: 1, E: Opened{Plan: one(everyMinute(2), "Ada", "A")}})
	for _, c := range []Command{Interval{time.Hour}, Metres{measure.Metre}} {
		if err := r.do(0, c); err == nil || err.Error() != "no part runs" {
			t.Errorf("before GO: %T: %v", c, err)
		}
	}
}
