package lanes

import (
	"cmp"
	"math"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// kindsWork is how many steps of leastByKinds there are for all layouts, some 20 ms of them.
const kindsWork = 3_000_000

// leastByKinds returns what the pile's shortage costs at least in one layout because of
// one or two kinds of plate: whatever stands at once has to share these, and may have as
// many of all others as there are. So it tells a pile that weighs enough from one with the
// right plates. Of all that it has the time to look at, the dearest counts; from enough on
// it looks no further.
func (p *planner) leastByKinds(l *layout, work int, enough measure.Mass) measure.Mass {
	together := l.moments // units that share the pile
	if !l.lockstep {      // each implement keeps its plates for all of its people
		together = [][]int{make([]int, len(l.units))}
		for u := range l.units {
			together[0][u] = u
		}
	}
	var all []*sharers
	step := measure.Mass(math.MaxInt64)
	for _, units := range together {
		s := p.sharers(l, units)
		s.work = work / len(together)
		all = append(all, s)
		for _, on := range s.on {
			step = min(step, on.Step)
		}
	}
	least := measure.Mass(0)
	for _, kinds := range p.fewKinds(step) {
		sum := measure.Mass(0)
		for _, s := range all {
			sum += s.least(kinds)
		}
		if least = max(least, sum); least >= enough {
			break
		}
	}
	return least
}

// fewKinds lists the kinds of plate from a step on one by one and by two, those with the
// fewest ways to share them first.
func (p *planner) fewKinds(step measure.Mass) [][]int {
	pile := p.in.Kit.Plates
	var each, all [][]int
	for k := range pile {
		if pile[k].Count > 0 && pile[k].Mass > 0 && pile[k].Mass >= step {
			for _, other := range each {
				all = append(all, []int{other[0], k})
			}
			each = append(each, []int{k})
		}
	}
	all = append(all, each...)
	ways := func(kinds []int) int {
		n := 1
		for _, k := range kinds {
			n *= 1 + pile[k].Count
		}
		return n
	}
	slices.SortStableFunc(all, func(a, b []int) int { return cmp.Compare(ways(a), ways(b)) })
	return all
}

// sharers are implements that share the pile, with the places at them and who may have
// those.
type sharers struct {
	p       *planner
	on      []load.Implement
	spots   []*spot
	parties []*party
	most    measure.Mass // of plates that anybody asks for
	work    int          // that is left
}

// party is the people of one group of seats and the spots where they have them.
type party struct {
	group  int
	people []int
	spots  []*spot
	spare  int // people more than places

	matching *matching // of places and people; nil: not asked for yet
}

// holds is how many of a kind an implement can have on each end.
func (s *sharers) holds(on *load.Implement, k int) int {
	kind := &s.p.in.Kit.Plates[k]
	if kind.Mass <= 0 || kind.Mass < on.Step {
		return 0
	}
	return max(0, kind.Count) / on.Ends
}

// spot is the room that an implement has for people of one group.
type spot struct {
	on, room int
	asks     [][]ask          // of each person, by set
	barred   []bool           // people who may have no seat there
	all      [][]measure.Mass // what each person misses more than alone, by share of the kinds looked at
	costs    []measure.Mass   // with the share that the implement has now
	tied     []bool           // who may miss as much upwards as downwards with it
	toll     measure.Mass     // of a place: see tolled
}

// ask is the plates that somebody is asked for, and what they miss alone.
type ask struct{ plates, miss measure.Mass }

func (p *planner) sharers(l *layout, units []int) *sharers {
	s := &sharers{p: p}
	for _, u := range units {
		i := l.units[u].seat
		if l.first[i] != u {
			continue // another set on the same seat
		}
		at := &l.seats[i]
		of := s.party(l, at.group)
		on := slices.IndexFunc(s.on, func(on load.Implement) bool { return on.Name == at.on.Name })
		if on < 0 {
			on, s.on = len(s.on), append(s.on, at.on)
		}
		n := slices.IndexFunc(of.spots, func(o *spot) bool { return o.on == on })
		if n < 0 {
			n, of.spots = len(of.spots), append(of.spots, s.spot(of, at, on))
			s.spots = append(s.spots, of.spots[n])
		}
		o := of.spots[n]
		o.room++
		of.spare--
		for who := range o.barred {
			o.barred[who] = o.barred[who] && !p.may(who, at)
		}
	}
	return s
}

// party is the people of a group of seats.
func (s *sharers) party(l *layout, group int) *party {
	for _, of := range s.parties {
		if of.group == group {
			return of
		}
	}
	of := &party{group: group}
	for j := range l.seats {
		if l.seats[j].group == group {
			of.people = append(of.people, l.start[j])
		}
	}
	of.spare = len(of.people)
	s.parties = append(s.parties, of)
	return of
}

// spot is the place of a seat, with no room so far.
func (s *sharers) spot(of *party, at *seat, on int) *spot {
	o := &spot{on: on, asks: make([][]ask, len(s.p.people)), barred: slices.Repeat([]bool{true}, len(s.p.people))}
	for _, who := range of.people {
		for set := range s.p.sets(at.station) {
			c := s.p.choose(who, at, set)
			a := ask{c.want.Total - at.on.Tare, c.miss}
			o.asks[who], s.most = append(o.asks[who], a), max(s.most, a.plates)
		}
	}
	return o
}

// least returns what the kinds cost at least: it deals them to the implements in every
// way and seats everybody where that is cheapest. Nothing, where the work runs out.
func (s *sharers) least(kinds []int) measure.Mass {
	for _, o := range s.spots {
		if s.work <= 0 || !s.look(o, kinds) {
			return 0
		}
	}
	best := measure.Mass(math.MaxInt64)
	left := counts(s.p.in.Kit.Plates)
	var deal func(on, n, share int)
	deal = func(on, n, share int) {
		switch {
		case s.work <= 0:
			return
		case on == len(s.on):
			sum := measure.Mass(0)
			for _, of := range s.parties {
				cost, _ := s.seated(of)
				sum += cost
			}
			best = min(best, sum)
			return
		case n == len(kinds):
			for _, o := range s.spots {
				if o.on == on {
					o.costs = o.all[share]
				}
			}
			deal(on+1, 0, 0)
			return
		}
		k, ends := kinds[n], s.on[on].Ends
		had, most := left[k], s.holds(&s.on[on], k)
		for c := min(most, had/ends); c >= 0; c-- {
			left[k] = had - c*ends
			deal(on, n+1, share*(most+1)+c)
			if on == len(s.on)-1 {
				break // the last takes all there is: more is never worse
			}
		}
		left[k] = had
	}
	deal(0, 0, 0)
	if s.work <= 0 {
		return 0
	}
	return best
}

// look fills in what everybody misses at a spot, over what they miss alone, with each
// share of the kinds and all there is of the others; false where that is too much to look at.
func (s *sharers) look(o *spot, kinds []int) bool {
	on, pile := &s.on[o.on], s.p.in.Kit.Plates
	others, ok := s.reach(on, kinds)
	if !ok {
		return false
	}
	shares := 1
	for _, k := range kinds {
		shares *= s.holds(on, k) + 1
	}
	o.all = make([][]measure.Mass, shares)
	for i := range o.all {
		o.all[i] = make([]measure.Mass, len(o.asks))
	}
	misses := make([]measure.Mass, shares)
	for who, asks := range o.asks {
		for _, a := range asks {
			for share := range misses {
				plates, fewer, step, rest := measure.Mass(0), measure.Mass(math.MaxInt64), 1, share
				for _, k := range slices.Backward(kinds) {
					size := s.holds(on, k) + 1
					if rest%size > 0 { // one of them fewer is no better
						fewer = min(fewer, misses[share-step])
					}
					plates += pile[k].Mass * measure.Mass(rest%size*on.Ends)
					rest, step = rest/size, step*size
				}
				misses[share] = min(fewer, off(others, a.plates-plates))
				o.all[share][who] += misses[share] - a.miss
			}
		}
		s.work -= 10 * len(asks) * shares
	}
	return true
}

// off is how far the nearest of masses, which are in order, is from one.
func off(masses []measure.Mass, from measure.Mass) measure.Mass {
	n, _ := slices.BinarySearch(masses, from)
	far := measure.Mass(math.MaxInt64)
	for _, m := range masses[max(0, n-1):min(len(masses), n+1)] {
		far = min(far, distance(m, from))
	}
	return far
}

// mostMasses is how many masses of kinds are listed: so many lie within grams of each other.
const mostMasses = 1 << 16

// reach lists the masses that an implement can have of all but some kinds, in order, up to
// one plate more than anybody asks for; false where they are too many.
func (s *sharers) reach(on *load.Implement, but []int) ([]measure.Mass, bool) {
	masses := []measure.Mass{0}
	for k, kind := range s.p.in.Kit.Plates {
		if slices.Contains(but, k) {
			continue
		}
		few, plate := masses, kind.Mass*measure.Mass(on.Ends)
		for n := 0; n < s.holds(on, k) && plate*measure.Mass(n) <= s.most; n++ {
			if masses = s.join(masses, few, plate, n); len(masses) > mostMasses {
				return nil, false
			}
		}
	}
	return masses, true
}
