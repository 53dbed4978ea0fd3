package load

import (
	"strings"
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

const metre = measure.Metre

// logged answers with one heaviest load for everyone.
type logged measure.Mass

func (l logged) Heaviest(string, string) (measure.Mass, bool) { return measure.Mass(l), l > 0 }

func (logged) Median(string, string, measure.Mass, measure.Distance) (time.Duration, bool) {
	return 0, false
}

func maren() *roster.Athlete {
	return &roster.Athlete{Name: "Maren", Key: "m", BodyMass: 90 * kg, Bests: []roster.Best{
		{Movement: "sled row", Load: 120 * kg, Distance: 20 * metre, Layout: "straight", Surface: "turf", Sled: "A", How: roster.Tested},
		{Movement: "forward drag", Load: 180 * kg, Distance: 30 * metre, Surface: "rubber", Sled: "A", How: roster.Tested},
		{Movement: "backward drag", Load: 150 * kg, Distance: 30 * metre, Surface: "turf", How: roster.TwoPulls},
		{Movement: "deadlift", Load: 100 * kg, Reps: 5, Formula: Brzycki, How: roster.FromReps},
		{Movement: "handles deadlift", Load: 60 * kg, Reps: 12, Formula: Brzycki, How: roster.FromReps},
		{Movement: "trap bar deadlift", Load: 140 * kg, How: roster.Noted},
	}}
}

func harbour() *kit.Kit {
	return &kit.Kit{
		Step:     5 * kg / 2,
		Strip:    kit.Strip{Length: 25 * metre, Surface: "turf"},
		Surfaces: []kit.Surface{{Name: "rubber", PullHere: 40 * kg, PullOn: map[string]measure.Mass{"turf": 28 * kg, "grass": 35 * kg}}},
	}
}

var (
	sledA   = Implement{Name: "A", Kind: Sled, Tare: 27 * kg, Ends: 1, Step: 5 * kg / 2}
	sledB   = Implement{Name: "B", Kind: Sled, Tare: 34 * kg, Ends: 1, Step: 5 * kg / 2}
	bar     = Implement{Name: "bar", Kind: Bar, Tare: 20 * kg, Ends: 2}
	trapBar = Implement{Name: "trap bar", Kind: TrapBar, Tare: 25 * kg, Ends: 2}
	hands   = Implement{Name: "handles", Kind: Handles, Tare: 18 * kg, Ends: 4}
)

func part(basis session.Basis, pct measure.Share) session.Ask {
	return session.Ask{Basis: basis, Share: pct * measure.Percent}
}

func added(m measure.Mass) session.Ask { return session.Ask{Basis: session.Plain, Mass: m} }

func TestResolve(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		movement string
		on       Implement
		distance measure.Distance
		legs     int
		surface  string
		ask      session.Ask
		asked    measure.Mass
		of       string
		total    measure.Mass
		max      measure.Mass
		est      bool
		says     []string // "level about: words" of each finding, in order
	}{
		{"plain on a sled is added", "sled row", sledA, 20 * metre, 1, "turf", added(60 * kg), 60 * kg, "added", 87 * kg, 120 * kg, false, nil},
		{"plain on a bar is total", "deadlift", bar, 0, 0, "turf", added(60 * kg), 60 * kg, "total", 60 * kg, 112_500_000_000, false, nil},
		{"share of max counts total", "sled row", sledA, 20 * metre, 1, "turf", part(session.OfMax, 55), 66 * kg, "total", 66 * kg, 120 * kg, false, nil},
		{"half of 90 kg is 45 kg on the sled", "sled row", sledA, 20 * metre, 1, "turf", part(session.OfBody, 50), 45 * kg, "added", 72 * kg, 120 * kg, false, nil},
		{"unless total is written", "sled row", sledA, 20 * metre, 1, "turf", part(session.OfBodyTotal, 50), 45 * kg, "total", 45 * kg, 120 * kg, false, nil},
		{"each hand asks both", "handles carry", hands, 20 * metre, 1, "turf", session.Ask{Basis: session.EachHand, Mass: 88 * kg}, 176 * kg, "total", 176 * kg, 0, false, nil},
		{"both asks both", "handles carry", hands, 20 * metre, 1, "turf", session.Ask{Basis: session.BothHands, Mass: 88 * kg}, 88 * kg, "total", 88 * kg, 0, false, nil},
		{"a bar has no hands", "deadlift", trapBar, 0, 0, "turf", session.Ask{Basis: session.EachHand, Mass: 88 * kg}, 0, "total", 25 * kg, 112_500_000_000, false, []string{"stop hand: no hands"}},
		{"another sled is said", "sled row", sledB, 20 * metre, 1, "turf", part(session.OfMax, 55), 66 * kg, "total", 66 * kg, 120 * kg, false, []string{"note load: tested on sled A, today on B"}},
		{"another layout is said", "sled row", sledA, 30 * metre, 2, "turf", part(session.OfMax, 55), 66 * kg, "total", 66 * kg, 120 * kg, false, []string{"note load: tested 20 m straight, today 2 x 15 m"}},
		{"a measured surface turns the max", "forward drag", sledA, 30 * metre, 1, "turf", part(session.OfMax, 50), 128_571_428_572, "total", 128_571_428_572, 257_142_857_143, false, []string{"note surface: rubber, today on turf"}},
		{"two others measured in one go will do", "backward drag", sledA, 30 * metre, 1, "grass", part(session.OfMax, 50), 54 * kg, "total", 54 * kg, 108 * kg, true, []string{"note surface: turf, today on grass", "note estimate: only estimated"}},
		{"an unmeasured one is never guessed", "forward drag", sledA, 30 * metre, 1, "gravel", part(session.OfMax, 50), 90 * kg, "total", 90 * kg, 180 * kg, false, []string{"warn surface: rubber, today on gravel"}},
		{"90 % of two pulls is used", "backward drag", sledA, 30 * metre, 1, "turf", part(session.OfMax, 60), 81 * kg, "total", 81 * kg, 135 * kg, true, []string{"note estimate: only estimated"}},
		{"heavy on an estimate is refused", "backward drag", sledA, 30 * metre, 1, "turf", part(session.OfMax, 85), 114_750_000_000, "total", 114_750_000_000, 135 * kg, true, []string{"stop estimate: 85.0 %"}},
		{"1RM from repetitions", "deadlift", bar, 0, 0, "turf", part(session.Of1RM, 80), 90 * kg, "total", 90 * kg, 112_500_000_000, true, []string{"note estimate: only estimated"}},
		{"many repetitions warn", "handles deadlift", hands, 0, 0, "turf", part(session.Of1RM, 50), 43_200_000_000, "total", 43_200_000_000, 86_400_000_000, true, []string{"warn estimate: 12 repetitions", "note estimate: only estimated"}},
		{"a noted max is no estimate", "trap bar deadlift", trapBar, 0, 0, "turf", part(session.Of1RM, 90), 126 * kg, "total", 126 * kg, 140 * kg, false, nil},
		{"another variation does not count", "handles carry", hands, 0, 0, "turf", part(session.Of1RM, 70), 0, "total", 18 * kg, 0, false, []string{"warn load: no 1RM known for handles carry (another variation does not count): starts bare"}},
		{"a drag has no 1RM", "sled row", sledA, 20 * metre, 1, "turf", part(session.Of1RM, 70), 0, "total", 27 * kg, 120 * kg, false, []string{"stop load: no 1RM"}},
		{"no max known", "vehicle pull", sledA, 20 * metre, 1, "turf", part(session.OfMax, 70), 0, "total", 27 * kg, 0, false, []string{"warn load: no max known for vehicle pull: starts bare"}},
		{"heaviest noted", "sled row", sledA, 20 * metre, 1, "turf", session.Ask{Basis: session.Heaviest}, 120 * kg, "total", 120 * kg, 120 * kg, false, nil},
		{"nothing heaviest", "vehicle pull", sledA, 20 * metre, 1, "turf", session.Ask{Basis: session.Heaviest}, 0, "total", 27 * kg, 0, false, []string{"warn load: ever logged or noted: starts bare"}},
		{"an ask of no basis", "sled row", sledA, 20 * metre, 1, "turf", session.Ask{}, 0, "total", 27 * kg, 120 * kg, false, []string{"stop load: cannot be worked out"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			q := Question{
				Athlete: maren(), Part: 1, Station: 2, Movement: c.movement, Distance: c.distance, Legs: c.legs,
				Surface: c.surface, On: c.on, Ask: c.ask,
			}
			w, findings := Resolve(q, harbour(), house.Default(), nil)
			if w.Asked != c.asked || w.AskedOf != c.of || w.Total != c.total || w.Max != c.max || w.Est != c.est {
				t.Errorf("Resolve = asked %v of %s, total %v, max %v, est %v; want %v of %s, %v, %v, %v",
					w.Asked, w.AskedOf, w.Total, w.Max, w.Est, c.asked, c.of, c.total, c.max, c.est)
			}
			wantFindings(t, findings, c.says)
		})
	}
}

