package lanes

import (
	"testing"

	"hawser/internal/roster"
)

// TestSearchWithSomebodyOnNoColumn: where the last of the people has no place on any column
// there is no arrangement, and what is known stays.
func TestSearchWithSomebodyOnNoColumn(t *testing.T) {
	t.Parallel()
	known := &answer{cost: cost{plates: 9}}
	e := &exact{p: &planner{people: make([]*roster.Athlete, 3)}, l: &layout{}, cols: make([]column, 1), best: known}
	e.lists = [][][]*lane{{{{people: 1, order: []int{0}}}}}
	e.table()
	if e.search(); e.best != known {
		t.Errorf("search finds %+v, want what is known", e.best)
	}
}
