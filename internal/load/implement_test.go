package load

import (
	"slices"
	"testing"

	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

func TestImplements(t *testing.T) {
	t.Parallel()
	k := &kit.Kit{
		Step:    5 * kg / 2,
		Sleds:   []kit.Sled{{Name: "A", Tare: 27 * kg, Posts: 1}, {Name: "B", Tare: 34 * kg, Posts: 4}},
		Bars:    []kit.Bar{{Name: "hex trap", Kind: "bar", Tare: 25 * kg, Count: 2}, {Name: "straight", Kind: "bar", Tare: 20 * kg, Count: 1}},
		Handles: []kit.Handles{{Name: "farmers", Tare: 9 * kg, Count: 1}},
	}
	straight := &kit.Kit{Bars: k.Bars[1:]}
	for _, c := range []struct {
		kit  *kit.Kit
		need movement.Need
		want []string
	}{
		{k, movement.Sled, []string{"A", "B"}},
		{k, movement.SledRope, []string{"A", "B"}},
		{k, movement.Bar, []string{"straight"}},
		{k, movement.TrapBar, []string{"hex trap", "hex trap 2"}},
		{straight, movement.TrapBar, []string{"straight"}},
		{k, movement.Handles, []string{"farmers"}},
		{straight, movement.Sled, nil},
		{k, movement.Need("kite"), nil},
	} {
		got, findings := Implements(c.kit, c.need)
		names := []string{}
		for _, on := range got {
			names = append(names, on.Name)
		}
		if !slices.Equal(names, c.want) {
			t.Errorf("Implements(%s) = %v, want %v", c.need, names, c.want)
		}
		if missing := len(findings) == 1 && findings[0].Level == session.Stop; missing != (c.want == nil) {
			t.Errorf("Implements(%s) says %v", c.need, findings)
		}
	}
	sleds, _ := Implements(k, movement.Sled)
	hands, _ := Implements(k, movement.Handles)
	if b, h := sleds[1], hands[0]; b.Ends != 4 || b.Step != k.Step || h.Ends != 4 || h.Tare != 18*kg || h.Step != 0 {
		t.Errorf("sled %+v and handles %+v", b, h)
	}
}

// TestStacks has the worked loads of one item: each was worked out elsewhere.
func TestStacks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		on    Implement
		total measure.Mass
		pile  []kit.Plates
		moves measure.Mass
		stack []string
	}{
		{
			"pounds come nearer than kilograms",
			Implement{Kind: Sled, Tare: 34 * kg, Ends: 1, Step: 5 * kg / 2},
			74_800 * kg / 1000,
			plates(45*lb, 3, 20*kg, 3, 35*lb, 1, 10*kg, 3, 5*lb, 3, 5*kg/4, 1), 34*kg + 90*lb,
			[]string{"45 lb", "45 lb"},
		},
		{
			"a bar takes small plates",
			Implement{Kind: TrapBar, Tare: 20 * kg, Ends: 2},
			121_300 * kg / 1000,
			plates(20*kg, 6, 15*kg, 4, 5*kg/2, 7, 5*kg/4, 2), 122_500 * kg / 1000,
			[]string{"20 kg", "15 kg", "15 kg", "1.25 kg"},
		},
		{"handles need four of a kind", hands, 154_200 * kg / 1000, plates(15*kg, 9, 10*kg, 7, 5*kg/2, 6), 148 * kg, []string{"15 kg", "15 kg", "2.5 kg"}},
		{"a tie is the lighter", sledA, 27*kg + 45*kg/2, plates(25*kg, 1, 20*kg, 1), 47 * kg, []string{"20 kg"}},
		{"the biggest first would stop at 25", sledA, 57 * kg, plates(25*kg, 1, 20*kg, 1, 10*kg, 1), 57 * kg, []string{"20 kg", "10 kg"}},
		{"fewest plates", sledA, 67 * kg, plates(20*kg, 2, 15*kg, 2, 10*kg, 4), 67 * kg, []string{"20 kg", "20 kg"}},
		{
			"nearest above",
			Implement{Kind: Sled, Tare: 32_500 * kg / 1000, Ends: 1, Step: 5 * kg / 2},
			117 * kg,
			plates(20*kg, 4, 15*kg, 2, 10*kg, 2, 5*kg, 2, 5*kg/2, 2), 117_500 * kg / 1000,
			[]string{"20 kg", "20 kg", "20 kg", "20 kg", "5 kg"},
		},
		{"small plates stay in the pile", sledA, 27*kg + 5*kg/4, plates(5*kg/4, 4), 27 * kg, []string{}},
		{"bare over the target", sledA, 20 * kg, plates(20*kg, 4), 27 * kg, []string{}},
		{"no plates", sledA, 60 * kg, nil, 27 * kg, []string{}},
		{"none of the plates there", sledA, 60 * kg, plates(20*kg, 0), 27 * kg, []string{}},
		{"collars and bar read off a photograph", Implement{Kind: Bar, Tare: 25 * kg, Ends: 2}, 110 * kg, plates(25*kg, 2, 15*kg, 2, 5*kg/2, 2), 110 * kg, []string{"25 kg", "15 kg", "2.5 kg"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			it := Item{On: c.on, Total: c.total}
			d := Solve([]Item{it}, c.pile)
			if got := d.Stacks[0].Stamps(c.pile); d.Moves[0] != c.moves || !slices.Equal(got, c.stack) {
				t.Errorf("Solve(%v) moves %v with %v, want %v with %v", c.total, d.Moves[0], got, c.moves, c.stack)
			}
		})
	}
}

func TestBeside(t *testing.T) {
	t.Parallel()
	pile := plates(20*kg, 2, 10*kg, 1, 5*kg, 1)
	for _, c := range []struct {
		moves    measure.Mass
		down, up measure.Mass // 0: none
	}{
		{57 * kg, 52 * kg, 62 * kg},
		{27 * kg, 0, 32 * kg},
		{82 * kg, 77 * kg, 0},
		{32 * kg, 27 * kg, 37 * kg},
	} {
		down, up, hasDown, hasUp := Beside(sledA, c.moves, pile, counts(pile))
		if hasDown != (c.down > 0) || hasDown && down.On(sledA, pile) != c.down {
			t.Errorf("below %v: %v, want %v", c.moves, down.On(sledA, pile), c.down)
		}
		if hasUp != (c.up > 0) || hasUp && up.On(sledA, pile) != c.up {
			t.Errorf("above %v: %v, want %v", c.moves, up.On(sledA, pile), c.up)
		}
	}
}
