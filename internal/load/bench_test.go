package load

import (
	"testing"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// floorOf is a full floor: sleds of one, two and four posts, bars and handles, each
// asked for a share of 12 loads that no pile was bought for.
func floorOf(n int, factor measure.Share) []Item {
	kinds := []Implement{
		{Name: "A", Kind: Sled, Tare: 27 * kg, Ends: 1, Step: 5 * kg / 2},
		{Name: "B", Kind: Sled, Tare: 34 * kg, Ends: 1, Step: 5 * kg / 2},
		{Name: "C", Kind: Sled, Tare: 30 * kg, Ends: 2, Step: 5 * kg / 2},
		{Name: "D", Kind: Sled, Tare: 45 * kg, Ends: 4, Step: 5 * kg / 2},
		{Name: "bar", Kind: Bar, Tare: 20 * kg, Ends: 2},
		{Name: "trap bar", Kind: TrapBar, Tare: 25 * kg, Ends: 2},
		{Name: "handles", Kind: Handles, Tare: 18 * kg, Ends: 4},
	}
	totals := []measure.Mass{667, 814, 723, 958, 871, 1026, 782, 619, 744, 893, 957, 1081}
	items := make([]Item, n)
	for i := range items {
		items[i] = Item{On: kinds[i%len(kinds)], Total: factor.Of(totals[i%12] * kg / 10)}
	}
	return items
}

// forty is 40 plates, kg and lb.
func forty() []kit.Plates {
	return plates(45*lb, 6, 20*kg, 6, 25*lb, 4, 10*kg, 8, 5*kg, 6, 10*lb, 4, 5*kg/2, 4, 5*kg/4, 2)
}

func many(pile []kit.Plates, times int) []kit.Plates {
	for k := range pile {
		pile[k].Count *= times
	}
	return pile
}

func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct {
		name  string
		items []Item
		pile  []kit.Plates
	}{
		{"ample 12", floorOf(12, measure.Whole), many(forty(), 8)},
		{"ample 7", floorOf(7, measure.Whole), many(forty(), 6)},
		{"short 3", floorOf(3, 2*measure.Whole), forty()},
		{"short 4", floorOf(4, 2*measure.Whole), forty()},
		{"short 7", floorOf(7, 2*measure.Whole), forty()},
		{"middle 7", floorOf(7, measure.Whole), forty()},
		{"short 12", floorOf(12, measure.Whole), forty()},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			var d Deal
			for b.Loop() {
				d = Solve(c.items, c.pile)
			}
			if !d.Proved {
				b.Log("not proved")
			}
		})
	}
}

func BenchmarkUnlimited(b *testing.B) {
	b.ReportAllocs()
	it := Item{On: floorOf(1, measure.Whole)[0].On, Total: 187 * kg}
	pile := forty()
	for b.Loop() {
		Unlimited(it, pile)
	}
}
