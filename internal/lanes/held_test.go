package lanes

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// bruteHeld tries every way to seat the people on two sleds with clocks of their own, every
// deal of the pile to the two, and every stack that comes nearest with its share.
func bruteHeld(in Input, sets int) bruteCost {
	people, pile := len(in.Roster.Athletes), in.Kit.Plates
	things, _ := load.Implements(in.Kit, "sled")
	var best *bruteCost
	for _, sizes := range evenSizes(people, len(things)) {
		var seats [][2]int // turn, sled
		for turn := range people {
			for j := range things {
				if turn < sizes[j] {
					seats = append(seats, [2]int{turn, j})
				}
			}
		}
		permute(people, func(who []int) {
			for _, first := range stacksUpTo(pile[0].Count, pile[1].Count, pile[2].Count) {
				rest := load.Stack{pile[0].Count - first[0], pile[1].Count - first[1], pile[2].Count - first[2]}
				shares := []load.Stack{first, rest}
				c := bruteCost{people: who}
				lists := make([][]load.Stack, len(seats))
				for i, s := range seats {
					w := bruteWant(in, who[i], things[s[1]])
					miss, list := bruteNearest(in, w, shares[s[1]])
					alone, _ := bruteNearest(in, w, load.Stack{pile[0].Count, pile[1].Count, pile[2].Count})
					c.short += miss - alone
					lists[i] = list
				}
				if best != nil && c.short > best.short {
					continue
				}
				stacks := make([]load.Stack, len(seats))
				var from func(i int)
				from = func(i int) {
					if i < len(seats) {
						for _, stacks[i] = range lists[i] {
							from(i + 1)
						}
						return
					}
					if d, ok := bruteRun(c, sets, seats, stacks, pile); ok && (best == nil || d.less(*best)) {
						best = &d
					}
				}
				from(0)
			}
		})
	}
	return *best
}

func bruteWant(in Input, who int, on load.Implement) load.Want {
	w, _ := load.Resolve(load.Question{
		Athlete: &in.Roster.Athletes[who], Part: 1, Station: 1, Movement: "forward drag", Distance: 20 * measure.Metre, Legs: 1, Surface: "turf",
		On: on, Ask: session.Ask{Basis: session.OfMax, Share: 50 * measure.Percent},
	}, in.Kit, in.House, nil)
	return w
}

// bruteNearest is the stacks of a share that come nearest, the lighter load at a tie.
func bruteNearest(in Input, w load.Want, share load.Stack) (miss measure.Mass, list []load.Stack) {
	moves := measure.Mass(-1)
	for _, s := range stacksUpTo(share[0], share[1], share[2]) {
		m := s.On(w.On, in.Kit.Plates)
		switch d := distance(m, w.Total); {
		case moves < 0 || d < miss || d == miss && m < moves:
			miss, moves, list = d, m, []load.Stack{s}
		case m == moves:
			list = append(list, s)
		}
	}
	return miss, list
}

func stacksUpTo(a, b, c int) (all []load.Stack) {
	for i := range a + 1 {
		for j := range b + 1 {
			for k := range c + 1 {
				all = append(all, load.Stack{i, j, k})
			}
		}
	}
	return all
}

// TestHeldAgainstBruteForce: lanes with their own clocks, where some deal of the pile is
// enough for all and where none is.
func TestHeldAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		bests := rapid.SliceOfN(rapid.Map(rapid.IntRange(8, 18), func(n int) float64 { return float64(10 * n) }), 3, 4).Draw(rt, "bests")
		tares := rapid.SliceOfN(rapid.SampledFrom([]float64{24, 27, 30}), 2, 2).Draw(rt, "tares")
		counts := rapid.SliceOfN(rapid.IntRange(1, 3), 3, 3).Draw(rt, "counts")
		const sets = 3
		in := read(t, "title = \"x\"\naim = \"conditioning\"\n[[part]]\nformat = \"sets\"\nsets = 3\nrest = \"2:00\"\n[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = \"50% max\"\n",
			sleds(tares...)+pile("20 kg", counts[0], "10 kg", counts[1], "5 kg", counts[2]), crew("forward drag", bests...))
		b, want := Make(in), bruteHeld(in, sets)
		if !b.Proved || b.Short != want.short || b.PlatesMoved != want.plates || b.Bound != want.plates {
			rt.Fatalf("Make = short %v, %d plates moved, %d at least, proved %v, want short %v, %d plates", b.Short, b.PlatesMoved, b.Bound, b.Proved, want.short, want.plates)
		}
		var seated []int
		for turn := range in.Roster.Athletes {
			for _, lane := range b.Parts[0].Heats[0].Lanes {
				if turn < len(lane.Turns) {
					seated = append(seated, slices.IndexFunc(in.people(), func(a *roster.Athlete) bool { return a.Name == lane.Turns[turn].Athlete }))
				}
			}
		}
		if !slices.Equal(seated, want.people) {
			rt.Fatalf("Make seats %v, want %v (%d plates)", seated, want.people, want.plates)
		}
	})
}
