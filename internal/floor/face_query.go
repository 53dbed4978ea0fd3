package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
)

// Face returns what the wall shows at room time now.
func (s *State) Face(now time.Duration) Face {
	f := Face{Next: None, Ends: None, Heats: 1, Heat: 1}
	switch {
	case s.plan == nil || s.on < 0:
		return f
	case s.over != None:
		f.Phase, f.Part, f.Ends = Over, s.on+1, s.End(now)
		return f
	}
	p := s.view(s.on, now)
	f.Part, f.Heats, f.Heat, f.Ends = s.on+1, len(p.heats), p.heatOn()+1, s.End(now)
	h := &p.heats[f.Heat-1]
	c := s.clock(now)
	switch {
	case p.ended != None: // in its count-in too
		s.between(&f, now)
		return f
	case c < p.heats[0].starts[0]:
		f.Phase, f.Left, f.Next = CountIn, p.heats[0].starts[0]-c, s.room(p.heats[0].starts[0], now)
	default:
		s.inPart(&f, p, h, c, now)
	}
	if hold := s.lastHold(); hold != nil && s.held(now) {
		f.Phase = Holding
		if hold.to != None {
			f.Phase, f.Next, f.Left = CountIn, hold.to, hold.to-now
		}
	}
	return f
}

// inPart is the face while a part runs: c is the session clock.
func (s *State) inPart(f *Face, p *part, h *heat, c, now time.Duration) {
	f.Phase = Working
	last := len(h.starts) - 1
	switch spec := s.spec(s.on); spec.Format {
	case session.Every, session.Intervals:
		f.Rounds, f.Round = last, h.roundAt(c)
		if f.Round > last {
			f.Round = last
			if end := s.classEnd(s.on, p, f.Heat-1); c < end {
				f.Left, f.Next = end-c, s.room(end, now)
			} else {
				s.between(f, now)
			}
			return
		}
		next := h.starts[f.Round]
		if work := h.starts[f.Round-1] + spec.Work; spec.Format == session.Intervals {
			if c >= work {
				f.Phase = Resting
			} else {
				next = work
			}
		}
		f.Left, f.Next = next-c, s.room(next, now)
	case session.Amrap:
		if c >= h.starts[1] {
			s.between(f, now)
			return
		}
		f.Left, f.Next = h.starts[1]-c, s.room(h.starts[1], now)
	case session.WarmUp, session.Break:
		f.Left, f.Next, f.Phase = h.starts[1]-c, s.room(h.starts[1], now), Resting
		switch {
		case f.Left <= s.countIn(s.on+1):
			f.Phase = CountIn
		case spec.Format == session.WarmUp:
			f.Phase = Warming
		}
	default:
		if end := s.heatEnd(s.on, p, f.Heat-1, now); end != None && end <= now {
			s.between(f, now)
			return
		}
		f.Up, f.Left = true, c-h.starts[0]
		if spec.Format == session.ForTime && p.limit > 0 && p.limit > f.Left && len(p.heats) == 1 && spec.WaveEvery == 0 {
			f.Up, f.Left, f.Next = false, p.limit-f.Left, s.room(h.starts[0]+p.limit, now)
		}
	}
}

// between is the face after a heat or a part: the way to the next one.
func (s *State) between(f *Face, now time.Duration) {
	f.Phase = Changing
	what, at := s.nextByClock(now)
	if what != partBegins && what != heatBegins {
		f.Phase = Over
		return
	}
	f.Next, f.Left = at, max(0, at-now)
	if !s.spec(s.on).Format.Pulls() { // cut short
		f.Phase = CountIn
	}
}

// End returns the room time at which the class ends, as things stand at now: the
// last possible end of a capped format, the end of the last work once it is known,
// None where that hangs on presses.
func (s *State) End(now time.Duration) time.Duration {
	if s.on < 0 {
		return None
	}
	var at time.Duration
	for pi := range s.parts {
		p := &s.parts[pi]
		switch {
		case p.ended != None:
			at = p.ended
			continue
		case p.began != None:
			at = s.partEnd(pi, now)
		default:
			at = s.plannedEnd(pi, at+s.changeover(pi-1))
		}
		if at == None {
			return None
		}
	}
	return at
}

