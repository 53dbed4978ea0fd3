package lanes

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// small draws a class that everything can be tried for: up to five people on up to
// three sleds, a handful of plates.
func small(tb testing.TB, t *rapid.T) (Input, int) {
	tb.Helper()
	rounds := rapid.IntRange(1, 4).Draw(t, "rounds")
	part := fmt.Sprintf("title = \"x\"\naim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"20:00\"\nrounds = %d\n[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = \"50%% max\"\n", rounds)
	bests := rapid.SliceOfN(rapid.Map(rapid.IntRange(6, 16), func(n int) float64 { return float64(10 * n) }), 1, 5).Draw(t, "bests")
	tares := rapid.SliceOfN(rapid.SampledFrom([]float64{24, 27, 30}), 1, 3).Draw(t, "tares")
	plates := pile("20 kg", rapid.IntRange(0, 4).Draw(t, "twenties"), "10 kg", rapid.IntRange(0, 4).Draw(t, "tens"), "5 kg", rapid.IntRange(0, 3).Draw(t, "fives"))
	return read(tb, part, sleds(tares...)+plates, crew("forward drag", bests...)), rounds
}

// bruteCost is a cost worked out from what happens, round after round.
type bruteCost struct {
	short, mass   measure.Mass
	plates, used  int
	kinds, people []int
}

func (a bruteCost) less(b bruteCost) bool {
	for _, c := range []int{
		int(a.short - b.short), a.plates - b.plates, int(a.mass - b.mass), a.used - b.used,
		slices.Compare(b.kinds, a.kinds), slices.Compare(a.people, b.people),
	} {
		if c != 0 {
			return c < 0
		}
	}
	return false
}

// brute tries every way to seat the people and every stack that makes each load.
func brute(in Input, rounds int) bruteCost {
	var best *bruteCost
	eachSeating(in, func(seats [][2]int, who []int) {
		for _, c := range bruteStacks(in, rounds, seats, who) {
			if best == nil || c.less(*best) {
				best = &c
			}
		}
	})
	return *best
}

// eachSeating calls do with every way to seat the people: the turn and sled of each seat,
// and who sits there.
func eachSeating(in Input, do func(seats [][2]int, who []int)) {
	people, on := len(in.Roster.Athletes), in.Kit.Sleds
	for _, sizes := range evenSizes(people, len(on)) {
		var seats [][2]int
		for turn := range people {
			for j := range on {
				if turn < sizes[j] {
					seats = append(seats, [2]int{turn, j})
				}
			}
		}
		permute(people, func(who []int) { do(seats, who) })
	}
}

// seated is who sits on each seat of a board, turn after turn.
func seated(b *Board, in Input) (who []int) {
	for turn := range in.Roster.Athletes {
		for _, lane := range b.Parts[0].Heats[0].Lanes {
			if turn < len(lane.Turns) {
				who = append(who, slices.IndexFunc(in.people(), func(a *roster.Athlete) bool { return a.Name == lane.Turns[turn].Athlete }))
			}
		}
	}
	return who
}

func bruteWant(in Input, who int, on load.Implement, ask session.Ask) load.Want {
	w, _ := load.Resolve(load.Question{
		Athlete: &in.Roster.Athletes[who], Part: 1, Station: 1, Movement: "forward drag", Distance: 20 * measure.Metre, Legs: 1, Surface: "turf",
		On: on, Ask: ask,
	}, in.Kit, in.House, nil)
	return w
}

// evenSizes lists how many people each of m sleds may take.
func evenSizes(n, m int) [][]int {
	var all [][]int
	for mask := range 1 << m {
		sizes, sum := make([]int, m), 0
		for j := range sizes {
			sizes[j] = n/m + mask>>j&1
			sum += sizes[j]
		}
		if sum == n {
			all = append(all, sizes)
		}
	}
	return all
}

func permute(n int, do func([]int)) {
	var from func(row []int)
	from = func(row []int) {
		if len(row) == n {
			do(row)
			return
		}
		for i := range n {
			if !slices.Contains(row, i) {
				from(append(slices.Clone(row), i))
			}
		}
	}
	from(nil)
}

