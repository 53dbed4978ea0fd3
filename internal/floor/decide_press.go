package floor

import (
	"fmt"
	"slices"
	"time"

	"hawser/internal/session"
)

// decidePress finds the round that a press of person i at t belongs to.
func (s *State) decidePress(i int, t time.Duration, as string) ([]Event, error) {
	pi, err := s.pressPart(i, t)
	if err != nil {
		return nil, err
	}
	p := s.view(pi, t)
	tr := &p.tracks[i]
	if tr.last != None && t-tr.last < s.tooSoon(pi) {
		return nil, errTwice
	}
	switch s.spec(pi).Format {
	case session.Every:
		return s.decideEvery(pi, i, t)
	case session.Amrap:
		return s.decideAmrap(pi, i, t)
	case session.Intervals:
		return nil, refuse("no press is needed here")
	case session.LongPull:
		if as != asDone || !tr.working {
			return s.decideLongPull(i, t, as)
		}
		c := &tr.cells[tr.done]
		if c.standing() {
			return s.decideLongPull(i, t, asGo)
		}
		return s.decideLongPull(i, t, asStop)
	case session.Sets, session.Ramp:
		if !tr.working {
			return s.decideStart(pi, i, t)
		}
		as = asDone
		if s.spec(pi).Format == session.Ramp {
			as = asGood
		}
		return s.pressed(pi, i, tr.done+1, as), nil
	default: // ratio, for time
		if !tr.working {
			return nil, refuse(s.notWorking(pi, p, i, t))
		}
		return s.pressed(pi, i, tr.done+1, asDone), nil
	}
}

// pressed is one press as an event. The next call reuses the list.
func (s *State) pressed(pi, i, round int, as string) []Event {
	s.events = append(s.events[:0], Pressed{Who: s.plan.People[i].Name, Part: pi + 1, Round: round, As: as})
	return s.events
}

// pressPart returns the part that a press of person i at t is about: the one that
// is on, or its last round's late window.
func (s *State) pressPart(i int, t time.Duration) (int, error) {
	name := s.plan.People[i].Name
	switch {
	case s.on < 0:
		return 0, refuse("before GO")
	case s.people[i].left != None:
		return 0, refuse(name + " has stopped")
	case !s.people[i].here:
		return 0, refuse(name + " is not here yet")
	}
	pi := s.on
	if !s.runs(&s.parts[pi], t) && pi > 0 {
		pi--
	}
	if s.spec(pi).Format != session.Every && pi > 0 && s.openLate(pi-1, i, t) {
		pi--
	}
	p := &s.parts[pi]
	switch {
	case !s.spec(pi).Format.Pulls():
		return 0, refuse("no press is needed in a " + string(s.spec(pi).Format))
	case !s.runs(p, t):
		return 0, refuse("before GO")
	case p.ended != None && t > p.ended && s.spec(pi).Format != session.Every:
		return 0, refuse("the part is over")
	case p.tracks[i].first < 1:
		return 0, refuse(name + " is not in this part")
	}
	return pi, nil
}

// openLate reports whether the last round of an every part can still be finished.
func (s *State) openLate(pi, i int, t time.Duration) bool {
	h := s.parts[pi].heatOf(&s.parts[pi].tracks[i])
	if h == nil {
		return false
	}
	n := len(h.starts) - 1
	return s.spec(pi).Format == session.Every && s.open1(pi, i, n) && s.clock(t)-h.starts[n] <= s.spec(pi).Every
}

// tooSoon is how soon after a press the next one does not count.
func (s *State) tooSoon(pi int) time.Duration {
	switch s.spec(pi).Format {
	case session.Sets, session.Ramp, session.LongPull:
		return s.plan.House.DoubleTap
	default:
		return s.plan.House.DoublePress
	}
}

// open1 reports whether round k of an every part waits for a press.
func (s *State) open1(pi, i, k int) bool {
	c := s.parts[pi].tracks[i].get(k)
	return k >= 1 && s.in(&s.parts[pi], i, k) && !c.has() && !c.struck && !s.satOut(pi, i, k)
}

