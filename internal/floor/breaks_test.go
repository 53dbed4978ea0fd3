package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

// whole is a class of a warm-up of 6:00, two rounds of a minute, a rest of 2:00 and
// two rounds again.
func whole(names, on string) *Plan {
	p := one(everyMinute(2), names, on)
	pause := func(f session.Format, d time.Duration) PartPlan {
		return PartPlan{Spec: session.Part{Format: f, Time: d}, Heats: 1, Places: make([]Place, len(p.People))}
	}
	p.Parts = []PartPlan{pause(session.WarmUp, 6*time.Minute), p.Parts[0], pause(session.Break, 2*time.Minute), p.Parts[0]}
	return p
}

// A warm-up and a rest stand in place of the changeover: 6 + 2 + 2 + 2 minutes.
func TestWarmUpAndRestAreParts(t *testing.T) {
	t.Parallel()
	r := begin(t, whole("Ada Bo", "A A"))
	if end := r.s.End(r.zero+time.Second) - r.zero; end != 12*time.Minute {
		t.Errorf("the class ends after %v, want 12m", end)
	}
	for _, want := range []struct {
		at    time.Duration
		phase Phase
		part  int
		left  time.Duration
	}{
		{time.Minute, Warming, 1, 5 * time.Minute},
		{5*time.Minute + 55*time.Second, CountIn, 1, 5 * time.Second},
		{6 * time.Minute, Working, 2, time.Minute},
		{8*time.Minute + 30*time.Second, Resting, 3, 90 * time.Second},
		{9*time.Minute + 50*time.Second, CountIn, 3, 10 * time.Second},
		{10 * time.Minute, Working, 4, time.Minute},
	} {
		_ = r.do(want.at, Sleep{})
		if f := r.s.Face(r.zero + want.at); f.Phase != want.phase || f.Part != want.part || f.Left != want.left {
			t.Errorf("at %v: phase %d of part %d, %v left; want %d, %d, %v", want.at, f.Phase, f.Part, f.Left, want.phase, want.part, want.left)
		}
	}
}

// While nobody pulls, the tiles of the part that comes say who starts when.
func TestTilesWaitForTheNextPart(t *testing.T) {
	t.Parallel()
	r := begin(t, whole("Ada Bo Cleo", "A A -"))
	_ = r.do(3*time.Minute, Arrive{Who: "Cleo"}) // warm at 8:00, after both rounds of part 2
	for who, want := range []time.Duration{6 * time.Minute, 6*time.Minute + 40*time.Second, 8 * time.Minute} {
		tile := r.s.Tiles(nil, 2, r.zero+4*time.Minute)[who]
		if tile.State != TileReady || tile.Due-r.zero != want {
			t.Errorf("%s: state %d, due %v; want ready at %v", r.s.Plan().People[who].Name, tile.State, tile.Due-r.zero, want)
		}
	}
}

// A latecomer of the warm-up takes the first start at or after the own warm-up, with
// the class or a round behind it; of a part that is over before, every round is missed.
func TestLatecomerOfTheWarmUp(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		comes time.Duration
		first [2]int // round of part 2, of part 4; 3: none
	}{
		{time.Minute, [2]int{1, 1}},
		{time.Minute + time.Second, [2]int{2, 1}},
		{3 * time.Minute, [2]int{3, 1}},
		{5*time.Minute + time.Second, [2]int{3, 2}},
	} {
		r := begin(t, whole("Ada Cleo", "A -"))
		r.at(c.comes, Arrive{Who: "Cleo"})
		end := 20 * time.Minute
		_ = r.do(end, Sleep{})
		for n, part := range []int{2, 4} {
			rounds, first := r.s.Rounds(part, 1, r.zero+end), 3
			for _, x := range rounds {
				if x.State != NotHere {
					first = min(first, x.Round)
				}
			}
			if first != c.first[n] || len(rounds) != 2 {
				t.Errorf("comes at %v: first in round %d of part %d (%d rounds), want %d", c.comes, first, part, len(rounds), c.first[n])
			}
		}
	}
}

