package floor

import (
	"slices"
	"time"

	"hawser/internal/kit"
)

// decideMove takes a person to another implement from the first round not yet begun.
func (s *State) decideMove(i int, on string, t time.Duration) ([]Event, error) {
	pi, err := s.partAhead(i)
	if err != nil {
		return nil, err
	}
	tr := &s.parts[pi].tracks[i]
	station := s.station(pi, tr, s.fresh(pi, i, t))
	e, ok := s.moveTo(pi, i, station, on, t)
	switch {
	case !ok:
		return nil, refuse("nothing called " + on + " stands at that station")
	case tr.spot(e.Round, station).On == on:
		return nil, refuse(s.plan.People[i].Name + " is on " + on + " already")
	}
	return []Event{e}, nil
}

// moveTo is the event that takes a person to implement on at a station, with the
// nearest stack to what they move now.
func (s *State) moveTo(pi, i, station int, on string, t time.Duration) (LaneChanged, bool) {
	tr := &s.parts[pi].tracks[i]
	round := s.fresh(pi, i, t)
	all := s.plan.Parts[pi].Stations[station].On
	n := slices.IndexFunc(all, func(x Thing) bool { return x.Name == on })
	if n < 0 || slices.Contains(s.out, on) {
		return LaneChanged{}, false
	}
	was := tr.spot(round, station)
	_, moves := was.set(round)
	sp := was
	sp.On, sp.Tare, sp.Ends, sp.Sets = on, all[n].Tare, all[n].Ends, nil
	sp.Order = 0
	for j := range s.parts[pi].tracks {
		q := &s.parts[pi].tracks[j]
		if other := q.spot(round, station); j != i && q.Heat == tr.Heat && s.Here(j) && other.On == on {
			sp.Order = max(sp.Order, other.Order+1)
		}
	}
	s.load(&sp, moves, s.freePlates(pi, i, round, on))
	return LaneChanged{Who: s.plan.People[i].Name, Part: pi + 1, Station: station + 1, Round: round, Place: sp}, true
}

// decideOut takes a sled off the floor and its people, in this part and in those to
// come, to the others, fewest first.
func (s *State) decideOut(on string, t time.Duration) ([]Event, error) {
	if !s.knows(on) {
		return nil, refuse("nothing here is called " + on)
	}
	if slices.Contains(s.out, on) {
		return nil, refuse(on + " is out already")
	}
	events := []Event{SledOut{On: on}}
	after := s.fork()
	n := s.lastN() + 1
	after.Apply(Stamped{N: n, T: t, E: events[0]})
	after.eachSpot(func(pi, i, station int) {
		tr := &after.parts[pi].tracks[i]
		if sp := tr.spot(after.fresh(pi, i, t), station); sp.On != on {
			return
		}
		to := after.emptiest(pi, station, tr.Heat)
		if e, ok := after.moveTo(pi, i, station, to.On, t); ok {
			n++
			after.Apply(Stamped{N: n, T: t, E: e})
			events = append(events, e)
		}
	})
	return events, nil
}

// decideBack brings a sled back, and with it those whom the plan had on it.
func (s *State) decideBack(on string, t time.Duration) ([]Event, error) {
	if !slices.Contains(s.out, on) {
		return nil, refuse(on + " is not out")
	}
	events := []Event{SledBack{On: on}}
	s.eachSpot(func(pi, i, station int) {
		tr := &s.parts[pi].tracks[i]
		round := s.fresh(pi, i, t)
		if now := tr.spot(round, station); tr.Spots[station].On != on || now.On == on {
			return
		}
		events = append(events, LaneChanged{
			Who: s.plan.People[i].Name, Part: pi + 1, Station: station + 1, Round: round, Place: tr.Spots[station],
		})
	})
	return events, nil
}

// eachSpot visits every spot of those who are here, in the parts that are not over.
func (s *State) eachSpot(visit func(pi, i, station int)) {
	for pi := max(0, s.on); pi < len(s.parts); pi++ {
		if s.parts[pi].ended != None {
			continue
		}
		for i := range s.parts[pi].tracks {
			tr := &s.parts[pi].tracks[i]
			if tr.first < 1 || !s.Here(i) {
				continue
			}
			for station := range tr.Spots {
				visit(pi, i, station)
			}
		}
	}
}

// knows reports whether an implement of that name stands on this floor.
func (s *State) knows(on string) bool {
	for pi := range s.plan.Parts {
		for _, st := range s.plan.Parts[pi].Stations {
			if slices.ContainsFunc(st.On, func(x Thing) bool { return x.Name == on }) {
				return true
			}
		}
	}
	return slices.ContainsFunc(s.plan.Kit.Sleds, func(sl kit.Sled) bool { return sl.Name == on })
}
