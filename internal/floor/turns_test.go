package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestSmallerSideOfThePart: whoever is here and has no place in the part counts for no side.
func TestSmallerSideOfThePart(t *testing.T) {
	t.Parallel()
	part := everyMinute(20)
	part.Sides = [][]string{{"x"}, {"y"}}
	p := one(part, "Ada Bo Eva", "A B -")
	p.Parts[0].Places[1].Heat, p.Parts[0].Places[1].Side = 0, 1
	r := begin(t, p)
	r.must("0:10", Arrive{Who: "Eva", WarmUp: time.Minute})
	if got := r.s.parts[0].tracks[2].Side; got != 1 {
		t.Errorf("Eva is on side %d, want 1", got)
	}
}

// TestSmallerSide: who comes is dealt to the side with the fewest who are here, the first where
// they are equal.
func TestSmallerSide(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sides [5]int // of Ada, Bo, Cleo, Dag and Eva, who comes
		on    string
		leave string
		want  int
	}{
		{[5]int{0, 0, 1, 1, 0}, "A B A B -", "", 0},
		{[5]int{0, 0, 1, 1, 0}, "A B A B -", "Cleo", 1},
		{[5]int{0, 0, 1, 1, 0}, "A B A B -", "Ada", 0},
		{[5]int{0, 1, 1, 1, 0}, "A B A B -", "", 0},
		{[5]int{0, 0, 0, 1, 0}, "A B A B -", "", 1},
		{[5]int{0, 0, 1, 1, 0}, "A B - A -", "", 1}, // Cleo is not here yet
		{[5]int{2, 0, 1, 2, 0}, "A B A B -", "", 0}, // there is no third side
	} {
		part := everyMinute(20)
		part.Sides = [][]string{{"x"}, {"y"}}
		p := one(part, "Ada Bo Cleo Dag Eva", c.on)
		for i, side := range c.sides {
			p.Parts[0].Places[i].Side = side
		}
		r := begin(t, p)
		if c.leave != "" {
			r.must("0:05", Leave{c.leave})
		}
		r.must("0:10", Arrive{Who: "Eva", WarmUp: time.Minute})
		if got := r.s.parts[0].tracks[4].Side; got != c.want {
			t.Errorf("with sides %v on %s, %q left: she goes to side %d, want %d", c.sides, c.on, c.leave, got, c.want)
		}
	}
}

// TestTurnsOfMostRounds: sharers go by the order of their places, over and over, past those who
// are not here or in another heat.
func TestTurnsOfMostRounds(t *testing.T) {
	t.Parallel()
	amrap := session.Part{Format: session.Amrap, Cap: 9 * time.Minute}
	for _, c := range []struct {
		order [3]int
		want  string
	}{{[3]int{0, 1, 2}, "Ada Bo Cleo Ada "}, {[3]int{2, 1, 0}, "Cleo Bo Ada Cleo "}, {[3]int{1, 2, 0}, "Cleo Ada Bo Cleo "}, {[3]int{0, 0, 0}, "Ada Bo Cleo Ada "}} {
		p := one(amrap, "Ada Bo Cleo", "A A A")
		for i := range p.Parts[0].Places {
			p.Parts[0].Places[i].Spots[0].Order = c.order[i]
		}
		r := begin(t, p)
		got := ""
		for n := range 4 {
			at := time.Duration(20+40*n) * time.Second
			for _, tile := range r.s.Tiles(nil, 1, r.zero+at) {
				if tile.State == TileWork {
					got += r.s.Plan().People[tile.Person].Name + " "
				}
			}
			r.at(at, PressSled{On: "A"})
		}
		if got != c.want {
			t.Errorf("with the places %v they pull %q, want %q", c.order, got, c.want)
		}
	}
	stations := amrap
	stations.PressAt = "station"
	stations.Stations = []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}, {Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}
	for _, c := range []struct {
		press string
		want  TileState
	}{{"station", TileWork}, {"", TileWait}} {
		stations.PressAt = c.press
		r := begin(t, one(stations, "Ada Bo", "A A"))
		if got := r.s.Tiles(nil, 1, r.zero+10*time.Second)[1].State; got != c.want {
			t.Errorf("pressed at each %q Bo's tile is %d, want %d: where people move through stations nobody waits for a whole round", c.press, got, c.want)
		}
	}
}

