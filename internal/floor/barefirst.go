package floor

import (
	"time"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Offer is a heavier load that the tool proposes and the coach may take: By more than
// stands there now, from Round on.
type Offer struct {
	Round     int
	Stack     []string
	Moves, By measure.Mass
}

// BareFirst returns what is proposed for the next round of somebody of whom nothing
// is known, and who so began with the empty sled: one step more, as near as the free
// plates come to it, while their last split at that station stayed well under the
// expected work. It is nil for everybody else, once the coach has changed that load,
// and in any part but the one that is on. part counts from 1.
func (s *State) BareFirst(part, person int, now time.Duration) *Offer {
	pi := part - 1
	if s.plan == nil || pi != s.on || pi < 0 || person < 0 || person >= len(s.people) || !s.Here(person) {
		return nil
	}
	spec, p := s.spec(pi), &s.parts[pi]
	t := &p.tracks[person]
	if p.ended != None || spec.Format == session.Ramp || t.first < 1 || !s.beganBare(pi, t) {
		return nil
	}
	next := s.fresh(pi, person, now)
	st := s.station(pi, t, next)
	k := min(next-1, len(t.cells))
	for ; k >= 1; k-- {
		if _, ok := s.split(pi, person, k); ok && s.station(pi, t, k) == st {
			break
		}
	}
	was, then := t.look(k, st), t.look(next, st)
	if k < 1 || p.rounds > 0 && next > p.rounds || was == nil || was.Asked > 0 {
		return nil
	}
	_, moves := was.set(k)
	work, _ := s.split(pi, person, k)
	want := load.BareFirst(moves, work, s.expected(pi, person, k))
	if _, stands := then.set(next); want <= moves || stands != moves {
		return nil
	}
	more, ok := s.nearest(pi, person, next, st, want)
	if !ok || more.Moves <= moves {
		return nil
	}
	return &Offer{Round: next, Stack: more.Stack, Moves: more.Moves, By: more.Moves - moves}
}

// beganBare reports whether at some station of a part nothing was known to ask of a
// person, though the session asks for a load.
func (s *State) beganBare(pi int, t *track) bool {
	for st := range s.spec(pi).Stations {
		if st < len(t.Spots) && len(s.spec(pi).Stations[st].Loads) > 0 && t.Spots[st].Asked == 0 && t.Spots[st].On != "" {
			return true
		}
	}
	return false
}

// lastSplit is the last round of a person that has a split, 0 for none.
func (s *State) lastSplit(pi int, t *track, i int) int {
	for k := len(t.cells); k >= 1; k-- {
		if _, ok := s.split(pi, i, k); ok {
			return k
		}
	}
	return 0
}