// wantFindings compares findings with "level about: words" of each.
func wantFindings(t *testing.T, got []session.Finding, want []string) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("findings %v, want %d", got, len(want))
	}
	for i, f := range got {
		head, words, _ := strings.Cut(want[i], ": ")
		if string(f.Level)+" "+f.About != head || !strings.Contains(f.Text, words) {
			t.Errorf("finding %+v, want %q", f, want[i])
		}
		if f.Part != 1 || f.Station != 2 || f.Athlete != "Maren" {
			t.Errorf("finding %+v is about nobody, nowhere", f)
		}
	}
}

func TestResolvePeople(t *testing.T) {
	t.Parallel()
	who := maren()
	who.BodyMass = 0
	q := Question{Athlete: who, Part: 1, Station: 2, Movement: "sled row", Distance: 20 * metre, Surface: "turf", On: sledA, Ask: part(session.OfBody, 50)}
	w, findings := Resolve(q, harbour(), house.Default(), nil)
	if w.Total != 27*kg {
		t.Errorf("with no body mass known, total = %v, want the bare sled", w.Total)
	}
	wantFindings(t, findings, []string{"stop load: body mass not known"})

	q.Ask = session.Ask{Basis: session.Heaviest}
	if w, _ := Resolve(q, harbour(), house.Default(), logged(130*kg)); w.Asked != 130*kg {
		t.Errorf("heaviest = %v, want the 130 kg of the log", w.Asked)
	}
}

