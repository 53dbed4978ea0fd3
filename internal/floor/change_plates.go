package floor

import "slices"

// handoverPlates names the plates between what stands on this sled before this person
// and what they pull.
func (s *State) handoverPlates(pi int, p *part, i int, tile *Tile) {
	from := s.beforeOn(pi, p, i, tile)
	var stands []string
	switch {
	case from == i || tile.State == TileOver:
		return
	case from >= 0:
		q := &p.tracks[from]
		k := max(1, min(len(q.cells), q.done+1))
		sp := q.spot(k, s.station(pi, q, k))
		stands, _ = sp.set(k)
	default:
		var ok bool
		if stands, ok = s.leftOn(pi, tile.Place.On); !ok {
			return // the first loading: all of the stack
		}
	}
	tile.On = without(tile.Place.Stack, stands)
	tile.Off = without(stands, tile.Place.Stack)
}

// beforeOn returns who has the sled of a tile before this person in the part, -1 for
// nobody.
func (s *State) beforeOn(pi int, p *part, i int, tile *Tile) int {
	if classClock(s.spec(pi).Format) {
		var room [8]int
		if before := s.before(pi, i, max(1, tile.Round), room[:0]); len(before) > 0 {
			return before[len(before)-1]
		}
		return -1
	}
	from := -1
	for l := range p.lanes {
		la := &p.lanes[l]
		switch n := slices.Index(la.people, i); {
		case la.on != tile.Place.On:
		case la.user >= 0 && la.user != i:
			from = la.user
		case la.last >= 0:
			from = la.last
		case n > 0: // nobody has been on it
			from = la.people[n-1]
		}
	}
	return from
}

// leftOn returns the plates that the parts before part pi left on an implement, and
// whether anybody was on it.
func (s *State) leftOn(pi int, on string) ([]string, bool) {
	for pi--; pi >= 0; pi-- {
		p := &s.parts[pi]
		last, round, free := -1, 0, None
		for i := range p.tracks {
			t := &p.tracks[i]
			h := p.heatOf(t)
			if h == nil || !classClock(s.spec(pi).Format) {
				continue
			}
			k := max(1, len(h.starts)-1)
			if t.look(k, s.station(pi, t, k)).On == on && s.in(p, i, k) &&
				(last < 0 || t.Heat > p.tracks[last].Heat || t.Heat == p.tracks[last].Heat && s.goesBefore(pi, k, last, i)) {
				last, round = i, k
			}
		}
		for l := range p.lanes {
			if la := &p.lanes[l]; la.on == on && la.last >= 0 && la.free > free {
				last, round, free = la.last, max(1, p.tracks[la.last].done), la.free
			}
		}
		if last >= 0 {
			t := &p.tracks[last]
			stack, _ := t.look(round, s.station(pi, t, round)).set(round)
			return stack, true
		}
	}
	return nil, false
}

// without returns the plates of a that b does not have, as multisets.
func without(a, b []string) []string {
	rest := slices.Clone(b)
	var out []string
	for _, p := range a {
		if i := slices.Index(rest, p); i >= 0 {
			rest = slices.Delete(rest, i, i+1)
			continue
		}
		out = append(out, p)
	}
	return out
}