// TestDueAtOnce: of two whose rest on one sled ends together the roster decides, once both have
// pulled; before that the order of their places.
func TestDueAtOnce(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		pulls int // how long Ada pulls from 0:30, s: so long she rests
		want  string
	}{{5, "Ada"}, {4, "Ada"}, {6, "Bo"}} {
		p := one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2}, "Bo Ada", "A A")
		p.People[0].Name, p.People[1].Name = "Ada", "Bo" // Ada stands first in the list and second on the sled
		p.Parts[0].Places[0].Spots[0].Order, p.Parts[0].Places[1].Spots[0].Order = 1, 0
		r := begin(t, p)
		r.at(20*time.Second, Press{"Bo"})                         // due at 0:40
		r.at(time.Duration(30+c.pulls)*time.Second, Press{"Ada"}) // due at 0:40, or 2 s to either side
		tiles := r.s.Tiles(nil, 1, r.zero+50*time.Second)
		got := ""
		for _, tile := range tiles {
			if tile.State == TileWork {
				got = r.s.Plan().People[tile.Person].Name
			}
		}
		if got != c.want {
			t.Errorf("Ada is due %d s after Bo: %q pulls, want %q", 2*(c.pulls-5), got, c.want)
		}
	}
}

// TestUnlikelySplits: under 60 % or over 160 % of the median of the others at that station, of at
// least two; just that is likely.
func TestUnlikelySplits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		splits []float64
		want   []bool
	}{
		{[]float64{30, 30, 48}, []bool{false, false, false}},
		{[]float64{30, 30, 48.001}, []bool{false, false, true}},
		{[]float64{30, 30, 18}, []bool{false, false, false}},
		{[]float64{30, 30, 17.999}, []bool{false, false, true}},
		{[]float64{30, 55}, []bool{false, false}},
		{[]float64{20, 40, 30, 50}, []bool{true, false, false, true}}, // 20 against 40, 50 against 30
	} {
		part := everyMinute(9)
		r := begin(t, one(part, "Ada", "A"))
		for k, split := range c.splits {
			r.at(time.Duration(k)*time.Minute, ByHand{Who: "Ada", Round: k + 1, Work: time.Duration(split * float64(time.Second))})
		}
		var got []bool
		for _, x := range r.s.Rounds(1, 0, r.zero+time.Duration(len(c.splits)-1)*time.Minute) {
			got = append(got, x.Unlikely)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("of %v unlikely are %v, want %v", c.splits, got, c.want)
		}
	}
}

// TestLightPlatesStayOffTheSled: on a sled no plate is lighter than the step of the kit; on a bar
// any will do, on both ends.
func TestLightPlatesStayOffTheSled(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		on   string
		ends int
		want measure.Mass
	}{{"A", 1, 69_500 * measure.Gram}, {"bar", 2, 69_500 * measure.Gram}} {
		p := one(everyMinute(9), "Ada", "A")
		p.Kit.Plates = append(p.Kit.Plates, p.Kit.Plates[3])
		last := &p.Kit.Plates[4]
		last.Stamp, last.Mass, last.Count = "1.25 kg", 1250*measure.Gram, 4
		sp := &p.Parts[0].Places[0].Spots[0]
		sp.On, sp.Ends = c.on, c.ends
		if c.ends == 2 {
			sp.Stack = []string{"20 kg"}
		}
		r := begin(t, p)
		r.must("0:10", StepLoad{Who: "Ada", Up: true})
		e := r.log[len(r.log)-1].E.(LoadChanged)
		if e.Moves != c.want || slices.Contains(e.Stack, "1.25 kg") != (c.on == "bar") {
			t.Errorf("a step up on %s is %+v, want %v", c.on, e, c.want)
		}
	}
}

// TestLatecomersSets: who comes to a list of loads has each of its sets on the sled they come to.
func TestLatecomersSets(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "Ada Bo", "A -")
	p.Parts[0].Places[1].Spots[0].Sets = []Set{{Moves: 47 * kg}, {Moves: 59 * kg}}
	p.Parts[0].Places[1].Spots[0].Asked = 47 * kg
	r := begin(t, p)
	r.must("0:10", Arrive{Who: "Bo", WarmUp: time.Minute})
	var moves []measure.Mass
	for _, set := range r.s.parts[0].tracks[1].spot(1, 0).Sets {
		moves = append(moves, set.Moves)
	}
	if !slices.Equal(moves, []measure.Mass{47 * kg, 59500 * measure.Gram}) {
		t.Errorf("her sets move %v, want 47 and 59.5 kg", moves)
	}
}
