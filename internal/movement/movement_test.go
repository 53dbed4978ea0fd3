package movement_test

import (
	"slices"
	"testing"

	"hawser/internal/movement"
)

// What each movement needs and whether the sled has to be walked back decides the
// board; common practice, no single source.
func TestLibrary(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name    string
		pattern string
		need    movement.Need
		oneWay  bool
		grip    bool
	}{
		{"forward drag", "hinge", movement.Sled, false, false},
		{"backward drag", "squat", movement.Sled, false, false},
		{"forward drag with rope", "hinge", movement.Sled, false, true},
		{"vehicle pull", "hinge", movement.Sled, false, false},
		{"sled row", "pull", movement.Sled, true, true},
		{"hand over hand pull", "pull", movement.SledRope, true, true},
		{"seated hand over hand pull", "pull", movement.SledRope, true, true},
		{"deadlift", "hinge", movement.Bar, false, true},
		{"trap bar deadlift", "squat", movement.TrapBar, false, true},
		{"handles deadlift", "hinge", movement.Handles, false, true},
		{"handles carry", "carry", movement.Handles, false, true},
	} {
		m, ok := movement.Find(test.name)
		if !ok {
			t.Errorf("Find(%q) finds nothing", test.name)
			continue
		}
		if m.Pattern != test.pattern || m.Need != test.need || m.OneWay != test.oneWay || m.Grip != test.grip {
			t.Errorf("Find(%q) = %+v, want %+v", test.name, m, test)
		}
	}
	if _, ok := movement.Find("Sled Row"); ok {
		t.Error("Find takes another spelling")
	}
}

// A card with a blank on it is no card.
func TestEveryCardIsFull(t *testing.T) {
	t.Parallel()
	names := movement.Names()
	if len(names) != 11 || len(names) != len(movement.All()) {
		t.Errorf("there are %d names for %d movements, want 11", len(names), len(movement.All()))
	}
	for _, m := range movement.All() {
		if len(m.Tires) == 0 || len(m.StandsIn) == 0 || len(m.Cautions) == 0 {
			t.Errorf("%s: what it tires, stands in for or asks care for is missing", m.Name)
		}
		if m.Grip != slices.Contains(m.Tires, "grip") {
			t.Errorf("%s: Grip is %v, it tires %v", m.Name, m.Grip, m.Tires)
		}
	}
	if len(movement.General()) < 5 {
		t.Errorf("the cautions of every session are %d", len(movement.General()))
	}
}
