// Package glpsol asks a general-purpose solver for the optimum of an integer
// program, so that tests can hold this module's own searches to it. The solver
// (GLPK's) need not be there: its results are kept as figures in the testdata of
// the tests, and only HAWSER_SOLVER=1 asks it again.
//
//	for _, f := range glpsol.Figures(t, "testdata/solver.csv") { … f.Least … }
//	glpsol.Ask(t, program, f)
package glpsol

import (
	"encoding/csv"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Figure is one row of a file of figures: what it is of, and its least value.
type Figure struct {
	Of    []string
	Least float64
}

func (f Figure) String() string { return strings.Join(f.Of, ",") }

// Figures reads a CSV file whose last column is a least value and whose lines
// that begin with # say how it came about.
func Figures(t *testing.T, name string) []Figure {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(data)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) == 0 {
		t.Fatalf("%s has no rows: %v", name, err)
	}
	var all []Figure
	for _, row := range rows {
		last := len(row) - 1
		least, err := strconv.ParseFloat(row[last], 64)
		if err != nil {
			t.Fatalf("%s: %v: %v", name, row, err)
		}
		all = append(all, Figure{row[:last], least})
	}
	return all
}

// Near reports whether two least values are the same but for rounding.
func Near(a, b float64) bool { return math.Abs(a-b) < 1e-4 }

var (
	status    = regexp.MustCompile(`Status: +(.+)`)
	objective = regexp.MustCompile(`Objective: .* = ([0-9.e+-]+)`)
)

// Asked skips the test unless the solver is wanted and there.
func Asked(t *testing.T) {
	t.Helper()
	if os.Getenv("HAWSER_SOLVER") != "1" {
		t.Skip("set HAWSER_SOLVER=1 to ask the other solver again; its figures are in testdata")
	}
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("no glpsol here")
	}
}

// Ask gives the solver a program in the CPLEX LP format for up to five minutes,
// and fails the test where its optimum is not the figure. Call [Asked] first.
func Ask(t *testing.T, program string, f Figure) {
	t.Helper()
	dir := t.TempDir()
	model, report := filepath.Join(dir, "model.lp"), filepath.Join(dir, "report.txt")
	if err := os.WriteFile(model, []byte(program), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.CommandContext(t.Context(), "glpsol", "--lp", model, "--cuts", "--tmlim", "300", "-o", report).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, out)
	}
	page, err := os.ReadFile(report)
	if err != nil {
		t.Fatal(err)
	}
	as, sum := status.FindSubmatch(page), objective.FindSubmatch(page)
	if sum == nil || as == nil || string(as[1]) != "INTEGER OPTIMAL" {
		t.Errorf("%v: glpsol has no optimum (%s)", f, as)
		return
	}
	got, err := strconv.ParseFloat(string(sum[1]), 64)
	t.Logf("%v,%.6f", f, got)
	if err != nil || !Near(got, f.Least) {
		t.Errorf("%v: glpsol finds %g, the figure kept is %g", f, got, f.Least)
	}
}
