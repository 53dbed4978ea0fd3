package load

import (
	"cmp"
	"slices"
	"sort"

	"hawser/internal/measure"
)

// Where a run begins to look above what is proved, before it doubles.
const (
	firstMiss  = measure.Kilogram / 2
	firstShare = 2000 // millionths
	millionth  = 1_000_000
)

// leastSum is the first run: the least sum of misses, all else aside. It looks
// just above the bound first, where the lists are short, and doubles how far.
func (s *search) leastSum() {
	s.within(share{1 << 40, 1})
	proved := s.bound(0, s.takes(0))
	for ahead := firstMiss; s.rank.miss > proved && s.work < s.most; ahead *= 2 {
		most := min(proved+ahead, s.rank.miss-1)
		s.found = false
		s.list(most)
		s.least(0, 0, most)
		if s.found {
			return
		}
		proved = most + 1
	}
}

// least goes through the options of item i for a sum of at most most, or below
// what is found.
func (s *search) least(i int, miss, most measure.Mass) {
	if i == len(s.items) {
		s.keep()
		return
	}
	if s.before(i, cost{miss: miss, worst: share{0, 1}}) {
		return
	}
	for n := range s.options[i] {
		o := &s.options[i][n]
		most = min(most, s.rank.miss-1)
		if miss+o.miss+s.restOwn[i+1] > most || s.work >= s.most {
			return
		}
		s.work++
		if !s.put(i, o) {
			continue
		}
		if miss+o.miss+s.bound(i+1, s.takes(i+1)) <= most {
			s.picks[i] = o
			s.least(i+1, miss+o.miss, most)
		}
		s.lift(i, o)
	}
}

// smallestWorst is the second run: of the deals of the least sum the best by all
// else. It too looks just above what is proved first.
func (s *search) smallestWorst() {
	known := s.rank.worst
	proved := s.leastShare()
	for ahead := measure.Mass(firstShare); s.work < s.most; ahead *= 2 {
		worst := share{proved + ahead, millionth}
		last := worst.compare(known) >= 0
		if last {
			worst = known
		}
		s.found = false
		s.within(worst)
		s.list(s.rank.miss)
		s.rest(0, cost{worst: share{0, 1}})
		if s.found || last {
			return
		}
		proved = worst.miss
	}
}

// leastShare returns, in millionths, a worst share that no deal can be under.
func (s *search) leastShare() measure.Mass {
	takes := s.takes(0)
	return measure.Mass(sort.Search(millionth, func(m int) bool {
		s.within(share{measure.Mass(m), millionth})
		return s.restLow[0] <= takes
	}))
}

// rest goes through the options of item i for a better deal of the least sum.
func (s *search) rest(i int, c cost) {
	if i == len(s.items) {
		if s.keep() {
			s.within(s.rank.worst)
		}
		return
	}
	if s.before(i, c) {
		return
	}
	options := s.choices(i, c)
	room := s.takes(i) - s.restLow[i+1]
	for n := range options {
		o := &options[n]
		if o.mass > room {
			continue
		}
		if c.miss+o.miss+s.restOwn[i+1] > s.rank.miss || s.work >= s.most {
			return
		}
		s.work++
		next := cost{c.miss + o.miss, c.worst.or(o.miss, s.items[i].Total)}
		if next.worst.compare(s.worst) > 0 || !s.put(i, o) {
			continue
		}
		takes := s.takes(i + 1)
		if next.miss+s.bound(i+1, takes) <= s.rank.miss && s.restLow[i+1] <= takes && !s.nobetter(i+1, next) {
			s.picks[i] = o
			s.rest(i+1, next)
		}
		s.lift(i, o)
	}
}

// choices returns the options of item i that are worth a look. The last item must
// miss by just what is missing from the least sum.
func (s *search) choices(i int, c cost) []option {
	options, miss := s.options[i], s.rank.miss-c.miss
	if i < len(s.items)-1 {
		return options
	}
	by := func(o option, m measure.Mass) int { return cmp.Compare(o.miss, m) }
	from, _ := slices.BinarySearchFunc(options, miss, by)
	to, _ := slices.BinarySearchFunc(options, miss+1, by)
	return options[from:to]
}

// nobetter reports whether nothing in the branch can be as good as the best known.
func (s *search) nobetter(i int, c cost) bool {
	if c.worst.compare(s.rank.worst) < 0 {
		return false
	}
	moves, plates := s.moved()
	most := max(0, s.restNeed[i]+s.restOver[i]-(s.rank.miss-c.miss)) // what the rest must come to at least
	if by := cmp.Compare(moves+most, s.rank.moves); by != 0 {
		return by == 1
	}
	still := most
	for k, by := range s.restTake[i] {
		if by > 0 && still > 0 {
			n := min(measure.Mass(s.left[k]-s.left[k]%by), (still+s.pile[k].Mass-1)/s.pile[k].Mass)
			plates += int(n)
			still -= n * s.pile[k].Mass
		}
	}
	return plates > s.rank.plates
}

// moved returns what moves so far, the tares of all items included, and how many
// plates are off the pile.
func (s *search) moved() (measure.Mass, int) {
	moves, plates := s.tares, 0
	for k, p := range s.pile {
		moves += p.Mass * measure.Mass(s.had[k]-s.left[k])
		plates += s.had[k] - s.left[k]
	}
	return moves, plates
}

// firstOf is the third run, over just the plates that the best deal uses: it
// returns the deal of the same rank that comes first in list order.
func (s *search) firstOf(best []Stack) []Stack {
	s.start(best)
	s.within(s.rank.worst)
	s.list(s.rank.miss)
	if s.first(0, cost{worst: share{0, 1}}) {
		return s.picked()
	}
	return s.best
}

// first goes through the options of item i until one leads to a whole deal.
func (s *search) first(i int, c cost) bool {
	if i == len(s.items) {
		return true
	}
	if s.before(i, c) {
		return false
	}
	options := s.choices(i, c)
	room := s.takes(i) - s.restLow[i+1]
	for n := range options {
		o := &options[n]
		if o.mass > room {
			continue
		}
		next := cost{c.miss + o.miss, c.worst.or(o.miss, s.items[i].Total)}
		if next.miss+s.restOwn[i+1] > s.rank.miss || s.work >= s.most {
			return false
		}
		s.work++
		if next.worst.compare(s.worst) > 0 || !s.put(i, o) {
			continue
		}
		s.picks[i] = o
		if s.uses(i+1) && s.first(i+1, next) {
			return true
		}
		s.lift(i, o)
	}
	return false
}

// uses reports whether items i and after can take all plates that are left.
func (s *search) uses(i int) bool {
	var left measure.Mass
	for k, n := range s.left {
		left += s.pile[k].Mass * measure.Mass(n)
	}
	return left == s.takes(i)
}
