package load

import (
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/roster"
)

// TestWhichBestCounts: a tag weighs more than all those after it, and than a later
// day and a heavier load. Each pair of bests has one of them right by that tag alone, and the
// other right by everything that counts less.
func TestWhichBestCounts(t *testing.T) {
	t.Parallel()
	day := func(d int) time.Time { return time.Date(2026, 10, d, 0, 0, 0, 0, time.UTC) }
	const surface, distance, layout, tested, sled = 1, 2, 4, 8, 16
	best := func(right int) roster.Best {
		b := roster.Best{Movement: "sled row", Load: 100 * kg, Distance: 30 * metre, Layout: "straight", Surface: "rubber", Sled: "B", How: roster.TwoPulls, Date: day(1)}
		if right&surface > 0 {
			b.Surface = "turf"
		}
		if right&distance > 0 {
			b.Distance = 40 * metre
		}
		if right&layout > 0 {
			b.Layout = "2 x 20 m"
		}
		if right&tested > 0 {
			b.How = roster.Tested
		}
		if right&sled > 0 {
			b.Sled = "A"
		}
		return b
	}
	later, heavier := best(0), best(0)
	later.Date, heavier.Load = day(2), 110*kg
	laterHeavier := func(b roster.Best) roster.Best {
		b.Date, b.Load = day(9), 200*kg
		return b
	}
	for _, c := range []struct {
		says string
		a, b roster.Best // a is to be taken
	}{
		{"surface before all else", best(surface), laterHeavier(best(distance | layout | tested | sled))},
		{"distance before layout", best(distance), laterHeavier(best(layout | tested | sled))},
		{"layout before tested", best(layout), laterHeavier(best(tested | sled))},
		{"tested before the sled", best(tested), laterHeavier(best(sled))},
		{"the sled before the day", best(sled), laterHeavier(best(0))},
		{"the day before the load", later, heavier},
		{"the load last", heavier, best(0)},
	} {
		for want, bests := range [][]roster.Best{{c.a, c.b}, {c.b, c.a}} {
			q := Question{Athlete: &roster.Athlete{Bests: bests}, Movement: "sled row", Distance: 40 * metre, Legs: 2, Surface: "turf", On: sledA}
			if got := nearestBest(q); got != &bests[want] {
				t.Errorf("%s: it went by %+v, want %+v", c.says, *got, c.a)
			}
		}
	}
	alike := []roster.Best{best(0), best(0)}
	alike[1].Sled = "C"
	q := Question{Athlete: &roster.Athlete{Bests: alike}, Movement: "sled row", Distance: 40 * metre, Legs: 2, Surface: "turf", On: sledA}
	if got := nearestBest(q); got.Sled != "B" {
		t.Errorf("of two that are alike it went by the one on sled %s, want the first in the roster", got.Sled)
	}
}

func TestLegsOfALayout(t *testing.T) {
	t.Parallel()
	for layout, want := range map[string]int{
		"": 1, "straight": 1, "1 x 30 m": 1, "2 x 15 m": 2, " 4 x 10 m": 4, "0 x 15 m": 1, "-2 x 15 m": 1, "with turns": 1,
	} {
		if got := legsOf(layout); got != want {
			t.Errorf("legsOf(%q) = %d, want %d", layout, got, want)
		}
	}
}

