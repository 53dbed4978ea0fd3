package load

import (
	"math/big"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// TestTwoPullsAtTheEdge: a line that falls to half a metre a second at no load, or
// beyond what any sled carries, is no max; speeds here are exact in binary.
func TestTwoPullsAtTheEdge(t *testing.T) {
	t.Parallel()
	const tonne = 1000 * kg
	pull := func(load measure.Mass, seconds int) roster.TimedPull {
		return roster.TimedPull{Load: load, Time: time.Duration(seconds) * time.Second}
	}
	for _, c := range []struct {
		says string
		a, b roster.TimedPull
		d    measure.Distance
		want measure.Mass // 0: refused
	}{
		{"both just at half a metre a second", pull(60*kg, 40), pull(80*kg, 40), 20 * metre, 0},
		{"the lighter one without a time", pull(60*kg, 0), pull(80*kg, 40), 20 * metre, 0},
		{"a line that ends at no load", pull(40*kg, 40), pull(60*kg, 80), 10 * metre, 0},
		{"a line that ends at a hundred tonnes", pull(40*tonne, 20), pull(100*tonne, 40), 20 * metre, 100 * tonne},
		{"and one beyond", pull(40*tonne, 20), pull(100*tonne+kg, 40), 20 * metre, 0},
	} {
		if got, err := FromTwoPulls(c.a, c.b, c.d); got != c.want || (err == nil) != (c.want > 0) {
			t.Errorf("%s: %v, %v; want %v", c.says, got, err, c.want)
		}
	}
}

// TestScaleIsExact holds the surface factor to arithmetic of any size.
func TestScaleIsExact(t *testing.T) {
	t.Parallel()
	exact := func(m, by, over measure.Mass) *big.Int {
		n := new(big.Int).Mul(big.NewInt(int64(m)), big.NewInt(int64(by)))
		n.Add(n, big.NewInt(int64(over)/2))
		return n.Div(n, big.NewInt(int64(over)))
	}
	for _, c := range [][3]measure.Mass{
		{180 * kg, 40 * kg, 28 * kg},
		{4_294_967_297, 4_294_967_295, 2 * kg}, // the product is 2^64 − 1: the half carries
	} {
		if got, want := scale(c[0], c[1], c[2]), exact(c[0], c[1], c[2]); want.Int64() != int64(got) {
			t.Errorf("scale(%d, %d, %d) = %d, want %v", c[0], c[1], c[2], got, want)
		}
	}
	if got := scale(1<<32, 1<<32, 1); got != 1<<32 {
		t.Errorf("scale by more than there are numbers = %d, want the mass as it was", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		mass := rapid.Int64Range(1, 1_000_000_000_000)
		m, by, over := measure.Mass(mass.Draw(t, "m")), measure.Mass(mass.Draw(t, "by")), measure.Mass(mass.Draw(t, "over"))
		if want := exact(m, by, over); want.IsInt64() && want.Int64() != int64(scale(m, by, over)) {
			t.Fatalf("scale(%d, %d, %d) = %d, want %v", m, by, over, scale(m, by, over), want)
		}
	})
}

func TestNoPercentageOfNothing(t *testing.T) {
	t.Parallel()
	for _, of := range []string{"added", "total"} {
		if pct, ok := (Got{Want: Want{On: sledA, AskedOf: of}, Moves: 67 * kg}).Pct(); ok {
			t.Errorf("a load that is no percentage, counted as %s, is %v %%", of, pct)
		}
	}
}

// TestFindingsAtTheEdge: what is just at a limit.
func TestFindingsAtTheEdge(t *testing.T) {
	t.Parallel()
	got := func(on Implement, total, moves, top measure.Mass) Got {
		return Got{Want: Want{Athlete: "Maren", Part: 1, Station: 2, On: on, Total: total, Max: top, Est: true}, Moves: moves}
	}
	for _, c := range []struct {
		says string
		got  Got
		more []string
	}{
		{"the bare sled is what was asked", got(sledA, 27*kg, 27*kg, 0), nil},
		{"the stack comes to 85 % of an estimate", got(sledA, 84*kg, 85*kg, 100*kg), []string{"stop estimate: 85.0 %"}},
		{"it stays below", got(sledA, 83*kg, 84*kg, 100*kg), nil},
		{"85 % was asked, and refused where that was said", got(sledA, 85*kg, 85*kg, 100*kg), nil},
	} {
		t.Run(c.says, func(t *testing.T) {
			t.Parallel()
			wantFindings(t, Findings(c.got, "sled row", 5*kg/2, house.Default(), nil), c.more)
		})
	}
}

// TestFindingsShowEachHand: a load on handles is always said for one hand and for both.
func TestFindingsShowEachHand(t *testing.T) {
	t.Parallel()
	g := Got{Want: Want{Athlete: "Maren", Part: 1, Station: 2, On: hands, Total: 200 * kg, Max: 150 * kg}, Moves: 148 * kg, Short: 40 * kg}
	said := 0
	for _, f := range Findings(g, "handles carry", 5*kg/2, house.Default(), logged(100*kg)) {
		if f.Level == session.Warn {
			said++
			if !strings.HasPrefix(strings.TrimPrefix(f.Text, "the pile is short: "), "74 kg each hand, 148 kg both, move") {
				t.Errorf("%q does not say what each hand holds", f.Text)
			}
		}
	}
	if said != 2 {
		t.Errorf("%d warnings, want those of the pile and the log", said)
	}
}

// TestNearestOfEndless: with any number of plates the nearest load is found on whichever side
// of the asked one it is, and a plate of no mass is no plate.
func TestNearestOfEndless(t *testing.T) {
	t.Parallel()
	ten := Implement{Name: "A", Kind: Sled, Tare: 10 * kg, Ends: 1}
	for _, c := range []struct {
		pile  []kit.Plates
		asked measure.Mass
		want  measure.Mass
	}{
		{plates(20*kg, 1), 69 * kg, 70 * kg},
		{plates(20*kg, 1), 61 * kg, 70 * kg},
		{plates(20*kg, 1), 60 * kg, 50 * kg},
		{plates(20*kg, 1), 10 * kg, 10 * kg},
		{plates(20*kg, 1), 0, 10 * kg},
		{plates(20*kg, 1, 15*kg, 1), 55 * kg, 55 * kg},
		{plates(20*kg, 1, 0, 4), 69 * kg, 70 * kg},
	} {
		if got := Unlimited(Item{ten, c.asked}, c.pile).On(ten, c.pile); got != c.want {
			t.Errorf("%v asked of %v: %v, want %v", c.asked, c.pile, got, c.want)
		}
	}
}

// TestBesideWithOnePlate: one plate is both the next load up and the only one.
func TestBesideWithOnePlate(t *testing.T) {
	t.Parallel()
	pile := plates(20*kg, 2)
	for _, c := range []struct {
		on       Implement
		moves    measure.Mass
		free     int
		down, up measure.Mass // −1: none
	}{
		{sledA, 27 * kg, 2, -1, 47 * kg},
		{sledA, 47 * kg, 2, 27 * kg, 67 * kg},
		{sledA, 67 * kg, 2, 47 * kg, -1},
		{bar, 20 * kg, 2, -1, 60 * kg},
		{bar, 60 * kg, 2, 20 * kg, -1},
		{bar, 20 * kg, 1, -1, -1},
	} {
		down, up, hasDown, hasUp := Beside(c.on, c.moves, pile, []int{c.free})
		for _, side := range []struct {
			name  string
			stack Stack
			has   bool
			want  measure.Mass
		}{{"below", down, hasDown, c.down}, {"above", up, hasUp, c.up}} {
			if got := side.stack.On(c.on, pile); side.has != (side.want >= 0) || side.has && got != side.want {
				t.Errorf("%s %v on %s with %d plates: %v, %v; want %v", side.name, c.moves, c.on.Name, c.free, got, side.has, side.want)
			}
		}
	}
}
