package load

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"hawser/internal/glpsol"
	"hawser/internal/kit"
	"hawser/internal/measure"
)

// hardFloor is the items of one row of testdata/joint.csv: n of [floorOf] at a
// share, on the 40 plates of [forty].
func hardFloor(t *testing.T, f glpsol.Figure) []Item {
	t.Helper()
	n, err1 := strconv.Atoi(f.Of[0])
	pct, err2 := strconv.Atoi(f.Of[1])
	if err1 != nil || err2 != nil {
		t.Fatalf("testdata/joint.csv: %v", f)
	}
	return floorOf(n, measure.Share(pct)*measure.Percent)
}

// TestSolveHard compares the least sums with those of a general solver.
func TestSolveHard(t *testing.T) {
	t.Parallel()
	for _, f := range glpsol.Figures(t, "testdata/joint.csv") {
		items := hardFloor(t, f)
		d := Solve(items, forty())
		if !d.Proved || !glpsol.Near(d.Miss.KG(), f.Least) {
			t.Errorf("items, share %v miss %.6f kg, proved %v; the other solver has %.6f", f, d.Miss.KG(), d.Proved, f.Least)
		}
		if !fits(items, d.Stacks, counts(forty())) {
			t.Errorf("items, share %v are more than the pile", f)
		}
	}
}

// TestSolveEnds holds that a floor beyond all reason is still answered, within the
// pile and no worse than in list order, and not called proved.
func TestSolveEnds(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a second")
	}
	items, pile := floorOf(16, 2*measure.Whole), many(forty(), 3)
	d := Solve(items, pile)
	if d.Proved || !fits(items, d.Stacks, counts(pile)) || d.Miss > SolveInOrder(items, pile).Miss {
		t.Errorf("16 items on 120 plates: proved %v, misses %v", d.Proved, d.Miss)
	}
}

func TestAnotherSolver(t *testing.T) {
	t.Parallel()
	glpsol.Asked(t)
	for _, f := range glpsol.Figures(t, "testdata/joint.csv") {
		glpsol.Ask(t, asProgram(hardFloor(t, f), forty()), f)
	}
}

// asProgram writes the joint problem as an integer program in the CPLEX LP format,
// masses in kg: x is plates of a kind on one end, over and under the misses.
func asProgram(items []Item, pile []kit.Plates) string {
	var b, general, most strings.Builder
	b.WriteString("Minimize\n sum:")
	for i := range items {
		fmt.Fprintf(&b, " + over%d + under%d", i, i)
	}
	b.WriteString("\nSubject To\n")
	for i, it := range items {
		fmt.Fprintf(&b, " item%d: under%d - over%d", i, i, i)
		for k, p := range pile {
			if p.Mass >= it.On.Step {
				fmt.Fprintf(&b, " + %.9f x%d_%d", (p.Mass * measure.Mass(it.On.Ends)).KG(), i, k)
				fmt.Fprintf(&general, " x%d_%d", i, k)
			}
		}
		fmt.Fprintf(&b, " = %.9f\n", (it.Total - it.On.Tare).KG())
	}
	for k, p := range pile {
		row := ""
		for i, it := range items {
			if p.Mass >= it.On.Step {
				row += fmt.Sprintf(" + %d x%d_%d", it.On.Ends, i, k)
			}
		}
		if row != "" {
			fmt.Fprintf(&most, " kind%d:%s <= %d\n", k, row, p.Count)
		}
	}
	return b.String() + most.String() + "General\n" + general.String() + "\nEnd\n"
}
