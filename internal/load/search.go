package load

import (
	"cmp"
	"math/bits"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// Limits of one search: stacks tried, and stacks listed. Reaching either leaves
// the answer unproved.
const (
	mostWork    = 20_000_000
	mostOptions = 400_000
	mostSeen    = 1_000_000
)

// search looks for the best deal. Its items are in list order; index i of a
// "rest" slice is about items i and after.
type search struct {
	items []Item
	pile  []kit.Plates

	need []measure.Mass // what plates can do for the item: asked − tare, not under 0
	own  []measure.Mass // what it misses alone

	tares measure.Mass // Σ

	restNeed []measure.Mass // Σ need
	restOver []measure.Mass // Σ of what bare is over
	restOwn  []measure.Mass // Σ own
	restTake [][]int        // by kind: the fewest plates that some of the rest takes at once, as a common divisor; 0: none takes it
	restLow  []measure.Mass // Σ of the least plates that keep an item within the worst share known

	options [][]option
	left    []int
	picks   []int // option of each item on the way down
	seen    map[uint64]cost
	places  []uint64 // the weight of each kind's count in a key of seen; nil where no key holds them all
	work    int

	best     Deal
	bestRank rank
	found    bool // best is the first of its rank in list order
}

// option is one stack for one item.
type option struct {
	stack  Stack
	plates int // on one end
	mass   measure.Mass
	miss   measure.Mass
}

// cost is what a branch has run up.
type cost struct {
	miss  measure.Mass
	worst share
}

// newSearch prepares a search; own is what each item would take alone.
func newSearch(items []Item, pile []kit.Plates, own Deal) *search {
	n := len(items)
	s := &search{
		items: items, pile: pile, left: counts(pile), picks: make([]int, n),
		need: make([]measure.Mass, n), own: make([]measure.Mass, n),
		restNeed: make([]measure.Mass, n+1), restOver: make([]measure.Mass, n+1), restOwn: make([]measure.Mass, n+1),
		restTake: make([][]int, n+1), restLow: make([]measure.Mass, n+1),
		options: make([][]option, n), places: make([]uint64, len(pile)),
	}
	s.restTake[n] = make([]int, len(pile))
	for i := n - 1; i >= 0; i-- {
		it := items[i]
		s.tares += it.On.Tare
		s.need[i] = max(0, it.Total-it.On.Tare)
		s.own[i] = abs(own.Moves[i] - it.Total)
		s.restNeed[i] = s.restNeed[i+1] + s.need[i]
		s.restOver[i] = s.restOver[i+1] + max(0, it.On.Tare-it.Total)
		s.restOwn[i] = s.restOwn[i+1] + s.own[i]
		s.restTake[i] = slices.Clone(s.restTake[i+1])
		for k, p := range pile {
			if p.Mass >= it.On.Step && p.Mass > 0 && s.need[i] > 0 {
				s.restTake[i][k] = gcd(it.On.Ends, s.restTake[i][k])
			}
		}
	}
	place := uint64(n + 1)
	for k := range pile {
		s.places[k] = place
		over, next := bits.Mul64(place, uint64(s.left[k]+1))
		if over > 0 {
			s.places = nil
			break
		}
		place = next
	}
	return s
}

// gcd of a and 0 is a.
func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// start offers a deal to begin with.
func (s *search) start(d Deal) {
	if r := rankOf(s.items, d); s.best.Stacks == nil || r.compare(s.bestRank) < 0 {
		s.best, s.bestRank = d, r
	}
}

// run finds the least sum, then the best of that sum.
func (s *search) run() Deal {
	s.best.Proved = true
	floor := s.bound(0)
	if s.bestRank.miss > floor {
		s.list(s.bestRank.miss-1, false)
		s.least(0, 0, floor)
	}
	if s.work < mostWork {
		s.list(s.bestRank.miss, true)
		s.lows()
		s.rest(0, cost{worst: share{0, 1}})
	}
	s.best.Proved = s.work < mostWork
	return s.best
}

// takes returns the mass of the plates left that items i and after can take.
func (s *search) takes(i int) measure.Mass {
	var m measure.Mass
	for k, by := range s.restTake[i] {
		if by > 0 {
			m += s.pile[k].Mass * measure.Mass(s.left[k]-s.left[k]%by)
		}
	}
	return m
}

// bound returns what items i and after will miss at least.
func (s *search) bound(i int) measure.Mass {
	return max(s.restOwn[i], s.restOver[i]+max(0, s.restNeed[i]-s.takes(i)))
}

// least is the first run: the least sum of misses, all else aside.
func (s *search) least(i int, miss, floor measure.Mass) {
	if i == len(s.items) {
		s.keep()
		return
	}
	if s.before(i, cost{miss: miss, worst: share{0, 1}}) {
		return
	}
	for n := range s.options[i] {
		o := &s.options[i][n]
		if miss+o.miss+s.restOwn[i+1] >= s.bestRank.miss || s.bestRank.miss == floor || s.work >= mostWork {
			return
		}
		s.work++
		if !s.put(i, o) {
			continue
		}
		if miss+o.miss+s.bound(i+1) < s.bestRank.miss {
			s.picks[i] = n
			s.least(i+1, miss+o.miss, floor)
		}
		s.lift(i, o)
	}
}

// rest is the second run: among the deals of the least sum, the best by all else.
func (s *search) rest(i int, c cost) {
	if i == len(s.items) {
		if s.keep() {
			s.lows()
		}
		return
	}
	if s.before(i, c) {
		return
	}
	for n := range s.options[i] {
		o := &s.options[i][n]
		if c.miss+o.miss+s.restOwn[i+1] > s.bestRank.miss || s.work >= mostWork {
			return
		}
		s.work++
		next := cost{c.miss + o.miss, c.worst.or(o.miss, s.items[i].Total)}
		if next.worst.compare(s.bestRank.worst) > 0 || !s.put(i, o) {
			continue
		}
		if next.miss+s.bound(i+1) <= s.bestRank.miss && s.restLow[i+1] <= s.takes(i+1) && !s.equal(i+1, next) {
			s.picks[i] = n
			s.rest(i+1, next)
		}
		s.lift(i, o)
	}
}

// equal reports whether the branch can at most be as good as what was found,
// which came before it in list order.
func (s *search) equal(i int, c cost) bool {
	if !s.found || c.worst.compare(s.bestRank.worst) < 0 {
		return false
	}
	moves, plates := s.moved()
	most := s.restNeed[i] - s.restOver[i] - (s.bestRank.miss - c.miss) // the rest must make up for this much
	still := max(0, most)
	if by := cmp.Compare(moves+still, s.bestRank.moves); by != 0 {
		return by > 0
	}
	for k, by := range s.restTake[i] {
		if by > 0 && still > 0 {
			n := min(measure.Mass(s.left[k]-s.left[k]%by), (still+s.pile[k].Mass-1)/s.pile[k].Mass)
			plates += int(n)
			still -= n * s.pile[k].Mass
		}
	}
	if by := cmp.Compare(plates, s.bestRank.plates); by != 0 {
		return by > 0
	}
	return s.takes(i) == max(0, most) && s.usesNoBigger(i)
}

// moved returns what moves so far, the tares of all items included, and how many
// plates are off the pile.
func (s *search) moved() (measure.Mass, int) {
	moves, plates := s.tares, 0
	for k, p := range s.pile {
		moves += p.Mass * measure.Mass(p.Count-s.left[k])
		plates += p.Count - s.left[k]
	}
	return moves, plates
}

// usesNoBigger reports whether using all that the rest can take is no bigger
// first than the best.
func (s *search) usesNoBigger(i int) bool {
	for k, by := range s.restTake[i] {
		used := s.pile[k].Count - s.left[k]
		if by > 0 {
			used += s.left[k] - s.left[k]%by
		}
		if used != s.bestRank.used[k] {
			return used < s.bestRank.used[k]
		}
	}
	return true
}

// lows works out what keeps each item within the worst share known.
func (s *search) lows() {
	for i := len(s.items) - 1; i >= 0; i-- {
		s.restLow[i] = s.restLow[i+1] + s.low(i)
	}
}

// low is the least mass of plates that keeps item i within the worst share known.
func (s *search) low(i int) measure.Mass {
	return max(0, s.need[i]-s.bestRank.worst.within(s.items[i].Total))
}

// before reports whether the same plates were left before item i at no more cost,
// and remembers that they were.
func (s *search) before(i int, c cost) bool {
	if s.places == nil {
		return false
	}
	key := uint64(i)
	for k, n := range s.left {
		key += s.places[k] * uint64(n)
	}
	if was, ok := s.seen[key]; ok && cmp.Or(cmp.Compare(was.miss, c.miss), was.worst.compare(c.worst)) <= 0 {
		return true
	}
	if len(s.seen) < mostSeen {
		s.seen[key] = c
	}
	return false
}

// put takes the plates of o off the pile, if they are there.
func (s *search) put(i int, o *option) bool {
	ends := s.items[i].On.Ends
	for k, n := range o.stack {
		if n*ends > s.left[k] {
			return false
		}
	}
	for k, n := range o.stack {
		s.left[k] -= n * ends
	}
	return true
}

// lift gives them back.
func (s *search) lift(i int, o *option) {
	for k, n := range o.stack {
		s.left[k] += n * s.items[i].On.Ends
	}
}

// keep takes the picks as the best deal if they are; else if they are the first
// of its rank.
func (s *search) keep() bool {
	var d Deal
	for i, it := range s.items {
		stack := s.options[i][s.picks[i]].stack
		if s.options[i][s.picks[i]].plates == 0 {
			stack = nil
		}
		d.add(it, stack, s.pile)
	}
	r := rankOf(s.items, d)
	c := r.compare(s.bestRank)
	if c > 0 || c == 0 && s.found {
		return false
	}
	s.best, s.bestRank, s.found = d, r, true
	return true
}

// list writes down the stacks of each item that can stand in a deal that misses
// no more than most, and starts a new memory.
func (s *search) list(most measure.Mass, withShare bool) {
	s.seen = map[uint64]cost{}
	s.found = false
	spare := s.takes(0)
	if withShare {
		s.lows()
		spare -= s.restLow[0]
	}
	short := s.restNeed[0] - s.takes(0)
	for i, it := range s.items {
		slack := most - s.restOwn[0] + s.own[i]
		low, high := max(0, s.need[i]-slack), s.need[i]+min(slack, (most-s.restOver[0]-short)/2)
		if withShare {
			low = max(low, s.low(i))
			high = min(high, s.low(i)+spare)
		}
		if s.need[i] == 0 {
			low, high = 0, 0
		}
		l := lister{on: it.On, pile: s.pile, left: s.left, need: it.Total - it.On.Tare, low: low, high: high}
		l.list(0, 0, 0, 1<<62, make(Stack, len(s.pile)))
		slices.SortFunc(l.options, func(a, b option) int {
			return cmp.Or(cmp.Compare(a.miss, b.miss), cmp.Compare(a.mass, b.mass), cmp.Compare(a.plates, b.plates), slices.Compare(b.stack, a.stack))
		})
		s.options[i] = l.options
		if len(l.options) >= mostOptions/len(s.items) {
			s.work = mostWork
		}
	}
}

// lister lists the stacks of one implement whose plates come to low … high.
type lister struct {
	on        Implement
	pile      []kit.Plates
	left      []int
	need      measure.Mass
	low, high measure.Mass
	options   []option
}

// list goes on from kind k with mass in plates on; smallest is the lightest set
// of plates, one an end, that is on.
func (l *lister) list(k int, mass measure.Mass, plates int, smallest measure.Mass, on Stack) {
	if over := mass - l.need; over > 0 && smallest <= 2*over && mass > 0 {
		return // without that plate it comes no further off
	}
	if k == len(l.pile) {
		if mass >= l.low {
			l.options = append(l.options, option{stack: slices.Clone(on), plates: plates, mass: mass, miss: abs(mass - l.need)})
		}
		return
	}
	ends := measure.Mass(l.on.Ends)
	var rest measure.Mass
	for j := k; j < len(l.pile); j++ {
		if l.pile[j].Mass >= l.on.Step {
			rest += l.pile[j].Mass * ends * measure.Mass(l.left[j]/l.on.Ends)
		}
	}
	if mass+rest < l.low {
		return
	}
	l.list(k+1, mass, plates, smallest, on)
	if l.pile[k].Mass < l.on.Step || l.pile[k].Mass <= 0 {
		return
	}
	unit := l.pile[k].Mass * ends
	for n := 1; n <= l.left[k]/l.on.Ends && mass+unit <= l.high; n++ {
		mass += unit
		on[k]++
		l.list(k+1, mass, plates+n, unit, on)
	}
	on[k] = 0
}
