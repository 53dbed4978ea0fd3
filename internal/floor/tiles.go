package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
)

// Tiles appends a tile for each person who has a place in part partNo, from 1, as
// they stand at room time now, in the order of the people.
func (s *State) Tiles(dst []Tile, partNo int, now time.Duration) []Tile {
	pi := partNo - 1
	if s.plan == nil || pi < 0 || pi >= len(s.parts) {
		return dst
	}
	start := s.nextStart(pi, now)
	p := s.view(pi, now)
	for i := range p.tracks {
		t := &p.tracks[i]
		tile := Tile{Person: i, Heat: t.Heat, Since: None, Due: None, Last: None, Margin: None}
		switch {
		case s.people[i].left != None && s.people[i].left <= now:
			tile.State = TileLeft
		case !s.people[i].here || t.Heat == 0:
			tile.State = TileAway
		case start != None && t.Heat == 1:
			s.readyTile(pi, i, start, &tile)
		case classClock(s.spec(pi).Format):
			s.classTile(pi, i, now, &tile)
		default:
			s.laneTile(pi, p, i, now, &tile)
		}
		if here := tile.State != TileLeft && tile.State != TileAway; here && p.ended != None && (s.over != None || s.spec(pi).Format != session.Every) {
			tile.State, tile.Since, tile.Due, tile.Ahead = TileOver, None, None, 0
		}
		s.dress(pi, p, i, &tile)
		tile.More = s.BareFirst(partNo, i, now)
		dst = append(dst, tile)
	}
	return dst
}

// nextStart returns when a part will start that comes next or is counted in to, None
// for any other.
func (s *State) nextStart(pi int, now time.Duration) time.Duration {
	switch {
	case s.on < 0 || s.over != None:
		return None
	case pi == s.on:
		if first := s.parts[pi].heats[0].starts[0]; s.clock(now) < first {
			return s.room(first, now)
		}
		return None
	case pi != s.on+1:
		return None
	}
	what, at := s.nextByClock(now)
	if what == partBegins || what == partEnds && s.changeover(s.on) == 0 {
		return at
	}
	return None
}

// readyTile is the state of a person in a part that starts next, at start.
func (s *State) readyTile(pi, i int, start time.Duration, tile *Tile) {
	p, spec := &s.parts[pi], s.spec(pi)
	tile.Round, tile.Rounds, tile.State, tile.Due = 1, p.rounds, TileReady, start
	switch spec.Format {
	case session.Every, session.Intervals:
		each := s.period(pi)
		tile.Round += roundsIn(max(0, s.people[i].ready-start), each)
		var room [8]int
		tile.Due += time.Duration(tile.Round-1)*each + s.turns(pi, i, tile.Round, s.before(pi, i, tile.Round, room[:0]))
	default:
		if p.tracks[i].order() > 0 {
			tile.State, tile.Due = TileIdle, None
		} else {
			tile.Due = max(start, s.people[i].ready)
		}
	}
}

// dress adds what stands on the sled now and next, and the last split.
func (s *State) dress(pi int, p *part, i int, tile *Tile) {
	t := &p.tracks[i]
	k := max(1, tile.Round)
	st := s.station(pi, t, k)
	tile.Station, tile.Place = st+1, t.spot(k, st)
	tile.Place.Stack, tile.Place.Moves = tile.Place.set(k)
	if tile.State != TileOver && tile.State != TileLeft && (tile.Rounds == 0 || k < tile.Rounds) {
		nst := s.station(pi, t, k+1)
		next := t.spot(k+1, nst)
		next.Stack, next.Moves = next.set(k + 1)
		tile.Next = &next
	}
	if k := s.lastSplit(pi, t, i); k > 0 {
		tile.Last, _ = s.split(pi, i, k)
		if h := p.heatOf(t); h != nil && s.spec(pi).Format == session.Every {
			end, _ := s.finish(pi, i, k)
			tile.Margin = s.deadline(pi, h, k) - end
		}
	}
	s.handoverPlates(pi, p, i, tile)
}

// classTile is the state of a person under the clock of the class.
func (s *State) classTile(pi, i int, now time.Duration, tile *Tile) {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	if h == nil {
		tile.Round, tile.Rounds = 1, p.rounds
		return
	}
	c, last := s.clock(now), len(h.starts)-1
	if s.spec(pi).Format == session.Amrap {
		s.amrapTile(pi, i, now, tile)
		return
	}
	k := h.roundAt(c)
	tile.Rounds, tile.Round = last, min(max(1, k), last)
	switch {
	case k < 1:
		tile.State, tile.Due = TileReady, s.room(h.starts[0], now)
	case k > last:
		tile.State = TileOver
		if s.openLate(pi, i, now) {
			tile.State, tile.Since = TileWork, s.room(s.ownStart(pi, i, last), now)
		}
	case k < t.first:
		tile.State, tile.Round = TileReady, t.first
		if t.first <= last {
			tile.Due = s.room(h.starts[t.first-1], now)
		}
	case s.satOut(pi, i, k):
		tile.State, tile.Due = TileSatOut, s.room(h.starts[k], now)
	default:
		s.roundTile(pi, i, k, now, tile)
	}
}

