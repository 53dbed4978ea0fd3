package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// inTwoHeats is a part on one sled with Ada in the first heat and Bo in the second.
func inTwoHeats(part session.Part) *Plan {
	p := one(part, "Ada Bo", "A A")
	p.Parts[0].Heats, p.Parts[0].Places[1].Heat = 2, 2
	return p
}

// TestIntervalsOfADamagedLog: an interval that cannot be, or of a part that has not begun or has
// none, changes nothing; the longest there is does.
func TestIntervalsOfADamagedLog(t *testing.T) {
	t.Parallel()
	const rest = 40 * time.Second
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: rest, Rounds: 3}
	for _, c := range []struct {
		part session.Part
		e    IntervalChanged
		end  time.Duration // of part 1
	}{
		{everyMinute(3), IntervalChanged{Part: 1, Round: 2, Every: 90 * time.Second}, 4 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 1, Round: 1, Every: 90 * time.Second}, 270 * time.Second},
		{everyMinute(3), IntervalChanged{Part: 1, Round: 0, Every: 90 * time.Second}, 3 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 0, Round: 2, Every: 90 * time.Second}, 3 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 2, Round: 2, Every: 90 * time.Second}, 3 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 3, Round: 2, Every: 90 * time.Second}, 3 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 1, Round: 2, Every: measure.MaxClock}, time.Minute + 2*measure.MaxClock},
		{everyMinute(3), IntervalChanged{Part: 1, Round: 2, Every: measure.MaxClock + 1}, 3 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 1, Round: 2}, 3 * time.Minute},
		{everyMinute(3), IntervalChanged{Part: 1, Round: 2, Every: -time.Minute}, 3 * time.Minute},
		{bouts, IntervalChanged{Part: 1, Round: 2, Every: 30 * time.Second}, time.Minute + 30*time.Second + 20*time.Second},
		{bouts, IntervalChanged{Part: 1, Round: 2, Every: 20 * time.Second}, 2*time.Minute + 20*time.Second},
		{session.Part{Format: session.Amrap, Cap: 5 * time.Minute}, IntervalChanged{Part: 1, Round: 1, Every: 90 * time.Second}, 5 * time.Minute},
	} {
		p := one(c.part, "Ada", "A")
		p.Parts = append(p.Parts, one(everyMinute(3), "Ada", "A").Parts...)
		r := begin(t, p)
		second := r.s.period(1)
		r.keep(Stamped{N: 9, T: r.zero + 10*time.Second, E: c.e})
		if end := r.s.heatEnd(0, &r.s.parts[0], 0, r.zero+11*time.Second) - r.zero; end != c.end {
			t.Errorf("%s after %+v: part 1 ends at %v, want %v", c.part.Format, c.e, end, c.end)
		}
		if got := r.s.period(1); got != second || len(r.s.parts[1].heats[0].was) > 0 {
			t.Errorf("%s after %+v: rounds of part 2 take %v, want %v", c.part.Format, c.e, got, second)
		}
	}
}

// TestIntervalsAtTheEdge: the longest interval there is can be asked for, and in the count-in of
// the first round that one takes it over.
func TestIntervalsAtTheEdge(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada", "A"))
	r.at(-5*time.Second, Interval{90 * time.Second})
	r.refused("0:10", Interval{measure.MaxClock + time.Second}, "no round fits into that interval")
	r.must("0:10", Interval{measure.MaxClock})
	if end := r.s.heatEnd(0, &r.s.parts[0], 0, r.zero+11*time.Second) - r.zero; end != 90*time.Second+2*measure.MaxClock {
		t.Errorf("it ends at %v, want 1:30 and two days", end)
	}
}

// TestLastBoutAfterALongerRest: there is no rest after the last bout, with another interval either.
func TestLastBoutAfterALongerRest(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 3}, "Ada", "A"))
	r.must("0:10", Interval{30 * time.Second}) // bouts at 0:00, 1:00, 1:30
	if f := r.s.Face(r.zero + 95*time.Second); f.Phase != Working || f.Round != 3 || f.Left != 15*time.Second || f.Ends != r.zero+110*time.Second {
		t.Errorf("in the last bout the wall says %+v, want 15 s of round 3", f)
	}
}

