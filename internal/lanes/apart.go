package lanes

import (
	"cmp"
	"math"
	"slices"

	"hawser/internal/measure"
)

// apart deals a short pile where each implement keeps its plates for all of its people.
// Kind by kind it deals the pile to the implements in every way, with as many of the
// kinds to come on each as there are of them, and seats everybody where that is cheapest:
// no deal that begins so costs less. The cheapest beginning is looked into first, and none
// that costs as much as the best deal known.
type apart struct {
	*sharers
	kinds  []int            // of plate, in the order they are dealt
	others [][]measure.Mass // what each implement makes of the kinds after each: see reach
	root   []*held          // of each implement
	best   []*held          // nil: no deal is better than the one known
	least  measure.Mass     // what the best costs, or the one known
	open   measure.Mass     // the least that a beginning costs that was not looked into
	each   func([]*held)    // where every deal that costs less is asked for: takes one
}

// dealtApart is the best deal that was found, nil where none is better than the greedy
// one, and what every deal costs at least.
type dealtApart struct {
	shares map[string][]int // of each implement
	least  measure.Mass
}

// held is what an implement has of the kinds dealt so far.
type held struct {
	share  []int            // of each kind of plate, on every end
	masses []measure.Mass   // that it makes, in order
	costs  [][]measure.Mass // what everybody misses more than alone, with all there is of the kinds to come; by spot
	more   []*held          // with none, one, two … of the next kind
}

// never is more than any pile weighs, and small enough to be added up.
const never = measure.Mass(math.MaxInt64 / 1024)

// stepsOfWork is how many steps of such a deal count as one unit of work.
const stepsOfWork = 500

// dealApart looks for a deal of the pile for a layout that costs less than known. It
// returns the share of each implement by name and who sits where, nil where it finds none,
// and what every deal costs at least.
func (p *planner) dealApart(l *layout, known *answer, work int) (shares map[string][]int, who []int, least measure.Mass) {
	a := p.newApart(l, known.cost.short, work)
	a.climb(a.stand(known))
	a.branch(0, beginning{a.root, 0})
	p.work += work - a.work/stepsOfWork
	if a.open < a.least && a.best != nil { // something better may be near
		a.work = work * stepsOfWork / 8
		a.climb(a.best)
	}
	if a.best == nil {
		return nil, nil, a.open
	}
	return a.shares(a.best), a.seats(l), min(a.open, a.least)
}

