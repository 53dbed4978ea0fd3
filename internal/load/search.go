package load

import (
	"cmp"
	"math/bits"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// Usual is the work after which a search ends, in stacks looked at: some fifth of a second.
const Usual = 5_000_000

// Limits of one search: stacks listed, branches remembered. Beyond the first the answer is
// unproved, beyond the second slower.
const (
	mostOptions = 400_000
	mostSeen    = 500_000
)

// workOfOption is what it counts for to list a stack.
const workOfOption = 10

// search looks for the best deal over its items in their order. Index i of a
// "rest" slice is about items i and after.
type search struct {
	items []Item
	pile  []kit.Plates
	had   []int // plates of each kind before the first item
	left  []int

	need  []measure.Mass // what plates can do for the item: asked − tare, not under 0
	own   []measure.Mass // what it misses alone
	tares measure.Mass   // Σ

	restNeed []measure.Mass // Σ need
	restOver []measure.Mass // Σ of what bare is over
	restOwn  []measure.Mass // Σ own
	restTake [][]int        // by kind: what the plates that some of the rest takes at once divide by; 0: none takes it
	restLow  []measure.Mass // Σ of the least plates that keep an item within the worst share

	options [][]option
	picks   []*option // of each item on the way down
	seen    map[uint64]cost
	places  []uint64 // the weight of each kind's count in a key of seen; nil where no key holds them all
	work    int
	most    int // work

	best  []Stack // bare is a stack of none
	rank  rank    // of best
	worst share   // nothing worse is looked at
	found bool    // best is of this run
}

// cost is what a branch has run up.
type cost struct {
	miss  measure.Mass
	worst share
}

func (c cost) compare(d cost) int {
	return cmp.Or(cmp.Compare(c.miss, d.miss), c.worst.compare(d.worst))
}

// newSearch prepares a search of most work with left of the pile; own is what each item
// misses alone.
func newSearch(items []Item, pile []kit.Plates, left []int, own []measure.Mass, most int) *search {
	n := len(items)
	s := &search{
		items: items, pile: pile, had: left, left: slices.Clone(left), own: own, most: most, picks: make([]*option, n),
		need: make([]measure.Mass, n), restNeed: make([]measure.Mass, n+1), restOver: make([]measure.Mass, n+1),
		restOwn: make([]measure.Mass, n+1), restTake: make([][]int, n+1), restLow: make([]measure.Mass, n+1),
		options: make([][]option, n), places: make([]uint64, len(pile)),
	}
	s.restTake[n] = make([]int, len(pile))
	for i := n - 1; i >= 0; i-- {
		it := items[i]
		s.tares += it.On.Tare
		s.need[i] = max(0, it.Total-it.On.Tare)
		s.restNeed[i] = s.restNeed[i+1] + s.need[i]
		s.restOver[i] = s.restOver[i+1] + max(0, it.On.Tare-it.Total)
		s.restOwn[i] = s.restOwn[i+1] + own[i]
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

// start offers stacks to begin with.
func (s *search) start(stacks []Stack) {
	if r := rankOf(s.items, stacks, s.pile); s.best == nil || r.compare(s.rank) < 0 {
		s.best, s.rank, s.worst = stacks, r, r.worst
	}
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

// bound returns what items i and after will miss at least, where they can take
// that mass of plates.
func (s *search) bound(i int, takes measure.Mass) measure.Mass {
	return max(s.restOwn[i], s.restOver[i]+max(0, s.restNeed[i]-takes))
}

// within sets the worst share that is looked at.
func (s *search) within(worst share) {
	s.worst = worst
	for i := len(s.items) - 1; i >= 0; i-- {
		s.restLow[i] = s.restLow[i+1] + s.low(i)
	}
}

// low is the least mass of plates that keeps item i within the worst share.
func (s *search) low(i int) measure.Mass {
	return max(0, s.need[i]-s.worst.within(s.items[i].Total))
}

// list writes down the stacks of each item that can stand in a deal that misses
// no more than most in all, and begins a new memory.
func (s *search) list(most measure.Mass) {
	s.seen = map[uint64]cost{}
	takes := s.takes(0)
	spare := takes - s.restLow[0]
	over := (most - s.restOver[0] - s.restNeed[0] + takes) / 2
	for i, it := range s.items {
		slack := most - s.restOwn[0] + s.own[i]
		l := lister{
			on: it.On, pile: s.pile, left: s.left, need: it.Total - it.On.Tare, most: mostOptions / len(s.items), work: s.most - s.work,
			low: max(0, s.need[i]-slack, s.low(i)), high: min(s.need[i]+min(slack, over), s.low(i)+spare),
		}
		if s.need[i] == 0 {
			l.low, l.high = 0, 0
		}
		s.options[i] = l.list()
		s.work = s.most - l.work
		if len(s.options[i]) >= l.most {
			s.work = s.most
		}
	}
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
	if was, ok := s.seen[key]; ok && was.compare(c) <= 0 {
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
	ends := s.items[i].On.Ends
	for k, n := range o.stack {
		s.left[k] += n * ends
	}
}

// keep takes the picks as the best if they are.
func (s *search) keep() bool {
	r := rankOf(s.items, s.picked(), s.pile)
	if r.compare(s.rank) >= 0 {
		return false
	}
	s.best, s.rank, s.found = s.picked(), r, true
	return true
}

// picked returns the stacks of the picks.
func (s *search) picked() []Stack {
	stacks := make([]Stack, len(s.items))
	for i, o := range s.picks {
		stacks[i] = o.stack
	}
	return stacks
}