// TestNearestBest holds that of several bests the one whose tags fit is taken.
func TestNearestBest(t *testing.T) {
	t.Parallel()
	day := func(d int) time.Time { return time.Date(2026, 10, d, 0, 0, 0, 0, time.UTC) }
	who := &roster.Athlete{Name: "Eskil", Bests: []roster.Best{
		{Movement: "sled row", Load: 100 * kg, Distance: 20 * metre, Surface: "rubber", How: roster.Tested, Date: day(9)},
		{Movement: "sled row", Load: 110 * kg, Distance: 20 * metre, Surface: "turf", How: roster.Tested, Date: day(1)},
		{Movement: "sled row", Load: 120 * kg, Distance: 20 * metre, Surface: "turf", How: roster.Tested, Date: day(5)},
		{Movement: "sled row", Load: 150 * kg, Distance: 20 * metre, Surface: "turf", How: roster.TwoPulls, Date: day(8)},
		{Movement: "sled row", Load: 140 * kg, Distance: 30 * metre, Layout: "2 x 15 m", Surface: "turf", How: roster.Tested, Date: day(7)},
	}}
	for _, c := range []struct {
		surface  string
		distance measure.Distance
		legs     int
		want     measure.Mass
	}{
		{"turf", 20 * metre, 1, 120 * kg},
		{"rubber", 20 * metre, 1, 100 * kg},
		{"turf", 30 * metre, 2, 140 * kg},
	} {
		q := Question{Athlete: who, Movement: "sled row", Distance: c.distance, Legs: c.legs, Surface: c.surface, On: sledA}
		if got := nearestBest(q); got.Load != c.want {
			t.Errorf("on %s over %v in %d legs: %v, want %v", c.surface, c.distance, c.legs, got.Load, c.want)
		}
	}
}

// TestTagsThatContradict: a best of 20 m that was pulled as 2 x 15 m was not.
func TestTagsThatContradict(t *testing.T) {
	t.Parallel()
	for layout, want := range map[string][]string{
		"2 x 15 m": {"warn load: the best says 20 m and 2 x 15 m, which do not agree", "note load: tested 2 x 10 m, today 20 m straight"},
		"2 x 10 m": {"note load: tested 2 x 10 m, today 20 m straight"},
		"straight": nil,
	} {
		who := &roster.Athlete{Name: "Maren", Bests: []roster.Best{{Movement: "sled row", Load: 100 * kg, Distance: 20 * metre, Layout: layout, Surface: "turf", How: roster.Tested}}}
		_, findings := Resolve(Question{Athlete: who, Part: 1, Station: 2, Movement: "sled row", Distance: 20 * metre, Surface: "turf", On: sledA, Ask: part(session.OfMax, 50)}, harbour(), house.Default(), nil)
		wantFindings(t, findings, want)
		who.Bests[0].Distance = 0 // not noted: it cannot differ
		_, findings = Resolve(Question{Athlete: who, Part: 1, Station: 2, Movement: "sled row", Distance: 20 * metre, Surface: "turf", On: sledA, Ask: part(session.OfMax, 50)}, harbour(), house.Default(), nil)
		wantFindings(t, findings, nil)
	}
}

