package lanes

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// bruteHeld tries every way to seat the people on two sleds with clocks of their own, every
// deal of the pile to the two, and every stack that comes nearest with its share.
func bruteHeld(in Input, sets int) bruteCost {
	pile := in.Kit.Plates
	things, _ := load.Implements(in.Kit, "sled")
	whole := load.Stack(counts(pile))
	var best *bruteCost
	eachSeating(in, func(seats [][2]int, who []int) {
		for _, first := range stacksUpTo(whole) {
			shares := []load.Stack{first, {whole[0] - first[0], whole[1] - first[1], whole[2] - first[2]}}
			c := bruteCost{people: who}
			asks := in.Session.Parts[0].Stations[0].Loads
			stacks, lists := make([][]load.Stack, len(asks)), make([][]load.Stack, len(asks)*len(seats))
			for set, ask := range asks {
				stacks[set] = make([]load.Stack, len(seats))
				for i, s := range seats {
					w := bruteWant(in, who[i], things[s[1]], ask)
					miss, list := bruteNearest(in, w, shares[s[1]])
					alone, _ := bruteNearest(in, w, whole)
					c.short += miss - alone
					lists[set*len(seats)+i] = list
				}
			}
			if best != nil && c.short > best.short {
				continue
			}
			var from func(n int)
			from = func(n int) {
				if n < len(lists) {
					at := &stacks[n/len(seats)][n%len(seats)]
					for _, *at = range lists[n] {
						from(n + 1)
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
	return *best
}

// bruteNearest is the stacks of a share that come nearest, the lighter load at a tie.
func bruteNearest(in Input, w load.Want, share load.Stack) (miss measure.Mass, list []load.Stack) {
	moves := measure.Mass(-1)
	for _, s := range stacksUpTo(share) {
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

// stacksUpTo is every stack out of a pile of three kinds.
func stacksUpTo(pile load.Stack) (all []load.Stack) {
	for i := range pile[0] + 1 {
		for j := range pile[1] + 1 {
			for k := range pile[2] + 1 {
				all = append(all, load.Stack{i, j, k})
			}
		}
	}
	return all
}

// TestHeldAgainstBruteForce: lanes with their own clocks, where some deal of the pile is
// enough for all and where none is, with one load a person and with two. Where a load that is
// asked for lies in the middle between two that can be had, the one they get is for the deal to
// say in a short pile, and the lighter one in one that is enough, which is not looked at.
func TestHeldAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		const sets = 3
		middle := rapid.Bool().Draw(rt, "in the middle")
		in := drawHeld(t, rt, rapid.Bool().Draw(rt, "two loads"), middle)
		b, want := Make(in), bruteHeld(in, sets)
		if middle && want.short == 0 {
			rt.Skip("the pile is enough")
		}
		if !b.Proved || b.Short != want.short || b.PlatesMoved != want.plates || b.Bound != want.plates {
			rt.Fatalf("Make = short %v, %d plates moved, %d at least, proved %v, want short %v, %d plates", b.Short, b.PlatesMoved, b.Bound, b.Proved, want.short, want.plates)
		}
		if who := seated(b, in); !slices.Equal(who, want.people) {
			rt.Fatalf("Make seats %v, want %v (%d plates)", who, want.people, want.plates)
		}
	})
}

// drawHeld draws a class of which each lane has its own clock.
func drawHeld(tb testing.TB, rt *rapid.T, two, middle bool) Input {
	tb.Helper()
	loads, most := "\"50% max\"", 4
	if two {
		loads, most = "[\"40% max\", \"60% max\"]", 3
	}
	more := 0
	if middle {
		more = 5
	}
	bests := rapid.SliceOfN(rapid.Map(rapid.IntRange(8, 18), func(n int) float64 { return float64(10*n + more) }), 3, most).Draw(rt, "bests")
	tares := rapid.SliceOfN(rapid.SampledFrom([]float64{24, 27, 30}), 2, 2).Draw(rt, "tares")
	counts := rapid.SliceOfN(rapid.IntRange(1, 3), 3, 3).Draw(rt, "counts")
	return read(tb, "title = \"x\"\naim = \"conditioning\"\n[[part]]\nformat = \"sets\"\nsets = 3\nrest = \"2:00\"\n[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = "+loads+"\n",
		sleds(tares...)+pile("20 kg", counts[0], "10 kg", counts[1], "5 kg", counts[2]), crew("forward drag", bests...))
}

// The deals near an arrangement leave everyone the plates they have and no plate out; the
// best of what they allow stands within the pile and costs less.
func TestNearDeals(t *testing.T) {
	t.Parallel()
	in := archive(t, "testdata/nine-sets.txtar")
	p := newPlanner(&in, 1)
	p.sides = p.sidesOf()
	p.lay()
	p.heats = 1
	for _, l := range p.layouts(1) {
		a := p.evaluate(l, l.start)
		for _, deal := range p.dealsWith(a) {
			left := counts(in.Kit.Plates)
			for _, share := range deal {
				for k, n := range share {
					left[k] -= n
				}
			}
			for u := range a.got {
				if !has(deal[a.got[u].On.Name], nil, a.got[u].Stack, a.got[u].On.Ends) {
					t.Errorf("%s has no %v in the deal %v", a.got[u].On.Name, a.got[u].Stack, deal)
				}
			}
			if slices.Max(left) > 0 || slices.Min(left) < 0 {
				t.Errorf("the deal %v leaves %v of the pile", deal, left)
			}
		}
		b := p.nearDeals(l, a)
		if b.cost.compare(&a.cost) >= 0 || !b.together(0, b.got[0].Stack, counts(in.Kit.Plates)) {
			t.Errorf("near %v there is %v, and it stands within the pile: %v", a.cost, b.cost, b.together(0, b.got[0].Stack, counts(in.Kit.Plates)))
		}
	}
}
