package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
)

// lane is one implement with the people who share it, in a part whose lanes keep
// their own clock. Times are room time.
type lane struct {
	on     string
	heat   int
	people []int
	user   int           // who is on it now; -1
	last   int           // who was on it last; -1
	free   time.Duration // when the last one was done
}

// selfStarting is true of the formats whose next start is the clock's.
func selfStarting(f session.Format) bool {
	return f == session.Ratio || f == session.LongPull || f == session.ForTime
}

// makeLanes deals the people of a lane-clock part to their implements, by order.
func (s *State) makeLanes(pi int) {
	p := &s.parts[pi]
	p.lanes = nil
	if classClock(s.spec(pi).Format) {
		return
	}
	p.lanes = []lane{} // none yet, where nobody is here before GO
	for i := range p.tracks {
		if t := &p.tracks[i]; t.Heat > 0 && len(t.Spots) > 0 {
			p.laneOf(t.Spots[0].On, t.Heat).add(p, i)
		}
	}
}

// laneOf returns the lane of an implement in a heat, made where it is not there.
func (p *part) laneOf(on string, heat int) *lane {
	for l := range p.lanes {
		if p.lanes[l].on == on && p.lanes[l].heat == heat {
			return &p.lanes[l]
		}
	}
	p.lanes = append(p.lanes, lane{on: on, heat: heat, user: -1, last: -1})
	return &p.lanes[len(p.lanes)-1]
}

// add puts a person on a lane behind those of lower or the same order.
func (l *lane) add(p *part, i int) {
	at := len(l.people)
	for at > 0 && p.tracks[l.people[at-1]].order() > p.tracks[i].order() {
		at--
	}
	l.people = slices.Insert(l.people, at, i)
}

func (t *track) order() int { return t.spot(len(t.cells)+1, 0).Order }

// toLane moves a person to another implement; their open work stays where it is.
func (p *part) toLane(i int, on string, station int) {
	if station != 0 || p.lanes == nil {
		return
	}
	for l := range p.lanes {
		p.lanes[l].people = slices.DeleteFunc(p.lanes[l].people, func(j int) bool { return j == i })
	}
	p.laneOf(on, p.tracks[i].Heat).add(p, i)
}

// freeSled takes a person off whatever they are on at t.
func (p *part) freeSled(i int, t time.Duration) {
	for l := range p.lanes {
		if la := &p.lanes[l]; la.user == i {
			la.user, la.last, la.free = -1, i, t
		}
	}
}

// beginLanes makes everyone of heat h due at its start.
func (p *part) beginLanes(h int, t time.Duration) {
	for i := range p.tracks {
		if tr := &p.tracks[i]; tr.Heat == h+1 {
			tr.due = max(t, tr.due)
		}
	}
}

// restartLanes begins every round that runs anew at t.
func (p *part) restartLanes(t time.Duration) {
	for i := range p.tracks {
		if tr := &p.tracks[i]; tr.working {
			c := tr.at(tr.done + 1)
			*c = cell{start: t, press: None, due: c.due}
		}
	}
}

// runLanes brings the lane clocks of the part that is on up to room time t.
func (s *State) runLanes(t time.Duration) {
	if s.on >= 0 && s.parts[s.on].lanes != nil {
		s.run(s.on, &s.parts[s.on], t)
	}
}

// run does to p what its lane clocks do by themselves up to t: starts, and ends
// at a cap.
func (s *State) run(pi int, p *part, t time.Duration) {
	if p.ended != None || p.began == None || t < p.began {
		return
	}
	for l := range p.lanes {
		for s.step(pi, p, &p.lanes[l], t) {
		}
	}
}

// step does the next thing that one lane does by itself, if its time has come.
func (s *State) step(pi int, p *part, l *lane, t time.Duration) bool {
	if !selfStarting(s.spec(pi).Format) || len(p.heats[l.heat-1].starts) == 0 {
		return false
	}
	for _, i := range l.people {
		tr := &p.tracks[i]
		if end := s.capAt(p, i); tr.working && end != None && end <= t {
			tr.at(tr.done + 1).capped = true
			s.finishLane(pi, p, i, end)
			return true
		}
	}
	if l.user >= 0 {
		return false
	}
	i, at := s.nextOn(pi, p, l)
	if i < 0 || at == None || at > t {
		return false
	}
	tr := &p.tracks[i]
	c := tr.at(tr.done + 1)
	c.start = at
	if tr.done > 0 {
		c.due = tr.due
	}
	tr.working, l.user = true, i
	return true
}

