package floor

import (
	"slices"
	"time"
)

// maxRound bounds a round number in an event, so that no log can ask for a
// gigabyte of rounds.
const maxRound = 10_000

// Apply takes one event into the state. It cannot fail: an event that names
// nobody, or a part that is not there, changes nothing but the record.
func (s *State) Apply(e Stamped) {
	switch e.E.(type) {
	case EffortGiven, PainGiven, Noted:
		s.private = append(s.private, e)
		return
	case Opened:
		s.log, s.dead, s.moved, s.private = s.log[:0], s.dead[:0], nil, nil
	default:
	}
	s.log = append(s.log, e)
	s.dead = append(s.dead, false)
	switch x := e.E.(type) {
	case Undone:
		if i := s.find(x.Of); i >= 0 && undoable(s.log[i].E) && !s.dead[i] {
			s.dead[i] = true
			s.replay()
		}
	case Given:
		s.replay()
	default:
		s.fold(e)
	}
}

// find returns the index in the log of event n, -1 where it is not there.
func (s *State) find(n int) int {
	for i := min(n, len(s.log)) - 1; i >= 0; i-- {
		if s.log[i].N == n {
			return i
		}
	}
	return -1
}

// replay makes the state anew from every event that stands. A press that was
// given to another person counts for them from the start.
func (s *State) replay() {
	s.moved = nil
	for i, e := range s.log {
		if g, ok := e.E.(Given); ok && !s.dead[i] {
			s.noteGiven(g, i)
		}
	}
	for i, e := range s.log {
		if _, undo := e.E.(Undone); !undo && !s.dead[i] {
			s.fold(e)
		}
	}
}

// noteGiven finds the press that Given, at index at of the log, speaks of.
func (s *State) noteGiven(g Given, at int) {
	for i := at - 1; i >= 0; i-- {
		if x, ok := s.log[i].E.(Pressed); ok && !s.dead[i] && x.Who == g.Who && x.Part == g.Part && x.Round == g.Round {
			if s.moved == nil {
				s.moved = map[int]string{}
			}
			s.moved[s.log[i].N] = g.To
			return
		}
	}
}

// fold takes an event that stands. Lane clocks are brought up to its time first.
func (s *State) fold(e Stamped) {
	if o, ok := e.E.(Opened); ok {
		s.open(o.Plan)
		return
	}
	if s.plan == nil {
		return
	}
	s.runLanes(e.T)
	switch x := e.E.(type) {
	case Started:
		s.start(x, e.T)
	case HeatStarted:
		s.beginHeat(x.Part-1, x.Heat-1, e.T)
	case Held:
		if s.held(e.T) { // in the count-in: the clock goes on standing
			s.lastHold().to = None
		} else {
			s.holds = append(s.holds, hold{from: e.T, to: None, at: s.clock(e.T)})
		}
	case Resumed:
		if h := s.lastHold(); h != nil && h.to == None {
			h.to = max(e.T, x.At)
			s.delay(h)
		}
	case Restarted:
		s.restart(x, e.T)
	case SledOut:
		if !slices.Contains(s.out, x.On) {
			s.out = append(s.out, x.On)
		}
	case SledBack:
		s.out = slices.DeleteFunc(s.out, func(on string) bool { return on == x.On })
	case PartSkipped:
		s.endPart(x.Part-1, e.T)
	case PartEnded:
		s.endPart(x.Part-1, e.T)
	case PartLengthened:
		s.lengthen(x.Part-1, x.By, e.T)
	case IntervalChanged:
		s.changeInterval(x)
	case PullCut:
		if pi := x.Part - 1; pi >= 0 && pi < len(s.parts) && x.To > 0 {
			p := &s.parts[pi]
			p.cuts = append(p.cuts, cut{p.heatOn(), x.Round, x.Station - 1, x.To})
		}
	case Ended:
		s.over = e.T
		if p := s.current(); p != nil && p.ended == None {
			p.ended = e.T
		}
	case GuestAdded:
		s.addGuest(x)
	case Arrived:
		s.arrive(x)
	case Left:
		s.leave(x, e.T)
	default:
		s.foldRound(e)
	}
}

