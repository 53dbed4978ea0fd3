package floor

import (
	"cmp"
	"slices"
	"time"

	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// classClock reports whether all lanes of a format share the clock of the class.
func classClock(f session.Format) bool {
	return f == session.Every || f == session.Amrap || f == session.Intervals || !f.Pulls()
}

// roundAt returns the round of the class at session time c: 0 before the first,
// one more than there are from the end on.
func (h *heat) roundAt(c time.Duration) int {
	k, _ := slices.BinarySearch(h.starts, c+1)
	return k
}

// heatOf returns the heat of a track, or nil where they stand in none that began.
func (p *part) heatOf(t *track) *heat {
	if t.Heat < 1 || t.Heat > len(p.heats) || len(p.heats[t.Heat-1].starts) == 0 {
		return nil
	}
	return &p.heats[t.Heat-1]
}

// late returns the policy in force.
func (s *State) late(pi int) session.Late {
	if l := s.spec(pi).Late; l != "" {
		return l
	}
	return session.Late(s.plan.House.Late)
}

// in reports whether a person takes part in round k of the class.
func (s *State) in(p *part, i, k int) bool {
	t := &p.tracks[i]
	if t.Heat < 1 || t.Heat > len(p.heats) || t.first < 1 || k < t.first || k > max(1, p.rounds) {
		return false
	}
	h := p.heatOf(t)
	if h == nil { // a heat that has not begun
		return s.Here(i)
	}
	left := s.people[i].left
	return left == None || s.clock(left) > h.starts[k-1]
}

// deadline returns the session time at which T of round k is over. A round that
// was begun again moves the next start, not the end of the one before.
func (s *State) deadline(pi int, h *heat, k int) time.Duration {
	return h.starts[k-1] + s.interval(pi, h, k)
}

// lateBy returns how far after the end of T round k was finished; 0 in time. A
// round that was struck later still took the start after it.
func (s *State) lateBy(pi, i, k int) time.Duration {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	if h == nil || k < 1 || k >= len(h.starts) {
		return 0
	}
	end, ok := s.finish(pi, i, k)
	if !ok {
		return 0
	}
	if by := end - s.deadline(pi, h, k); by > s.plan.House.LateGrace {
		return by
	}
	return 0
}

// finish returns the session time at which round k was finished.
func (s *State) finish(pi, i, k int) (time.Duration, bool) {
	switch c := s.parts[pi].tracks[i].get(k); {
	case c.typed:
		return s.ownStart(pi, i, k) + c.work, true
	case c.press != None:
		return s.clock(c.press), true
	default:
		return 0, false
	}
}

// has reports whether anything of a round was done.
func (c cell) has() bool { return c.press != None || c.typed || c.noTime }

// satOut reports whether a late finish of the round before took the start of
// round k.
func (s *State) satOut(pi, i, k int) bool {
	policy := s.late(pi)
	if k < 2 || s.spec(pi).Format != session.Every || policy != session.SitOut && policy != session.StopThem {
		return false
	}
	c := s.parts[pi].tracks[i].get(k)
	return !c.has() && !c.struck && s.lateBy(pi, i, k-1) > 0
}

// ownStart returns the session time at which one person's round k starts: that of
// the class, or on a shared implement when those before should be, and are, done.
func (s *State) ownStart(pi, i, k int) time.Duration {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	if h == nil || k < 1 || k > len(h.starts) {
		return None
	}
	var room [8]int
	before := s.before(pi, i, k, room[:0])
	start := h.starts[k-1] + s.turns(pi, i, k, before)
	if len(before) > 0 && s.spec(pi).Format == session.Every {
		start = s.pushed(pi, i, k, before[len(before)-1], start)
	}
	if s.spec(pi).Format == session.Every && s.late(pi) != session.SitOut && s.late(pi) != session.StopThem && s.lateBy(pi, i, k-1) > 0 {
		end, _ := s.finish(pi, i, k-1)
		start = max(start, end)
	}
	return start
}

// turns is how long those before a person on the same implement should take in
// round k, with the handovers.
func (s *State) turns(pi, i, k int, before []int) time.Duration {
	p := &s.parts[pi]
	at := func(j int) *Spot { return p.tracks[j].look(k, s.station(pi, &p.tracks[j], k)) }
	sum := time.Duration(0)
	for n, j := range before {
		next := i
		if n+1 < len(before) {
			next = before[n+1]
		}
		sum += s.expected(pi, j, k) + s.handover(pi, &p.tracks[j], k, at(j), at(next))
	}
	return sum
}

// pushed moves a start behind the press of the person before on the same sled,
// where that press came later than planned and before the own one.
func (s *State) pushed(pi, i, k, j int, start time.Duration) time.Duration {
	p := &s.parts[pi]
	c := p.tracks[j].get(k)
	if c.press == None || c.typed {
		return start
	}
	q, t := &p.tracks[j], &p.tracks[i]
	qs := s.station(pi, q, k)
	from, to := q.look(k, qs), t.look(k, s.station(pi, t, k))
	free := s.clock(c.press) + s.handover(pi, q, k, from, to)
	if own := t.get(k); own.press != None && s.clock(own.press) < free {
		return start
	}
	return max(start, free)
}

// before appends those who go before a person on the same implement in round k, in
// their order.
func (s *State) before(pi, i, k int, dst []int) []int {
	p := &s.parts[pi]
	t := &p.tracks[i]
	on := t.look(k, s.station(pi, t, k)).On
	for _, j := range t.with {
		q := &p.tracks[j]
		if q.look(k, s.station(pi, q, k)).On != on || !s.goesBefore(pi, k, j, i) || !s.in(p, j, k) {
			continue
		}
		at := len(dst)
		for at > 0 && s.goesBefore(pi, k, j, dst[at-1]) {
			at--
		}
		dst = slices.Insert(dst, at, j)
	}
	return dst
}

// goesBefore orders two people on one implement in round k: by station, then by
// their order there, then by list.
func (s *State) goesBefore(pi, k, a, b int) bool {
	first, second := &s.parts[pi].tracks[a], &s.parts[pi].tracks[b]
	sa, sb := s.station(pi, first, k), s.station(pi, second, k)
	return cmp.Or(sa-sb, first.look(k, sa).Order-second.look(k, sb).Order, a-b) < 0
}

// handover is the time to change people and plates on one implement, after round k
// of whoever leaves it: from and to are how it stands there and how it comes to stand.
func (s *State) handover(pi int, leaves *track, k int, from, to *Spot) time.Duration {
	h := s.plan.House
	return h.HandoverBase + time.Duration(moved(from, to))*h.HandoverPlate + s.back(pi, leaves, k)
}

// back is the way that the sled of round k stands from where the next one starts.
func (s *State) back(pi int, t *track, k int) time.Duration {
	station := s.station(pi, t, k)
	pp := &s.plan.Parts[pi]
	if station >= len(pp.Stations) || station >= len(pp.Spec.Stations) {
		return 0
	}
	st, spec := &pp.Stations[station], &pp.Spec.Stations[station]
	name := s.movement(pi, t, k, station)
	if name == spec.Movement || spec.Time > 0 {
		return st.Return
	}
	m, _ := movement.Find(name)
	return lanes.Back(m, spec.Distance, st.Legs, s.plan.House.RopeLay)
}

// moved returns the plates to take off and put on between two spots on one
// implement, on all its ends.
func moved(from, to *Spot) int {
	diff := 0
	for i, stamp := range from.Stack {
		if n := count(from.Stack, stamp); count(from.Stack[:i], stamp) == 0 {
			diff += max(0, n-count(to.Stack, stamp))
		}
	}
	for i, stamp := range to.Stack {
		if n := count(to.Stack, stamp); count(to.Stack[:i], stamp) == 0 {
			diff += max(0, n-count(from.Stack, stamp))
		}
	}
	return diff * max(1, to.Ends)
}

func count(stack []string, stamp string) int {
	n := 0
	for _, p := range stack {
		if p == stamp {
			n++
		}
	}
	return n
}

// split returns the work of round k, and whether it has one.
func (s *State) split(pi, i, k int) (time.Duration, bool) {
	t := &s.parts[pi].tracks[i]
	c := t.get(k)
	switch {
	case c.struck || c.noTime:
		return 0, false
	case c.typed:
		return c.work, true
	case c.press == None:
		return 0, false
	case s.spec(pi).Format == session.Every:
		return max(0, s.clock(c.press)-s.ownStart(pi, i, k)), true
	case c.start == None:
		return 0, false
	default:
		return s.worked(c.start, c.press), true
	}
}

// median returns the median of a person's kept splits at a station, over rounds
// 1 to last; n is how many there were. Fast enough to do anew.
func (s *State) median(pi, i, station, last int) (m time.Duration, n int) {
	var room [32]time.Duration
	splits := room[:0]
	t := &s.parts[pi].tracks[i]
	for k := 1; k <= min(last, len(t.cells)); k++ {
		if s.station(pi, t, k) != station {
			continue
		}
		if w, ok := s.split(pi, i, k); ok {
			splits = append(splits, w)
		}
	}
	if n = len(splits); n == 0 {
		return 0, 0
	}
	slices.Sort(splits)
	return (splits[(n-1)/2] + splits[n/2]) / 2, n
}

// shareOf returns that share of a time, rounded down to 1 ns.
func shareOf(sh measure.Share, d time.Duration) time.Duration {
	return time.Duration(int64(d)/int64(measure.Whole)*int64(sh) + int64(d)%int64(measure.Whole)*int64(sh)/int64(measure.Whole))
}
