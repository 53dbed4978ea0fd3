package load

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// hardFloor is one row of testdata/joint.csv: n items of [floorOf] at a share, on
// the 40 plates of [forty].
type hardFloor struct {
	n     int
	share measure.Share
	miss  float64 // kg, as the other solver found it
}

func hardFloors(t *testing.T) []hardFloor {
	t.Helper()
	data, err := os.ReadFile("testdata/joint.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(data)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var floors []hardFloor
	for _, row := range rows {
		n, err1 := strconv.Atoi(row[0])
		pct, err2 := strconv.Atoi(row[1])
		miss, err3 := strconv.ParseFloat(row[2], 64)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatalf("testdata/joint.csv: %v", row)
		}
		floors = append(floors, hardFloor{n, measure.Share(pct) * measure.Percent, miss})
	}
	return floors
}

// TestSolveHard compares the least sums with those of a general solver.
func TestSolveHard(t *testing.T) {
	t.Parallel()
	for _, f := range hardFloors(t) {
		items := floorOf(f.n, f.share)
		d := Solve(items, forty())
		if !d.Proved || math.Abs(d.Miss.KG()-f.miss) > 1e-5 {
			t.Errorf("%d items at %v miss %.6f kg, proved %v; the other solver has %.6f", f.n, f.share, d.Miss.KG(), d.Proved, f.miss)
		}
		if !fits(items, d.Stacks, counts(forty())) {
			t.Errorf("%d items at %v are more than the pile", f.n, f.share)
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

// TestAnotherSolver asks glpsol itself, where it is installed and HAWSER_SOLVER=1.
func TestAnotherSolver(t *testing.T) {
	t.Parallel()
	if os.Getenv("HAWSER_SOLVER") != "1" {
		t.Skip("set HAWSER_SOLVER=1 to ask glpsol again; its figures are in testdata/joint.csv")
	}
	solver, err := exec.LookPath("glpsol")
	if err != nil {
		t.Skip("no glpsol here")
	}
	for _, f := range hardFloors(t) {
		dir := t.TempDir()
		model, report := filepath.Join(dir, "joint.lp"), filepath.Join(dir, "joint.txt")
		if err := os.WriteFile(model, []byte(asProgram(floorOf(f.n, f.share), forty())), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.CommandContext(t.Context(), solver, "--lp", model, "--cuts", "--tmlim", "120", "-o", report).CombinedOutput(); err != nil {
			t.Fatalf("glpsol: %v\n%s", err, out)
		}
		page, err := os.ReadFile(report)
		if err != nil {
			t.Fatal(err)
		}
		status := regexp.MustCompile(`Status: +(.+)`).FindSubmatch(page)
		sum := regexp.MustCompile(`Objective: .* = ([0-9.e+-]+)`).FindSubmatch(page)
		if sum == nil || status == nil || string(status[1]) != "INTEGER OPTIMAL" {
			t.Errorf("%d items at %v: glpsol has no optimum (%s)", f.n, f.share, status)
			continue
		}
		got, _ := strconv.ParseFloat(string(sum[1]), 64)
		t.Logf("%d,%d,%.6f", f.n, f.share/measure.Percent, got)
		if math.Abs(got-f.miss) > 1e-5 {
			t.Errorf("%d items at %v: glpsol finds %.6f kg, the figure kept is %.6f", f.n, f.share, got, f.miss)
		}
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