// newApart is for deals that cost less than known.
func (p *planner) newApart(l *layout, known measure.Mass, work int) *apart {
	all := make([]int, len(l.units))
	for u := range all {
		all[u] = u
	}
	a := &apart{sharers: p.sharers(l, all), least: known, open: known}
	a.work = work * stepsOfWork
	a.order()
	a.others = make([][]measure.Mass, len(a.on)*len(a.kinds))
	for range a.on {
		a.root = append(a.root, &held{share: make([]int, len(p.in.Kit.Plates)), masses: []measure.Mass{0}})
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

// allDeals returns every deal of the whole pile that costs no more than least, which none
// costs less than; false where they are more than most, or there is not enough work.
func (p *planner) allDeals(l *layout, least measure.Mass, most, work int) (all []map[string][]int, ok bool) {
	a := p.newApart(l, least+1, work)
	a.each = func(now []*held) {
		if all = append(all, a.shares(now)); len(all) > most {
			a.work = 0
		}
	}
	a.branch(0, beginning{a.root, 0})
	p.work += work - a.work/stepsOfWork
	return all, a.work > 0
}

// order puts the kinds first that cost most where they alone are short, then the heaviest.
func (a *apart) order() {
	costs := map[int]measure.Mass{}
	for k, kind := range a.p.in.Kit.Plates {
		if kind.Count > 0 && kind.Mass > 0 {
			a.kinds = append(a.kinds, k)
			costs[k] = a.sharers.least([]int{k})
		}
	}
	slices.SortStableFunc(a.kinds, func(k, other int) int {
		pile := a.p.in.Kit.Plates
		return cmp.Or(cmp.Compare(costs[other], costs[k]), cmp.Compare(pile[other].Mass, pile[k].Mass))
	})
}

// beginning is a way to deal the kinds so far, and what all that begin so cost at least.
type beginning struct {
	held []*held
	cost measure.Mass
}

// branch deals the kinds from one on, after a beginning.
func (a *apart) branch(n int, begun beginning) {
	switch {
	case n < len(a.kinds):
	case a.each != nil:
		a.each(begun.held)
		return
	default:
		a.best, a.least = begun.held, begun.cost
		return
	}
	var all []beginning
	k := a.kinds[n]
	var deal func(on int, left int, then []*held)
	deal = func(on, left int, then []*held) {
		switch {
		case a.work <= 0:
			a.open = min(a.open, begun.cost)
			return
		case on == len(a.on):
			if cost := a.cost(then); cost < a.least {
				all = append(all, beginning{slices.Clone(then), cost})
			}
			return
		}
		ends, more := a.on[on].Ends, a.more(on, n, begun.held[on])
		for c := min(len(more)-1, left/ends); c >= 0; c-- {
			deal(on+1, left-c*ends, append(then, more[c]))
			if on == len(a.on)-1 {
				break // the last takes all there is: more is never worse
			}
		}
	}
	deal(0, a.p.in.Kit.Plates[k].Count, make([]*held, 0, len(a.on)))
	slices.SortStableFunc(all, func(x, y beginning) int { return cmp.Compare(x.cost, y.cost) })
	for _, b := range all {
		if b.cost >= a.least {
			return
		}
		if a.work <= 0 {
			a.open = min(a.open, b.cost)
			return
		}
		a.branch(n+1, b)
	}
}

// more is what an implement holds with each number of plates of kind n in the order.
func (a *apart) more(on, n int, h *held) []*held {
	if h.more != nil {
		return h.more
	}
	k := a.kinds[n]
	others := &a.others[on*len(a.kinds)+n]
	if *others == nil {
		*others = a.reach(&a.on[on], a.kinds[:n+1])
	}
	masses := h.masses
	for c := range a.holds(&a.on[on], k) + 1 {
		if c > 0 {
			plates := a.p.in.Kit.Plates[k].Mass * measure.Mass(c*a.on[on].Ends)
			for _, m := range h.masses {
				if m+plates <= a.most+a.p.in.Kit.Plates[k].Mass*measure.Mass(a.on[on].Ends) {
					masses = append(masses, m+plates)
				}
			}
			slices.Sort(masses)
			masses = slices.Compact(masses)
		}
		next := &held{share: slices.Clone(h.share), masses: slices.Clone(masses)}
		next.share[k] = c
		for _, o := range a.spots {
			if o.on == on {
				next.costs = append(next.costs, a.miss(o, next.masses, *others))
			}
		}
		h.more = append(h.more, next)
	}
	return h.more
}

// miss is what everybody misses at a spot more than alone, with the masses that two sets
// of plates make.
func (a *apart) miss(o *spot, these, others []measure.Mass) []measure.Mass {
	costs := make([]measure.Mass, len(o.asks))
	for who, asks := range o.asks {
		for _, ask := range asks {
			least := never
			i, j := 0, len(others)-1
			for i < len(these) && j >= 0 {
				sum := these[i] + others[j]
				least = min(least, distance(sum, ask.plates))
				if sum > ask.plates {
					j--
				} else {
					i++
				}
			}
			costs[who] += least - ask.miss
			a.work -= len(these) + len(others)
		}
		if o.barred[who] {
			costs[who] = never
		}
	}
	return costs
}

// cost seats everybody where that is cheapest with what the implements hold; less, where
// that is too much already.
func (a *apart) cost(now []*held) measure.Mass {
	seen := make([]int, len(now))
	for _, o := range a.spots {
		o.costs = now[o.on].costs[seen[o.on]]
		seen[o.on]++
	}
	if sum := a.anywhere(); sum >= a.least {
		return sum
	}
	sum := measure.Mass(0)
	for group := range a.people {
		cost, _ := a.seated(group)
		sum += cost
	}
	return sum
}

// anywhere is what it costs to have everybody at their best spot, however many are there.
func (a *apart) anywhere() (sum measure.Mass) {
	for group, people := range a.people {
		for _, who := range people {
			least := never
			for _, o := range a.spots {
				if o.group == group {
					least = min(least, o.costs[who])
				}
			}
			sum += least
		}
	}
	a.work -= len(a.spots) * len(a.p.people)
	return sum
}

// seats returns who sits on each seat with the best deal; nil where their turns do not
// let them.
func (a *apart) seats(l *layout) []int {
	a.cost(a.best)
	who := slices.Repeat([]int{-1}, len(l.seats))
	for group := range a.people {
		_, people := a.seated(group)
		for _, o := range a.spots {
			if o.group != group {
				continue
			}
			for _, person := range people[:o.room] {
				free := slices.IndexFunc(l.units, func(u unit) bool {
					s := &l.seats[u.seat]
					return who[u.seat] < 0 && s.group == group && s.on.Name == a.on[o.on].Name && a.p.may(person, s)
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
