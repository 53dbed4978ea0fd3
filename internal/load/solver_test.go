package load

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

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
	for _, pile := range [][]kit.Plates{many(forty(), 3), everyKind()} {
		items := floorOf(16, 2*measure.Whole)
		d := Solve(items, pile)
		if d.Proved || !fits(items, d.Stacks, counts(pile)) || d.Miss > SolveInOrder(items, pile).Miss {
			t.Errorf("16 items on %d kinds: proved %v, misses %v", len(pile), d.Proved, d.Miss)
		}
		if d.Work < Usual || d.Work > Usual+Usual/100 {
			t.Errorf("16 items on %d kinds took %d work, want just %d", len(pile), d.Work, Usual)
		}
	}
}

// everyKind is a floor that has every plate there is, down to half a pound.
func everyKind() []kit.Plates {
	return plates(25*kg, 4, 45*lb, 6, 20*kg, 6, 35*lb, 3, 15*kg, 4, 25*lb, 4, 10*kg, 8, 5*kg, 6, 10*lb, 4, 5*kg/2, 4,
		5*lb, 4, 2*kg, 3, 3*kg/2, 3, 5*kg/4, 2, 5*lb/2, 3, kg, 4, 5*lb/4, 3, kg/2, 3, kg/4, 2, lb/2, 2)
}

// TestNearestOfEveryKind: of a pile in which halves of a quarter pound are rounded, and whose
// kinds nobody can try in every way, each load that a person's plates make is found again.
func TestNearestOfEveryKind(t *testing.T) {
	t.Parallel()
	pile, left := everyKind(), counts(everyKind())
	on := Implement{Name: "A", Kind: Sled, Tare: 27 * kg, Ends: 1}
	rapid.Check(t, func(t *rapid.T) {
		made := make(Stack, len(pile))
		for k := range made {
			made[k] = rapid.IntRange(0, 2).Draw(t, pile[k].Stamp)
		}
		it := Item{on, made.On(on, pile)}
		got := Nearest(it, pile, left)
		if got.On(on, pile) != it.Total || got.Plates(on) > made.Plates(on) {
			t.Fatalf("%v is %v, and Nearest has %v", made, it.Total, got)
		}
		if free := Unlimited(it, pile); abs(free.On(on, pile)-it.Total) >= rounding || free.Plates(on) > made.Plates(on) {
			t.Fatalf("%v is %v, and Unlimited has %v", made, it.Total, free)
		}
	})
}

// TestHalves: plates in kg and in lb are parted, rounded ones too.
func TestHalves(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		pile []kit.Plates
		want [2][]int
	}{
		{plates(45*lb, 1, 20*kg, 1, 5*kg, 1, 5*lb/2, 1, 5*kg/4, 1, 5*lb/4, 1), [2][]int{{0, 3, 5}, {1, 2, 4}}},
		{plates(20*kg, 1, 15*kg, 1, 5*kg/4, 1), [2][]int{{0, 2}, {1}}},
		{plates(20*kg, 1), [2][]int{{0}, nil}},
		{nil, [2][]int{}},
	} {
		var kinds []int
		for k := range c.pile {
			kinds = append(kinds, k)
		}
		if got := Halves(kinds, c.pile); !reflect.DeepEqual(got, c.want) {
			t.Errorf("Halves of %v = %v, want %v", c.pile, got, c.want)
		}
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
