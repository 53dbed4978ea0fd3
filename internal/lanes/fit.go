package lanes

import (
	"math"
	"time"

	"hawser/internal/session"
)

// turnSum is what the people of one implement take in one round.
type turnSum struct {
	on        string
	people    int
	work      time.Duration // Σ
	handovers time.Duration // Σ
	needs     time.Duration // as the format counts it
}

// rounds of turns: by heat, round and implement, the people who go one after another.
func (p *planner) turnSums(a *answer) []turnSum {
	var sums []turnSum
	l := a.layout
	period := 1
	if p.alternate() {
		period = len(p.stations)
	}
	for heat := range l.heats {
		rounds := make([]map[string][]int, period)
		for round := range rounds {
			rounds[round] = l.visits(p, heat, round)
		}
		for round := range rounds {
			for name, visits := range rounds[round] {
				next := visits[0] // who has the implement in the round after
				for k := 1; k <= period; k++ {
					if after := rounds[(round+k)%period][name]; len(after) > 0 {
						next = after[0]
						break
					}
				}
				sums = append(sums, p.turnSum(a, visits, next))
			}
		}
	}
	return sums
}

// turnSum adds up one implement in one round, with the change to whoever has it
// next. A person alone changes with nobody, but the sled still has to be brought
// back.
func (p *planner) turnSum(a *answer, visits []int, next int) turnSum {
	l := a.layout
	t := turnSum{on: l.seats[visits[0]].on.Name, people: len(visits)}
	least := time.Duration(math.MaxInt64)
	for n, i := range visits {
		w, _ := p.expected(a.who[i], l.seats[i].station, a.got[l.first[i]].Moves)
		t.work += w
		least = min(least, w)
		to := next
		if n+1 < len(visits) {
			to = visits[n+1]
		}
		if to != i {
			t.handovers += p.handover(a, i, to)
		} else {
			t.handovers += p.back(a, i)
		}
	}
	t.needs = t.work + t.handovers
	if p.spec.Format == session.Intervals { // the rest that whoever works least must be given
		t.needs -= least
	}
	return t
}

// fit says whether the arrangement fits the clock.
func (p *planner) fit(a *answer, every time.Duration) Fit {
	f := Fit{Fits: true}
	switch p.spec.Format {
	case session.Every:
		f.Has = every
	case session.Intervals:
		f.Has = p.spec.Rest
	case session.Amrap: // once each, at the least
		f.Has = p.spec.Cap
	case session.Ratio, session.Sets, session.LongPull, session.ForTime, session.Ramp, session.WarmUp, session.Break:
		return f
	}
	for _, t := range p.turnSums(a) {
		if t.needs > f.Needs || t.needs == f.Needs && (f.On == "" || t.on < f.On) {
			f.Needs, f.On = t.needs, t.on
		}
	}
	f.Fits = f.Needs <= f.Has
	return f
}
