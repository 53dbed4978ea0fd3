package lanes

import (
	"cmp"
	"math"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// apart deals a short pile where each implement keeps its plates for all of its people.
// Kind by kind it deals the pile to the implements in every way, with as many of the
// kinds to come on each as there are of them, and seats everybody where that is cheapest:
// no deal that begins so costs less. The kind that can be dealt in the fewest such ways
// comes first (fail first: Haralick and Elliott, Artificial Intelligence 14, 1980), the
// cheapest beginning is looked into first, and none that costs more than the best deal known.
type apart struct {
	*sharers
	kinds  []int                     // of plate
	halves [2][]int                  // these in two parts: see sums
	every  kinds                     // all of them
	next   map[kinds]int             // which kind is dealt next, by those that are left
	made   map[string][]measure.Mass // what a half makes, by implement and counts
	whole  map[string]*held          // shares of all kinds, by implement
	root   []*held                   // of each implement
	best   []*held                   // nil: no deal is better than the one known
	least  measure.Mass              // what the best costs, or the one known
	open   measure.Mass              // the least that a beginning costs that was not looked into
	list   bool                      // all deals that cost the least are looked for
	deals  []map[string][]int        // these
}

// kinds are kinds of plate, a bit each.
type kinds uint64

// mostKinds is how many kinds a pile may have to be dealt so.
const mostKinds = 64

// dealtApart is how a pile is dealt to implements.
type dealtApart struct {
	shares map[string][]int   // of each implement in the best deal found; nil: none is better than the greedy one
	least  measure.Mass       // what every deal costs at least
	deals  []map[string][]int // all that cost this; nil: not known
}

// held is what an implement has of the kinds dealt so far.
type held struct {
	share []int            // of each kind of plate, on every end
	costs [][]measure.Mass // what everybody misses more than alone, with all there is of the kinds to come; by spot
	tied  [][]bool         // who may miss as much upwards as downwards; by spot
	more  map[int][]*held  // with none, one, two … of each kind to come
}

// never is more than any pile weighs, and small enough to be added up.
const never = measure.Mass(math.MaxInt64 / 1024)

// stepsOfWork is how many steps of such a deal count as one unit of work.
const stepsOfWork = 800

// dealApart looks for a deal of the pile for a layout that costs less than known, and says
// who sits where with it: nil where it finds none. With all it lists the best deals too. A
// deal says what each implement has at most: where all that begin so cost the same,
// whatever comes, there is one for them all, and of the kinds to come each has what there is.
func (p *planner) dealApart(l *layout, known *answer, work int, all bool) (d dealtApart, who []int) {
	a := p.newApart(l, known.cost.short)
	a.work = work * stepsOfWork
	a.climb(a.stand(known))
	climbed := a.least
	a.look(all)
	if all && a.least < climbed && a.work > 0 { // on the way some that cost as little were left out
		a.look(true)
	}
	p.work += work - a.work/stepsOfWork
	if a.list && a.work > 0 {
		d.deals = a.deals
	}
	if a.open < a.least && a.best != nil { // something better may be near
		a.work = work * stepsOfWork / 8
		a.climb(a.best)
	}
	d.least = min(a.open, a.least)
	if a.best == nil {
		return d, nil
	}
	d.shares = a.shares(a.best)
	return d, a.seats(l)
}

// look goes through the deals that cost less than the best known; with list it lists those
// that cost as much.
func (a *apart) look(list bool) {
	if a.least == 0 {
		return
	}
	a.list, a.deals = list, nil
	a.branch(a.every, beginning{a.root, 0})
}

// newApart is for deals that cost less than known.
func (p *planner) newApart(l *layout, known measure.Mass) *apart {
	all := make([]int, len(l.units))
	for u := range all {
		all[u] = u
	}
	a := &apart{sharers: p.sharers(l, all), next: map[kinds]int{}, made: map[string][]measure.Mass{}, whole: map[string]*held{}, least: known, open: known}
	for k, kind := range p.in.Kit.Plates {
		if kind.Count > 0 && kind.Mass > 0 {
			a.kinds = append(a.kinds, k)
			a.every |= 1 << k
		}
	}
	a.halves = load.Halves(a.kinds, p.in.Kit.Plates)
	for range a.on {
		a.root = append(a.root, &held{share: make([]int, len(p.in.Kit.Plates))})
	}
	return a
}

// shares is what the implements hold, in plates on all their ends, by name.
func (a *apart) shares(now []*held) map[string][]int {
	shares := map[string][]int{}
	for i, h := range now {
		on := &a.on[i]
		shares[on.Name] = make([]int, len(h.share))
		for k, n := range h.share {
			shares[on.Name][k] = n * on.Ends
		}
	}
	return shares
}

// mostDeals is how many deals of a short pile are listed.
const mostDeals = 5000

// note lists a deal that costs the least, with the kinds that are left on each implement.
func (a *apart) note(left kinds, now []*held) {
	deal := a.shares(now)
	for i := range a.on {
		for k := range a.p.in.Kit.Plates {
			if left>>k&1 == 1 {
				deal[a.on[i].Name][k] = a.holds(&a.on[i], k) * a.on[i].Ends
			}
		}
	}
	if a.deals = append(a.deals, deal); len(a.deals) > mostDeals {
		a.list, a.deals = false, nil
	}
}

// beginning is a way to deal the kinds so far, and what all that begin so cost at least.
type beginning struct {
	held []*held
	cost measure.Mass
}

// settled reports whether all that begin so cost as much as the best deal known, and
// everybody moves the same in them wherever they may then be.
func (a *apart) settled(b *beginning) bool {
	if b.cost != a.least {
		return false
	}
	a.hand(b.held)
	spare := a.least // over what all cost at least
	for _, of := range a.parties {
		a.raise(of)
		spare -= a.tolled(of)
	}
	for _, of := range a.parties {
		for _, o := range of.spots {
			for _, who := range of.people {
				if o.tied[who] && o.costs[who]-o.toll-of.cheapest(who, nil) <= spare {
					return false
				}
			}
		}
	}
	return true
}

// stepsOfHand is how many steps it counts for to look at a spot anew.
const stepsOfHand = 16

// hand gives the spots what their implements hold.
func (a *apart) hand(now []*held) {
	a.work -= stepsOfHand * len(a.spots)
	for i, o := range a.spots {
		h := now[o.on]
		o.costs, o.tied = h.costs[i], h.tied[i]
	}
}

// beats reports whether a deal of that cost is looked for.
func (a *apart) beats(cost measure.Mass) bool {
	return cost < a.least || a.list && cost == a.least
}

// branch deals the kinds that are left, after a beginning.
func (a *apart) branch(left kinds, begun beginning) {
	switch {
	case left == 0 && begun.cost < a.least:
		a.best, a.least, a.deals = begun.held, begun.cost, nil
		return
	case left == 0 || a.settled(&begun):
		a.note(left, begun.held)
		return
	}
	all := a.beginnings(left, begun)
	if a.work <= 0 {
		a.open = min(a.open, begun.cost)
		return
	}
	slices.SortStableFunc(all, func(x, y beginning) int { return cmp.Compare(x.cost, y.cost) })
	for _, b := range all {
		if !a.beats(b.cost) {
			return
		}
		if a.work <= 0 {
			a.open = min(a.open, b.cost)
			return
		}
		a.branch(left&^(1<<a.next[left]), b)
	}
}

// beginnings are the ways to deal the next kind of those left that may be better than what
// is known. The first time it is asked, it finds out which kind has the fewest.
func (a *apart) beginnings(left kinds, begun beginning) []beginning {
	if k, ok := a.next[left]; ok {
		return a.dealt(k, left, begun)
	}
	var fewest []beginning
	next := -1
	for _, k := range a.kinds {
		if left>>k&1 == 0 {
			continue
		}
		if all := a.dealt(k, left, begun); next < 0 || len(all) < len(fewest) {
			fewest, next = all, k
		}
		if a.work <= 0 {
			return nil
		}
	}
	a.next[left] = next
	return fewest
}

// dealt deals a kind, one of those left, in every way.
func (a *apart) dealt(k int, left kinds, begun beginning) (all []beginning) {
	more := make([][]*held, len(a.on))
	for on, h := range begun.held {
		more[on] = a.more(on, k, left, h)
	}
	var deal func(on, plates int, then []*held)
	deal = func(on, plates int, then []*held) {
		switch {
		case a.work <= 0:
			return
		case on == len(a.on):
			if cost := a.cost(then); a.beats(cost) {
				all = append(all, beginning{slices.Clone(then), cost})
			}
			return
		}
		ends := a.on[on].Ends
		for c := min(len(more[on])-1, plates/ends); c >= 0; c-- {
			deal(on+1, plates-c*ends, append(then, more[on][c]))
			if on == len(a.on)-1 {
				break // the last takes all there is: more is never worse
			}
		}
	}
	deal(0, a.p.in.Kit.Plates[k].Count, make([]*held, 0, len(a.on)))
	return all
}

// more is what an implement holds with each number of plates of a kind, one of those left.
func (a *apart) more(on, k int, left kinds, h *held) []*held {
	if h.more == nil {
		h.more = map[int][]*held{}
	}
	if h.more[k] != nil {
		return h.more[k]
	}
	for c := range a.holds(&a.on[on], k) + 1 {
		if a.work <= 0 {
			h.more[k] = nil // not all of it is known
			return nil
		}
		share := slices.Clone(h.share)
		share[k] = c
		h.more[k] = append(h.more[k], a.held(on, share, left&^(1<<k)))
	}
	return h.more[k]
}

// held is what an implement has with a share of the kinds dealt so far, not those left.
func (a *apart) held(on int, share []int, left kinds) *held {
	h := &held{share: share}
	most := slices.Clone(share)
	for k := range most {
		if left>>k&1 == 1 {
			most[k] = a.holds(&a.on[on], k)
		}
	}
	these, others := a.sums(on, 0, most), a.sums(on, 1, most)
	h.costs, h.tied = make([][]measure.Mass, len(a.spots)), make([][]bool, len(a.spots))
	for i, o := range a.spots {
		if o.on == on {
			h.costs[i], h.tied[i] = a.miss(o, these, others)
		}
	}
	return h
}

// cost seats everybody where that is cheapest with what the implements hold; less, where
// that is too much already.
func (a *apart) cost(now []*held) measure.Mass {
	a.hand(now)
	for raised := range 2 {
		sum := measure.Mass(0)
		for _, of := range a.parties {
			if raised > 0 {
				a.raise(of)
			}
			sum += a.tolled(of)
		}
		if !a.beats(sum) {
			return sum
		}
	}
	sum := measure.Mass(0)
	for _, of := range a.parties {
		cost, _ := a.seated(of)
		sum += cost
	}
	return sum
}

// seats returns who sits on each seat with the best deal; nil where their turns do not
// let them.
func (a *apart) seats(l *layout) []int {
	a.cost(a.best)
	who := slices.Repeat([]int{-1}, len(l.seats))
	for _, of := range a.parties {
		_, people := a.seated(of)
		for _, o := range of.spots {
			for _, person := range people[:o.room] {
				free := slices.IndexFunc(l.units, func(u unit) bool {
					s := &l.seats[u.seat]
					return who[u.seat] < 0 && s.group == of.group && s.on.Name == a.on[o.on].Name && a.p.may(person, s)
				})
				if free < 0 {
					return nil
				}
				who[l.units[free].seat] = person
			}
			people = people[o.room:]
		}
	}
	return who
}
