package load

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

const (
	kg = measure.Kilogram
	lb = measure.Pound
)

// plates reads pairs of a stamp's mass and a count, biggest first.
func plates(pairs ...measure.Mass) []kit.Plates {
	var pile []kit.Plates
	for i := 0; i < len(pairs); i += 2 {
		stamp := fmt.Sprintf("%g kg", pairs[i].KG())
		if pairs[i]%lb == 0 {
			stamp = fmt.Sprintf("%d lb", pairs[i]/lb)
		}
		pile = append(pile, kit.Plates{Stamp: stamp, Mass: pairs[i], Count: int(pairs[i+1])})
	}
	return pile
}

// drawPile draws a small pile, kg and lb mixed, biggest first.
func drawPile(t *rapid.T) []kit.Plates {
	masses := []measure.Mass{20 * kg, 15 * kg, 45 * lb, 10 * kg, 25 * lb, 5 * kg, 10 * lb, 5 * kg / 2, 5 * kg / 4}
	slices.SortFunc(masses, func(a, b measure.Mass) int { return cmp.Compare(b, a) })
	var pairs []measure.Mass
	for _, m := range masses {
		if len(pairs) < 8 && rapid.Bool().Draw(t, "has") {
			pairs = append(pairs, m, measure.Mass(rapid.IntRange(0, 5).Draw(t, "count")))
		}
	}
	return plates(pairs...)
}

// drawItems draws up to three loads that may well be more than the pile.
func drawItems(t *rapid.T) []Item {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Item {
		on := rapid.SampledFrom([]Implement{
			{Name: "A", Kind: Sled, Tare: 27 * kg, Ends: 1, Step: 5 * kg / 2},
			{Name: "B", Kind: Sled, Tare: 34 * kg, Ends: 2, Step: 5 * kg / 2},
			{Name: "C", Kind: Sled, Tare: 50 * kg, Ends: 4, Step: 5 * kg / 2},
			{Name: "bar", Kind: Bar, Tare: 20 * kg, Ends: 2},
			{Name: "handles", Kind: Handles, Tare: 18 * kg, Ends: 4},
		}).Draw(t, "on")
		tenths := rapid.Int64Range(0, 1200).Draw(t, "tenths of a kilogram")
		if rapid.Bool().Draw(t, "round") {
			tenths -= tenths % 25
		}
		return Item{On: on, Total: measure.Mass(tenths) * kg / 10}
	}), 1, 3).Draw(t, "items")
}

// all lists every stack that stands on one implement, those that suit best first.
func all(it Item, pile []kit.Plates) []Stack {
	list := []Stack{make(Stack, len(pile))}
	for k, p := range pile {
		if p.Mass < it.On.Step {
			continue
		}
		for _, s := range list {
			for n := 1; n*it.On.Ends <= p.Count; n++ {
				more := slices.Clone(s)
				more[k] = n
				list = append(list, more)
			}
		}
	}
	slices.SortFunc(list, func(a, b Stack) int {
		ma, mb := a.On(it.On, pile), b.On(it.On, pile)
		return cmp.Or(cmp.Compare(abs(ma-it.Total), abs(mb-it.Total)), cmp.Compare(ma, mb),
			cmp.Compare(a.Plates(it.On), b.Plates(it.On)), slices.Compare(b, a))
	})
	return list
}

// brute tries everything, in the order in which equals are told apart.
func brute(list []Item, pile []kit.Plates) Deal {
	order := manyEndsFirst(list)
	items := pick(list, order)
	lists := make([][]Stack, len(items))
	for i, it := range items {
		lists[i] = all(it, pile)
	}
	var best Deal
	var bestRank rank
	stacks := make([]Stack, len(items))
	left := counts(pile)
	var try func(i int)
	try = func(i int) {
		if i == len(items) {
			if r := rankOf(items, stacks, pile); best.Stacks == nil || r.compare(bestRank) < 0 {
				best, bestRank = newDeal(items, slices.Clone(stacks), pile, true), r
			}
			return
		}
		for _, s := range lists[i] {
			ok := true
			for k, n := range s {
				left[k] -= n * items[i].On.Ends
				ok = ok && left[k] >= 0
			}
			if ok {
				stacks[i] = s
				try(i + 1)
			}
			for k, n := range s {
				left[k] += n * items[i].On.Ends
			}
		}
	}
	try(0)
	inList := make([]Stack, len(list))
	for to, from := range order {
		inList[from] = best.Stacks[to]
	}
	return newDeal(list, inList, pile, true)
}

// same compares stacks, nil being bare.
func same(a, b Stack) bool {
	for k := range max(len(a), len(b)) {
		if at(a, k) != at(b, k) {
			return false
		}
	}
	return true
}

func at(s Stack, k int) int {
	if s == nil {
		return 0
	}
	return s[k]
}

func TestSolveAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, solvesAsBrute)
}

func FuzzSolve(f *testing.F) { f.Fuzz(rapid.MakeFuzz(solvesAsBrute)) }

// solvesAsBrute compares every stack of a small floor with the brute force.
func solvesAsBrute(t *rapid.T) {
	pile, items := drawPile(t), drawItems(t)
	size := 1
	for _, it := range items {
		size *= len(all(it, pile))
	}
	if size > 200_000 {
		t.Skip("too much to try everything")
	}
	got, want := Solve(items, pile), brute(items, pile)
	if !got.Proved {
		t.Fatalf("Solve(%v) is not proved", items)
	}
	for i := range items {
		if !same(got.Stacks[i], want.Stacks[i]) {
			t.Fatalf("Solve(%v, %v)\n got %v moves %v miss %v\nwant %v moves %v miss %v", items, pile,
				got.Stacks, got.Moves, got.Miss, want.Stacks, want.Moves, want.Miss)
		}
	}
}