// capAt returns the room time at which a person's work is over by the cap, None
// where there is none, or a hold keeps it away.
func (s *State) capAt(p *part, i int) time.Duration {
	tr := &p.tracks[i]
	if p.limit <= 0 || !tr.working {
		return None
	}
	c := s.clock(tr.cells[tr.done].start) + p.limit
	if h := s.lastHold(); h != nil && h.to == None && c >= h.at {
		return None
	}
	return s.room(c, 0)
}

// dueAt returns when a person's next start is due, None where they have none.
func (s *State) dueAt(pi int, p *part, i int) time.Duration {
	tr := &p.tracks[i]
	rounds := max(1, p.rounds)
	if s.spec(pi).Format == session.LongPull || s.spec(pi).Format == session.ForTime {
		rounds = 1
	}
	if tr.first < 1 || tr.done >= rounds || tr.due == None || !s.Here(i) {
		return None
	}
	if s.spec(pi).Format != session.ForTime {
		return tr.due
	}
	wave := s.wave(pi, i)
	if wave == 0 || s.spec(pi).WaveEvery == 0 {
		return tr.due
	}
	return max(tr.due, s.room(s.clock(p.began)+time.Duration(wave)*s.spec(pi).WaveEvery, tr.due))
}

// wave returns the wave of a person, from 0: as written, else their order on the sled.
func (s *State) wave(pi, i int) int {
	for w, names := range s.spec(pi).Waves {
		if slices.Contains(names, s.plan.People[i].Name) {
			return w
		}
	}
	return s.parts[pi].tracks[i].order()
}

// nextOn returns who starts next on a free lane, and when: who was due first,
// then list order. The time is None while a hold keeps it away.
func (s *State) nextOn(pi int, p *part, l *lane) (int, time.Duration) {
	if slices.Contains(s.out, l.on) {
		return -1, None
	}
	best, due := -1, None
	for _, i := range l.people {
		d := s.dueAt(pi, p, i)
		if d == None || p.tracks[i].working {
			continue
		}
		if best < 0 || d < due || d == due && p.tracks[best].done > 0 && p.tracks[i].done > 0 && i < best {
			best, due = i, d
		}
	}
	if best < 0 {
		return -1, None
	}
	return best, s.afterHold(max(due, s.sledFree(pi, p, l, best)))
}

// sledFree returns when a lane is ready for a person: the last one's end and the
// handover between them.
func (s *State) sledFree(pi int, p *part, l *lane, i int) time.Duration {
	if l.last < 0 || l.last == i {
		return l.free
	}
	a, b := &p.tracks[l.last], &p.tracks[i]
	from, to := a.spot(max(1, a.done), 0), b.spot(b.done+1, 0)
	from.Stack, _ = from.set(max(1, a.done))
	to.Stack, _ = to.set(b.done + 1)
	return l.free + s.handover(pi, a, max(1, a.done), &from, &to)
}

// finishLane ends the round that a person works on, at room time t.
func (s *State) finishLane(pi int, p *part, i int, t time.Duration) {
	tr := &p.tracks[i]
	if !tr.working {
		return
	}
	c := tr.at(tr.done + 1)
	c.goesOn(t)
	c.press = t
	tr.done++
	tr.working = false
	p.freeSled(i, t)
	spec := s.spec(pi)
	tr.due = t
	switch spec.Format {
	case session.Ratio:
		tr.due = t + shareOf(spec.RestFactor, s.worked(c.start, t))
	case session.Sets:
		tr.due = t + spec.Rest
	case session.Ramp:
		tr.due = t + max(spec.Rest, s.plan.House.RampRest)
	default: // nothing comes after
	}
}

// standing reports whether a stop lasts.
func (c *cell) standing() bool {
	n := len(c.stops)
	return n > 0 && c.stops[n-1].To == None
}

// goesOn ends the stop that lasts, if one does.
func (c *cell) goesOn(t time.Duration) {
	if c.standing() {
		c.stops = slices.Clone(c.stops) // view's copies share them
		c.stops[len(c.stops)-1].To = t
	}
}

// view returns part pi as its lane clocks have it at room time now. It is the
// part itself where nothing moves by itself; else a copy that the next call reuses.
func (s *State) view(pi int, now time.Duration) *part {
	p := &s.parts[pi]
	if p.lanes == nil || !selfStarting(s.spec(pi).Format) {
		return p
	}
	c := &s.peek
	tracks, lanes := c.tracks, c.lanes
	*c = *p
	c.lanes = append(lanes[:0], p.lanes...)
	if len(tracks) < len(p.tracks) {
		tracks = make([]track, len(p.tracks))
	}
	c.tracks = tracks[:len(p.tracks)]
	for i := range p.tracks {
		cells := append(c.tracks[i].cells[:0], p.tracks[i].cells...)
		c.tracks[i] = p.tracks[i]
		c.tracks[i].cells = cells
	}
	s.run(pi, c, now)
	return c
}
