package lanes

import (
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// mostDeals is how many deals of a short pile are looked through for the fewest plates.
const mostDeals = 100

// exactlyApart is exactly for implements with clocks of their own and a pile that no deal
// makes enough: of every deal that costs the least, the best arrangement. Within a deal
// the implements have nothing to do with one another.
func (p *planner) exactlyApart(l *layout, best *answer) (*answer, bool, int) {
	if p.dealt[l].least < best.cost.short {
		return best, false, 0 // there may be a better deal
	}
	deals, ok := p.allDeals(l, best.cost.short, mostDeals, p.limit()/2)
	if !ok {
		return best, false, 0
	}
	for _, share := range deals {
		e := p.newExact(l, best)
		e.share, e.held = share, map[int]heldRack{}
		if !e.small() || !e.list() || !e.table() {
			return best, false, 0
		}
		e.column(0, set(1)<<len(p.people)-1, &cost{})
		if best = e.best; p.work >= p.limit() || e.racks.cut || e.cut {
			return best, false, 0
		}
	}
	best.proved = true
	return best, true, best.cost.plates
}

// heldRack is what one person gets of the share of an implement.
type heldRack struct {
	*rack
	miss measure.Mass // more than alone
}

// rack is the stacks that a person on a seat may have, and what these miss more than alone.
func (e *exact) rack(who, seat int) (*rack, measure.Mass) {
	on, c := e.l.seats[seat].on, e.choice(who, seat)
	if e.share == nil {
		return e.racks.of(on, c.moves), 0
	}
	h, ok := e.held[c.id]
	if !ok {
		share := e.share[on.Name]
		moves := e.p.nearest(c, share).On(on, e.p.in.Kit.Plates)
		list, whole := e.p.stacks(on, moves)
		list = slices.DeleteFunc(slices.Clone(list), func(s load.Stack) bool { return !has(share, nil, s, on.Ends) })
		e.racks.cut = e.racks.cut || !whole
		h = heldRack{e.racks.rack(on, list), distance(moves, c.want.Total) - c.miss}
		e.held[c.id] = h
	}
	return h.rack, h.miss
}

// apartLeaf finds the best stacks of an arrangement whose implements have clocks of their
// own, in which everyone gets what they get alone, or of the share that is dealt.
func (e *exact) apartLeaf() {
	a := &answer{layout: e.l, who: slices.Clone(e.who), got: make([]load.Got, len(e.who)), cost: e.best.cost, proved: true}
	base := cost{list: e.p.listOrder(e.l, e.who)}
	for seat, who := range e.who { // a part with no list of sets has one unit a seat
		k, miss := e.rack(who, seat)
		if len(k.stacks) == 0 {
			return
		}
		c := e.choice(who, seat)
		a.got[seat] = e.p.got(c, k.stacks[0])
		base.short += miss
		if c.over {
			base.over++
		}
	}
	e.plates(a, base)
	if a.cost.compare(&e.best.cost) < 0 {
		e.best = a
	}
}

// settled is what of an arrangement's cost no other stacks of the same loads change.
func (a *answer) settled() cost {
	return cost{short: a.cost.short, over: a.cost.over, list: a.cost.list}
}