// roundTile is the state of a person within round k that they are in.
func (s *State) roundTile(pi, i, k int, now time.Duration, tile *Tile) {
	h := s.parts[pi].heatOf(&s.parts[pi].tracks[i])
	own := s.ownStart(pi, i, k)
	cell := s.parts[pi].tracks[i].get(k)
	c := s.clock(now)
	bout := s.spec(pi).Format == session.Intervals
	switch {
	case cell.has() || cell.struck || bout && c >= own+s.spec(pi).Work:
		tile.State = TileDone
		if k < len(h.starts)-1 {
			tile.Due = s.room(s.ownStart(pi, i, k+1), now)
		} else {
			tile.State = TileOver
		}
	case c < own:
		tile.State, tile.Due = TileReady, s.room(own, now)
		if before := s.ownStart(pi, i, k-1); s.open1(pi, i, k-1) && !bout {
			tile.Round = k - 1
			if before <= c {
				tile.State, tile.Since, tile.Due = TileWork, s.room(before, now), None
			} else { // a sled with more people than fit into T: their turn is still to come
				tile.Due = s.room(before, now)
			}
		}
	default:
		tile.State, tile.Since = TileWork, s.room(own, now)
	}
}

// amrapTile is the state of a person in most rounds.
func (s *State) amrapTile(pi, i int, now time.Duration, tile *Tile) {
	p := &s.parts[pi]
	t := &p.tracks[i]
	h := p.heatOf(t)
	c := s.clock(now)
	tile.Round = t.open()
	switch {
	case c < h.starts[0]:
		tile.State, tile.Due = TileReady, s.room(h.starts[0], now)
	case c >= h.starts[1]:
		tile.State = TileOver
	case now < s.people[i].ready:
		tile.State, tile.Due = TileReady, s.people[i].ready
	case s.turn(pi, i) != i:
		tile.State, tile.Ahead = TileWait, s.ahead(pi, i)
	default:
		tile.State, tile.Since = TileWork, s.amrapStart(pi, i, now)
	}
}

// ahead is how many who share i's sled in most rounds pull before i does.
func (s *State) ahead(pi, i int) int {
	var room [8]int
	sharers := s.sharers(pi, i, room[:0])
	n := len(sharers)
	return (slices.Index(sharers, i) - slices.Index(sharers, s.turn(pi, i)) + n) % n
}

// laneTile is the state of a person on a lane clock.
func (s *State) laneTile(pi int, p *part, i int, now time.Duration, tile *Tile) {
	t := &p.tracks[i]
	tile.Round, tile.Rounds = t.done+1, p.rounds
	if s.spec(pi).Format == session.LongPull {
		tile.AllLegs = s.legs(pi, i)
		tile.Legs = len(t.get(max(1, min(tile.Round, len(t.cells)))).legs)
	}
	switch {
	case s.through(pi, p, i):
		tile.State, tile.Round = TileOver, max(1, t.done)
	case t.working:
		c := t.cells[t.done]
		tile.State, tile.Since = TileWork, c.start
		if n := len(c.stops); n > 0 && c.stops[n-1].To == None {
			tile.State, tile.Since = TileStop, c.stops[n-1].From
		}
	case t.due == None:
		tile.State = TileIdle
	default:
		s.restTile(pi, p, i, now, tile)
	}
}

// restTile is the state of a person on a lane clock who rests, or waits.
func (s *State) restTile(pi int, p *part, i int, now time.Duration, tile *Tile) {
	t := &p.tracks[i]
	tile.State, tile.Due = TileRest, t.due
	if selfStarting(s.spec(pi).Format) {
		tile.Due = s.dueAt(pi, p, i)
		for l := range p.lanes {
			la := &p.lanes[l]
			if !slices.Contains(la.people, i) {
				continue
			}
			if tile.Due != None && tile.Due <= now {
				tile.State = TileWait
			}
			if j, at := s.nextOn(pi, p, la); la.user < 0 && j == i && at != None {
				tile.Due = at
			}
		}
		return
	}
	if t.due <= now {
		tile.State = TileReady
	}
}
