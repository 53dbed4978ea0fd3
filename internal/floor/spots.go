package floor

import (
	"slices"
	"time"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// nearest returns the spot of a round with the stack nearest to a target, in
// total, from the plates that are free then. It is false where nothing is loaded.
func (s *State) nearest(pi, i, round, station int, target measure.Mass) (Spot, bool) {
	t := &s.parts[pi].tracks[i]
	sp := t.spot(round, station)
	if sp.On == "" {
		return sp, false
	}
	s.load(&sp, target, s.freePlates(pi, i, round, sp.On))
	return sp, true
}

// load puts on sp the stack nearest to a target, in total, from the free plates.
func (s *State) load(sp *Spot, target measure.Mass, free []int) {
	pile := s.plan.Kit.Plates
	on := s.implement(sp)
	stack := load.Nearest(load.Item{On: on, Total: target}, pile, free)
	sp.Stack, sp.Moves, sp.Sets = stack.Stamps(pile), stack.On(on, pile), nil
}

// stepped returns the spot with the next load up or down that the free plates make.
func (s *State) stepped(pi, i, round, station int, up bool) (Spot, bool) {
	t := &s.parts[pi].tracks[i]
	sp := t.spot(round, station)
	if sp.On == "" {
		return sp, false
	}
	sp.Stack, sp.Moves = sp.set(round)
	free := s.freePlates(pi, i, round, sp.On)
	was := sp.Moves
	step := max(s.plan.Kit.Step, measure.Kilogram) / 2
	for n := measure.Mass(1); n <= 4*stepsUp; n++ {
		by := n * step
		if !up {
			by = -by
		}
		if was+by < sp.Tare-step {
			break
		}
		if s.load(&sp, was+by, free); up && sp.Moves > was || !up && sp.Moves < was {
			return sp, true
		}
	}
	return sp, false
}

// stepsUp is how many plate steps away another load is looked for.
const stepsUp = 20

// implement is the thing that a spot stands on.
func (s *State) implement(sp *Spot) load.Implement {
	on := load.Implement{Name: sp.On, Tare: sp.Tare, Ends: max(1, sp.Ends)}
	if slices.ContainsFunc(s.plan.Kit.Sleds, func(sl kit.Sled) bool { return sl.Name == sp.On }) {
		on.Kind, on.Step = "sled", s.plan.Kit.Step
	}
	return on
}

// freePlates returns how many of each kind of plate the pile has left beside what
// stands on every other implement at the moment when person i does round k: of each
// group on an implement, the one of the same order.
func (s *State) freePlates(pi, i, k int, on string) []int {
	pile := s.plan.Kit.Plates
	free := make([]int, len(pile))
	for n := range pile {
		free[n] = pile[n].Count
	}
	p := &s.parts[pi]
	mine := p.tracks[i].spot(k, s.station(pi, &p.tracks[i], k))
	best := map[string]Spot{} // what stands on each of the others
	for j := range p.tracks {
		q := &p.tracks[j]
		if j == i || q.Heat != p.tracks[i].Heat || !s.Here(j) {
			continue
		}
		for st := range q.Spots {
			sp := q.spot(k, st)
			if sp.On == on || sp.On == "" {
				continue
			}
			had, ok := best[sp.On]
			if !ok || distance(sp.Order, mine.Order) < distance(had.Order, mine.Order) {
				sp.Stack, sp.Moves = sp.set(k)
				best[sp.On] = sp
			}
		}
	}
	for _, sp := range best {
		for _, stamp := range sp.Stack {
			if n := slices.IndexFunc(pile, func(pl kit.Plates) bool { return pl.Stamp == stamp }); n >= 0 {
				free[n] = max(0, free[n]-max(1, sp.Ends))
			}
		}
	}
	return free
}

func distance(a, b int) int { return max(a-b, b-a) }

// loadChanged is the event that gives a person sp from a round on.
func loadChanged(who string, pi, station, round int, sp *Spot) Event {
	return LoadChanged{Who: who, Part: pi + 1, Station: station + 1, Round: round, Stack: sp.Stack, Moves: sp.Moves, Added: sp.Moves - sp.Tare}
}

// lighter takes a share of what moves off a person's load from a round on. It is
// false where no lighter load exists.
func (s *State) lighter(pi, i, round int, by measure.Share) (Event, bool) {
	t := &s.parts[pi].tracks[i]
	station := s.station(pi, t, round)
	sp := t.spot(round, station)
	_, moves := sp.set(round)
	next, ok := s.nearest(pi, i, round, station, moves-by.Of(moves))
	if !ok || next.Moves >= moves {
		if next, ok = s.stepped(pi, i, round, station, false); !ok {
			return nil, false
		}
	}
	return loadChanged(s.plan.People[i].Name, pi, station, round, &next), true
}

// decideLoad is for a load that goes up or down from the first round not yet begun.
func (s *State) decideLoad(c Command, t time.Duration) ([]Event, error) {
	var who string
	switch x := c.(type) {
	case Drop:
		who = x.Who
	case Change:
		who = x.Who
	case StepLoad:
		who = x.Who
	default:
	}
	return s.named(who, func(i int) ([]Event, error) {
		pi, err := s.partAhead(i)
		if err != nil {
			return nil, err
		}
		round := s.fresh(pi, i, t)
		station := s.station(pi, &s.parts[pi].tracks[i], round)
		sp := s.parts[pi].tracks[i].spot(round, station)
		_, moves := sp.set(round)
		var next Spot
		var ok bool
		switch x := c.(type) {
		case Drop:
			e, ok := s.lighter(pi, i, round, x.Share)
			if !ok {
				return nil, refuse("no lighter load exists for " + who)
			}
			return []Event{e}, nil
		case Change:
			next, ok = s.nearest(pi, i, round, station, max(0, moves+x.By))
		case StepLoad:
			next, ok = s.stepped(pi, i, round, station, x.Up)
		default:
		}
		if !ok || next.Moves == moves {
			return nil, refuse("no other load exists for " + who)
		}
		return []Event{loadChanged(who, pi, station, round, &next)}, nil
	})
}

// shorter is the late policy that cuts the distance: half the legs from a round on.
func (s *State) shorter(pi, i, round int) (Event, bool) {
	t := &s.parts[pi].tracks[i]
	station := s.station(pi, t, round)
	st := s.spec(pi).Stations
	if station >= len(st) {
		return nil, false
	}
	d := s.distance(pi, t, round, station)
	if d == 0 {
		d = st[station].Distance
	}
	if d <= 0 {
		return nil, false
	}
	return DistanceCut{Who: s.plan.People[i].Name, Part: pi + 1, Station: station + 1, Round: round, To: d - d/4}, true
}

// freePlace finds a latecomer or a guest a place in a part: on a lane nobody
// stands on, else on the one with the fewest people, in the last heat that has
// not begun, else in the one that runs; on the smaller side.
func (s *State) freePlace(pi, i int) Place {
	pp := &s.plan.Parts[pi]
	if !pp.Spec.Format.Pulls() {
		return Place{}
	}
	place := Place{Heat: len(s.parts[pi].heats), Side: s.smallerSide(pi)}
	for st := range pp.Stations {
		place.Spots = append(place.Spots, s.freeSpot(pi, i, st, place.Heat))
	}
	return place
}

// smallerSide returns the side with the fewest people here.
func (s *State) smallerSide(pi int) int {
	sides := len(s.spec(pi).Sides)
	if sides < 2 {
		return 0
	}
	n := make([]int, sides)
	for j := range s.parts[pi].tracks {
		if t := &s.parts[pi].tracks[j]; t.first > 0 && s.Here(j) && t.Side < sides {
			n[t.Side]++
		}
	}
	return slices.Index(n, slices.Min(n))
}

// freeSpot finds a spot at one station, with the stack nearest to what the person
// asks there, or bare where that is not known.
func (s *State) freeSpot(pi, i, station, heat int) Spot {
	asked := Spot{}
	planned := s.parts[pi].tracks[i].Spots
	if len(planned) == 0 {
		planned = s.plan.Parts[pi].Guest.Spots
	}
	if station < len(planned) {
		asked = planned[station]
	}
	sp := s.emptiest(pi, station, heat)
	if sp.On == "" {
		return asked
	}
	onThis := func(total measure.Mass) measure.Mass {
		switch {
		case total == 0:
			return sp.Tare
		case s.countsAdded(pi, station):
			return total - asked.Tare + sp.Tare
		}
		return total
	}
	free := s.freePlates(pi, i, 1, sp.On)
	var sets []Set
	for _, set := range asked.Sets {
		s.load(&sp, onThis(set.Moves), free)
		sets = append(sets, Set{Stack: sp.Stack, Moves: sp.Moves})
	}
	s.load(&sp, onThis(asked.Asked), free)
	sp.Sets, sp.Est, sp.Expect = sets, asked.Est, max(asked.Expect, sp.Expect)
	if asked.Asked > 0 {
		sp.Asked = onThis(asked.Asked)
	}
	return sp
}

// countsAdded reports whether the load of a station is asked for without the tare.
func (s *State) countsAdded(pi, station int) bool {
	st := s.spec(pi).Stations
	if station >= len(st) || len(st[station].Loads) == 0 {
		return false
	}
	m, _ := movement.Find(st[station].Movement)
	basis := st[station].Loads[0].Basis
	return basis == session.OfBody || basis == session.Plain && (m.Need == movement.Sled || m.Need == movement.SledRope)
}

// emptiest returns a bare spot on the implement of a station with the fewest
// people, kit order on a tie.
func (s *State) emptiest(pi, station, heat int) Spot {
	best, least := Spot{}, 0
	for _, on := range s.plan.Parts[pi].Stations[station].On {
		if slices.Contains(s.out, on.Name) {
			continue
		}
		n := 0
		var expect time.Duration
		for j := range s.parts[pi].tracks {
			t := &s.parts[pi].tracks[j]
			if t.Heat != heat || !s.Here(j) || t.first < 1 {
				continue
			}
			sp := t.spot(maxRound, station)
			expect = max(expect, sp.Expect)
			if sp.On == on.Name {
				n++
			}
		}
		if best.On == "" || n < least {
			best = Spot{On: on.Name, Order: n, Ends: on.Ends, Tare: on.Tare, Expect: expect}
			least = n
		}
	}
	return best
}
