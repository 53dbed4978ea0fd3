package floor

import "time"

// hold is a stretch of room time in which the session clock stands: from the
// coach's stop to the end of the count-in. to is None while nobody has resumed.
type hold struct {
	from, to time.Duration
	at       time.Duration // the session clock, which stands
	delayed  time.Duration // by how much it has put off the GO that it came before
}

// held reports whether the clock stands at room time t.
func (s *State) held(t time.Duration) bool {
	h := s.lastHold()
	return h != nil && t >= h.from && (h.to == None || t < h.to)
}

func (s *State) lastHold() *hold {
	if len(s.holds) == 0 {
		return nil
	}
	return &s.holds[len(s.holds)-1]
}

// clock returns the session clock at room time t: t without the holds before it.
func (s *State) clock(t time.Duration) time.Duration {
	for i := len(s.holds) - 1; i >= 0; i-- {
		switch h := &s.holds[i]; {
		case t < h.from:
		case h.to == None || t < h.to:
			return h.at
		default:
			return h.at + t - h.to
		}
	}
	return t
}

// room returns the room time at which the session clock reads c, as seen from
// now: a hold that still lasts is counted up to now. The instant at which the
// clock was stopped is taken to come when it runs again.
func (s *State) room(c, now time.Duration) time.Duration {
	for i := len(s.holds) - 1; i >= 0; i-- {
		h := &s.holds[i]
		if c < h.at {
			continue
		}
		to := h.to
		if to == None {
			to = max(now, h.from)
		}
		return to + c - h.at
	}
	return c
}

// afterHold returns t, or the end of the hold that t falls into; None where that
// hold still lasts.
func (s *State) afterHold(t time.Duration) time.Duration {
	for i := range s.holds {
		if h := &s.holds[i]; t >= h.from && (h.to == None || t < h.to) {
			return h.to
		}
	}
	return t
}

// stoppedAt returns t, or the instant of the hold that t falls into: what is
// pressed while the clock stands is over since then.
func (s *State) stoppedAt(t time.Duration) time.Duration {
	for i := range s.holds {
		if h := &s.holds[i]; t >= h.from && (h.to == None || t < h.to) {
			return h.from
		}
	}
	return t
}

// worked returns the time on the session clock between two room times.
func (s *State) worked(from, to time.Duration) time.Duration {
	return max(0, s.clock(to)-s.clock(from))
}
