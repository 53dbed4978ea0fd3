package load

import (
	"fmt"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Fill gives each want its stack, all standing on the floor at the same moment:
// as one problem, or where the coach asked for it, in list order. Where the deal
// is proved there is no better one. work is how long it may look for that: [Usual] where
// nothing else is to be done.
func Fill(wants []Want, pile []kit.Plates, allocate string, work int) ([]Got, Deal) {
	items := make([]Item, len(wants))
	for i, w := range wants {
		items[i] = Item{On: w.On, Total: w.Total}
	}
	var d Deal
	if allocate == "in order" {
		d = SolveInOrder(items, pile)
	} else {
		d = solve(items, pile, work)
	}
	got := make([]Got, len(wants))
	for i, w := range wants {
		got[i] = Got{Want: w, Stack: d.Stacks[i], Moves: d.Moves[i], Short: Short(items[i], d.Moves[i], pile)}
	}
	return got, d
}

// Short is how much more unlimited plates of the pile's kinds would give.
func Short(it Item, moves measure.Mass, pile []kit.Plates) measure.Mass {
	if moves >= it.Total {
		return 0
	}
	if more := Unlimited(it, pile).On(it.On, pile) - moves; more >= rounding {
		return more
	}
	return 0
}

// Added is what the plates weigh.
func (g Got) Added() measure.Mass { return g.Moves - g.On.Tare }

// Pct is the percentage that really moves, counted as the asked load counts it;
// false where none was asked for.
func (g Got) Pct() (float64, bool) {
	if g.AskedOf == "added" {
		return measure.Pct(g.Added(), g.Of), g.Of > 0
	}
	return measure.Pct(g.Moves, g.Of), g.Of > 0
}

// PctMax is the total as a percentage of the max as it stands today; false where
// none is known.
func (g Got) PctMax() (float64, bool) {
	return measure.Pct(g.Moves, g.Max), g.Max > 0
}

// EachHand is what one hand holds; false where it is no pair of handles.
func (g Got) EachHand() (measure.Mass, bool) {
	return g.Moves / 2, g.On.Kind == Handles
}

// Findings says what a coach should know about what really moves: bare over the
// target, a short pile, more than the max, far more than ever before. A pile that
// is short by less than one step is only noted.
func Findings(g Got, movement string, step measure.Mass, h *house.House, past Past) []session.Finding {
	var findings []session.Finding
	say := func(level session.Level, about, format string, args ...any) {
		findings = append(findings, session.Finding{
			Level: level, About: about, Athlete: g.Athlete, Part: g.Part, Station: g.Station,
			Text: fmt.Sprintf(format, args...),
		})
	}
	moves := h.Style().Mass(g.Moves)
	if each, ok := g.EachHand(); ok {
		moves = fmt.Sprintf("%s each hand, %s both,", h.Style().Mass(each), moves)
	}
	if g.On.Tare > g.Total {
		say(session.Stop, "load", "%s empty is %s, %s: take a lighter %s, a shorter leg or another movement",
			g.On.Name, h.Style().Mass(g.On.Tare), g.bareShare(h), g.On.Kind)
	}
	switch {
	case g.Short > 0 && g.Short < step:
		say(session.Note, "pile", "the pile is short by less than a step")
	case g.Short > 0:
		say(session.Warn, "pile", "the pile is short: %s moves, %s less than these kinds of plate could give", moves, h.Style().Mass(g.Short))
	}
	pct, known := g.PctMax()
	if known && pct >= 99.95 {
		say(session.Warn, "load", "%s moves, %s of the max", moves, h.Style().Percent(g.Moves, g.Max))
	}
	if g.Est && pct >= 85 && measure.Pct(g.Total, g.Max) < 85 {
		say(session.Stop, "estimate", "%s moves, %s of a max that is only estimated: from 85 %% up it must be tested", moves, h.Style().Percent(g.Moves, g.Max))
	}
	if past != nil {
		if most, ok := past.Heaviest(g.Athlete, movement); ok && g.Moves > (110*measure.Percent).Of(most) {
			say(session.Warn, "load", "%s moves, more than 10 %% above the heaviest ever logged (%s)", moves, h.Style().Mass(most))
		}
	}
	return findings
}

// bareShare says how far bare is over what was asked.
func (g Got) bareShare(h *house.House) string {
	if g.Max > 0 {
		return fmt.Sprintf("already %s of the max where %s were asked in all", h.Style().Percent(g.On.Tare, g.Max), h.Style().Mass(g.Total))
	}
	if g.Total <= 0 {
		return "already more than was asked"
	}
	return fmt.Sprintf("already %s of the %s asked in all", h.Style().Percent(g.On.Tare, g.Total), h.Style().Mass(g.Total))
}