// TestSolveWorked has two floors worked out elsewhere, one with enough plates and
// one without.
func TestSolveWorked(t *testing.T) {
	t.Parallel()
	one := func(tare, total measure.Mass, ends int) Item {
		return Item{On: Implement{Kind: Sled, Tare: tare * kg, Ends: ends, Step: 5 * kg / 2}, Total: total * kg / 10}
	}
	for _, c := range []struct {
		items []Item
		pile  []kit.Plates
		moves []measure.Mass
		miss  measure.Mass
	}{
		{
			[]Item{one(27, 1047, 1), one(27, 1269, 1)},
			plates(20*kg, 4, 15*kg, 3, 10*kg, 4, 5*kg, 4),
			[]measure.Mass{107 * kg, 127 * kg},
			24 * kg / 10,
		},
		{
			[]Item{one(27, 811, 1), one(27, 783, 1), one(25, 726, 2)},
			plates(20*kg, 2, 15*kg, 2, 10*kg, 5, 5*kg, 4),
			[]measure.Mass{77 * kg, 77 * kg, 65 * kg},
			13 * kg,
		},
		{nil, plates(20*kg, 2), nil, 0},
		{[]Item{one(27, 600, 1), one(50, 400, 4)}, nil, []measure.Mass{27 * kg, 50 * kg}, 43 * kg},
	} {
		d := Solve(c.items, c.pile)
		if !slices.Equal(d.Moves, c.moves) || d.Miss != c.miss || !d.Proved {
			t.Errorf("Solve(%v) moves %v, misses %v, proved %v; want %v, %v", c.items, d.Moves, d.Miss, d.Proved, c.moves, c.miss)
		}
	}
}

// TestShortageIsShared holds that of equal sums the smallest worst share wins,
// and that in list order it does not.
func TestShortageIsShared(t *testing.T) {
	t.Parallel()
	items := []Item{{On: sledA, Total: 67 * kg}, {On: sledB, Total: 74 * kg}}
	pile := plates(20*kg, 2)
	got, d := Fill([]Want{{On: sledA, Total: 67 * kg}, {On: sledB, Total: 74 * kg}}, pile, "best", Usual)
	if got[0].Moves != 47*kg || got[1].Moves != 54*kg || !d.Proved {
		t.Errorf("both at once move %v and %v, proved %v; want 47 and 54 kg", got[0].Moves, got[1].Moves, d.Proved)
	}
	if got[0].Short != 20*kg || got[1].Short != 20*kg {
		t.Errorf("short by %v and %v, want 20 kg each", got[0].Short, got[1].Short)
	}
	got, _ = Fill([]Want{{On: sledA, Total: 67 * kg}, {On: sledB, Total: 74 * kg}}, pile, "in order", Usual)
	if got[0].Moves != 67*kg || got[1].Moves != 34*kg || got[0].Short != 0 || got[1].Short != 40*kg {
		t.Errorf("in order %v and %v move, want 67 and 34 kg", got[0].Moves, got[1].Moves)
	}
	if in := SolveInOrder(items, pile); in.Miss != 40*kg {
		t.Errorf("in order misses %v, want 40 kg", in.Miss)
	}
}

// TestSolveAnyFloor holds on floors of any size what holds of every deal.
func TestSolveAnyFloor(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		pile, items := drawPile(t), append(drawItems(t), drawItems(t)...)
		d, in := Solve(items, pile), SolveInOrder(items, pile)
		if !fits(items, d.Stacks, counts(pile)) {
			t.Fatalf("Solve(%v, %v) = %v, more than the pile", items, pile, d.Stacks)
		}
		var miss measure.Mass
		for i, it := range items {
			if d.Moves[i] != d.Stacks[i].On(it.On, pile) {
				t.Fatalf("item %d moves %v with %v", i, d.Moves[i], d.Stacks[i])
			}
			if over := d.Moves[i] - it.Total; over > 0 && d.Stacks[i] == nil && over != it.On.Tare-it.Total {
				t.Fatalf("bare item %d moves %v", i, d.Moves[i])
			}
			miss += abs(d.Moves[i] - it.Total)
		}
		if miss != d.Miss || d.Miss > in.Miss {
			t.Fatalf("Solve(%v, %v) misses %v (said %v), in order %v", items, pile, miss, d.Miss, in.Miss)
		}
	})
}

// TestNearestAgainstAll compares one item with every stack there is.
func TestNearestAgainstAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		pile, it := drawPile(t), drawItems(t)[0]
		got, want := Nearest(it, pile, counts(pile)), all(it, pile)[0]
		if !same(got, want) {
			t.Fatalf("Nearest(%v, %v) = %v, want %v", it, pile, got, want)
		}
		for k := range pile {
			pile[k].Count = 120 * min(pile[k].Count, 1)
		}
		got, want = Unlimited(it, pile), Nearest(it, pile, counts(pile))
		if got.On(it.On, pile) != want.On(it.On, pile) || got.Plates(it.On) != want.Plates(it.On) {
			t.Fatalf("Unlimited(%v, %v) = %v, want as good as %v", it, pile, got, want)
		}
	})
}