// Skipping a warm-up counts people in; made shorter it ends no sooner than a count-in
// from now; longer and a hold move everything after it.
func TestWarmUpCutAndStretched(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		commands []Command // at 2:00, all but the first 10 s apart
		starts   time.Duration
	}{
		{"skip", []Command{Skip{}}, 2*time.Minute + 10*time.Second},
		{"shorter", []Command{Longer{-time.Minute}}, 5 * time.Minute},
		{"much shorter", []Command{Longer{-time.Hour}}, 2*time.Minute + 10*time.Second},
		{"longer", []Command{Longer{time.Minute}}, 7 * time.Minute},
		{"hold", []Command{Hold{}, Resume{}}, 6*time.Minute + 15*time.Second},
		{"again", []Command{Again{}}, 8*time.Minute + 5*time.Second},
	} {
		r := begin(t, whole("Ada", "A"))
		for i, command := range c.commands {
			r.at(2*time.Minute+time.Duration(i)*10*time.Second, command)
		}
		_ = r.do(c.starts+time.Second, Sleep{})
		if got := r.s.Began(2) - r.zero; got != c.starts {
			t.Errorf("%s: part 2 begins at %v, want %v", c.name, got, c.starts)
		}
	}
}

// In a break a press has nothing to end, but a last round can still be finished late;
// what is typed belongs to the part before, what is changed to the part after.
func TestPressesAndChangesInABreak(t *testing.T) {
	t.Parallel()
	r := begin(t, whole("Ada Bo", "A B"))
	if err := r.do(time.Minute, Press{"Ada"}); err == nil || err.Error() != "no press is needed in a warm-up" {
		t.Errorf("a press in the warm-up: %v", err)
	}
	if err := r.do(time.Minute, ByHand{"Ada", 1, 40 * time.Second}); err == nil {
		t.Error("a split was typed before anyone had pulled")
	}
	r.at(8*time.Minute+5*time.Second, Press{"Ada"})
	r.at(8*time.Minute+6*time.Second, PressSled{"B"})
	r.at(8*time.Minute+20*time.Second, ByHand{"Ada", 1, 40 * time.Second})
	r.at(8*time.Minute+30*time.Second, Change{"Ada", -5 * kg})
	if err := r.do(9*time.Minute+30*time.Second, Press{"Ada"}); err == nil || err.Error() != "no press is needed in a rest" {
		t.Errorf("a press in the rest: %v", err)
	}
	now := r.zero + 11*time.Minute
	_ = r.do(11*time.Minute, Sleep{})
	ada := r.s.Rounds(2, 0, now)
	if ada[0].Work != 40*time.Second || ada[1].State != LateRound || ada[1].Moves != 67*kg {
		t.Errorf("part 2: %+v", ada)
	}
	if bo := r.s.Rounds(2, 1, now); bo[1].State != LateRound {
		t.Errorf("a digit for the sled of the last round: %+v", bo[1])
	}
	if next := r.s.Rounds(4, 0, now); next[0].Moves != 62*kg {
		t.Errorf("part 4 moves %v, want 62 kg", next[0].Moves)
	}
}

// The room hears the ten seconds, the count and GO at the end of a warm-up.
func TestCuesOfABreak(t *testing.T) {
	t.Parallel()
	r := begin(t, whole("Ada", "A"))
	var kinds []Kind
	for _, m := range r.s.Due(nil, r.zero+5*time.Minute, r.zero+6*time.Minute) {
		kinds = append(kinds, m.Kind)
	}
	want := []Kind{TenLeft, CountDown, CountDown, CountDown, Begin}
	if len(kinds) != len(want) {
		t.Fatalf("moments = %v, want %v", kinds, want)
	}
	for i := range want {
		if kinds[i] != want[i] {
			t.Fatalf("moments = %v, want %v", kinds, want)
		}
	}
}
