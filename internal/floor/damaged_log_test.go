package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestEventsJustOutside: an event about the part, heat or round just after the last one or just
// before the first changes nothing that can be seen, in any format.
func TestEventsJustOutside(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		p := one(part, "Ada Bo Cleo", "A A -")
		outside := []Event{
			Started{Part: 0},
			Started{Part: 2},
			HeatStarted{0, 1},
			HeatStarted{2, 1},
			HeatStarted{1, 0},
			HeatStarted{1, 2},
			PartSkipped{0},
			PartSkipped{2},
			PartEnded{0},
			PartEnded{2},
			PartLengthened{0, time.Hour},
			PartLengthened{2, time.Hour},
			Restarted{Part: 0, Round: 1},
			Restarted{Part: 2, Round: 1},
			PullCut{Part: 0, Station: 1, Round: 1, To: 1},
			PullCut{Part: 2, Station: 1, Round: 1, To: 1},
			PullCut{Part: 1, Station: 1, Round: 1, To: 0},
			PullCut{Part: 1, Station: 1, Round: 1, To: -1},
			PullCut{Part: 1, Station: 9, Round: 1, To: 1},
			Resumed{At: time.Hour},
			SledBack{"A"},
			Undone{0},
			Undone{1},
			Undone{2},
			Undone{99},
			Left{"Nobody"},
			Given{"Ada", "Bo", 1, 7},
			Given{"Nobody", "Bo", 1, 1},
			Arrived{Who: "Nobody", Part: 1, Round: 1, Places: []Place{{Heat: 1}}},
			GuestAdded{Who: "Ada", Key: "x"},
			Opened{},
		}
		for _, who := range []string{"Ada", "Nobody"} {
			for _, at := range [][2]int{{0, 1}, {2, 1}, {1, 0}, {1, maxRound + 1}} {
				pt, k := at[0], at[1]
				outside = append(outside,
					Pressed{who, pt, k, asDone}, AttemptMissed{Who: who, Part: pt, Round: k}, Struck{Who: who, Part: pt, Round: k},
					Typed{Who: who, Part: pt, Round: k}, Partial{Who: who, Part: pt, Round: k},
					LoadChanged{Who: who, Part: pt, Station: 1, Round: k}, DistanceCut{Who: who, Part: pt, Station: 1, Round: k, To: 1},
					Swapped{Who: who, Part: pt, Station: 1, Round: k, Movement: "sled row"},
					LaneChanged{Who: who, Part: pt, Station: 1, Round: k, Place: Spot{On: "C"}},
				)
			}
		}
		for _, e := range outside {
			if x, ok := e.(Restarted); ok && !classClock(part.Format) && x.Part == 1 {
				continue
			}
			r, twin := begin(t, p), begin(t, p)
			for _, it := range []*run{r, twin} {
				_ = it.do(5*time.Second, Press{"Ada"})
				_ = it.do(25*time.Second, Press{"Ada"})
			}
			now := r.zero + 30*time.Second
			n := len(r.log)
			_, restarts := e.(Restarted)
			r.keep(Stamped{N: n + 1, T: now, E: e})
			if _, arrives := e.(Started); !arrives && !restarts {
				now += 20 * time.Second
			}
			if got, want := dump(r.s, now), dump(twin.s, now); got != want {
				t.Errorf("%s: after %#v\n%s\nwant\n%s", part.Format, e, got, want)
			}
		}
	}
}

