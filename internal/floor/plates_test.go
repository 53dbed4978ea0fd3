package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestPlatesOfOthersAreNotFree: a change of load takes what is in the pile and on the own sled,
// and not what stands on another at that moment; of a group on one sled that is the stack of
// the one in the same place.
func TestPlatesOfOthersAreNotFree(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says  string
		on    string // of Ada, Bo, Cleo
		twins int    // how many 20 kg plates there are
		cleo  []string
		by    measure.Mass
		stack []string // Ada's after it; nil: refused
	}{
		{"two more are in the pile", "A B C", 8, []string{"20 kg", "20 kg"}, 40 * kg, []string{"20 kg", "20 kg", "20 kg", "20 kg"}},
		{"none is", "A B C", 6, []string{"20 kg", "20 kg"}, 40 * kg, []string{"20 kg", "20 kg", "10 kg", "10 kg", "10 kg", "10 kg"}},
		{"Cleo's are, she goes after Bo", "A B B", 6, []string{"20 kg", "20 kg", "20 kg"}, 40 * kg, []string{"20 kg", "20 kg", "20 kg", "20 kg"}},
		{"one may go back", "A B C", 6, []string{"20 kg", "20 kg"}, -20 * kg, []string{"20 kg"}},
		{"nothing is lighter than bare", "A B C", 6, []string{"20 kg", "20 kg"}, -60 * kg, []string{}},
	} {
		p := one(everyMinute(4), "Ada Bo Cleo", c.on)
		p.Kit.Plates[0].Count = c.twins
		p.Parts[0].Places[2].Spots[0].Stack = c.cleo
		r := begin(t, p)
		r.must("0:10", Change{Who: "Ada", By: c.by})
		e, ok := r.log[len(r.log)-1].E.(LoadChanged)
		if !ok || !slices.Equal(e.Stack, c.stack) || e.Round != 2 || e.Added != e.Moves-27*kg {
			t.Errorf("%s: %+v, want %v from round 2", c.says, r.log[len(r.log)-1].E, c.stack)
		}
	}
}

// TestStepsGoToTheNextLoad: up and down each go to the nearest load that there is, to the last
// and no further.
func TestStepsGoToTheNextLoad(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(60), "Ada", "A")
	for i, n := range []int{3, 1, 0, 0} { // 3 × 20 kg and one of 10 kg
		p.Kit.Plates[i].Count = n
	}
	r := begin(t, p)
	at := 10 * time.Second
	for _, c := range []struct {
		up   bool
		want measure.Mass // added; −1: refused
	}{
		{true, 50 * kg},
		{true, 60 * kg},
		{true, 70 * kg},
		{true, -1},
		{false, 60 * kg},
		{false, 50 * kg},
		{false, 40 * kg},
		{false, 30 * kg},
		{false, 20 * kg},
		{false, 10 * kg},
		{false, 0},
		{false, -1},
		{true, 10 * kg},
	} {
		n := len(r.log)
		err := r.do(at, StepLoad{Who: "Ada", Up: c.up})
		got := measure.Mass(-1)
		if len(r.log) > n {
			got = r.log[n].E.(LoadChanged).Added
		}
		if got != c.want || (err == nil) != (c.want >= 0) {
			t.Errorf("a step, up %v: %v (%v), want %v", c.up, got, err, c.want)
		}
	}
}

// TestLatecomersPlates: who comes gets what they ask for, counted as the session counts it for
// the sled they come to; who asks nothing that is known starts bare.
func TestLatecomersPlates(t *testing.T) {
	t.Parallel()
	station := func(ask session.Ask) []session.Station {
		return []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1, Loads: []session.Ask{ask}}}
	}
	for _, c := range []struct {
		says  string
		ask   session.Ask
		asked measure.Mass // as planned for a sled of 27 kg
		moves measure.Mass // on one of 37 kg
	}{
		{"plates on the sled", session.Ask{Basis: session.Plain, Mass: 40 * kg}, 67 * kg, 77 * kg},
		{"a share of body mass", session.Ask{Basis: session.OfBody, Share: 50 * measure.Percent}, 67 * kg, 77 * kg},
		{"a share of the max counts all", session.Ask{Basis: session.OfMax, Share: 50 * measure.Percent}, 67 * kg, 67 * kg},
		{"nothing known", session.Ask{Basis: session.OfMax, Share: 50 * measure.Percent}, 0, 37 * kg},
	} {
		part := everyMinute(30)
		part.Stations = station(c.ask)
		p := one(part, "Ada Bo Cleo", "A B -")
		p.Parts[0].Stations[0].On[2].Tare = 37 * kg
		p.Parts[0].Places[2].Spots[0].Asked = c.asked
		p.Parts[0].Places[2].Spots[0].Expect = 44 * time.Second
		r := begin(t, p)
		r.must("0:10", Arrive{Who: "Cleo", WarmUp: time.Minute})
		sp := r.s.parts[0].tracks[2].spot(3, 0)
		if sp.On != "C" || sp.Moves != c.moves || sp.Expect != 44*time.Second || sp.Order != 0 {
			t.Errorf("%s: she stands on %+v, want %v on C", c.says, sp, c.moves)
		}
	}
}

// TestLatecomersGoWhereThereIsRoom: to the sled with the fewest who are here, in the order of the
// kit where that is the same; never to one that is out.
func TestLatecomersGoWhereThereIsRoom(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		on    string // of Ada, Bo, Cleo, Dag; Eva comes
		first []asked
		want  string
		order int
	}{
		{"A B C A -", nil, "B", 1},
		{"A A B B -", nil, "C", 0},
		{"A B C C -", nil, "A", 1},
		{"A B C A -", []asked{{"0:05", Leave{"Ada"}}, {"0:06", Leave{"Dag"}}}, "A", 0},
		{"A A B B -", []asked{{"0:05", Out{On: "C"}}}, "A", 2},
	} {
		r := begin(t, one(everyMinute(30), "Ada Bo Cleo Dag Eva", c.on))
		for _, a := range c.first {
			r.must(a.at, a.c)
		}
		r.must("0:10", Arrive{Who: "Eva", WarmUp: time.Minute})
		if sp := r.s.parts[0].tracks[4].spot(3, 0); sp.On != c.want || sp.Order != c.order {
			t.Errorf("beside %s she goes to %s as number %d, want %s as number %d", c.on, sp.On, sp.Order, c.want, c.order)
		}
	}
}
