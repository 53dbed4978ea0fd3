package floor

import (
	"math/big"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestPlatesMoved: the plates to take off and to put on, as multisets, on all ends.
func TestPlatesMoved(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to []string
		ends     int
		want     int
	}{
		{nil, nil, 1, 0},
		{[]string{"20"}, nil, 1, 1},
		{nil, []string{"20", "20"}, 1, 2},
		{[]string{"20", "20"}, []string{"20", "20"}, 1, 0},
		{[]string{"20", "20"}, []string{"20"}, 1, 1},
		{[]string{"20", "20", "10"}, []string{"20", "10", "10"}, 1, 2},
		{[]string{"20", "20", "20"}, []string{"10", "10", "5"}, 1, 6},
		{[]string{"20"}, []string{"10", "10"}, 2, 6},
		{[]string{"20"}, []string{"20", "5"}, 4, 4},
		{[]string{"20"}, nil, 0, 1},
	} {
		if got := moved(&Spot{Stack: c.from}, &Spot{Stack: c.to, Ends: c.ends}); got != c.want {
			t.Errorf("from %v to %v on %d ends: %d plates, want %d", c.from, c.to, c.ends, got, c.want)
		}
	}
}

// TestHandoverTakesTheSledBack: a handover is 10 s, 5 s a plate, and the way of the sled, by the
// station that it is at.
func TestHandoverTakesTheSledBack(t *testing.T) {
	t.Parallel()
	part := everyMinute(2)
	part.Every = 3 * time.Minute
	part.Stations = []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}, {Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}
	p := one(part, "Ada Bo", "A A")
	p.Parts[0].Stations[0].Return, p.Parts[0].Stations[1].Return = 7*time.Second, 20*time.Second
	bo := p.Parts[0].Places[1].Spots
	bo[0].Stack, bo[1].Stack = []string{"20 kg", "10 kg"}, []string{"20 kg", "20 kg"}
	r := begin(t, p)
	for _, c := range []struct{ at, want int }{{10, 30 + 10 + 2*5 + 7}, {190, 180 + 30 + 10 + 20}} {
		tile := r.s.Tiles(nil, 1, r.zero+time.Duration(c.at)*time.Second)[1]
		if due := tile.Due - r.zero; due != time.Duration(c.want)*time.Second {
			t.Errorf("at %d s Bo starts at %v, want %d s", c.at, due, c.want)
		}
		if c.at == 10 {
			r.must("0:30", Press{"Ada"})
			r.must("1:20", Press{"Bo"})
		}
	}
}

// TestListOfLoads: each set has its own plates, the last of the list repeats, and a step changes
// all from the next set on. Who comes after on the same sled changes what stands there.
func TestListOfLoads(t *testing.T) {
	t.Parallel()
	list := []Set{
		{Stack: []string{"20 kg"}, Moves: 47 * kg}, {Stack: []string{"20 kg", "10 kg"}, Moves: 57 * kg}, {Stack: []string{"20 kg", "20 kg"}, Moves: 67 * kg},
	}
	p := one(session.Part{Format: session.Sets, Sets: 5, Rest: 10 * time.Second}, "Ada Bo", "A A")
	p.Parts[0].Places[0].Spots[0].Sets = list
	r := begin(t, p)
	press := func(at int, who string) { r.at(time.Duration(at)*time.Second, Press{who}) }
	tile := func(at int) Tile { return r.s.Tiles(nil, 1, r.zero+time.Duration(at)*time.Second)[0] }
	for n, want := range []measure.Mass{47 * kg, 57 * kg, 67 * kg, 67 * kg} {
		at := 60 * n
		if got := tile(at); got.Place.Moves != want || len(got.Place.Stack) != len(list[min(n, 2)].Stack) || got.Next == nil || got.Next.Moves != list[min(n+1, 2)].Moves {
			t.Errorf("before set %d the tile is %+v, then %+v", n+1, got.Place, got.Next)
		}
		press(at+5, "Ada")
		press(at+20, "Ada")
		press(at+30, "Bo")
		press(at+45, "Bo")
	}
	rounds := r.s.Rounds(1, 0, r.zero+5*time.Minute)
	for n, want := range []measure.Mass{47 * kg, 57 * kg, 67 * kg, 67 * kg} {
		if rounds[n].Moves != want {
			t.Errorf("set %d moved %v, want %v", n+1, rounds[n].Moves, want)
		}
	}
	r.at(4*time.Minute, Change{Who: "Ada", By: -5 * kg})
	if e, ok := r.log[len(r.log)-1].E.(LoadChanged); !ok || e.Round != 5 || e.Moves != 62*kg {
		t.Errorf("a change after four sets is %+v, want 62 kg from the fifth", r.log[len(r.log)-1].E)
	}
}