// TestArrivedOfADamagedLog: places that do not fit the parts are nowhere, and rounds that do
// not fit begin with the first.
func TestArrivedOfADamagedLog(t *testing.T) {
	t.Parallel()
	spots := []Spot{{On: "B", Tare: 27 * kg, Ends: 1, Moves: 27 * kg}}
	for _, c := range []struct {
		says   string
		places []Place
		part   int
		round  int
		first  int // round of part 1 that Cleo is first in; 0: none
	}{
		{"all right", []Place{{Heat: 1, Spots: spots}}, 1, 2, 2},
		{"no places", nil, 1, 2, 0},
		{"no heat", []Place{{Spots: spots}}, 1, 2, 0},
		{"a heat too many", []Place{{Heat: 2, Spots: spots}}, 1, 2, 0},
		{"no spots", []Place{{Heat: 1}}, 1, 2, 2},
		{"another part", []Place{{Heat: 1, Spots: spots}}, 2, 2, 1},
		{"round 1", []Place{{Heat: 1, Spots: spots}}, 1, 1, 1},
		{"round 0", []Place{{Heat: 1, Spots: spots}}, 1, 0, 1},
		{"the last round there can be", []Place{{Heat: 1, Spots: spots}}, 1, maxRound, maxRound},
		{"one more", []Place{{Heat: 1, Spots: spots}}, 1, maxRound + 1, 1},
	} {
		for _, part := range []session.Part{everyMinute(3), {Format: session.Sets, Sets: 3, Rest: time.Minute}} {
			r := begin(t, one(part, "Ada Bo Cleo", "A B -"))
			r.keep(Stamped{N: 9, T: r.zero + 10*time.Second, E: Arrived{Who: "Cleo", Part: c.part, Round: c.round, Places: c.places}})
			tr := &r.s.parts[0].tracks[2]
			if tr.first != c.first || !r.s.Here(2) || r.s.Here(2) != r.s.Came(2) {
				t.Errorf("%s in %s: first in round %d, here %v; want %d", c.says, part.Format, tr.first, r.s.Here(2), c.first)
			}
			dump(r.s, r.zero+time.Minute)
			r.s.Due(nil, r.zero, r.zero+time.Minute)
			_ = r.do(time.Minute, Press{"Cleo"})
		}
	}
}

// TestPlanThatDoesNotFit: a plan with fewer places than people, or people here whom it gives no
// heat, stands on its feet: those have no round.
func TestPlanThatDoesNotFit(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		p := one(part, "Ada Bo Cleo", "A B C")
		p.Parts[0].Places = p.Parts[0].Places[:2]
		p.Parts[0].Places[1].Heat = 0
		p.Parts[0].Places[0].Spots = nil // Ada has a heat and no sled
		r := begin(t, p)
		_ = r.do(10*time.Second, Press{"Bo"})
		_ = r.do(12*time.Second, Press{"Cleo"})
		for i, name := range []string{"Bo", "Cleo"} {
			if rounds := r.s.Rounds(1, i+1, r.zero+time.Minute); len(rounds) > 0 {
				t.Errorf("%s: %s has %+v, want no round", part.Format, name, rounds)
			}
			r.refused("0:15", Change{Who: name, By: 10 * kg}, name+" is not in this part")
		}
		if tiles := r.s.Tiles(nil, 1, r.zero+time.Minute); len(tiles) != 3 || tiles[1].State != TileAway || tiles[2].State != TileAway {
			t.Errorf("%s: tiles %+v", part.Format, tiles)
		}
	}
}

// TestNoCutIsNone: a cut to nothing leaves the cut before it; and a round as high as there can be is
// kept, and no higher one.
func TestNoCutIsNone(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(4), "Ada", "A"))
	r.must("0:10", Metres{20 * measure.Metre})
	r.keep(Stamped{N: 9, T: r.zero + 20*time.Second, E: PullCut{Part: 1, Station: 1, Round: 2}})
	if got := r.s.Rounds(1, 0, r.zero+70*time.Second)[1].Distance; got != 20*measure.Metre {
		t.Errorf("round 2 is %v µm, want 20 m", got)
	}
	r = begin(t, one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}, "Ada", "A"))
	for _, k := range []int{maxRound, maxRound + 1} {
		r.keep(Stamped{N: k, T: r.zero + 20*time.Second, E: Typed{Who: "Ada", Part: 1, Round: k, Work: time.Second}})
		rounds := r.s.Rounds(1, 0, r.zero+time.Minute)
		if last := rounds[len(rounds)-1]; last.Round != maxRound || last.Work != time.Second {
			t.Errorf("after one of round %d the last is %+v, want the %d.", k, last, maxRound)
		}
	}
}

