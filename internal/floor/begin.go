package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
)

// open begins a run from its plan.
func (s *State) open(plan *Plan) {
	if plan == nil {
		return
	}
	own := *plan
	own.People = slices.Clone(plan.People) // guests are added to ours, not to the caller's,
	own.Parts = slices.Clone(plan.Parts)   // and an interval is changed in ours
	s.plan, s.on, s.first, s.over = &own, -1, None, None
	s.holds, s.out = s.holds[:0], nil
	s.people = reuse(s.people, len(own.People))
	for i, p := range own.People {
		s.people[i] = status{here: p.Here, left: None}
	}
	s.parts = reuse(s.parts, len(own.Parts))
	for pi := range own.Parts {
		pp := &own.Parts[pi]
		p := &s.parts[pi]
		*p = part{
			began: None, ended: None, again: None, rounds: pp.Spec.Rounds, limit: max(pp.Spec.Cap, pp.Spec.Time),
			heats: make([]heat, max(1, pp.Heats)), tracks: reuse(p.tracks, len(own.People)),
		}
		if pp.Spec.Format == session.Sets {
			p.rounds = pp.Spec.Sets
		}
		for i := range p.tracks {
			t := track{last: None, due: None, cells: slices.Grow(p.tracks[i].cells[:0], max(8, p.rounds)), with: p.tracks[i].with}
			if i < len(pp.Places) {
				t.Place = pp.Places[i]
			}
			if own.People[i].Here && t.Heat > 0 {
				t.first = 1
			}
			p.tracks[i] = t
		}
		p.share()
		s.makeLanes(pi)
	}
}

// reuse returns a slice of n, in the memory of the run before where that has room.
// What stood there is there still.
func reuse[T any](old []T, n int) []T { return slices.Grow(old[:0], n)[:n] }

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
	by := h.to - h.from - h.delayed
	h.delayed += by
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
	starts := append(make([]time.Duration, 0, 2+max(0, p.rounds)), c)
	switch spec.Format {
	case session.Every:
		for k := 1; k <= p.rounds; k++ {
			starts = append(starts, c+time.Duration(k)*spec.Every)
		}
	case session.Intervals:
		for k := 1; k < p.rounds; k++ {
			starts = append(starts, c+time.Duration(k)*s.period(pi))
		}
		starts = append(starts, starts[len(starts)-1]+spec.Work)
	case session.Amrap, session.WarmUp, session.Break:
		starts = append(starts, c+p.limit)
	default: // lanes keep their own clocks
		p.beginLanes(h, t)
	}
	p.heats[h].starts = starts
	for i := range p.tracks {
		if tr := &p.tracks[i]; tr.Heat == h+1 && tr.first == 1 && s.people[i].ready > t {
			tr.first = s.firstRound(pi, h+1, s.people[i].ready, t)
		}
	}
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
			tr.cells[x.Round-1] = blank()
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
// go, a cap moves. Rounds that have begun stay, and nothing ends before t.
func (s *State) lengthen(pi int, by, t time.Duration) {
	if pi < 0 || pi >= len(s.parts) {
		return
	}
	p, spec, each := &s.parts[pi], s.spec(pi), s.period(pi)
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
	case session.Amrap, session.ForTime, session.WarmUp, session.Break:
		p.limit = max(0, p.limit+by)
		least := s.clock(t)
		if !spec.Format.Pulls() {
			least += s.countIn(pi + 1)
		}
		for h := range p.heats {
			if starts := p.heats[h].starts; len(starts) == 2 {
				starts[1] = max(starts[0], starts[1]+by, min(starts[1], least))
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
