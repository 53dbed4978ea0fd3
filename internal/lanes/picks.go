package lanes

import (
	"cmp"
	"math/bits"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// pick is one stack that somebody may have at a moment: its plates on all ends as
// one number, and how much more it misses than their stack alone.
type pick struct {
	plates uint64
	excess measure.Mass
}

// picks is what everybody may have on each implement, so that the pile's shortage
// costs no more than the best arrangement known. Of the pile's number each kind of
// plate has some bits, with one more above them that is lost when plates lack.
type picks struct {
	lists  map[[2]int][]pick // by person and seat; seats on one implement have the same
	shift  []int             // of each kind
	pile   uint64            // with all bits above set
	guards uint64            // these bits
	most   measure.Mass
	of     [][]pick // while an order is looked at
	least  measure.Mass
	steps  int
}

// picks lists them; false where the pile does not go into one number, or where it is
// dealt in list order, for which the least Σ is not asked.
func (e *exact) picks() (*picks, bool) {
	pile := e.p.in.Kit.Plates
	all := &picks{lists: map[[2]int][]pick{}, most: e.best.cost.short}
	at := 0
	for k := range pile {
		n := bits.Len(uint(max(0, pile[k].Count)))
		all.shift = append(all.shift, at)
		if at += n + 1; at > 64 {
			return nil, false
		}
		all.pile |= uint64(max(0, pile[k].Count)) << all.shift[k]
		all.guards |= 1 << (at - 1)
	}
	all.pile |= all.guards
	return all, e.p.spec.Allocate != "in order"
}

// list is what a person may have on a seat, the nearest first.
func (all *picks) list(e *exact, who, seat int) []pick {
	first := seat
	for i := range e.l.seats {
		if e.l.seats[i].on.Name == e.l.seats[seat].on.Name {
			first = i
			break
		}
	}
	key := [2]int{who, first}
	if found, ok := all.lists[key]; ok {
		return found
	}
	c := e.choice(who, e.l.first[seat])
	on, pile := c.want.On, e.p.in.Kit.Plates
	n := newEnumeration(pile, counts(pile), on)
	list := []pick{}
	far := c.miss + all.most
	s := make(load.Stack, len(pile))
	var from func(k int, moves measure.Mass)
	from = func(k int, moves measure.Mass) {
		all.steps++
		if moves > c.want.Total+far || moves+n.rest[k] < c.want.Total-far {
			return
		}
		if k == len(pile) {
			one := pick{excess: distance(moves, c.want.Total) - c.miss}
			for kind, count := range s {
				one.plates |= uint64(count*on.Ends) << all.shift[kind]
			}
			list = append(list, one)
			return
		}
		for count := 0; count <= n.most(k); count++ {
			s[k] = count
			from(k+1, moves+measure.Mass(count)*n.unit(k))
		}
		s[k] = 0
	}
	from(0, on.Tare)
	slices.SortFunc(list, func(a, b pick) int { return cmp.Or(cmp.Compare(a.excess, b.excess), cmp.Compare(a.plates, b.plates)) })
	all.lists[key] = list
	return list
}

// cost returns what the pile's shortage costs for an order of people on a row; false
// where that is more than the best arrangement costs.
func (all *picks) cost(e *exact, r *row, order []int) (measure.Mass, bool) {
	key := string(keyOf(order))
	if cost, ok := r.costs[key]; ok {
		return cost, true
	}
	all.of, all.steps = all.of[:0], 0
	for t, i := range order {
		all.of = append(all.of, all.list(e, i, r.seats[t]))
	}
	all.least = all.most + 1
	all.from(0, all.pile, 0)
	e.p.work += 1 + all.steps/300
	if all.least > all.most {
		return 0, false
	}
	r.costs[key] = all.least
	return all.least, true
}

// from goes through the picks of the t-th and those after it.
func (all *picks) from(t int, left uint64, sum measure.Mass) {
	if t == len(all.of) {
		all.least = sum
		return
	}
	for _, p := range all.of[t] {
		all.steps++
		if sum+p.excess >= all.least {
			return
		}
		if rest := left - p.plates; rest&all.guards == all.guards {
			all.from(t+1, rest, sum+p.excess)
		}
	}
}