// TestHoldBeforeGoOfALaterHeat: a stop in the count-in puts GO off, and nobody of a later heat is
// due by that.
func TestHoldBeforeGoOfALaterHeat(t *testing.T) {
	t.Parallel()
	r := begin(t, inTwoHeats(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}))
	r.at(-5*time.Second, Hold{})
	r.at(0, Resume{})
	tiles := r.s.Tiles(nil, 1, r.zero+20*time.Second)
	if tiles[0].State != TileWork || tiles[1].State != TileIdle || tiles[1].Due != None {
		t.Errorf("after a stop before GO: %+v, want Ada at work and Bo idle", tiles)
	}
}

// TestPlanWithoutStations: a plan that lacks its stations, or whose session does, stands on its feet.
func TestPlanWithoutStations(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		for what, lack := range map[string]func(pp *PartPlan){
			"the plan":    func(pp *PartPlan) { pp.Stations = nil },
			"the session": func(pp *PartPlan) { pp.Spec.Stations = nil },
			"its metres":  func(pp *PartPlan) { pp.Spec.Stations, pp.Places[0].Spots[0].Metres = nil, 10*measure.Metre },
		} {
			p := one(part, "Ada Bo Cleo", "A A -")
			lack(&p.Parts[0])
			r := begin(t, p)
			for _, a := range []asked{
				{"0:05", Press{"Ada"}},
				{"0:10", LegDone{"Ada"}},
				{"0:15", Arrive{Who: "Cleo", WarmUp: time.Second}},
				{"0:30", Press{"Ada"}},
				{"1:05", Press{"Ada"}},
				{"1:06", Press{"Bo"}},
			} {
				_ = r.do(clockOf(t, a.at), a.c)
			}
			if dump(r.s, r.zero+70*time.Second) == "" {
				t.Errorf("%s lacks stations in %s: nothing is to be seen", what, part.Format)
			}
		}
	}
}

// TestPressesOfADamagedLog: a start that is there twice is the first, one of a round too far is none; a miss of the set
// before leaves the one that runs; a split of a round that never began has no rest before it.
func TestPressesOfADamagedLog(t *testing.T) {
	t.Parallel()
	sets := session.Part{Format: session.Sets, Sets: 4, Rest: 10 * time.Second}
	r := begin(t, one(sets, "Ada", "A"))
	n := 10
	keep := func(at string, e Event) {
		n++
		r.keep(Stamped{N: n, T: r.zero + clockOf(t, at), E: e})
	}
	keep("0:05", Pressed{"Ada", 1, 3, asStart})
	keep("0:10", Pressed{"Ada", 1, 1, asStart})
	keep("0:20", Pressed{"Ada", 1, 1, asStart})
	r.want("Ada", 25*time.Second, "1 10 - open")
	keep("0:30", Pressed{"Ada", 1, 1, asDone})
	keep("0:50", Pressed{"Ada", 1, 2, asStart})
	keep("0:55", AttemptMissed{Who: "Ada", Part: 1, Round: 1})
	r.want("Ada", time.Minute, `
		1 10 20 missed
		2 50 - open due 40 waited 0`)
	keep("1:10", Pressed{"Ada", 1, 2, asDone})
	keep("1:15", Typed{Who: "Ada", Part: 1, Round: 3, Work: 20 * time.Second})
	if x := r.s.Rounds(1, 0, r.zero+80*time.Second)[2]; x.State != Done || x.Rest != None || x.Work != 20*time.Second {
		t.Errorf("a set that never began is %+v, want done in 20 s with no rest", x)
	}
	early := begin(t, one(everyMinute(2), "Ada Bo", "A A"))
	early.keep(Stamped{N: 9, T: early.zero + 20*time.Second, E: Pressed{"Bo", 1, 1, asDone}}) // before the own start
	early.want("Bo", 50*time.Second, "1 40 0 in time margin 40")
}
