package load

import (
	"cmp"
	"fmt"
	"math/bits"
	"strings"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// standing is a max as it stands today.
type standing struct {
	mass measure.Mass // total; 0: none
	est  bool         // rests on an estimate
}

// maxToday returns the max of the asked movement under today's tags, and says
// where a tag of today differs from the one it was made under. Of several bests it
// takes the one whose tags come nearest; of those a tested one before an
// estimate, then the latest, then the heaviest.
func maxToday(q Question, k *kit.Kit, h *house.House) (standing, []session.Finding) {
	best := nearestBest(q)
	if best == nil {
		return standing{}, nil
	}
	m, findings := maxOf(q, best, h)
	if m.mass == 0 {
		return standing{}, findings
	}
	findings = append(findings, tagFindings(q, best, h)...)
	if best.Surface == "" || q.Surface == "" || best.Surface == q.Surface || q.On.Kind != Sled {
		return m, findings
	}
	here, there, ok := pulls(k, best.Surface, q.Surface)
	if !ok {
		return m, append(findings, q.finding(session.Warn, "surface",
			"tested on %s, today on %s, and nobody has measured the two; the load is worked out as if they were alike: pull the same loaded sled over both with a hanging scale and note it in kit.toml",
			best.Surface, q.Surface))
	}
	was := m.mass
	m.mass = scale(was, here, there)
	return m, append(findings, q.finding(session.Note, "surface",
		"tested on %s, today on %s: the max of %s counts as %s here (%s against %s on the scale)",
		best.Surface, q.Surface, h.Style().Mass(was), h.Style().Mass(m.mass), h.Style().Mass(here), h.Style().Mass(there)))
}

// nearestBest chooses among the bests of the movement.
func nearestBest(q Question) *roster.Best {
	var found *roster.Best
	for i := range q.Athlete.Bests {
		b := &q.Athlete.Bests[i]
		if b.Movement == q.Movement && (found == nil || preferred(q, b, found) > 0) {
			found = b
		}
	}
	return found
}

// preferred is positive where a is the better one to go by than b.
func preferred(q Question, a, b *roster.Best) int {
	return cmp.Or(
		cmp.Compare(nearness(q, a), nearness(q, b)),
		a.Date.Compare(b.Date),
		cmp.Compare(a.Load, b.Load),
	)
}

// nearness weighs the tags, those that change a load most first.
func nearness(q Question, b *roster.Best) int {
	n := 0
	for _, same := range []bool{
		b.Surface == q.Surface,
		b.Distance == q.Distance,
		legsOf(b.Layout) == max(q.Legs, 1),
		!estimated(b),
		b.Sled == q.On.Name,
	} {
		n *= 2
		if same {
			n++
		}
	}
	return n
}

// estimated reports whether a best is worked out and not pulled.
func estimated(b *roster.Best) bool {
	return b.How == roster.TwoPulls || b.How == roster.FromReps && b.Reps != 1
}

// maxOf returns the max that a best stands for.
func maxOf(q Question, b *roster.Best, h *house.House) (standing, []session.Finding) {
	m := standing{mass: b.Load, est: estimated(b)}
	var err error
	switch {
	case b.How == roster.TwoPulls:
		if m.mass == 0 && len(b.Pulls) == 2 {
			m.mass, err = FromTwoPulls(b.Pulls[0], b.Pulls[1], b.Distance)
		}
		m.mass = h.TwoPullUse.Of(m.mass)
	case b.How == roster.FromReps && b.Reps > 0:
		m.mass, err = OneRM(cmp.Or(b.Formula, h.Formula, Epley), b.Load, b.Reps)
	}
	switch {
	case err != nil:
		return standing{}, []session.Finding{q.finding(session.Warn, "estimate", "%v", err)}
	case b.How == roster.FromReps && b.Reps > ManyReps:
		return m, []session.Finding{q.finding(session.Warn, "estimate",
			"the max is estimated from %d repetitions; above %d the equations part company: test with fewer", b.Reps, ManyReps)}
	}
	return m, nil
}

// tagFindings says which tags of a best differ from today's. A tag that was not
// noted cannot differ.
func tagFindings(q Question, b *roster.Best, h *house.House) []session.Finding {
	var findings []session.Finding
	legs := legsOf(b.Layout)
	if _, leg, of := strings.Cut(b.Layout, " x "); of && b.Distance > 0 {
		if one, err := measure.ParseDistance(leg); err == nil && one*measure.Distance(legs) != b.Distance {
			findings = append(findings, q.finding(session.Warn, "load", "the best says %s and %s, which do not agree: correct it in roster.toml",
				h.Style().Distance(b.Distance), b.Layout))
		}
	}
	if q.Distance > 0 && b.Distance > 0 && (b.Distance != q.Distance || legs != max(q.Legs, 1)) {
		findings = append(findings, q.finding(session.Note, "load", "tested %s, today %s",
			layout(b.Distance, legs, h), layout(q.Distance, max(q.Legs, 1), h)))
	}
	if q.On.Kind == Sled && b.Sled != "" && b.Sled != q.On.Name {
		findings = append(findings, q.finding(session.Note, "load", "tested on sled %s, today on %s", b.Sled, q.On.Name))
	}
	return findings
}

// legsOf reads the legs out of a layout: "straight" and "" are 1, "2 x 15 m" is 2.
func legsOf(layout string) int {
	legs := 1
	if _, err := fmt.Sscanf(strings.TrimSpace(layout), "%d", &legs); err != nil || legs < 1 {
		return 1
	}
	return legs
}

// layout prints a distance with its legs: "30 m straight", "2 x 15 m".
func layout(d measure.Distance, legs int, h *house.House) string {
	if legs == 1 {
		return h.Style().Distance(d) + " straight"
	}
	return fmt.Sprintf("%d x %s", legs, h.Style().Distance(d/measure.Distance(legs)))
}

// pulls returns the force, as masses on the scale, that moved the same loaded sled
// on two surfaces. Only a pair measured in one go will do.
func pulls(k *kit.Kit, tested, today string) (onTested, onToday measure.Mass, ok bool) {
	for _, s := range k.Surfaces {
		on := func(name string) measure.Mass {
			if name == s.Name {
				return s.PullHere
			}
			return s.PullOn[name]
		}
		if a, b := on(tested), on(today); a > 0 && b > 0 {
			return a, b, true
		}
	}
	return 0, 0, false
}

// scale returns m × by ÷ over, rounded to 1 µg, halves up.
func scale(m, by, over measure.Mass) measure.Mass {
	hi, lo := bits.Mul64(uint64(m), uint64(by))
	lo, carry := bits.Add64(lo, uint64(over)/2, 0)
	if hi+carry >= uint64(over) {
		return m
	}
	quotient, _ := bits.Div64(hi+carry, lo, uint64(over))
	return measure.Mass(quotient)
}
