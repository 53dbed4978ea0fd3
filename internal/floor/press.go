package floor

import (
	"time"

	"hawser/internal/lanes"
	"hawser/internal/session"
)

// What a press was, in Pressed.As.
const (
	asDone  = "done"
	asStart = "start"
	asStop  = "stop"
	asGo    = "go"
	asLeg   = "leg"
	asGood  = "good"
)

// press takes a press into the round that it was found to belong to.
func (s *State) press(x Pressed, i int, t time.Duration) {
	pi := x.Part - 1
	p := &s.parts[pi]
	tr := &p.tracks[i]
	tr.last = t
	t = s.stoppedAt(t)
	switch x.As {
	case asStart:
		s.startSet(pi, p, i, x.Round, t)
	case asStop, asGo:
		if tr.working {
			c := tr.at(tr.done + 1)
			if x.As == asGo {
				c.goesOn(t)
			} else if !c.standing() {
				c.stops = append(c.stops, Span{From: t, To: None})
			}
		}
	case asLeg:
		if tr.working {
			c := tr.at(tr.done + 1)
			c.goesOn(t)
			c.legs = append(c.legs, t)
			if len(c.legs) >= s.legs(pi, i) {
				s.finishLane(pi, p, i, t)
			}
		}
	default:
		switch f := s.spec(pi).Format; {
		case f == session.Amrap:
			start := s.amrapStart(pi, i, t)
			*tr.at(x.Round) = cell{start: start, press: t, due: None}
		case classClock(f):
			tr.at(x.Round).press = t
		default:
			s.finishLane(pi, p, i, t)
		}
	}
}

// startSet begins a set or an attempt at t.
func (s *State) startSet(pi int, p *part, i, round int, t time.Duration) {
	tr := &p.tracks[i]
	if tr.working || round != tr.done+1 {
		return
	}
	c := tr.at(round)
	c.start = t
	if tr.done > 0 {
		c.due = tr.due
	}
	tr.working = true
	if len(tr.Spots) > 0 {
		l := p.laneOf(tr.spot(round, s.station(pi, tr, round)).On, tr.Heat)
		if l.last >= 0 && l.last != i && c.due != None { // due, and somebody was on it still
			c.waited = max(0, min(l.free, t)-c.due)
		}
		l.user = i
	}
}

// miss ends the attempt or set that runs as missed, or else marks the one before.
func (s *State) miss(x AttemptMissed, i int, t time.Duration) {
	p := &s.parts[x.Part-1]
	tr := &p.tracks[i]
	if tr.working && x.Round == tr.done+1 {
		s.finishLane(x.Part-1, p, i, t)
	}
	if x.Round <= len(tr.cells) {
		tr.cells[x.Round-1].missed = true
		tr.cells[x.Round-1].metres = x.At
	}
}

// typeIn takes a split by hand, or a round that was done with no time. On a lane
// clock a round that still runs ends with it.
func (s *State) typeIn(x Typed, i int, t time.Duration) {
	pi := x.Part - 1
	p := &s.parts[pi]
	tr := &p.tracks[i]
	if tr.working && x.Round == tr.done+1 {
		end := t
		if !x.NoTime {
			end = min(t, tr.cells[tr.done].start+x.Work)
		}
		s.finishLane(pi, p, i, end)
	}
	c := tr.at(x.Round)
	c.typed, c.noTime, c.work, c.missed, c.struck = !x.NoTime, x.NoTime, x.Work, false, false
}

// legs returns the legs of a person's long pull, at least one.
func (s *State) legs(pi, i int) int {
	if d := s.parts[pi].tracks[i].distance(1, 0); d > 0 {
		legs, _ := lanes.Lengths(d, s.plan.Kit.Strip.Length)
		return max(1, legs)
	}
	if st := s.plan.Parts[pi].Stations; len(st) > 0 {
		return max(1, st[0].Legs)
	}
	return 1
}

// amrapStart returns the room time at which the round that is pressed at t began:
// the own press before, or, where a sled is shared, the handover after whoever
// pressed last on it.
func (s *State) amrapStart(pi, i int, t time.Duration) time.Duration {
	p := &s.parts[pi]
	tr := &p.tracks[i]
	h := p.heatOf(tr)
	if h == nil {
		return None
	}
	start := max(s.room(h.starts[0], t), s.people[i].ready)
	k := tr.open()
	for i := range tr.cells {
		start = max(start, tr.cells[i].press)
	}
	mine := tr.look(k, s.station(pi, tr, k))
	for _, j := range tr.with {
		q := &p.tracks[j]
		for n := len(q.cells); n >= 1; n-- { // their last on this sled: they may be at the next station by now
			sp, press := q.look(n, s.station(pi, q, n)), q.cells[n-1].press
			if sp.On != mine.On || press == None {
				continue
			}
			if press > start {
				start = min(press+s.handover(pi, q, n, sp, mine), t)
			}
			break
		}
	}
	if p.again != None && p.again > start && p.again <= t {
		start = p.again
	}
	return start
}

// turn returns whose round it is on a shared implement of an amrap part: the one
// after whoever pressed last, or the first.
func (s *State) turn(pi, i int) int {
	p := &s.parts[pi]
	if len(s.plan.Parts[pi].Stations) > 1 && s.spec(pi).PressAt == "station" {
		return i // people move through the stations: nobody waits for a whole round of another
	}
	var room [8]int
	sharers := s.sharers(pi, i, room[:0])
	lastAt, last := None, -1
	for n, j := range sharers {
		if c := p.tracks[j].cells; len(c) > 0 && c[len(c)-1].press > lastAt {
			lastAt, last = c[len(c)-1].press, n
		}
	}
	return sharers[(last+1)%len(sharers)]
}

// sharers appends everyone who is in and on the same implement as i, i too, by order.
func (s *State) sharers(pi, i int, dst []int) []int {
	p := &s.parts[pi]
	mine := p.tracks[i].spot(len(p.tracks[i].cells)+1, 0)
	for j := range p.tracks {
		q := &p.tracks[j]
		sp := q.spot(len(q.cells)+1, 0)
		if j != i && (q.Heat != p.tracks[i].Heat || !s.Here(j) || q.first < 1 || sp.On != mine.On) {
			continue
		}
		at := len(dst)
		dst = append(dst, j)
		for ; at > 0 && p.tracks[dst[at-1]].order() > p.tracks[j].order(); at-- {
			dst[at-1], dst[at] = dst[at], dst[at-1]
		}
	}
	return dst
}

// openRound returns the round of a person that a press given to them ends.
func (s *State) openRound(who string, partNo, round int) int {
	i := s.person(who)
	if i < 0 || partNo < 1 || partNo > len(s.parts) {
		return round
	}
	t := &s.parts[partNo-1].tracks[i]
	switch f := s.spec(partNo - 1).Format; {
	case f == session.Amrap:
		return t.open()
	case classClock(f):
		return round
	default:
		return t.done + 1
	}
}