// TestMaxFromWhatIsNoted: what a max is worked out from, and what it then is.
func TestMaxFromWhatIsNoted(t *testing.T) {
	t.Parallel()
	// v = 8 − 0.05 L, as constructed: half a metre a second at 150 kg.
	line := []roster.TimedPull{{Load: 40 * kg, Time: 5 * time.Second}, {Load: 80 * kg, Time: 7500 * time.Millisecond}}
	for _, c := range []struct {
		says string
		best roster.Best
		max  measure.Mass
		est  bool
		more []string
	}{
		{"two pulls, 90 % of what their line says", roster.Best{How: roster.TwoPulls, Pulls: line, Distance: 30 * metre}, 135 * kg, true, nil},
		{"what the coach noted of two pulls comes before their line", roster.Best{How: roster.TwoPulls, Load: 140 * kg, Pulls: line, Distance: 30 * metre}, 126 * kg, true, nil},
		{"one pull makes no line", roster.Best{How: roster.TwoPulls, Pulls: line[:1], Distance: 30 * metre}, 0, false, nil},
		{"two pulls at one speed make none either", roster.Best{How: roster.TwoPulls, Pulls: []roster.TimedPull{line[0], {Load: 50 * kg, Time: line[0].Time}}, Distance: 30 * metre}, 0, false, []string{"warn estimate: no line"}},
		{"a tested load stays what it is, however often it was lifted", roster.Best{How: roster.Tested, Load: 100 * kg, Reps: 5}, 100 * kg, false, nil},
		{"repetitions that nobody counted change nothing", roster.Best{How: roster.FromReps, Load: 100 * kg}, 100 * kg, true, nil},
		{"ten repetitions are not too many", roster.Best{How: roster.FromReps, Load: 120 * kg, Reps: 10, Formula: Epley}, 160 * kg, true, nil},
		{"eleven are", roster.Best{How: roster.FromReps, Load: 120 * kg, Reps: 11, Formula: Epley}, 164 * kg, true, []string{"warn estimate: 11 repetitions"}},
	} {
		c.best.Movement = "sled row"
		q := Question{Athlete: &roster.Athlete{Name: "Maren", Bests: []roster.Best{c.best}}, Part: 1, Station: 2, Movement: "sled row", Distance: c.best.Distance, On: sledA}
		top, findings := maxToday(q, harbour(), house.Default())
		if top.mass != c.max || top.est != c.est {
			t.Errorf("%s: the max is %v, est %v; want %v, %v", c.says, top.mass, top.est, c.max, c.est)
		}
		wantFindings(t, findings, c.more)
	}
}

// TestTagsThatDiffer: what of a best is not as today is said, and what was never noted
// cannot differ.
func TestTagsThatDiffer(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says     string
		best     roster.Best
		distance measure.Distance
		legs     int
		surface  string
		more     []string
	}{
		{"all alike", roster.Best{Distance: 30 * metre, Layout: "2 x 15 m", Surface: "turf", Sled: "A"}, 30 * metre, 2, "turf", nil},
		{"today by time", roster.Best{Distance: 30 * metre, Surface: "turf"}, 0, 1, "turf", nil},
		{"no distance noted", roster.Best{Surface: "turf"}, 30 * metre, 1, "turf", nil},
		{"another distance", roster.Best{Distance: 20 * metre, Surface: "turf"}, 30 * metre, 1, "turf", []string{"note load: tested 20 m straight, today 30 m straight"}},
		{"the same distance with a turn", roster.Best{Distance: 30 * metre, Surface: "turf"}, 30 * metre, 2, "turf", []string{"note load: tested 30 m straight, today 2 x 15 m"}},
		{"no surface noted", roster.Best{Distance: 30 * metre}, 30 * metre, 1, "turf", nil},
		{"nobody knows what the floor is today", roster.Best{Distance: 30 * metre, Surface: "turf"}, 30 * metre, 1, "", nil},
		{"only one of the two was ever on the scale", roster.Best{Distance: 30 * metre, Surface: "gravel"}, 30 * metre, 1, "rubber", []string{"warn surface: gravel, today on rubber"}},
		{"the other way round", roster.Best{Distance: 30 * metre, Surface: "rubber"}, 30 * metre, 1, "gravel", []string{"warn surface: rubber, today on gravel"}},
	} {
		c.best.Movement, c.best.Load, c.best.How = "sled row", 100*kg, roster.Tested
		q := Question{Athlete: &roster.Athlete{Name: "Maren", Bests: []roster.Best{c.best}}, Part: 1, Station: 2, Movement: "sled row", Distance: c.distance, Legs: c.legs, Surface: c.surface, On: sledA}
		top, findings := maxToday(q, harbour(), house.Default())
		if top.mass != 100*kg {
			t.Errorf("%s: the max is %v, want the 100 kg noted", c.says, top.mass)
		}
		wantFindings(t, findings, c.more)
	}
}
