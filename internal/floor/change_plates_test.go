package floor

import (
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// Before a part begins each tile says when its person starts, and the plates to change on
// the sled: from those of whoever goes before them, or from what the part before left on it.
func TestPlatesBeforeAPart(t *testing.T) {
	t.Parallel()
	every := everyMinute(1)
	every.Every = 2 * time.Minute
	ratio := session.Part{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 1}
	for _, first := range []session.Part{every, ratio} {
		p := ScenePlan(t, []session.Part{first, ratio}, []string{"Ada=A,20", "Bo=A,50", "Cleo=B,40"})
		for i, sled := range []string{"B", "A", "A"} { // in part 2 another order, on other sleds
			sp := &p.Parts[1].Places[i].Spots[0]
			sp.On, sp.Order = sled, i/2
		}
		r := begin(t, p)
		want := func(at time.Duration, part int, want ...string) {
			t.Helper()
			var got []string
			for i, tile := range r.s.Tiles(nil, part, r.zero+at) {
				due := "-"
				if tile.Due != None {
					due = (tile.Due - r.zero).String()
				}
				got = append(got, strings.Join([]string{p.People[i].Name, due, "on", strings.Join(tile.On, "+"), "off", strings.Join(tile.Off, "+")}, " "))
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, at %v: part %d begins with\n%s\nwant\n%s", first.Format, at, part, strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
		}
		second := "50s" // Ada's 30 s, 10 s, and two plates
		if first.Format == session.Ratio {
			second = "-" // after Ada's press
		}
		want(-5*time.Second, 1, "Ada 0s on  off ", "Bo "+second+" on 20 kg+10 kg off ", "Cleo 0s on  off ")
		r.must("0:30", Press{"Ada"})
		r.must("0:40", Press{"Cleo"})
		r.must("1:30", Press{"Bo"})
		r.at(2*time.Minute, Sleep{}) // the part is over
		go2 := r.s.PartEnd(1) + p.House.BetweenParts - r.zero
		// Bo left 50 kg on A, Cleo 40 kg on B
		want(125*time.Second, 2, "Ada "+go2.String()+" on  off 20 kg", "Bo "+go2.String()+" on  off ", "Cleo - on  off 10 kg")
	}
}

// TestPlatesThatAPartLeft: what stands on a sled before a part is what the last to have had it left,
// of the last heat and of the order there, not of the list.
func TestPlatesThatAPartLeft(t *testing.T) {
	t.Parallel()
	every := everyMinute(1)
	every.Every = 2 * time.Minute
	ratio := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}
	for _, c := range []struct {
		says   string
		first  session.Part
		people []string
		order  []int
		do     []asked
		want   string // what Dag takes off A, who pulls 40 kg there in part 2
	}{
		{"the second in order is first in the list", every, []string{"Ada=A,50", "Bo=A,20", "Dag=B"}, []int{1, 0, 0}, nil, "10 kg"},
		{"the second in order is second in the list", every, []string{"Bo=A,20", "Ada=A,50", "Dag=B"}, []int{0, 1, 0}, nil, "10 kg"},
		{"the later heat", every, []string{"Ada=A/2,50", "Bo=A,20", "Dag=B"}, []int{0, 1, 0}, []asked{{"5:10", Sleep{}}}, "10 kg"},
		{"alone, and first in the list", ratio, []string{"Ada=A,50", "Dag=B"}, []int{0, 0}, []asked{{"0:30", Press{"Ada"}}, {"0:31", Press{"Dag"}}}, "10 kg"},
		{"nobody", every, []string{"Ada=C,50", "Dag=B"}, []int{0, 0}, nil, ""},
	} {
		p := ScenePlan(t, []session.Part{c.first, every}, c.people)
		dag := len(c.people) - 1
		for i, order := range c.order {
			p.Parts[0].Places[i].Spots[0].Order = order
			sp := &p.Parts[1].Places[i].Spots[0]
			sp.On, p.Parts[1].Places[i].Heat = "C", 1
		}
		p.Parts[1].Places[dag].Spots[0].On = "A"
		r := begin(t, p)
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		if got := strings.Join(r.s.Tiles(nil, 2, r.zero+5*time.Minute)[dag].Off, "+"); got != c.want {
			t.Errorf("%s: Dag takes %q off, want %q", c.says, got, c.want)
		}
	}
}

// TestStepFromTheSetThatComes: a step up or down is one from the load of the next set, and what others have on
// their sleds is what they have in their own; half a step over the tare the sled is not empty yet.
func TestStepFromTheSetThatComes(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Sets, Sets: 3, Rest: time.Minute}, "Ada Bo", "A B")
	p.Kit.Plates = p.Kit.Plates[:1] // six of 20 kg
	heavy := Set{Stack: []string{"20 kg", "20 kg", "20 kg", "20 kg"}, Moves: 107 * kg}
	p.Parts[0].Places[0].Spots[0].Sets = []Set{{Moves: 27 * kg}, {Stack: []string{"20 kg"}, Moves: 47 * kg}}
	p.Parts[0].Places[1].Spots[0].Sets = []Set{{Moves: 27 * kg}, heavy}
	r := begin(t, p)
	r.must("0:10", Press{"Ada"})
	r.must("0:11", Press{"Bo"}) // set 2 of both is to come
	r.must("0:20", StepLoad{Who: "Ada", Up: true})
	want := func(moves measure.Mass) {
		t.Helper()
		if got, ok := r.log[len(r.log)-1].E.(LoadChanged); !ok || got.Moves != moves {
			t.Errorf("%+v, want %v kg", r.log[len(r.log)-1].E, moves.KG())
		}
	}
	want(67 * kg)
	r.refused("0:21", StepLoad{Who: "Ada", Up: true}, "no other load exists for Ada") // Bo has the other four
	r.must("0:22", StepLoad{Who: "Ada"})
	want(47 * kg)
	r.must("0:23", StepLoad{Who: "Ada"})
	want(27 * kg)
	r.refused("0:24", StepLoad{Who: "Ada"}, "no other load exists for Ada")
}

