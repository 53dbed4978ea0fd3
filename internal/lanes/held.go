package lanes

import (
	"encoding/binary"
	"fmt"
	"maps"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// exactlyApart is exactly for implements with clocks of their own and a pile that no deal
// makes enough: of every deal that costs the least, the best arrangement. Within a deal
// of all plates the implements have nothing to do with one another; where a deal leaves
// plates for whoever needs them, no load depends on who does.
func (p *planner) exactlyApart(l *layout, best *answer) (*answer, bool, int) {
	d := p.dealt[l]
	switch {
	case d.least < best.cost.short: // there may be a better deal
		return best, false, 0
	case d.deals == nil:
		return p.nearDeals(l, best), false, 0
	}
	known := newShareBook()
	for _, share := range d.deals {
		var ok bool
		if best, ok = p.within(l, best, share, known); !ok {
			return best, false, 0
		}
	}
	best.proved = true
	return best, true, best.cost.plates
}

// within looks for a better arrangement within one deal; false where not all of it was
// looked through.
func (p *planner) within(l *layout, best *answer, share map[string][]int, known *shareBook) (*answer, bool) {
	e := p.newExact(l, best)
	e.share, e.known = share, known
	if !e.small() || !e.list() {
		return best, false
	}
	if !e.hopeless() {
		e.table()
		e.search()
	}
	return e.best, p.work < p.limit() && !e.racks.cut && !e.cut
}

// nearDeals is for a pile that can be dealt in too many ways. It returns the best of the
// arrangements that leave each implement what it has and give one of them what nobody has,
// as long as that is better.
func (p *planner) nearDeals(l *layout, best *answer) *answer {
	known := newShareBook()
	for again := true; again && p.work < p.limit(); {
		again = false
		for _, share := range p.dealsWith(best) {
			if b, _ := p.within(l, best, share, known); b != best {
				best, again = b, true
				break
			}
		}
	}
	return best
}

// dealsWith is the deals in which the implements have the plates that they have in an
// arrangement, and one of them those that nobody has.
func (p *planner) dealsWith(a *answer) []map[string][]int {
	share, left := p.hold(len(a.got), func(u int) (load.Implement, load.Stack) { return a.got[u].On, a.got[u].Stack })
	var all []map[string][]int
	for _, name := range slices.Sorted(maps.Keys(share)) {
		deal := maps.Clone(share)
		deal[name] = slices.Clone(share[name])
		for k := range left {
			deal[name][k] += left[k]
		}
		all = append(all, deal)
	}
	return all
}

// hopeless reports whether the cheapest orders of all columns, whoever is in them, come
// to no less than the best arrangement.
func (e *exact) hopeless() bool {
	var least cost
	for _, list := range e.lists {
		if len(list) == 0 {
			return true
		}
		least = least.plus(&list[0][0].least)
	}
	return least.compare(&e.best.cost) >= 0
}

// heldLoad is what one person gets of the share of an implement.
type heldLoad struct {
	moves, miss measure.Mass // miss: more than alone
	rack        *rack        // nil: not asked for yet
}

// shareBook keeps what was worked out of the shares of implements. Many deals have one
// in common, and many shares bring people the same.
type shareBook struct {
	held   map[string]*heldLoad // by choice and share
	racks  map[string]*rack     // by load and the stacks of it that are there
	runs   map[string]*priced   // what columns come to, by their racks
	lanes  map[string][]*lane   // the orders of a group on a column, by share
	groups map[string]*grouped  // that a column may have, by share
}

func newShareBook() *shareBook {
	return &shareBook{map[string]*heldLoad{}, map[string]*rack{}, map[string]*priced{}, map[string][]*lane{}, map[string]*grouped{}}
}

// shareKey tells a number with the share of an implement from others.
func (e *exact) shareKey(n int, on *load.Implement) string {
	key := binary.AppendUvarint(make([]byte, 0, 16), uint64(n))
	for _, count := range e.share[on.Name] {
		key = binary.AppendUvarint(key, uint64(count))
	}
	return string(key)
}

// held is what a person gets for a unit with the share of its implement.
func (e *exact) held(c *choice) *heldLoad {
	on := &c.want.On
	key := e.shareKey(c.id, on)
	h := e.known.held[key]
	if h == nil {
		moves := e.p.nearest(c, e.share[on.Name]).On(*on, e.p.in.Kit.Plates)
		h = &heldLoad{moves: moves, miss: distance(moves, c.want.Total) - c.miss}
		e.known.held[key] = h
	}
	return h
}

// rack is the stacks that a person may have for a unit.
func (e *exact) rack(who, unit int) *rack {
	c := e.choice(who, unit)
	if e.share == nil {
		return e.racks.of(c.want.On, c.moves)
	}
	h := e.held(c)
	if h.rack == nil {
		h.rack = e.there(c.want.On, h.moves, e.share[c.want.On.Name])
	}
	return h.rack
}

// there is the stacks of a load that a share has.
func (e *exact) there(on load.Implement, moves measure.Mass, share []int) *rack {
	list, whole := e.p.stacksOf(on, moves, share)
	e.cut = e.cut || !whole
	key := fmt.Append(nil, keyOfLoad(on, moves), list)
	k := e.known.racks[string(key)]
	if k == nil {
		k = e.racks.rack(on, list)
		e.known.racks[string(key)] = k
	}
	return k
}