// TestIntervalOfTheSecondHeat: a longer interval in the second heat leaves what was late in the
// first as late as it was.
func TestIntervalOfTheSecondHeat(t *testing.T) {
	t.Parallel()
	part := everyMinute(2)
	part.Late = session.NoteIt
	r := begin(t, inTwoHeats(part))
	r.must("1:06", Press{"Ada"}) // heat 2 starts at 5:00
	r.must("5:10", Interval{2 * time.Minute})
	r.want("Ada", 6*time.Minute, `
		1 0 66 late margin -6
		2 66 - no press`)
	r.must("6:30", Press{"Bo"})
	r.want("Bo", 7*time.Minute, `
		1 300 - no press
		2 360 30 in time margin 90`)
}

// TestCutFromARoundOn: a pull is shorter from the next round on, at its own station alone, in the
// heats to come from their first round on; and a second cut has to be shorter still.
func TestCutFromARoundOn(t *testing.T) {
	t.Parallel()
	part := everyMinute(4)
	part.Stations = []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}, {Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}
	r := begin(t, inTwoHeats(part))
	metres := func(who int, want ...measure.Distance) {
		t.Helper()
		rounds := r.s.Rounds(1, who, r.zero+time.Hour)
		if len(rounds) != len(want) {
			t.Fatalf("%d rounds, want %d", len(rounds), len(want))
		}
		for i, x := range rounds {
			if x.Distance != want[i]*measure.Metre {
				t.Errorf("round %d of person %d is %v µm, want %d m", x.Round, who, x.Distance, want[i])
			}
		}
	}
	r.must("0:10", Metres{25 * measure.Metre}) // from round 2 on: of station 1 that is round 3
	r.refused("0:20", Metres{25 * measure.Metre}, "no pull is longer than that")
	r.refused("0:20", Metres{28 * measure.Metre}, "no pull is longer than that")
	r.must("2:10", Metres{18 * measure.Metre}) // from round 4 on, that is station 2
	r.must("7:00", Sleep{})                    // heat 2 runs from then on
	_ = r.do(time.Hour, Sleep{})
	metres(0, 30, 20, 25, 18)
	metres(1, 18, 18, 18, 18)
}

// TestShortestCutHolds: of what all were cut to and what one was cut to for being late, the
// shorter holds.
func TestShortestCutHolds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ all, own, want measure.Distance }{{20, 0, 20}, {0, 22, 22}, {20, 22, 20}, {20, 15, 15}, {20, 20, 20}} {
		r := begin(t, one(everyMinute(4), "Ada", "A"))
		if c.all > 0 {
			r.must("0:10", Metres{c.all * measure.Metre})
		}
		if c.own > 0 {
			r.keep(Stamped{N: 9, T: r.zero + 11*time.Second, E: DistanceCut{Who: "Ada", Part: 1, Station: 1, Round: 2, To: c.own * measure.Metre}})
		}
		if got := r.s.Rounds(1, 0, r.zero+70*time.Second)[1].Distance; got != c.want*measure.Metre {
			t.Errorf("all %d m, Ada %d m: she pulls %v µm, want %d m", c.all, c.own, got, c.want)
		}
	}
}

// TestShorterPullTakesLess: of 30 s for 30 m, 20 m take 20, and whoever comes next on the sled
// starts so much sooner: 20 s and 10 s for the handover.
func TestShorterPullTakesLess(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada Bo", "A A"))
	r.must("0:10", Metres{20 * measure.Metre})
	rounds := r.s.Rounds(1, 1, r.zero+2*time.Minute)
	if got := [2]time.Duration{rounds[0].Starts - r.zero, rounds[1].Starts - r.zero}; got != [2]time.Duration{40 * time.Second, 90 * time.Second} {
		t.Errorf("Bo starts at %v, want 40 s and 1:30", got)
	}
}

