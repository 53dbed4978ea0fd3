package lanes

import (
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// rampMost is the most attempts of a ramp.
const rampMost = 8

// length returns how long the part takes in so many heats: to the last possible
// end where the class's clock or a cap says when that is, else to the end of the
// last expected work. a is nil where nobody can be planned.
func (p *planner) length(a *answer, heats int, every time.Duration) time.Duration {
	one := time.Duration(0)
	s := p.spec
	switch s.Format {
	case session.Every:
		one = time.Duration(s.Rounds) * every
	case session.Intervals:
		one = time.Duration(s.Rounds)*(s.Work+s.Rest) - s.Rest
	case session.Amrap:
		one = s.Cap
	case session.LongPull, session.ForTime:
		one = p.waves(a)
	case session.Ratio, session.Sets, session.Ramp:
		one = s.Cap
		if one == 0 && a != nil {
			for _, lane := range p.lanesOf(a) {
				one = max(one, p.cycleOf(a, lane).lastEnds)
			}
		}
	case session.WarmUp, session.Break:
		one = s.Time
	}
	return time.Duration(heats)*one + time.Duration(heats-1)*p.in.House.BetweenHeats
}

// lastTurn returns how long after the class's last bout the last of those who share
// an implement begins theirs.
func (p *planner) lastTurn(a *answer) time.Duration {
	last := time.Duration(0)
	if a == nil {
		return last
	}
	for heat := range a.layout.heats {
		for _, visits := range a.layout.visits(p, heat, p.spec.Rounds-1) {
			turns := time.Duration(0)
			for n := range len(visits) - 1 {
				turns += p.spec.Work + p.handover(a, visits[n], visits[n+1])
			}
			last = max(last, turns)
		}
	}
	return last
}

// waves returns when the last of those who go once is done: at the cap from their
// own start where there is one, else after the expected work.
func (p *planner) waves(a *answer) time.Duration {
	if a == nil {
		return p.spec.Cap
	}
	last := time.Duration(0)
	for _, lane := range p.lanesOf(a) {
		free := time.Duration(0)
		for n, i := range lane {
			if n > 0 {
				free += p.handover(a, lane[n-1], i)
			}
			start := max(free, time.Duration(p.waveOf(a, i, n))*p.spec.WaveEvery)
			work := p.spec.Cap
			if work == 0 {
				work, _ = p.expected(a.who[i], a.layout.seats[i].station, a.got[a.layout.first[i]].Moves)
			}
			free = start + work
			last = max(last, free)
		}
	}
	return last
}

// waveOf returns the wave of a seat, from 0: as written, else its order on the sled.
func (p *planner) waveOf(a *answer, seat, order int) int {
	if w, _, ok := p.wave(p.people[a.who[seat]].Name); ok {
		return w
	}
	return order
}

// lanesOf returns the seats of each implement in their order, the first heat's.
func (p *planner) lanesOf(a *answer) [][]int {
	var lanes [][]int
	at := map[string]int{}
	for i, s := range a.layout.seats {
		if s.heat > 0 {
			continue
		}
		n, ok := at[s.on.Name]
		if !ok {
			n = len(lanes)
			at[s.on.Name] = n
			lanes = append(lanes, nil)
		}
		lanes[n] = append(lanes[n], i)
	}
	return lanes
}

// cycle is how those on one implement take turns.
type cycle struct {
	cycle    time.Duration // Σ (work + handover)
	rest     time.Duration // got by whoever gets least, before the hold
	hold     time.Duration // what a start waits
	lastEnds time.Duration // from the start of the part, the hold in
}

// cycleOf works out the turns of a lane whose people each go several times: rest
// got is the cycle less the own work; where that is under the floor, a start waits
// for the difference, and the whole lane with it.
func (p *planner) cycleOf(a *answer, lane []int) cycle {
	var c cycle
	works := make([]time.Duration, len(lane))
	offset := time.Duration(0) // of the last one's first start
	for n, i := range lane {
		works[n], _ = p.expected(a.who[i], a.layout.seats[i].station, a.got[a.layout.first[i]].Moves)
		c.cycle += works[n]
		if len(lane) > 1 {
			h := p.handover(a, lane[n], lane[(n+1)%len(lane)])
			c.cycle += h
			if n < len(lane)-1 {
				offset += works[n] + h
			}
		}
	}
	c.rest = c.cycle
	for _, w := range works {
		c.rest = min(c.rest, c.cycle-w)
		c.hold = max(c.hold, p.restFloor(w)-(c.cycle-w))
	}
	times := p.rounds()
	if p.spec.Format == session.Ramp {
		times = rampMost
	}
	c.lastEnds = time.Duration(times-1)*(c.cycle+c.hold) + offset + works[len(works)-1]
	return c
}

// restFloor is the least rest after that much work.
func (p *planner) restFloor(work time.Duration) time.Duration {
	switch p.spec.Format {
	case session.Ratio:
		return time.Duration(p.spec.RestFactor.Of(measure.Mass(work)))
	case session.Ramp:
		return max(p.spec.Rest, p.in.House.RampRest)
	case session.Sets:
		return p.spec.Rest
	case session.Every, session.Amrap, session.Intervals, session.LongPull, session.ForTime, session.WarmUp, session.Break:
	}
	return 0
}

// sharing lists the implements that several people share with a rest of their own.
func (p *planner) sharing(a *answer, starts time.Duration) []Sharing {
	var list []Sharing
	switch p.spec.Format {
	case session.Sets, session.Ratio, session.Ramp:
		for _, lane := range p.lanesOf(a) {
			if len(lane) < 2 {
				continue
			}
			c := p.cycleOf(a, lane)
			list = append(list, Sharing{
				On: a.layout.seats[lane[0]].on.Name, People: len(lane),
				Cycle: c.cycle, Rest: c.rest, Hold: c.hold, LastSetEnds: starts + c.lastEnds,
			})
		}
	case session.Every, session.Amrap, session.Intervals, session.LongPull, session.ForTime, session.WarmUp, session.Break:
	}
	return list
}