// decideEvery gives a press to this round or, as late, to the one before.
func (s *State) decideEvery(pi, i int, t time.Duration) ([]Event, error) {
	p := &s.parts[pi]
	tr := &p.tracks[i]
	name := s.plan.People[i].Name
	h := p.heatOf(tr)
	if h == nil {
		return nil, refuse(name + " is in a later heat")
	}
	c := s.clock(t)
	k, last := h.roundAt(c), len(h.starts)-1
	if k >= 1 && s.room(h.starts[k-1], t) > t { // in the count-in of a round that begins again
		k--
	}
	if k > last {
		if s.open1(pi, i, last) && c-h.starts[last] <= s.spec(pi).Every {
			return s.every(pi, i, last, t), nil
		}
		return nil, refuse("the part is over")
	}
	if k < 1 {
		return nil, refuse("before GO")
	}
	own := s.ownStart(pi, i, k)
	if s.open1(pi, i, k-1) && (c < own+s.plan.House.LatePress || s.tooShort(pi, i, k, c-own)) {
		return s.every(pi, i, k-1, t), nil
	}
	cell := tr.get(k)
	switch {
	case k < tr.first:
		return nil, refuse(fmt.Sprintf("%s starts in round %d", name, tr.first))
	case cell.struck:
		return nil, refuse(fmt.Sprintf("%s: round %d is struck", name, k))
	case cell.has():
		return nil, refuse(fmt.Sprintf("%s has round %d already", name, k))
	case s.satOut(pi, i, k):
		return nil, refuse(fmt.Sprintf("%s sits out round %d", name, k))
	case c < own:
		return nil, refuse(name + " has not started yet")
	}
	return s.every(pi, i, k, t), nil
}

// tooShort reports whether a split would be under the house's share of the median
// of the earlier kept splits at that station, of at least two.
func (s *State) tooShort(pi, i, k int, split time.Duration) bool {
	m, n := s.median(pi, i, s.station(pi, &s.parts[pi].tracks[i], k), k-1)
	return n >= 2 && split < shareOf(s.plan.House.UnlikelyLow, m)
}

// every is the press of round k, and what the late policy makes of it.
func (s *State) every(pi, i, k int, t time.Duration) []Event {
	events := s.pressed(pi, i, k, asDone)
	h := s.parts[pi].heatOf(&s.parts[pi].tracks[i])
	if s.clock(t)-s.deadline(pi, h, k) <= s.plan.House.LateGrace {
		return events
	}
	next := h.roundAt(s.clock(t)) + 1
	switch s.late(pi) {
	case session.DropLoad:
		if next < len(h.starts) {
			if e, ok := s.lighter(pi, i, next, s.plan.House.LateDrop); ok {
				events = append(events, e)
			}
		}
	case session.CutDistance:
		if next < len(h.starts) {
			if e, ok := s.shorter(pi, i, next); ok {
				events = append(events, e)
			}
		}
	case session.StopThem:
		events = append(events, Left{Who: s.plan.People[i].Name})
	case session.SitOut, session.NoteIt: // nothing but the clock of the next round
	}
	return events
}

// decideAmrap ends the open round, or the open station.
func (s *State) decideAmrap(pi, i int, t time.Duration) ([]Event, error) {
	p := &s.parts[pi]
	tr := &p.tracks[i]
	name := s.plan.People[i].Name
	h := p.heatOf(tr)
	switch {
	case h == nil:
		return nil, refuse(name + " is in a later heat")
	case s.clock(t) > h.starts[1]:
		return nil, refuse("the time is up")
	case t < s.people[i].ready:
		return nil, refuse(name + " is warming up")
	}
	return s.pressed(pi, i, tr.open(), asDone), nil
}

