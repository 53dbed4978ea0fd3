package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// newcomer is a class in which nothing is known of Bo, who stands on a bare sled of 27 kg
// and should take 30 s, as all do.
func newcomer(part session.Part) *Plan {
	part.Stations = []session.Station{{
		Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1,
		Loads: []session.Ask{{Basis: session.OfMax, Share: 55 * measure.Percent}},
	}}
	p := one(part, "Ada Bo", "A B")
	sp := &p.Parts[0].Places[1].Spots[0]
	sp.Asked, sp.Stack, sp.Moves = 0, nil, 27*kg
	return p
}

// Nothing known: bare first; while the split stays 8 s under what is expected 10 kg more
// are proposed, and the coach's key takes them.
func TestBareFirst(t *testing.T) {
	t.Parallel()
	r := begin(t, newcomer(everyMinute(5)))
	offer := func(at string, want measure.Mass) {
		t.Helper()
		got, tile := measure.Mass(0), r.s.Tiles(nil, 1, r.zero+clockOf(t, at))[1]
		if tile.More != nil {
			got = tile.More.Moves
		}
		if got != want {
			t.Errorf("at %s %v µg are offered, want %v", at, got, want)
		}
	}
	offer("0:10", 0)
	r.must("0:20", Press{"Ada"}) // as quick, but of her all is known
	r.must("0:22", Press{"Bo"})  // 8 s under
	offer("0:30", 37*kg)
	if r.s.Tiles(nil, 1, r.zero+30*time.Second)[0].More != nil {
		t.Error("Ada is offered more")
	}
	r.must("0:40", Change{Who: "Bo", By: r.s.BareFirst(1, 1, r.zero+40*time.Second).By})
	offer("0:41", 0) // taken
	r.must("1:21.9", Press{"Bo"})
	offer("1:30", 47*kg)
	r.must("1:40", Undo{}) // the press
	offer("1:41", 0)
	r.must("1:42", ByHand{Who: "Bo", Round: 2, Work: 21 * time.Second})
	offer("1:45", 47*kg)
	r.must("2:22.1", Press{"Bo"}) // not taken, and too slow now
	offer("2:30", 0)
	r.must("3:20", Press{"Bo"})
	r.must("3:30", StepLoad{Who: "Bo"}) // the coach knows better
	offer("3:31", 0)
	r.must("4:20", Press{"Bo"})
	offer("4:30", 0) // no round is left
}

// A guest of whom nothing is known begins so as well.
func TestGuestsBeginBare(t *testing.T) {
	t.Parallel()
	r := begin(t, newcomer(everyMinute(20)))
	r.must("0:10", Guest{Who: "Ask"})
	r.must("6:21", Press{"Ask"})
	if got := r.s.BareFirst(1, 2, r.zero+7*time.Minute); got == nil || got.Moves != 37*kg || got.Round != 9 {
		t.Errorf("offered %+v, want 37 kg", got)
	}
	r.must("7:00", Skip{})
	if got := r.s.BareFirst(1, 2, r.zero+8*time.Minute); got != nil {
		t.Errorf("after the part %+v are offered", got)
	}
}

// TestBareFirstAtTheEdge: what is proposed, to the first person of a list too: for the last round
// there is; of a split at that very station; where a heavier load can be made; while they are here.
func TestBareFirstAtTheEdge(t *testing.T) {
	t.Parallel()
	bare := func(part session.Part, stations int, asks bool) *Plan {
		part.Stations = nil
		for range stations {
			st := session.Station{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}
			if asks {
				st.Loads = []session.Ask{{Basis: session.OfMax, Share: 55 * measure.Percent}}
			}
			part.Stations = append(part.Stations, st)
		}
		p := one(part, "Ada Bo", "A B")
		for i := range stations {
			sp := &p.Parts[0].Places[0].Spots[i]
			sp.Asked, sp.Stack, sp.Moves = 0, nil, 27*kg
		}
		return p
	}
	noPlates := bare(everyMinute(5), 1, true)
	noPlates.Kit.Plates = nil
	for _, c := range []struct {
		says  string
		plan  *Plan
		do    []asked
		at    string
		round int
	}{
		{"for the last round", bare(everyMinute(2), 1, true), []asked{{"0:20", Press{"Ada"}}}, "0:30", 2},
		{"after the last", bare(everyMinute(1), 1, true), []asked{{"0:20", Press{"Ada"}}}, "0:30", 0},
		{"no split yet", bare(everyMinute(5), 1, true), nil, "1:10", 0},
		{"of round 1 though round 2 was not pressed", bare(everyMinute(5), 1, true), []asked{{"0:20", Press{"Ada"}}}, "2:10", 4},
		{"not of the other station", bare(everyMinute(5), 2, true), []asked{{"0:20", Press{"Ada"}}}, "0:30", 0},
		{"of this station", bare(everyMinute(5), 2, true), []asked{{"0:20", Press{"Ada"}}}, "1:30", 3},
		{"nothing is asked there", bare(everyMinute(5), 1, false), []asked{{"0:20", Press{"Ada"}}}, "0:30", 0},
		{"there are no plates", noPlates, []asked{{"0:20", Press{"Ada"}}}, "0:30", 0},
		{"who has left", bare(everyMinute(5), 1, true), []asked{{"0:20", Press{"Ada"}}, {"0:25", Leave{"Ada"}}}, "0:30", 0},
		{"just quick enough", bare(everyMinute(5), 1, true), []asked{{"0:22", Press{"Ada"}}}, "0:30", 2},
		{"just too slow", bare(everyMinute(5), 1, true), []asked{{"0:22.1", Press{"Ada"}}}, "0:30", 0},
		{"in most rounds, where no number is the last", bare(session.Part{Format: session.Amrap, Cap: 5 * time.Minute}, 1, true), []asked{{"0:20", Press{"Ada"}}}, "0:30", 3},
		{"in a ramp it is the ramp's", bare(session.Part{Format: session.Ramp}, 1, true), []asked{{"0:20", Press{"Ada"}}}, "0:30", 0},
	} {
		r := begin(t, c.plan)
		for _, a := range c.do {
			_ = r.do(clockOf(t, a.at), a.c)
		}
		got, round := r.s.BareFirst(1, 0, r.zero+clockOf(t, c.at)), 0
		if got != nil {
			round = got.Round
		}
		if round != c.round {
			t.Errorf("%s: offered %+v, want in round %d", c.says, got, c.round)
		}
	}
}

// TestBareFirstWithoutASled: nothing is proposed to somebody whom a damaged log gives no place at the station.
func TestBareFirstWithoutASled(t *testing.T) {
	t.Parallel()
	p := newcomer(everyMinute(5))
	p.Parts[0].Places[1].Spots = nil
	r := begin(t, p)
	r.must("0:10", Press{"Bo"})
	if more := r.s.BareFirst(1, 1, r.zero+20*time.Second); more != nil {
		t.Errorf("%+v is proposed", more)
	}
}
