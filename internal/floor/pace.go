package floor

import (
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// stretch is an interval that was in force in the rounds below until.
type stretch struct {
	until int
	every time.Duration
}

// cut is a shorter pull for everyone at one station, from a round of a heat on.
type cut struct {
	heat, round, station int
	to                   measure.Distance
}

// period is the time from one start to the next in the rounds to come, 0 where the
// class has no rounds.
func (s *State) period(pi int) time.Duration {
	switch spec := s.spec(pi); spec.Format {
	case session.Every:
		return spec.Every
	case session.Intervals:
		return spec.Work + spec.Rest
	default:
		return 0
	}
}

// interval is the period of round k of a heat.
func (s *State) interval(pi int, h *heat, k int) time.Duration {
	for _, was := range h.was {
		if k < was.until {
			return was.every
		}
	}
	return s.period(pi)
}

// nextRound is the first round of the class that has not begun at t, and whether
// there is one: of the heat that is on, or of one to come.
func (s *State) nextRound(t time.Duration) (k int, ok bool) {
	p := &s.parts[s.on]
	h := p.heatOn()
	k = p.heats[h].roundAt(s.clock(t)) + 1
	return k, k <= p.rounds || h+1 < len(p.heats)
}

// decideInterval makes the interval another one from the next round on.
func (s *State) decideInterval(every, t time.Duration) ([]Event, error) {
	if s.on < 0 || s.over != None || s.parts[s.on].ended != None {
		return nil, refuse("no part runs")
	}
	round, left := s.nextRound(t)
	switch spec := s.spec(s.on); {
	case s.period(s.on) == 0:
		return nil, refuse("this part has no interval")
	case every == s.period(s.on):
		return nil, refuse("that is the interval already")
	case every <= spec.Work || every > measure.MaxClock:
		return nil, refuse("no round fits into that interval")
	case !left:
		return nil, refuse("no round is left")
	}
	return []Event{IntervalChanged{Part: s.on + 1, Round: round, Every: every}}, nil
}

// decideMetres cuts the pulls of everyone that are longer, from the next round on.
func (s *State) decideMetres(to measure.Distance, t time.Duration) ([]Event, error) {
	if s.on < 0 || s.over != None || s.parts[s.on].ended != None {
		return nil, refuse("no part runs")
	}
	round, left := s.nextRound(t)
	p, spec := &s.parts[s.on], s.spec(s.on)
	switch {
	case spec.Format != session.Every:
		return nil, refuse("only rounds on the clock of the class are cut for all")
	case !left:
		return nil, refuse("no round is left")
	}
	var events []Event
	for st := range spec.Stations {
		d := spec.Stations[st].Distance
		if c := p.cutTo(p.heatOn(), round, st); c > 0 {
			d = c
		}
		if to > 0 && to < d {
			events = append(events, PullCut{Part: s.on + 1, Station: st + 1, Round: round, To: to})
		}
	}
	if len(events) == 0 {
		return nil, refuse("no pull is longer than that")
	}
	return events, nil
}

// changeInterval takes a new interval from a round of the heat that is on. What was
// before keeps its own: a late finish stays late.
func (s *State) changeInterval(x IntervalChanged) {
	pi := x.Part - 1
	if pi < 0 || pi >= len(s.parts) || s.parts[pi].began == None || s.period(pi) == 0 || x.Round < 1 {
		return
	}
	p, spec := &s.parts[pi], s.spec(pi)
	if x.Every <= spec.Work || x.Every > measure.MaxClock {
		return
	}
	on := p.heatOn()
	for h := range on {
		p.heats[h].was = append(p.heats[h].was, stretch{maxRound + 1, s.period(pi)})
	}
	h := &p.heats[on]
	h.was = append(h.was, stretch{x.Round, s.period(pi)})
	last := len(h.starts) - 1
	if spec.Format == session.Every {
		spec.Every = x.Every
	} else {
		spec.Rest = x.Every - spec.Work
	}
	for k := x.Round; k <= last; k++ {
		h.starts[k] = h.starts[k-1] + x.Every
		if k == last && spec.Format == session.Intervals { // no rest after the last
			h.starts[k] = h.starts[k-1] + spec.Work
		}
	}
}

// cutTo is what the pulls of everyone at a station were cut to in round k of heat h,
// from 0, 0 where they were not.
func (p *part) cutTo(h, k, station int) measure.Distance {
	for i := len(p.cuts) - 1; i >= 0; i-- {
		if c := &p.cuts[i]; c.station == station && (c.heat < h || c.heat == h && c.round <= k) {
			return c.to
		}
	}
	return 0
}

// distance is what the pull of round k was cut to for one person, 0 where it was not.
func (s *State) distance(pi int, t *track, k, station int) measure.Distance {
	own, all := t.distance(k, station), s.parts[pi].cutTo(t.Heat-1, k, station)
	if own == 0 || all > 0 && all < own {
		return all
	}
	return own
}

// expected is the work planned for a person in round k: a pull that was cut takes as
// much less.
func (s *State) expected(pi, i, k int) time.Duration {
	if s.spec(pi).Format == session.Intervals {
		return s.spec(pi).Work
	}
	t := &s.parts[pi].tracks[i]
	station := s.station(pi, t, k)
	sp := t.look(k, station)
	to := s.distance(pi, t, k, station)
	if st := s.spec(pi).Stations; to > 0 && station < len(st) && st[station].Distance > to {
		return time.Duration(float64(sp.Expect) * float64(to) / float64(st[station].Distance))
	}
	return sp.Expect
}