// foldRound takes an event about one person's round.
func (s *State) foldRound(e Stamped) {
	switch x := e.E.(type) {
	case Pressed:
		if to, ok := s.moved[e.N]; ok {
			x.Who = to
			x.Round = s.openRound(to, x.Part, x.Round)
		}
		if _, t, i := s.track(x.Who, x.Part, x.Round); t != nil {
			s.press(x, i, e.T)
		}
	case AttemptMissed:
		if _, t, i := s.track(x.Who, x.Part, x.Round); t != nil {
			s.miss(x, i, e.T)
		}
	case Struck:
		if _, t, _ := s.track(x.Who, x.Part, x.Round); t != nil {
			t.at(x.Round).struck = true
		}
	case Typed:
		if _, t, i := s.track(x.Who, x.Part, x.Round); t != nil {
			s.typeIn(x, i, e.T)
		}
	case Partial:
		if _, t, _ := s.track(x.Who, x.Part, x.Round); t != nil {
			c := t.at(x.Round)
			c.metres, c.reps = x.Metres, x.Reps
		}
	case SledLeft:
		if p, t, i := s.track(x.Who, x.Part, 1); t != nil {
			p.freeSled(i, e.T)
		}
	case LoadChanged:
		if _, t, _ := s.track(x.Who, x.Part, x.Round); t != nil {
			sp := t.spot(x.Round, x.Station-1)
			sp.Stack, sp.Moves, sp.Sets = x.Stack, x.Moves, nil
			t.changes = append(t.changes, change{round: x.Round, station: x.Station - 1, spot: sp})
		}
	case DistanceCut:
		if _, t, _ := s.track(x.Who, x.Part, x.Round); t != nil {
			t.changes = append(t.changes, change{round: x.Round, station: x.Station - 1, distance: x.To})
		}
	case Swapped:
		if _, t, _ := s.track(x.Who, x.Part, x.Round); t != nil {
			t.changes = append(t.changes, change{round: x.Round, station: x.Station - 1, movement: x.Movement})
		}
	case LaneChanged:
		if p, t, i := s.track(x.Who, x.Part, x.Round); t != nil {
			t.changes = append(t.changes, change{round: x.Round, station: x.Station - 1, spot: x.Place})
			p.share()
			p.toLane(i, x.Place.On, x.Station-1)
		}
	default: // what is only noted: sleep, recovery
	}
}

// track returns the part, the track and the person that an event speaks of; the
// track is nil where there is none.
func (s *State) track(who string, partNo, round int) (*part, *track, int) {
	i := s.person(who)
	if i < 0 || partNo < 1 || partNo > len(s.parts) || round < 1 || round > maxRound {
		return nil, nil, -1
	}
	p := &s.parts[partNo-1]
	return p, &p.tracks[i], i
}

func (s *State) addGuest(x GuestAdded) {
	if s.person(x.Who) >= 0 {
		return
	}
	s.plan.People = append(s.plan.People, Person{Name: x.Who, Key: x.Key, Guest: true})
	s.people = append(s.people, status{left: None})
	for i := range s.parts {
		s.parts[i].tracks = append(s.parts[i].tracks, track{last: None, due: None})
	}
}

func (s *State) arrive(x Arrived) {
	i := s.person(x.Who)
	if i < 0 {
		return
	}
	s.people[i].here, s.people[i].ready = true, x.Ready
	for pi := range s.parts {
		if pi >= len(x.Places) || x.Places[pi].Heat < 1 || x.Places[pi].Heat > len(s.parts[pi].heats) {
			continue
		}
		p := &s.parts[pi]
		t := &p.tracks[i]
		t.Place, t.first, t.due = x.Places[pi], 1, x.Ready
		if pi == x.Part-1 && x.Round >= 1 && x.Round <= maxRound {
			t.first = x.Round
		}
		p.share()
		if len(t.Spots) > 0 {
			p.toLane(i, t.Spots[0].On, 0)
		}
	}
}

func (s *State) leave(x Left, t time.Duration) {
	i := s.person(x.Who)
	if i < 0 || s.people[i].left != None {
		return
	}
	s.people[i].left = t
	for pi := range s.parts {
		s.parts[pi].freeSled(i, t)
		tr := &s.parts[pi].tracks[i]
		if tr.working {
			tr.cells[tr.done].goesOn(s.stoppedAt(t)) // whoever stands stood until then
		}
		tr.working = false
	}
}
