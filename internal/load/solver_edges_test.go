package load

import (
	"slices"
	"testing"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// micrograms is a small floor, all masses in micrograms: there every load is one step from the
// next, and a bound of the search that is off by one loses the best deal.
type micrograms struct {
	pile  []measure.Mass // mass and count of each kind
	items [][4]int       // tare, ends, step, asked
}

func (f micrograms) make() ([]Item, []kit.Plates) {
	var items []Item
	for _, x := range f.items {
		items = append(items, Item{On: Implement{Kind: Sled, Tare: measure.Mass(x[0]), Ends: x[1], Step: measure.Mass(x[2])}, Total: measure.Mass(x[3])})
	}
	return items, plates(f.pile...)
}

// TestSolveToTheMicrogram compares floors on which the search once went wrong by one step with
// all that could be done there.
func TestSolveToTheMicrogram(t *testing.T) {
	t.Parallel()
	for _, f := range []micrograms{
		{[]measure.Mass{7, 3, 5, 1, 4, 0, 3, 2}, [][4]int{{1, 1, 0, 7}, {2, 1, 0, 5}, {3, 1, 7, 0}}},
		{[]measure.Mass{12, 1, 11, 1, 10, 3, 6, 3, 4, 2}, [][4]int{{3, 4, 0, 26}, {2, 1, 0, 19}, {2, 1, 7, 23}}},
		{[]measure.Mass{9, 0, 7, 3, 6, 1, 5, 3, 1, 1}, [][4]int{{5, 1, 0, 12}, {3, 1, 2, 24}}},
	} {
		items, pile := f.make()
		got, want := Solve(items, pile), brute(items, pile)
		for i := range items {
			if !same(got.Stacks[i], want.Stacks[i]) || !got.Proved {
				t.Errorf("Solve(%v) = %v, misses %d; want %v, %d", f, got.Stacks, got.Miss, want.Stacks, want.Miss)
				break
			}
		}
	}
}

// TestBareIsNil: who gets no plate has no stack, not one of noughts.
func TestBareIsNil(t *testing.T) {
	t.Parallel()
	pile := plates(20*kg, 1)
	for _, d := range []Deal{
		Solve([]Item{{sledA, 47 * kg}, {sledB, 54 * kg}}, pile),
		SolveInOrder([]Item{{sledA, 47 * kg}, {sledB, 54 * kg}}, pile),
	} {
		if d.Stacks[0] == nil || d.Stacks[1] != nil {
			t.Errorf("stacks %v, want one plate and nothing", d.Stacks)
		}
	}
}

// TestSolveManyKinds: a pile of more kinds and plates than one number can count is dealt all the
// same; the one plate that both ask for goes to the first.
func TestSolveManyKinds(t *testing.T) {
	t.Parallel()
	pairs := []measure.Mass{26 * kg, 1}
	for m := measure.Mass(20); m > 0; m-- {
		pairs = append(pairs, m*kg, 15)
	}
	d := Solve([]Item{{sledA, 53 * kg}, {sledB, 60 * kg}}, plates(pairs...))
	if !d.Proved || d.Miss != 0 || !slices.Equal(d.Stacks[0].Stamps(plates(pairs...)), []string{"26 kg"}) ||
		!slices.Equal(d.Stacks[1].Stamps(plates(pairs...)), []string{"20 kg", "6 kg"}) {
		t.Errorf("Solve = %v, misses %v, proved %v", d.Stacks, d.Miss, d.Proved)
	}
}

// TestSolveBesideManyPlates: plates that are too heavy for anybody change nothing, however
// many there are; here more than one number can count.
func TestSolveBesideManyPlates(t *testing.T) {
	t.Parallel()
	for _, f := range []micrograms{
		{[]measure.Mass{12, 1, 11, 1, 10, 3, 6, 3, 4, 2}, [][4]int{{3, 4, 0, 26}, {2, 1, 0, 19}, {2, 1, 7, 23}}},
		{[]measure.Mass{9, 3, 7, 3, 6, 1, 5, 3, 2, 2, 1, 1}, [][4]int{{5, 1, 0, 25}, {3, 1, 2, 27}, {1, 2, 0, 18}, {2, 1, 0, 19}}},
	} {
		items, pile := f.make()
		want := Solve(items, pile)
		var heavy []measure.Mass
		for m := measure.Mass(1009); m > 1000; m-- {
			heavy = append(heavy, m, 1000)
		}
		got := Solve(items, append(plates(heavy...), pile...))
		if !got.Proved || got.Miss != want.Miss || !slices.Equal(got.Moves, want.Moves) {
			t.Errorf("beside heavy plates Solve(%v) moves %v, want %v", f, got.Moves, want.Moves)
		}
	}
}

// TestSolveSaysWhatItCannotProve: more stacks come near than can be listed.
func TestSolveSaysWhatItCannotProve(t *testing.T) {
	t.Parallel()
	var pairs []measure.Mass
	for m := measure.Mass(20); m > 0; m-- {
		pairs = append(pairs, m*kg, 15)
	}
	if d := Solve([]Item{{sledA, 327 * kg}, {sledB, 334 * kg}}, plates(pairs...)); d.Proved || d.Miss != 0 {
		t.Errorf("Solve misses %v, proved %v; want nothing, not proved", d.Miss, d.Proved)
	}
}

// TestWithinAnyShare: a share that allows anything allows the most there is.
func TestWithinAnyShare(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		share share
		asked measure.Mass
		want  measure.Mass
	}{
		{share{1, 10}, 100 * kg, 10 * kg},
		{share{0, 1}, 100 * kg, 0},
		{share{1 << 40, 1}, 1 << 24, 1 << 62},
		{share{1 << 40, 1}, 100 * kg, 1 << 62},
	} {
		if got := c.share.within(c.asked); got != c.want {
			t.Errorf("%v within %d = %d, want %d", c.share, c.asked, got, c.want)
		}
	}
}
