package floor

import (
	"time"

	"hawser/internal/session"
)

// onSled returns who a press on that sled is for at t: whoever works on it, else
// whoever is next to; -1 for nobody.
func (s *State) onSled(on string, t time.Duration) int {
	pi := s.on
	if pi > 0 && !s.spec(pi).Format.Pulls() { // the last round before it may still be finished late
		pi--
	}
	if pi < 0 {
		return -1
	}
	p := s.view(pi, t)
	if classClock(s.spec(pi).Format) {
		return s.onSledByClass(pi, on, t)
	}
	for l := range p.lanes {
		la := &p.lanes[l]
		if la.on != on {
			continue
		}
		if la.user >= 0 {
			return la.user
		}
		best := -1
		for _, i := range la.people {
			if s.Here(i) && !s.through(pi, p, i) && (best < 0 || p.tracks[i].done < p.tracks[best].done) {
				best = i
			}
		}
		if best >= 0 {
			return best
		}
	}
	return -1
}

// onSledByClass is onSled where the class has one clock: the last whose own start
// has come and whose round is open, else the last whose round before is.
func (s *State) onSledByClass(pi int, on string, t time.Duration) int {
	p := &s.parts[pi]
	c := s.clock(t)
	best, bestStart, only := -1, None, -1
	for i := range p.tracks {
		tr := &p.tracks[i]
		h := p.heatOf(tr)
		if h == nil || !s.Here(i) {
			continue
		}
		if s.spec(pi).Format == session.Amrap {
			if sp := tr.spot(len(tr.cells)+1, 0); sp.On == on {
				return s.turn(pi, i)
			}
			continue
		}
		now := h.roundAt(c)
		for k := min(now, len(h.starts)-1); k >= max(1, now-1); k-- {
			if tr.look(k, s.station(pi, tr, k)).On != on {
				continue
			}
			only = i
			if !s.open1(pi, i, k) {
				continue
			}
			if own := s.ownStart(pi, i, k); own <= c && own > bestStart {
				best, bestStart = i, own
			}
		}
	}
	if best < 0 {
		return only
	}
	return best
}
