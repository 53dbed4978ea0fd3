package load

import (
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// Question is one ask for one athlete on one implement, with the tags of today
// that a max is compared by.
type Question struct {
	Athlete  *roster.Athlete
	Part     int // from 1
	Station  int // from 1
	Set      int // from 1 where the station has a list of loads; else 0
	Movement string
	Distance measure.Distance // of one pull; 0 where it is by repetitions or by time
	Legs     int              // 1 is straight; 0 counts as 1
	Surface  string           // today's
	On       Implement
	Ask      session.Ask
}

// Resolve says in masses what is asked, and what a coach should know about it
// before a plate is lifted. A load that cannot be worked out (no max, no body
// mass) is a finding that stops, and the Want is the bare implement. A finding may
// come back for each set of a station: equal findings are equal values.
func Resolve(q Question, k *kit.Kit, h *house.House, past Past) (Want, []session.Finding) {
	w := Want{Athlete: q.Athlete.Name, Part: q.Part, Station: q.Station, Set: q.Set, On: q.On, Basis: q.Ask.Basis}
	w.Asked, w.AskedOf, w.Total = q.Ask.Mass, "added", q.Ask.Mass+q.On.Tare
	return w, nil
}

// Findings says what a coach should know about what really moves: bare over the
// target, a short pile, more than the max, far more than ever before.
func Findings(g Got, movement string, h *house.House, past Past) []session.Finding {
	return nil
}

// Fill gives each want its stack: all at once, or in list order.
func Fill(wants []Want, pile []kit.Plates, allocate string) (got []Got, proved bool) {
	items := make([]Item, len(wants))
	for i, w := range wants {
		items[i] = Item{On: w.On, Total: w.Total}
	}
	solve := Solve
	if allocate == "in order" {
		solve = SolveInOrder
	}
	d := solve(items, pile)
	for i, w := range wants {
		got = append(got, Got{Want: w, Stack: d.Stacks[i], Moves: d.Moves[i], Short: Short(items[i], d.Moves[i], pile)})
	}
	return got, d.Proved
}

// Short is what unlimited plates of the pile's kinds would give more than moves.
func Short(it Item, moves measure.Mass, pile []kit.Plates) measure.Mass {
	if moves == it.Total {
		return 0
	}
	return max(0, Unlimited(it, pile).On(it.On, pile)-moves)
}
