package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
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
		s.log, s.dead, s.private = s.log[:0], s.dead[:0], nil
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
		s.lengthen(x.Part-1, x.By)
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
			p.toLane(i, x.Place.On, x.Station-1)
		}
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

// open begins a run from its plan.
func (s *State) open(plan *Plan) {
	if plan == nil {
		return
	}
	own := *plan
	own.People = slices.Clone(plan.People) // guests are added to ours, not to the caller's
	s.plan, s.on, s.first, s.over = &own, -1, None, None
	s.holds, s.out = s.holds[:0], nil
	s.people = make([]status, len(own.People))
	for i, p := range own.People {
		s.people[i] = status{here: p.Here, left: None}
	}
	s.parts = make([]part, len(own.Parts))
	for pi := range own.Parts {
		pp := &own.Parts[pi]
		p := &s.parts[pi]
		p.began, p.ended, p.again = None, None, None
		p.rounds, p.limit = pp.Spec.Rounds, pp.Spec.Cap
		if pp.Spec.Format == session.Sets {
			p.rounds = pp.Spec.Sets
		}
		p.heats = make([]heat, max(1, pp.Heats))
		p.tracks = make([]track, len(own.People))
		for i := range p.tracks {
			t := track{last: None, due: None}
			if i < len(pp.Places) {
				t.Place = pp.Places[i]
			}
			if own.People[i].Here && t.Heat > 0 {
				t.first = 1
			}
			t.cells = make([]cell, 0, max(8, p.rounds))
			p.tracks[i] = t
		}
		s.makeLanes(pi)
	}
}

func (s *State) start(x Started, t time.Duration) {
	pi := x.Part - 1
	if pi < 0 || pi >= len(s.parts) || s.parts[pi].began != None {
		return
	}
	at := max(t, x.At)
	if s.on >= 0 && s.parts[s.on].ended == None {
		s.parts[s.on].ended = t
	}
	s.on, s.parts[pi].began = pi, at
	if s.first == None {
		s.first = at
	}
	s.beginHeat(pi, 0, at)
}

// delay moves a GO that a hold in its count-in has put off.
func (s *State) delay(h *hold) {
	p := s.current()
	if p == nil || p.began <= h.from {
		return
	}
	by := h.to - h.from
	if s.first == p.began {
		s.first += by
	}
	p.began += by
	for i := range p.tracks {
		if p.tracks[i].due != None {
			p.tracks[i].due += by
		}
	}
	for l := range p.lanes {
		p.lanes[l].free += by
	}
}

// runs reports whether the clock of a part has begun by room time t.
func (s *State) runs(p *part, t time.Duration) bool {
	return p.began != None && s.clock(t) >= p.heats[0].starts[0]
}

// beginHeat lays out the class clock of a heat that begins at room time t. A
// heat may begin at an instant that has not come yet.
func (s *State) beginHeat(pi, h int, t time.Duration) {
	if pi < 0 || pi >= len(s.parts) || h < 0 || h >= len(s.parts[pi].heats) {
		return
	}
	p, spec := &s.parts[pi], s.spec(pi)
	c := s.clock(t)
	starts := []time.Duration{c}
	switch spec.Format {
	case session.Every:
		for k := 1; k <= p.rounds; k++ {
			starts = append(starts, c+time.Duration(k)*spec.Every)
		}
	case session.Intervals:
		for k := 1; k < p.rounds; k++ {
			starts = append(starts, c+time.Duration(k)*(spec.Work+spec.Rest))
		}
		starts = append(starts, starts[len(starts)-1]+spec.Work)
	case session.Amrap:
		starts = append(starts, c+p.limit)
	default: // lanes keep their own clocks
		p.beginLanes(h, t)
	}
	p.heats[h].starts = starts
}

// restart is "again": the round from zero, its clock at x.At. Whatever was
// pressed in it does not count; later rounds move with it.
func (s *State) restart(x Restarted, t time.Duration) {
	pi := x.Part - 1
	if pi < 0 || pi >= len(s.parts) {
		return
	}
	if h := s.lastHold(); h != nil && (h.to == None || t < h.to) {
		h.to = max(t, x.At)
	} else {
		s.holds = append(s.holds, hold{from: t, to: max(t, x.At), at: s.clock(t)})
	}
	p := &s.parts[pi]
	at := max(t, x.At)
	if !classClock(s.spec(pi).Format) {
		p.restartLanes(at)
		return
	}
	if s.spec(pi).Format == session.Amrap {
		p.again = at
		return
	}
	h := p.heatOn()
	starts := p.heats[h].starts
	if x.Round < 1 || x.Round >= len(starts) {
		return
	}
	shift := s.clock(at) - starts[x.Round-1]
	for k := x.Round - 1; k < len(starts); k++ {
		starts[k] += shift
	}
	for i := range p.tracks {
		if tr := &p.tracks[i]; tr.Heat == h+1 && x.Round <= len(tr.cells) {
			struck := tr.cells[x.Round-1].struck
			tr.cells[x.Round-1] = empty
			tr.cells[x.Round-1].struck = struck
		}
	}
}

// heatOn returns the index of the heat that began last.
func (p *part) heatOn() int {
	for h := len(p.heats) - 1; h > 0; h-- {
		if len(p.heats[h].starts) > 0 {
			return h
		}
	}
	return 0
}

// endPart ends a part at t, wherever it stood.
func (s *State) endPart(pi int, t time.Duration) {
	if pi >= 0 && pi < len(s.parts) && s.parts[pi].ended == None && s.parts[pi].began != None {
		s.parts[pi].ended = t
	}
}

// lengthen moves the end of a part: rounds of an every or intervals part come or
// go, a cap moves. Rounds that have begun stay.
func (s *State) lengthen(pi int, by time.Duration) {
	if pi < 0 || pi >= len(s.parts) {
		return
	}
	p, spec := &s.parts[pi], s.spec(pi)
	each := spec.Every
	if spec.Format == session.Intervals {
		each = spec.Work + spec.Rest
	}
	switch spec.Format {
	case session.Every, session.Intervals:
		p.rounds = min(max(1, p.rounds+roundsIn(by, each)), maxRound)
		for h := range p.heats {
			p.heats[h].resize(p.rounds, each, spec.Work, spec.Format)
		}
	case session.Ratio, session.Sets, session.Ramp, session.LongPull:
		if p.limit > 0 {
			p.limit = max(0, p.limit+by)
		}
	case session.Amrap, session.ForTime:
		p.limit = max(0, p.limit+by)
		for h := range p.heats {
			if starts := p.heats[h].starts; len(starts) == 2 {
				starts[1] = max(starts[0], starts[1]+by)
			}
		}
	}
}

// roundsIn returns how many rounds a stretch of time is, away from zero.
func roundsIn(by, each time.Duration) int {
	if each <= 0 {
		return 0
	}
	if by < 0 {
		return -int((each - 1 - by) / each)
	}
	return int((by + each - 1) / each)
}

// resize gives a heat that has begun n rounds.
func (h *heat) resize(n int, each, work time.Duration, f session.Format) {
	if len(h.starts) == 0 {
		return
	}
	had := len(h.starts) - 1
	last := h.starts[had-1]
	for had < n {
		last += each
		h.starts = append(h.starts[:had], last, 0)
		had++
	}
	h.starts = h.starts[:n+1]
	length := each
	if f == session.Intervals {
		length = work
	}
	h.starts[n] = h.starts[n-1] + length
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
		s.parts[pi].tracks[i].working = false
	}
}