// decideStart begins a set or an attempt, unless the rest is too short or the
// sled is not free.
func (s *State) decideStart(pi, i int, t time.Duration) ([]Event, error) {
	p := &s.parts[pi]
	tr := &p.tracks[i]
	name := s.plan.People[i].Name
	switch {
	case s.through(pi, p, i):
		return nil, refuse(name + " is through with this part")
	case p.heatOf(tr) == nil:
		return nil, refuse(name + " is in a later heat")
	case s.stopped() || s.held(t):
		return nil, refuse("the clock is stopped")
	case tr.due != None && t < tr.due:
		return nil, refuse(fmt.Sprintf("wait: %s has %s of rest left", name, clockText(tr.due-t)))
	}
	round := tr.done + 1
	sp := tr.spot(round, s.station(pi, tr, round))
	for l := range p.lanes {
		if la := &p.lanes[l]; la.on == sp.On && la.user >= 0 && la.heat == tr.Heat {
			return nil, refuse(fmt.Sprintf("wait: %s is on %s", s.plan.People[la.user].Name, sp.On))
		}
	}
	events := s.pressed(pi, i, round, asStart)
	if s.spec(pi).Format == session.Ramp {
		if e, ok := s.rampLoad(pi, i, round); ok {
			events = slices.Insert(events, 0, e)
		}
	}
	return events, nil
}

// decideLongPull is stop, go or a leg in a long pull.
func (s *State) decideLongPull(i int, t time.Duration, as string) ([]Event, error) {
	name := s.plan.People[i].Name
	pi, err := s.pressPart(i, t)
	if err != nil {
		return nil, err
	}
	if s.spec(pi).Format != session.LongPull {
		return nil, refuse("only a long pull has stops and legs")
	}
	p := s.view(pi, t)
	tr := &p.tracks[i]
	if !tr.working {
		return nil, refuse(s.notWorking(pi, p, i, t))
	}
	if standing := tr.cells[tr.done].standing(); as == asStop && standing || as == asGo && !standing {
		return nil, refuse(name + " does that already")
	}
	return s.pressed(pi, i, tr.done+1, as), nil
}

// decideDone ends the round that runs, where a press could mean something else.
func (s *State) decideDone(i int, t time.Duration) ([]Event, error) {
	pi, err := s.pressPart(i, t)
	if err != nil {
		return nil, err
	}
	if classClock(s.spec(pi).Format) {
		return s.decidePress(i, t, asDone)
	}
	p := s.view(pi, t)
	tr := &p.tracks[i]
	if !tr.working {
		return nil, refuse(s.notWorking(pi, p, i, t))
	}
	return s.pressed(pi, i, tr.done+1, asDone), nil
}

// decideOff takes a for-time puller off the sled.
func (s *State) decideOff(i int, t time.Duration) ([]Event, error) {
	pi, err := s.pressPart(i, t)
	if err != nil {
		return nil, err
	}
	p := s.view(pi, t)
	for l := range p.lanes {
		if p.lanes[l].user == i {
			return []Event{SledLeft{Who: s.plan.People[i].Name, Part: pi + 1}}, nil
		}
	}
	return nil, refuse(s.plan.People[i].Name + " is on no sled")
}

// decideMiss ends the running set or attempt as missed, or marks the last one.
func (s *State) decideMiss(i int, x Miss, t time.Duration) ([]Event, error) {
	pi, err := s.pressPart(i, t)
	if err != nil {
		return nil, err
	}
	if f := s.spec(pi).Format; f != session.Sets && f != session.Ramp {
		return nil, refuse("only a set or an attempt can be missed")
	}
	tr := &s.parts[pi].tracks[i]
	round := tr.done
	if tr.working {
		round++
	}
	if round < 1 {
		return nil, refuse(x.Who + " has started nothing yet")
	}
	return []Event{AttemptMissed{Who: x.Who, Part: pi + 1, Round: round, At: x.At}}, nil
}

// notWorking says why a person of a lane-clock part has no round to end.
func (s *State) notWorking(pi int, p *part, i int, t time.Duration) string {
	name := s.plan.People[i].Name
	tr := &p.tracks[i]
	switch {
	case s.through(pi, p, i):
		return name + " is through with this part"
	case tr.due != None && tr.due > t:
		return fmt.Sprintf("%s rests for %s more", name, clockText(tr.due-t))
	default:
		return name + " waits for the sled"
	}
}

func clockText(d time.Duration) string {
	s := int((d + time.Second - 1) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