// bruteStacks returns the best cost of one seating, over all stacks.
func bruteStacks(in Input, rounds int, seats [][2]int, who []int) []bruteCost {
	pile := in.Kit.Plates
	things, _ := load.Implements(in.Kit, "sled")
	c := bruteCost{people: who}
	moves := make([]measure.Mass, len(seats))
	for turn := range seats {
		var wants []load.Want
		var at []int
		for i, s := range seats {
			if s[0] == turn {
				wants, at = append(wants, bruteWant(in, who[i], things[s[1]], in.Session.Parts[0].Stations[0].Loads[0])), append(at, i)
			}
		}
		got, _ := load.Fill(wants, pile, "best", load.Usual)
		for k, g := range got {
			alone, _ := load.Fill(wants[k:k+1], pile, "best", load.Usual)
			moves[at[k]] = g.Moves
			c.short += distance(g.Moves, g.Total) - distance(alone[0].Moves, g.Total)
		}
	}
	stacks := make([]load.Stack, len(seats))
	var found []bruteCost
	var from func(i int)
	from = func(i int) {
		if i == len(seats) {
			if d, ok := bruteRun(c, rounds, seats, [][]load.Stack{stacks}, pile); ok && (found == nil || d.less(found[0])) {
				found = []bruteCost{d}
			}
			return
		}
		thing := things[seats[i][1]]
		for a := range pile[0].Count + 1 {
			for b := range pile[1].Count + 1 {
				for f := range pile[2].Count + 1 {
					if s := (load.Stack{a, b, f}); s.On(thing, pile) == moves[i] {
						stacks[i] = s
						from(i + 1)
					}
				}
			}
		}
	}
	from(0)
	return found
}

// bruteRun runs the part: who follows whom on each sled, round after round. The stacks are
// by round, of which the last repeats, and seat.
func bruteRun(c bruteCost, rounds int, seats [][2]int, all [][]load.Stack, pile []kit.Plates) (bruteCost, bool) {
	c.kinds = make([]int, len(pile))
	on := map[int]load.Stack{}
	for round := range rounds {
		stacks := all[min(round, len(all)-1)]
		for turn := range seats {
			stands := make([]int, len(pile))
			for i, s := range seats {
				if s[0] != turn {
					continue
				}
				before, used := on[s[1]]
				for k := range pile {
					stands[k] += stacks[i][k]
					if used {
						n := max(stacks[i][k]-before[k], before[k]-stacks[i][k])
						c.plates += n
						c.mass += measure.Mass(n) * pile[k].Mass
					}
					if round < len(all) {
						c.used += stacks[i][k]
						c.kinds[k] += stacks[i][k]
					}
				}
				on[s[1]] = stacks[i]
			}
			for k := range pile {
				if stands[k] > pile[k].Count {
					return c, false
				}
			}
		}
	}
	return c, true
}

func TestMakeAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		in, rounds := small(t, rt)
		for k := range in.Kit.Plates {
			if in.Kit.Plates[k].Count == 0 {
				rt.Skip("a pile of fewer kinds")
			}
		}
		if len(in.Kit.Plates) != 3 {
			rt.Skip("a pile of fewer kinds")
		}
		if len(in.Roster.Athletes) == 5 && in.Kit.Plates[0].Count > 3 {
			rt.Skip("too much to try")
		}
		b, want := Make(in), brute(in, rounds)
		var short measure.Mass
		for _, g := range b.Parts[0].Loads {
			alone, _ := load.Fill([]load.Want{g.Want}, in.Kit.Plates, "best", load.Usual)
			short += distance(g.Moves, g.Total) - distance(alone[0].Moves, g.Total)
		}
		if !b.Proved || short != want.short || b.PlatesMoved != want.plates {
			rt.Fatalf("Make = short %v, %d plates moved, proved %v, want short %v, %d plates", short, b.PlatesMoved, b.Proved, want.short, want.plates)
		}
		quick := in
		quick.Limit = 1
		if q := Make(quick); q.Bound > want.plates {
			rt.Fatalf("Make with no time says that at least %d plates move, the best moves %d", q.Bound, want.plates)
		} else if q.ShortBound > want.short || q.Short < want.short {
			rt.Fatalf("Make with no time says that the shortage costs %v, %v at least, the best costs %v", q.Short, q.ShortBound, want.short)
		}
		if who := seated(b, in); !slices.Equal(who, want.people) {
			rt.Fatalf("Make seats %v, want %v (%d plates)", who, want.people, want.plates)
		}
	})
}
