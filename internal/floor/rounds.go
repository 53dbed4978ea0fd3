package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
)

// Rounds returns every round of one person in a part, from 1, that has begun by
// room time now, and those that they were not here for. Splits are derived anew
// from what was pressed, typed and struck.
func (s *State) Rounds(partNo, person int, now time.Duration) []Round {
	return s.AppendRounds(nil, partNo, person, now)
}

// AppendRounds appends to dst what [State.Rounds] returns.
func (s *State) AppendRounds(dst []Round, partNo, person int, now time.Duration) []Round {
	pi := partNo - 1
	if s.plan == nil || pi < 0 || pi >= len(s.parts) || person < 0 || person >= len(s.people) || s.parts[pi].began == None {
		return dst
	}
	had := len(dst)
	switch s.spec(pi).Format {
	case session.Every, session.Intervals:
		dst = s.classRounds(dst, pi, person, now)
	case session.Amrap:
		dst = s.amrapRounds(dst, pi, person, now)
	case session.WarmUp, session.Break:
	default:
		dst = s.laneRounds(dst, pi, person, now)
	}
	s.markUnlikely(pi, dst[had:])
	return dst
}

// markUnlikely marks each split that is far from the median of all the person's
// others at its station; there must be two others.
func (s *State) markUnlikely(pi int, rounds []Round) {
	h := s.plan.House
	measured := func(r *Round) bool { // a bout that nobody typed took what the clock gave it
		return r.Work != None && (r.ByHand || s.spec(pi).Format != session.Intervals)
	}
	var room [32]time.Duration
	for station := 1; station <= max(1, len(s.plan.Parts[pi].Stations)); station++ {
		splits := room[:0]
		for i := range rounds {
			if r := &rounds[i]; r.Station == station && measured(r) {
				splits = append(splits, r.Work)
			}
		}
		n := len(splits) - 1
		if n < 2 {
			continue
		}
		slices.Sort(splits)
		for i := range rounds {
			r := &rounds[i]
			if r.Station != station || !measured(r) {
				continue
			}
			own, _ := slices.BinarySearch(splits, r.Work)
			other := func(k int) time.Duration {
				if k >= own {
					k++
				}
				return splits[k]
			}
			m := (other((n-1)/2) + other(n/2)) / 2
			r.Unlikely = r.Work < shareOf(h.UnlikelyLow, m) || r.Work > shareOf(h.UnlikelyHigh, m)
		}
	}
}

// round fills in what holds in every format.
func (s *State) round(pi, i, k int) Round {
	t := &s.parts[pi].tracks[i]
	st := s.station(pi, t, k)
	sp := t.look(k, st)
	stack, moves := sp.set(k)
	c := t.get(k)
	r := Round{
		Round: k, Station: st + 1, Movement: s.movement(pi, t, k, st), On: sp.On, Stack: stack, Moves: moves,
		Starts: None, Ends: None, Work: None, Margin: None, Due: None, Waited: None, Rest: None,
		ByHand: c.typed, Metres: c.metres, Reps: c.reps, State: Open,
	}
	if r.Distance = s.distance(pi, t, k, st); r.Distance == 0 && st < len(s.spec(pi).Stations) {
		r.Distance = s.spec(pi).Stations[st].Distance
	}
	if w, ok := s.split(pi, i, k); ok {
		r.Work = w
	}
	return r
}

// classRounds is Rounds for every and intervals.
func (s *State) classRounds(out []Round, pi, i int, now time.Duration) []Round {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	if h == nil || t.first < 1 {
		return out
	}
	out = slices.Grow(out, len(h.starts))
	for k := 1; k < len(h.starts); k++ {
		starts := s.room(h.starts[k-1], now)
		if starts > now || p.ended != None && starts >= p.ended {
			break
		}
		r := s.round(pi, i, k)
		r.Starts, r.Length = starts, s.interval(pi, h, k)
		switch c := t.get(k); {
		case !s.in(p, i, k):
		case c.press != None && r.Work > 0 && !c.typed:
			r.Starts = s.room(s.clock(c.press)-r.Work, now) // the split was counted from there
		default:
			r.Starts = s.room(s.ownStart(pi, i, k), now)
		}
		if s.spec(pi).Format == session.Every {
			s.everyRound(pi, i, &r, now)
		} else {
			s.bout(pi, i, &r, now)
		}
		out = append(out, r)
	}
	return out
}

