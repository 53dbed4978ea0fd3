package lanes

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// The table over sets of people is, with one person on each column, the assignment
// problem. Least costs: the first is printed in the munkres package's
// documentation (PyPI), the third in R A Pilgrim's notes on Munkres' algorithm
// (Murray State; from memory), the second in the gmailctl package's documentation,
// the last goes with MATLAB's magic(5). All were also tried out by enumeration.
func TestTableSolvesPublishedAssignments(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		costs [][]int
		want  int
	}{
		{[][]int{{5, 9, 1}, {10, 3, 2}, {8, 7, 4}}, 12},
		{[][]int{{2, 3, 3}, {3, 2, 3}, {3, 3, 2}}, 6},
		{[][]int{{1, 2, 3}, {2, 4, 6}, {3, 6, 9}}, 10},
		{[][]int{{17, 24, 1, 8, 15}, {23, 5, 7, 14, 16}, {4, 6, 13, 20, 22}, {10, 12, 19, 21, 3}, {11, 18, 25, 2, 9}}, 15},
	} {
		n := len(c.costs)
		e := &exact{p: &planner{}, cols: make([]column, n), lists: make([][][]*lane, n)}
		for j := range n {
			for i := range n {
				e.lists[j] = append(e.lists[j], []*lane{{people: 1 << i, order: []int{i}, least: cost{plates: c.costs[i][j]}}})
			}
		}
		if !e.table() || e.rest[0][1<<n-1].plates != c.want {
			t.Errorf("table(%v) = %d, want %d", c.costs, e.rest[0][1<<n-1].plates, c.want)
		}
	}
}

// Rest is work × ratio: 10 s at 1:12 and 1:20, 8 s at 1:12 and 1:20 as study pages
// on Essentials of Strength Training and Conditioning, table 3.6, work it out;
// 30 s at 1:3 by definition.
func TestRatioRest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		work, ratio, want int
	}{{10, 12, 120}, {10, 20, 200}, {8, 12, 96}, {8, 20, 160}, {30, 3, 90}} {
		p := &planner{spec: &session.Part{Format: session.Ratio, RestFactor: measure.Share(c.ratio) * measure.Whole}}
		if got := p.restFloor(time.Duration(c.work) * time.Second); got != time.Duration(c.want)*time.Second {
			t.Errorf("restFloor(%d s) at 1:%d = %v, want %d s", c.work, c.ratio, got, c.want)
		}
	}
}