// TestStepToAFarLoad: another load is looked for up to forty plate steps away, for one that is at most twice that.
func TestStepToAFarLoad(t *testing.T) {
	t.Parallel()
	for mass, found := range map[measure.Mass]bool{199 * kg: true, 201 * kg: false} {
		p := one(everyMinute(3), "Ada", "A")
		p.Kit.Plates = p.Kit.Plates[:1]
		p.Kit.Plates[0].Mass = mass
		p.Parts[0].Places[0].Spots[0].Stack, p.Parts[0].Places[0].Spots[0].Moves = nil, 27*kg
		r := begin(t, p)
		if err := r.do(10*time.Second, StepLoad{Who: "Ada", Up: true}); (err == nil) != found {
			t.Errorf("a plate of %v kg: %v, want it found: %v", mass.KG(), err, found)
		}
	}
}

// TestFreePlatesBesideTwoGroups: of those on another sled whose turns are as far from this one, the first counts.
func TestFreePlatesBesideTwoGroups(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(3), "Bo Ada Cleo Dag", "A A B B")
	p.Kit.Plates = p.Kit.Plates[:1] // six of 20 kg
	cleo, dag := &p.Parts[0].Places[2].Spots[0], &p.Parts[0].Places[3].Spots[0]
	cleo.Stack, cleo.Moves = []string{"20 kg", "20 kg", "20 kg", "20 kg"}, 107*kg
	dag.Order, dag.Stack, dag.Moves = 2, nil, 27*kg
	r := begin(t, p)
	r.refused("0:10", StepLoad{Who: "Ada", Up: true}, "no other load exists for Ada")
}

// TestNoDistanceToCut: who is late for a pull without metres has none cut.
func TestNoDistanceToCut(t *testing.T) {
	t.Parallel()
	part := everyMinute(3)
	part.Late, part.Stations = session.CutDistance, []session.Station{{Movement: "deadlift", Reps: 5}}
	r := begin(t, one(part, "Ada", "A"))
	r.must("1:05", Press{"Ada"})
	if _, pressed := r.log[len(r.log)-1].E.(Pressed); !pressed {
		t.Errorf("after the press %+v", r.log[len(r.log)-1].E)
	}
}
