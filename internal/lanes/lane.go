package lanes

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// lane is people in their order on one column.
type lane struct {
	people   set
	order    []int
	base     cost    // whatever the stacks are
	least    cost    // at least
	cheapest *option // nil: not asked for yet
	options  options // as far as they were asked for: see joint
}

// list writes down every order of every column that may be in an arrangement better than
// the best known, with its cost; false where the work runs out.
func (e *exact) list() bool {
	e.lists = make([][][]*lane, len(e.cols))
	for j, groups := range e.groups() {
		for _, g := range groups {
			lanes, ok := e.lanes(j, g)
			if !ok {
				return false
			}
			if len(lanes) > 0 {
				e.lists[j] = append(e.lists[j], lanes)
			}
		}
		slices.SortFunc(e.lists[j], func(a, b []*lane) int { return a[0].least.compare(&b[0].least) })
	}
	return true
}

// lanes returns every order of a group on column j, the cheapest first; false where the
// work runs out.
func (e *exact) lanes(j int, g group) (list []*lane, ok bool) {
	col := &e.cols[j]
	key := e.shareKey(j, &e.l.seats[col.seats[0]].on) + string(binary.AppendUvarint(nil, uint64(g.people)))
	if list, ok := e.known.lanes[key]; ok {
		return list, true
	}
	order := make([]int, 0, len(col.seats))
	var from func(left set) bool
	from = func(left set) bool {
		t := len(order)
		if t == len(col.seats) {
			if la, ok := e.lane(j, g, order); ok {
				list = append(list, la)
			}
			return e.p.work < e.p.limit()
		}
		for rest := left; rest > 0; rest &= rest - 1 {
			if i := bits.TrailingZeros32(uint32(rest)); e.p.may(i, &e.l.seats[col.seats[t]]) {
				order = append(order, i)
				if !from(left &^ (1 << i)) {
					return false
				}
				order = order[:t]
			}
		}
		return true
	}
	if !from(g.people) {
		return nil, false
	}
	slices.SortFunc(list, func(a, b *lane) int { return a.least.compare(&b.least) })
	e.known.lanes[key] = list
	return list, true
}

// lane is one order on column j; false where there are no stacks for it.
func (e *exact) lane(j int, g group, order []int) (*lane, bool) {
	la := &lane{people: g.people, order: slices.Clone(order), base: cost{short: g.loads.short, over: g.loads.over}}
	for t, i := range order {
		la.base.list += place(i, e.cols[j].seats[t], len(e.p.people), len(e.l.seats))
	}
	p := e.priced(j, e.racksOf(&e.cols[j], order))
	if p.least.plates == dearest.plates {
		return nil, false
	}
	la.least = la.base.plus(&p.least)
	if !e.l.lockstep && len(e.cols[j].units) == len(order) { // few stacks to choose, many orders to look at
		la.least = e.cheapest(j, la).cost
	}
	return la, true
}

// racksOf is the racks of the units of a column, with these people on it.
func (e *exact) racksOf(col *column, order []int) []*rack {
	list := make([]*rack, len(col.units))
	for n, u := range col.units {
		list[n] = e.rack(order[col.whose[n]], u)
	}
	return list
}

// priced is what a column comes to with some racks.
type priced struct {
	least cost  // of any stacks, at least
	cost  cost  // of the cheapest
	pick  []int // these; nil: not asked for yet
}

// priced returns what column j comes to with those racks.
func (e *exact) priced(j int, racks []*rack) *priced {
	key := []byte{byte(j)}
	for _, k := range racks {
		key = binary.AppendUvarint(key, uint64(k.id))
	}
	p := e.known.runs[string(key)]
	if p == nil {
		u := e.racks.newRun(&e.cols[j], racks)
		p = &priced{least: u.least()}
		e.p.work += 1 + u.work/stepsOfRun
		e.known.runs[string(key)] = p
	}
	return p
}

// stepsOfRun is how many stacks looked at count as one unit of work.
const stepsOfRun = 400

// cheapest returns the cheapest stacks of a lane of column j, whatever stands on the others.
func (e *exact) cheapest(j int, la *lane) *option {
	if la.cheapest == nil {
		racks := e.racksOf(&e.cols[j], la.order)
		p := e.priced(j, racks)
		u := e.racks.newRun(&e.cols[j], racks)
		if p.pick == nil {
			p.cost = u.cheapest()
			p.pick = u.pick
			e.p.work += 1 + u.work/stepsOfRun
			e.cut = e.cut || u.work > mostSteps
		}
		la.cheapest = &option{p.pick, u.keeps(p.pick, len(e.p.in.Kit.Plates)), la.base.plus(&p.cost)}
	}
	return la.cheapest
}