// TestLaneHandoverBySets: on a clock of one's own the handover counts the plates of the sets that
// meet.
func TestLaneHandoverBySets(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Ratio, RestFactor: measure.Percent, Rounds: 2}, "Ada Bo", "A A")
	p.Parts[0].Places[0].Spots[0].Sets = []Set{{Stack: []string{"20 kg"}, Moves: 47 * kg}, {Stack: []string{"10 kg"}, Moves: 37 * kg}}
	p.Parts[0].Places[1].Spots[0].Sets = []Set{{Stack: []string{"20 kg", "10 kg"}, Moves: 57 * kg}, {Stack: []string{"20 kg", "20 kg"}, Moves: 67 * kg}}
	r := begin(t, p)
	r.must("0:20", Press{"Ada"})
	r.must("0:55", Press{"Bo"})
	// from 20 kg to 20 and 10 kg: one plate on
	if got := r.s.Rounds(1, 1, r.zero+56*time.Second)[0].Starts - r.zero; got != 35*time.Second {
		t.Errorf("Bo starts at %v, want 20 + 10 + 5 s", got)
	}
	// from 20 and 10 kg to 10 kg: one plate off
	if tile := r.s.Tiles(nil, 1, r.zero+56*time.Second)[0]; tile.Due-r.zero != 70*time.Second {
		t.Errorf("Ada is due at %v, want 55 + 10 + 5 s", tile.Due-r.zero)
	}
	r.must("1:20", Press{"Ada"})
	// from 10 kg to 20 and 20 kg: three plates
	if tile := r.s.Tiles(nil, 1, r.zero+81*time.Second)[1]; tile.Due-r.zero != 105*time.Second {
		t.Errorf("Bo is due at %v, want 80 + 10 + 15 s", tile.Due-r.zero)
	}
}

// TestShareOfATime is exact, rounded down to the nanosecond.
func TestShareOfATime(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(rapid.Int64Range(0, int64(100*time.Hour)).Draw(t, "d"))
		share := measure.Share(rapid.Int64Range(0, 5*int64(measure.Whole)).Draw(t, "share"))
		want := new(big.Int).Mul(big.NewInt(int64(d)), big.NewInt(int64(share)))
		want.Div(want, big.NewInt(int64(measure.Whole)))
		if got := shareOf(share, d); int64(got) != want.Int64() {
			t.Fatalf("%d millionths of %d ns = %d, want %v", share, d, got, want)
		}
	})
}

// TestMedianOfSplits: of the kept splits at one station, in any order; of an even number the
// middle between two.
func TestMedianOfSplits(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(8), "Ada", "A"))
	for k, split := range []int{50, 20, 30, 10} {
		r.at(time.Duration(k)*time.Minute+time.Duration(split)*time.Second, Press{"Ada"})
	}
	for last, want := range []int{0, 50, 35, 30, 25, 25} {
		m, n := r.s.median(0, 0, 0, last)
		if m != time.Duration(want)*time.Second || n != min(last, 4) {
			t.Errorf("the median of the first %d splits is %v of %d, want %d s", last, m, n, want)
		}
	}
}

// TestMovedGoesBehind: who is moved by hand goes behind all who are there, with the nearest stack
// that the plates left over make.
func TestMovedGoesBehind(t *testing.T) {
	t.Parallel()
	part := everyMinute(9)
	part.Every = 4 * time.Minute
	p := one(part, "Ada Bo Cleo Dag", "A A B C")
	p.Parts[0].Stations[0].On[0].Tare = 37 * kg
	p.Kit.Plates[0].Count = 5 // of 20 kg: Ada's two are counted once, Cleo's and Dag's
	r := begin(t, p)
	r.must("0:10", MoveTo{Who: "Cleo", On: "A"})
	e, ok := r.log[len(r.log)-1].E.(LaneChanged)
	if !ok || e.Round != 2 || e.Place.Order != 2 || e.Place.Tare != 37*kg || e.Place.Moves != 67*kg || !slices.Equal(e.Place.Stack, []string{"20 kg", "10 kg"}) {
		t.Errorf("Cleo is moved by %+v, want behind two on 37 kg, 67 kg in all with 30 on it", r.log[len(r.log)-1].E)
	}
	r.must("0:20", Leave{"Bo"})
	r.must("0:30", MoveTo{Who: "Dag", On: "A"})
	if e, ok := r.log[len(r.log)-1].E.(LaneChanged); !ok || e.Place.Order != 3 {
		t.Errorf("Dag is moved by %+v, want behind Cleo", r.log[len(r.log)-1].E)
	}
	r.refused("0:40", MoveTo{Who: "Dag", On: "A"}, "is on A already")
	r.refused("0:40", MoveTo{Who: "Dag", On: "Z"}, "nothing called Z")
	r.must("0:50", MoveTo{Who: "Dag", On: "B"})
	if e := r.log[len(r.log)-1].E.(LaneChanged); e.Place.Order != 0 || e.Place.Tare != 27*kg {
		t.Errorf("on an empty sled Dag is %+v, want the first", e.Place)
	}
}

// TestOutNumbersItsEvents: a sled that goes out is one event, each who is moved for it another,
// and all have the next numbers.
func TestOutNumbersItsEvents(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(9), "Ada Bo Cleo Dag", "A A B -"))
	r.must("0:05", Leave{"Bo"})
	n := len(r.log)
	r.must("0:10", Out{On: "A"})
	if len(r.log) != n+2 {
		t.Errorf("%+v, want the sled and Ada: Bo has left, Dag is not here", r.log[n:])
	}
	for i, e := range r.log {
		if e.N != i+1 {
			t.Errorf("event %d has the number %d", i+1, e.N)
		}
	}
}