func TestFindings(t *testing.T) {
	t.Parallel()
	got := func(on Implement, total, moves, top, short measure.Mass) Got {
		return Got{Want: Want{Athlete: "Maren", Part: 1, Station: 2, On: on, Total: total, Max: top}, Moves: moves, Short: short}
	}
	estimated := got(sledA, 100*kg, 103*kg, 120*kg, 0)
	estimated.Est = true
	for _, c := range []struct {
		name string
		got  Got
		past Past
		says []string
	}{
		{"in order", got(sledA, 67*kg, 67*kg, 120*kg, 0), logged(67 * kg), nil},
		{"bare over the target", got(sledA, 20*kg, 27*kg, 24*kg, 0), nil, []string{"stop load: already 112.5 % of the max", "warn load: 112.5 % of the max"}},
		{"bare over, no max", got(sledA, 20*kg, 27*kg, 0, 0), nil, []string{"stop load: already 135.0 % of the 20 kg asked in all"}},
		{"bare over nothing", got(bar, 0, 20*kg, 0, 0), nil, []string{"stop load: more than was asked"}},
		{"short", got(sledA, 87*kg, 80*kg, 120*kg, 7*kg), nil, []string{"warn pile: 80 kg moves, 7 kg less"}},
		{"short by one step", got(sledA, 87*kg, 84*kg, 120*kg, 5*kg/2), nil, []string{"warn pile: 84 kg moves, 2.5 kg less"}},
		{"short by less", got(sledA, 87*kg, 85*kg, 120*kg, 5*kg/2-1), nil, []string{"note pile: short by less than a step"}},
		{"99.94 % of the max", got(sledA, 120*kg, 119_930*kg/1000, 120*kg, 0), nil, nil},
		{"99.95 % of the max", got(sledA, 120*kg, 119_940*kg/1000, 120*kg, 0), nil, []string{"warn load: of the max"}},
		{"10 % above the log", got(sledA, 110*kg, 110*kg, 0, 0), logged(100 * kg), nil},
		{"more", got(sledA, 111*kg, 111*kg, 0, 0), logged(100 * kg), []string{"warn load: heaviest ever logged (100 kg)"}},
		{"hands", got(hands, 100*kg, 98*kg, 0, 2*kg), nil, []string{"note pile: short by less than a step"}},
		{"the stack goes past 85 % of an estimate", estimated, nil, []string{"stop estimate: 85.8 %"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			wantFindings(t, Findings(c.got, "sled row", 5*kg/2, house.Default(), c.past), c.says)
		})
	}
}

func TestPercentages(t *testing.T) {
	t.Parallel()
	g := Got{Want: Want{On: sledA, AskedOf: "total", Of: 120 * kg, Max: 120 * kg}, Moves: 67 * kg}
	pct, ok := g.Pct()
	if top, _ := g.PctMax(); !ok || pct != top || pct < 55.83 || pct > 55.84 {
		t.Errorf("67 of 120 kg = %v %%, of max %v %%", pct, top)
	}
	g = Got{Want: Want{On: sledA, AskedOf: "added", Of: 90 * kg}, Moves: 72 * kg}
	if pct, ok = g.Pct(); pct != 50 || !ok {
		t.Errorf("45 kg added on 90 kg of body mass = %v %%, want 50", pct)
	}
	if _, ok = g.PctMax(); ok {
		t.Error("a percentage of no max")
	}
	if _, ok = g.EachHand(); ok {
		t.Error("a sled has hands")
	}
	g = Got{Want: Want{On: hands}, Moves: 148 * kg}
	if each, ok := g.EachHand(); each != 74*kg || !ok {
		t.Errorf("each hand of 148 kg = %v, want 74 kg", each)
	}
}