// everyRound fills in what an every round came to.
func (s *State) everyRound(pi, i int, r *Round, now time.Duration) {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	k, c := r.Round, t.get(r.Round)
	if end, ok := s.finish(pi, i, k); ok {
		r.Ends = s.room(end, now)
		if !c.typed {
			r.Ends = c.press
		}
		r.Margin = s.deadline(pi, h, k) - end
	}
	switch {
	case k < t.first:
		r.State, r.Work, r.Margin = NotHere, None, None
	case c.struck:
		r.State, r.Margin = StruckOut, None
	case c.noTime:
		r.State = DoneNoTime
	case c.has() && s.lateBy(pi, i, k) > 0:
		r.State = LateRound
	case c.has():
		r.State = InTime
	case !s.in(p, i, k):
		r.State = LeftRound
	case s.satOut(pi, i, k):
		r.State = SatOut
	case s.people[i].left != None && s.clock(s.people[i].left) < h.starts[k]:
		r.State = LeftRound
	case s.missedPress(pi, i, k, now):
		r.State = NoPress
	}
}

// missedPress reports whether round k can no longer get a press of its own.
func (s *State) missedPress(pi, i, k int, now time.Duration) bool {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	c := s.clock(now)
	if s.over != None || c < h.starts[k] {
		return s.over != None
	}
	return t.get(k+1).has() || c >= h.starts[k]+s.period(pi)
}

// bout fills in what a bout of intervals came to.
func (s *State) bout(pi, i int, r *Round, now time.Duration) {
	t := &s.parts[pi].tracks[i]
	c := t.get(r.Round)
	r.Ends = s.room(s.clock(r.Starts)+s.spec(pi).Work, now)
	left := s.people[i].left
	switch {
	case r.Round < t.first:
		r.State, r.Ends = NotHere, None
	case c.struck:
		r.State = StruckOut
	case left != None && left < r.Ends:
		r.State = LeftRound
	case now >= r.Ends:
		r.State, r.Work = Done, s.spec(pi).Work
		if c.typed {
			r.Work = c.work
		}
	}
}

// amrapRounds is Rounds for most rounds: the full ones, and the one that the end
// of the time found open.
func (s *State) amrapRounds(out []Round, pi, i int, now time.Duration) []Round {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	if h == nil || t.first < 1 {
		return out
	}
	out = slices.Grow(out, len(t.cells)+1)
	for k := 1; k <= len(t.cells); k++ {
		c := t.get(k)
		if !c.has() && !c.struck {
			continue
		}
		r := s.round(pi, i, k)
		r.Starts, r.Ends, r.State = c.start, c.press, Done
		switch {
		case c.struck:
			r.State = StruckOut
		case c.noTime:
			r.State = DoneNoTime
		}
		out = append(out, r)
	}
	r := s.round(pi, i, t.open())
	r.Starts = s.amrapStart(pi, i, now)
	switch {
	case now < s.room(h.starts[1], now):
		if s.turn(pi, i) == i && s.Here(i) {
			out = append(out, r)
		}
	case r.Metres > 0 || r.Reps > 0:
		r.State = Capped
		out = append(out, r)
	}
	return out
}

// laneRounds is Rounds for the formats whose lanes keep their own clock.
func (s *State) laneRounds(out []Round, pi, i int, now time.Duration) []Round {
	p := s.view(pi, now)
	t := &p.tracks[i]
	if t.first < 1 || p.heatOf(t) == nil {
		return out
	}
	out = slices.Grow(out, len(t.cells))
	for k := 1; k <= len(t.cells); k++ {
		c := t.get(k)
		if c.start == None && !c.has() && !c.struck {
			continue
		}
		r := s.round(pi, i, k)
		r.Starts, r.Ends, r.Due = c.start, c.press, c.due
		if c.start != None && c.due != None {
			r.Waited = c.waited
			if selfStarting(s.spec(pi).Format) {
				r.Waited = max(0, c.start-c.due)
			}
		}
		if k > 1 && c.start != None && t.get(k-1).press != None {
			r.Rest = c.start - t.get(k-1).press
		}
		if c.press == None && k == t.done+1 && t.working && p.ended != None {
			r.Ends = p.ended // nothing of it counts after the part
		}
		r.Stops, r.Legs = c.stops, c.legs
		if c.press != None && c.start != None && !c.typed && !c.noTime && !c.struck {
			r.Work = s.worked(c.start, c.press)
		}
		r.State = s.laneState(pi, i, &c, now)
		out = append(out, r)
	}
	return out
}

// laneState is how a round of a lane-clock part stands.
func (s *State) laneState(pi, i int, c *cell, now time.Duration) RoundState {
	left := s.people[i].left
	switch {
	case c.struck:
		return StruckOut
	case c.missed:
		return Missed
	case c.capped:
		return Capped
	case c.noTime:
		return DoneNoTime
	case c.press == None && c.typed:
		return Done
	case c.press == None && left != None && left <= now:
		return LeftRound
	case c.press == None:
		return Open
	case s.spec(pi).Format == session.Ramp:
		return Good
	}
	return Done
}
