package load

import (
	"errors"
	"fmt"
	"math"
	"time"

	"hawser/internal/measure"
	"hawser/internal/roster"
)

// The published equations that estimate a 1RM from repetitions to failure. Each
// is keyed by the formula, under the name of its usual citation: one source calls
// another's equation by its own name often enough.
const (
	Epley    = "epley"    // Epley 1985
	Brzycki  = "brzycki"  // Brzycki 1993
	Lombardi = "lombardi" // Lombardi 1989
	Mayhew   = "mayhew"   // Mayhew and others 1992
	OConner  = "oconner"  // O'Conner, Simmons and O'Shea 1989
	Wathan   = "wathan"   // Wathen 1994
	Lander   = "lander"   // Lander 1985
)

// ManyReps is the most repetitions from which an estimate is made without a
// warning: beyond it the equations part company.
const ManyReps = 10

// Errors of the estimates.
var (
	ErrFormula = errors.New("unknown 1RM formula; write epley, brzycki, lombardi, mayhew, oconner, wathan or lander")
	ErrReps    = errors.New("no 1RM can be estimated from so many repetitions; test with 10 or fewer")
	ErrLine    = errors.New("two timed pulls give no line; the heavier one must be the slower, over the same distance")
)

// equations gives the 1RM for one unit of load. A negative, infinite or undefined
// value means that the equation has nothing to say at that number.
var equations = map[string]func(r float64) float64{
	Epley:    func(r float64) float64 { return 1 + r/30 },
	Brzycki:  func(r float64) float64 { return 36 / (37 - r) },
	Lombardi: func(r float64) float64 { return math.Pow(r, 0.10) },
	Mayhew:   func(r float64) float64 { return 100 / (52.2 + 41.9*math.Exp(-0.055*r)) },
	OConner:  func(r float64) float64 { return 1 + 0.025*r },
	Wathan:   func(r float64) float64 { return 100 / (48.8 + 53.8*math.Exp(-0.075*r)) },
	Lander:   func(r float64) float64 { return 100 / (101.3 - 2.67123*r) },
}

// OneRM estimates the 1RM of someone who lifted load reps times and not once more.
// One repetition is no estimate: it is the load itself, whatever the formula.
func OneRM(formula string, load measure.Mass, reps int) (measure.Mass, error) {
	equation, ok := equations[formula]
	if !ok {
		return 0, fmt.Errorf("%q: %w", formula, ErrFormula)
	}
	if reps == 1 {
		return load, nil
	}
	f := equation(float64(reps))
	if reps < 1 || f < 1 || math.IsInf(f, 0) || math.IsNaN(f) {
		return 0, fmt.Errorf("%s at %d repetitions: %w", formula, reps, ErrReps)
	}
	return measure.Mass(math.Round(float64(load) * f)), nil
}

// repTable is the share of the 1RM that goes with the most repetitions possible,
// in per cent: Essentials of Strength Training and Conditioning, 4th ed., ch. 17.
var repTable = map[int]measure.Share{
	1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 11: 70, 12: 67, 15: 65,
}

// ShareAtReps returns the share of the 1RM that the textbook table gives for that
// many repetitions. The table ends at 12 and has 15; nothing is read between.
func ShareAtReps(reps int) (measure.Share, bool) {
	pct, ok := repTable[reps]
	return pct * measure.Percent, ok
}

// creep is the speed at which a drag is as heavy as it can be: below half a metre
// a second the sled stands more than it moves.
const creep = 0.5

// FromTwoPulls estimates a drag max from two timed pulls over one distance. The
// speeds give a line v = a − b·m; the max is the mass at half a metre a second.
func FromTwoPulls(a, b roster.TimedPull, distance measure.Distance) (measure.Mass, error) {
	if a.Load > b.Load {
		a, b = b, a
	}
	va, vb := speed(distance, a.Time), speed(distance, b.Time)
	if a.Load == b.Load || vb <= 0 || va <= vb {
		return 0, ErrLine
	}
	slope := (va - vb) / float64(b.Load-a.Load)
	m := float64(a.Load) + (va-creep)/slope
	if m <= 0 || m > float64(100_000*measure.Kilogram) {
		return 0, ErrLine
	}
	return measure.Mass(math.Round(m)), nil
}

// speed is in metres a second, 0 for no time.
func speed(d measure.Distance, t time.Duration) float64 {
	if t <= 0 {
		return 0
	}
	return d.Metres() / t.Seconds()
}

// The way up from the empty sled where nothing is known of a person.
const (
	BareStep  = 10 * measure.Kilogram
	BareSpare = 8 * time.Second
)

// BareFirst proposes the next total for someone who began with the empty sled:
// one step more while the last split stayed 8 s or more under what was expected.
// It only proposes; the coach takes it or leaves it.
func BareFirst(total measure.Mass, split, expect time.Duration) measure.Mass {
	if split > 0 && split <= expect-BareSpare {
		return total + BareStep
	}
	return total
}