// TestWaysOutOfTheSecondHeat: what a way out costs counts the heats to come, and none that was.
func TestWaysOutOfTheSecondHeat(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 30 * time.Second, Rounds: 3}
	every := everyMinute(3)
	for _, c := range []struct {
		part  session.Part
		heats int
		at    string
		every time.Duration
		later time.Duration
	}{
		{part, 1, "0:10", 65 * time.Second, 15 * time.Second}, // before round 2 alone: two rounds, and no rest after the last
		{part, 2, "0:10", 65 * time.Second, 45 * time.Second},
		{part, 3, "0:10", 65 * time.Second, 75 * time.Second},
		{every, 1, "0:10", 90 * time.Second, time.Minute},
		{every, 2, "0:10", 90 * time.Second, 150 * time.Second},
		{every, 2, "6:10", 90 * time.Second, time.Minute}, // heat 2 starts at 6:00
	} {
		p := one(c.part, "Ada Bo Cleo Dag", "A A A A")
		p.Parts[0].Heats = c.heats
		for i := 2; i < 4 && c.heats > 1; i++ {
			p.Parts[0].Places[i].Heat = 2
		}
		if c.heats == 1 {
			p.Parts[0].Places[2].Heat, p.Parts[0].Places[3].Heat = 0, 0
		}
		r := begin(t, p)
		_ = r.do(clockOf(t, c.at), Sleep{})
		f := r.s.Fit(r.zero + clockOf(t, c.at))
		if f == nil || f.Every != c.every || f.Later != c.later {
			t.Errorf("%s in %d heats at %s: %+v, want every %v, %v later", c.part.Format, c.heats, c.at, f, c.every, c.later)
			continue
		}
		before := r.s.End(r.zero + clockOf(t, c.at))
		r.must(c.at, Interval{f.Every})
		if got := r.s.End(r.zero+clockOf(t, c.at)) - before; got != f.Later {
			t.Errorf("%s in %d heats at %s: it ends %v later, said %v", c.part.Format, c.heats, c.at, got, f.Later)
		}
	}
}

// TestFitAfterACut: the metres that would fit are of the pull as it is by then; and an interval
// that just fits is not made longer.
func TestFitAfterACut(t *testing.T) {
	t.Parallel()
	part := everyMinute(5)
	part.Every = 110 * time.Second
	r := begin(t, one(part, "Ada Bo Cleo", "A A A")) // 3 × 30 s, 3 × 10 s: 120 s
	f := r.s.Fit(r.zero + time.Second)
	if f == nil || f.Needs != 2*time.Minute || f.Every != 125*time.Second || f.Metres != 26*measure.Metre {
		t.Errorf("%+v, want 125 s or 26 m", f)
	}
	part.Every = 60 * time.Second
	r = begin(t, one(part, "Ada Bo Cleo", "A A A"))
	r.must("0:01", Metres{24 * measure.Metre}) // 3 × 24 s and 30 s: 102 s
	f = r.s.Fit(r.zero + 2*time.Second)
	if f == nil || f.Needs != 102*time.Second || f.Every != 105*time.Second || f.Metres != 10*measure.Metre {
		t.Errorf("%+v, want 105 s, or 10 m: 24 × 30/72", f)
	}
	part.Every = 105 * time.Second
	r = begin(t, one(part, "Ada Bo Cleo", "A A A"))
	if f = r.s.Fit(r.zero + 2*time.Second); f == nil || f.Every != 2*time.Minute {
		t.Errorf("%+v, want just 2:00", f)
	}
}

// TestFitInTheOrderOfTheSled: plates moved between people depend on who comes after whom. Ada and
// Cleo have 20 kg, Bo and Dag 40: in list order that is four changes of a plate, in the sled's two.
func TestFitInTheOrderOfTheSled(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(5), "Ada Bo Cleo Dag", "A A A A")
	for i, order := range []int{0, 2, 1, 3} {
		sp := &p.Parts[0].Places[i].Spots[0]
		if sp.Order = order; order < 2 {
			sp.Stack, sp.Moves = []string{"20 kg"}, 47*kg
		}
	}
	r := begin(t, p)
	if f := r.s.Fit(r.zero + time.Second); f == nil || f.Needs != (4*30+4*10+2*5)*time.Second {
		t.Errorf("%+v, want 4 × 30 s, 4 × 10 s and 2 × 5 s for plates", f)
	}
}

// TestAtWorkInTheLastBout: after a longer rest the last bout is as long as any, on the tile too.
func TestAtWorkInTheLastBout(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 3}, "Ada", "A"))
	r.must("0:10", Interval{30 * time.Second}) // the last bout is from 1:30 to 1:50
	for at, want := range map[time.Duration]TileState{95 * time.Second: TileWork, 109 * time.Second: TileWork, 111 * time.Second: TileOver} {
		if got := r.s.Tiles(nil, 1, r.zero+at)[0].State; got != want {
			t.Errorf("at %v Ada's tile is %d, want %d", at, got, want)
		}
	}
}

// TestGraceMovesNoStart: what is over the time by no more than the grace takes nothing of the next round.
func TestGraceMovesNoStart(t *testing.T) {
	t.Parallel()
	part := everyMinute(3)
	part.Late = session.NoteIt
	p := one(part, "Ada", "A")
	p.House.LateGrace = 3 * time.Second
	r := begin(t, p)
	r.must("1:02", Press{"Ada"})
	r.want("Ada", 90*time.Second, `
		1 0 62 in time margin -2
		2 60 - open`)
}