// partEnd is when a part that runs will end.
func (s *State) partEnd(pi int, now time.Duration) time.Duration {
	p := s.view(pi, now)
	h := p.heatOn()
	if end := s.heatEnd(pi, p, h, now); end != None {
		if h+1 == len(p.heats) {
			return end
		}
		return s.plannedHeats(pi, end+s.plan.House.BetweenHeats, len(p.heats)-h-1)
	}
	if s.spec(pi).Format == session.ForTime && p.limit > 0 {
		last := s.room(s.clock(p.began)+p.limit, now)
		for i := range p.tracks {
			if tr := &p.tracks[i]; tr.working {
				last = max(last, s.capAt(p, i))
			} else if d := s.dueAt(pi, p, i); d != None {
				last = max(last, d+p.limit)
			}
		}
		return s.plannedHeats(pi, last+s.plan.House.BetweenHeats, len(p.heats)-h-1)
	}
	return None
}

// plannedEnd is when a part that has not begun will end if it begins at at.
func (s *State) plannedEnd(pi int, at time.Duration) time.Duration {
	return s.plannedHeats(pi, at, len(s.parts[pi].heats))
}

func (s *State) plannedHeats(pi int, at time.Duration, heats int) time.Duration {
	p, spec := &s.parts[pi], s.spec(pi)
	var each time.Duration
	switch spec.Format {
	case session.Every:
		each = time.Duration(p.rounds) * spec.Every
	case session.Intervals:
		each = time.Duration(p.rounds)*s.period(pi) - spec.Rest + s.lastTurn(pi)
	case session.Amrap, session.ForTime, session.WarmUp, session.Break:
		each = p.limit
	default: // the end hangs on presses
	}
	if each <= 0 {
		return None
	}
	return at + time.Duration(heats)*each + time.Duration(heats-1)*s.plan.House.BetweenHeats
}

// lastTurn is how long after the class's last bout the last of those who share an
// implement begins theirs, in a part that has not begun.
func (s *State) lastTurn(pi int) time.Duration {
	p := &s.parts[pi]
	last := time.Duration(0)
	var room [8]int
	for i := range p.tracks {
		if s.in(p, i, p.rounds) {
			last = max(last, s.turns(pi, i, p.rounds, s.before(pi, i, p.rounds, room[:0])))
		}
	}
	return last
}

// Starts returns the room times at which the rounds of the class began in part
// partNo, from 1: those of its first heat, up to now.
func (s *State) Starts(partNo int, now time.Duration) []time.Duration {
	if partNo < 1 || partNo > len(s.parts) || s.parts[partNo-1].began == None {
		return nil
	}
	p := &s.parts[partNo-1]
	var out []time.Duration
	for h := range p.heats {
		starts := p.heats[h].starts
		if n := len(starts); n > 1 && classClock(s.spec(partNo-1).Format) {
			starts = starts[:n-1]
		}
		out = slices.Grow(out, len(starts))
		for _, c := range starts {
			at := s.room(c, now)
			if at <= now && (p.ended == None || at < p.ended) {
				out = append(out, at)
			}
		}
	}
	return out
}

// Began returns the room time at which a part, from 1, began; None where it has not.
func (s *State) Began(partNo int) time.Duration { return s.parts[partNo-1].began }

// PartEnd returns the room time at which a part ended, None where it has not.
func (s *State) PartEnd(partNo int) time.Duration { return s.parts[partNo-1].ended }

// Limit returns the cap in force of a part, from 1; 0 where it has none.
func (s *State) Limit(partNo int) time.Duration { return s.parts[partNo-1].limit }

// Length returns the rounds in force of a part, from 1; 0 where they are not counted.
func (s *State) Length(partNo int) int { return s.parts[partNo-1].rounds }

// Worked returns the time on the session clock between two room times.
func (s *State) Worked(from, to time.Duration) time.Duration { return s.worked(from, to) }
