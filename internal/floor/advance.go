package floor

import (
	"time"

	"hawser/internal/session"
)

// Advance returns what the clock did by itself up to room time t: heats and parts
// that began or ended, and the end of the run. Each bears its own instant.
func Advance(s *State, t time.Duration) []Stamped {
	if s.plan == nil {
		return nil
	}
	var out []Stamped
	for {
		what, at := s.nextByClock(t)
		if what == nothing || at > t {
			return out
		}
		st := Stamped{N: s.lastN() + 1, T: at, E: s.byClock(what, at)}
		if out == nil {
			s = s.fork()
		}
		s.Apply(st)
		out = append(out, st)
	}
}

// ownStep is a thing that the clock does by itself.
type ownStep int

const (
	nothing ownStep = iota
	heatBegins
	partEnds
	partBegins
	runEnds
)

// byClock is what the clock does next as an event.
func (s *State) byClock(what ownStep, at time.Duration) Event {
	switch what {
	case heatBegins:
		return HeatStarted{Part: s.on + 1, Heat: s.parts[s.on].heatOn() + 2}
	case partEnds:
		return PartEnded{Part: s.on + 1}
	case partBegins:
		return Started{Part: s.on + 2, At: at}
	default:
		return Ended{}
	}
}

// nextByClock returns the next thing that the clock will do by itself, as things
// stand at t, and when; nothing where that hangs on a press or on the coach.
func (s *State) nextByClock(t time.Duration) (ownStep, time.Duration) {
	if s.on < 0 || s.over != None || s.stopped() {
		return nothing, None
	}
	p := s.view(s.on, t)
	if p.ended != None {
		return s.afterPart(p, t)
	}
	h := p.heatOn()
	end := s.heatEnd(s.on, p, h, t)
	if end == None {
		return nothing, None
	}
	if h+1 < len(p.heats) {
		return heatBegins, s.room(s.clock(end)+s.plan.House.BetweenHeats, t)
	}
	return partEnds, end
}

// afterPart returns what follows the end of a part: the next one, or the end of
// the run when no round can be finished late any more.
func (s *State) afterPart(p *part, t time.Duration) (ownStep, time.Duration) {
	ended := p.ended
	if s.on+1 < len(s.parts) {
		return partBegins, s.room(s.clock(ended)+s.changeover(s.on), t)
	}
	if spec := s.spec(s.on); spec.Format == session.Every {
		ended = s.room(s.clock(ended)+spec.Every, t)
	}
	return runEnds, ended
}

// changeover is the time from the end of part pi to the start of the next. A warm-up
// or a rest stands in its place; where that was cut short, people are counted in.
func (s *State) changeover(pi int) time.Duration {
	p := &s.parts[pi]
	switch {
	case !s.spec(pi + 1).Format.Pulls():
		return 0
	case s.spec(pi).Format.Pulls():
		return s.plan.House.BetweenParts
	case p.ended != None && s.clock(p.ended) < p.heats[0].starts[1]:
		return s.countIn(pi + 1)
	}
	return 0
}

// heatEnd returns the room time at which heat h is over, as things stand; None
// while that hangs on somebody's press.
func (s *State) heatEnd(pi int, p *part, h int, t time.Duration) time.Duration {
	starts := p.heats[h].starts
	if len(starts) == 0 {
		return None
	}
	if classClock(s.spec(pi).Format) {
		return s.room(s.classEnd(pi, p, h), t)
	}
	end := s.room(starts[0], t)
	anyone := false
	for i := range p.tracks {
		tr := &p.tracks[i]
		if tr.Heat != h+1 || tr.first < 1 {
			continue
		}
		if !s.through(pi, p, i) {
			return None
		}
		anyone = true
		if tr.done > 0 && tr.cells[tr.done-1].press != None {
			end = max(end, tr.cells[tr.done-1].press)
		}
		if left := s.people[i].left; left != None {
			end = max(end, left)
		}
	}
	if !anyone {
		return None
	}
	return end
}

// classEnd is the session time at which heat h of a class-clock part is over: in
// intervals, when the last of those who share an implement has done the last bout.
func (s *State) classEnd(pi int, p *part, h int) time.Duration {
	starts := p.heats[h].starts
	last := len(starts) - 1
	end := starts[last]
	if s.spec(pi).Format != session.Intervals {
		return end
	}
	for i := range p.tracks {
		if p.tracks[i].Heat == h+1 && s.in(p, i, last) {
			end = max(end, s.ownStart(pi, i, last)+s.spec(pi).Work)
		}
	}
	return end
}

// through reports whether a person has nothing left to do in a lane-clock part.
func (s *State) through(pi int, p *part, i int) bool {
	tr := &p.tracks[i]
	if !s.Here(i) {
		return true
	}
	switch s.spec(pi).Format {
	case session.LongPull, session.ForTime:
		return tr.done >= 1
	case session.Ramp:
		return rampOver(p, i)
	default:
		return tr.done >= max(1, p.rounds)
	}
}
