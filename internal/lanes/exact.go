package lanes

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// exactPeople is up to how many people the exact search is tried.
const exactPeople = 12

// exact looks for the best arrangement over one station. An arrangement's cost is
// bounded by the sum of its columns' costs, each with stacks as if the pile were
// there for it alone; the least sum for any people left and columns left is a
// table over sets of people. A branch is left when its columns and that table
// come to more than the best known. On an ample pile the first arrangement that
// is reached has just that cost, so nothing else needs a look.
type exact struct {
	p     *planner
	l     *layout
	cols  []column
	racks *racks
	lists [][][]*lane // of each column, by who is on it: the orders, cheapest first
	rest  [][]*cost   // least cost of columns j and after, by people; nil: not for just them
	who   []int
	now   []*lane         // of each column, as who has them
	steps int             // see step
	seen  map[string]bool // whether these loads can stand at once, as far as tried
	rows  []row
	joint *joint // nil: not needed yet
	best  *answer
	share map[string][]int // of the pile that each implement keeps; nil: the pile is there for each alone
	known *shareBook       // of what that comes to
	cut   bool             // a choice of stacks was not looked through
}

// set is people, a bit each.
type set uint32

// lane is people in their order on one column, with the least cost.
type lane struct {
	people   set
	order    []int
	cost     cost
	cheapest *option // of an implement with a clock of its own: see joint
	options  options // as far as they were asked for
}

// exactly tries to prove the best arrangement. best is what is known. It
// returns the best that it found, whether that is proved, and the least plates
// moved that are.
func (p *planner) exactly(l *layout, best *answer) (*answer, bool, int) {
	if best.cost.short > 0 && !l.lockstep {
		return p.exactlyApart(l, best)
	}
	e := p.newExact(l, best)
	if !e.small() || !e.list() || !e.table() {
		return e.best, false, 0
	}
	all := set(1)<<len(p.people) - 1
	least := e.rest[0][all]
	if least == nil {
		return e.best, false, 0
	}
	if best.cost.short > 0 && l.lockstep {
		if least, ok := e.leastShort(); !ok || least > 0 {
			return e.best, ok && e.short(least) && !e.racks.cut && !e.cut, 0
		}
	}
	e.search()
	bound := 0
	if e.best.cost.short == 0 {
		bound = least.plates
	}
	proved := e.best.cost.short == 0 && p.work < p.limit() && !e.racks.cut && !e.cut
	e.best.proved = e.best.proved || proved && !l.lockstep // however its pile was dealt
	return e.best, proved, bound
}

func (p *planner) newExact(l *layout, best *answer) *exact {
	cols := l.columns()
	return &exact{p: p, l: l, cols: cols, racks: p.racks, now: make([]*lane, len(cols)), who: make([]int, len(l.seats)), seen: map[string]bool{}, best: best}
}

// mostOrders is how many orders of one column or row are listed.
const mostOrders = 20_000

// small reports whether there are few enough orders to list.
func (e *exact) small() bool {
	few := func(seats int) bool {
		n := 1
		for t := range seats {
			n *= len(e.p.people) - t
			if n > mostOrders {
				return false
			}
		}
		return true
	}
	for j := range e.cols {
		if !few(len(e.cols[j].seats)) {
			return false
		}
	}
	for _, m := range e.l.moments {
		if !few(len(m)) {
			return false
		}
	}
	return true
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
		slices.SortFunc(e.lists[j], func(a, b []*lane) int { return a[0].cost.compare(&b[0].cost) })
	}
	return true
}

// lanes returns every order of a group on column j, the cheapest first; false where the
// work runs out.
func (e *exact) lanes(j int, g group) (list []*lane, ok bool) {
	col := &e.cols[j]
	key := e.shareKey(j, &e.l.seats[col.seats[0]].on) + string(binary.AppendUvarint(nil, uint64(g.people)))
	if e.share != nil && e.known.lanes[key] != nil {
		return e.known.lanes[key], true
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
	slices.SortFunc(list, func(a, b *lane) int { return a.cost.compare(&b.cost) })
	if e.share != nil {
		e.known.lanes[key] = list
	}
	return list, true
}

// lane is one order on column j; false where there are no stacks for it.
func (e *exact) lane(j int, g group, order []int) (*lane, bool) {
	col := &e.cols[j]
	c, ok := e.cheapest(j, e.racksOf(col, order))
	c.short, c.over = g.loads.short, g.loads.over
	for t, i := range order {
		c.list += place(i, col.seats[t], len(e.p.people), len(e.l.seats))
	}
	return &lane{people: g.people, order: slices.Clone(order), cost: c}, ok
}

// choice is what a person gets for a unit.
func (e *exact) choice(who, unit int) *choice {
	at := e.l.units[unit]
	return e.p.choose(who, &e.l.seats[at.seat], at.set)
}

// table fills in the least cost of the columns from each on; false where there is
// nothing.
func (e *exact) table() bool {
	n, all := len(e.cols), set(0)
	for _, list := range e.lists {
		for _, lanes := range list {
			all |= lanes[0].people
		}
	}
	e.rest = make([][]*cost, n+1)
	for j := range e.rest {
		e.rest[j] = make([]*cost, all+1)
	}
	e.rest[n][0] = &cost{}
	later := []set{0} // those that there is a cost for
	for j := n - 1; j >= 0; j-- {
		var now []set
		for _, lanes := range e.lists[j] {
			la := lanes[0]
			e.p.work += len(later) / 100
			for _, others := range later {
				if la.people&others != 0 {
					continue
				}
				both, sum := la.people|others, la.cost.plus(e.rest[j+1][others])
				if was := e.rest[j][both]; was == nil {
					e.rest[j][both], now = &sum, append(now, both)
				} else if sum.compare(was) < 0 {
					*was = sum
				}
			}
		}
		later = now
	}
	return len(later) > 0
}

// search goes through all arrangements. Where the columns' stacks are chosen together it
// looks first for those that move as few plates as the columns would alone, then for those
// that move one more, and so on in steps twice as large: of a column few choices of stacks
// move so few.
func (e *exact) search() {
	all, known := set(1)<<len(e.p.people)-1, e.best
	least := e.rest[0][all]
	if least == nil {
		return
	}
	if !e.l.lockstep && least.short == known.cost.short && least.over == known.cost.over {
		for more := 0; least.plates+more < known.cost.plates && e.p.work < e.p.limit(); more += 1 + more {
			start := &answer{cost: cost{short: least.short, over: least.over, plates: least.plates + more + 1}}
			e.best = start
			if e.column(0, all, &cost{}); e.best != start {
				return
			}
		}
		e.best = known
	}
	e.column(0, all, &cost{})
}

// column goes through the orders of column j for the people who are left.
func (e *exact) column(j int, left set, c *cost) {
	if j == len(e.cols) {
		e.leaf(c)
		return
	}
	type branch struct {
		lane *lane
		sum  cost
	}
	var branches []branch
	for _, lanes := range e.lists[j] {
		after := left &^ lanes[0].people
		if lanes[0].people&^left != 0 || e.rest[j+1][after] == nil {
			continue
		}
		rest := c.plus(e.rest[j+1][after])
		for _, la := range lanes {
			sum := rest.plus(&la.cost)
			if sum.compare(&e.best.cost) >= 0 {
				break
			}
			branches = append(branches, branch{la, sum})
		}
	}
	slices.SortFunc(branches, func(a, b branch) int { return a.sum.compare(&b.sum) })
	for _, b := range branches {
		if b.sum.compare(&e.best.cost) >= 0 || e.p.work >= e.p.limit() {
			return
		}
		e.step(stepsOfLane)
		e.now[j] = b.lane
		for t, i := range b.lane.order {
			e.who[e.cols[j].seats[t]] = i
		}
		if !e.stands(j) {
			continue
		}
		next := c.plus(&b.lane.cost)
		e.column(j+1, left&^b.lane.people, &next)
	}
}

// stands reports whether the loads of columns 0 … j can stand at once at every
// moment, each with some stack that makes it.
func (e *exact) stands(j int) bool {
	if !e.l.lockstep || j == 0 {
		return true
	}
	rows := 0
	for i := range j + 1 {
		rows = max(rows, len(e.cols[i].seats))
	}
	for t := range rows {
		key := make([]byte, 0, 16)
		var row []*rack
		for i := range j + 1 {
			if t < len(e.cols[i].seats) {
				seat := e.cols[i].seats[t]
				k := e.racks.of(e.l.seats[seat].on, e.choice(e.who[seat], e.l.first[seat]).moves)
				row = append(row, k)
				key = append(key, byte(k.id), byte(k.id>>8))
			}
		}
		ok, known := e.seen[string(key)]
		if !known {
			tries := mostTried
			ok = canStand(row, counts(e.p.in.Kit.Plates), &tries)
			e.seen[string(key)] = ok
		}
		if !ok {
			return false
		}
	}
	return true
}

// canStand reports whether each rack can give a stack out of what is left, or
// that it could not be told within so many tries.
func canStand(row []*rack, left []int, tries *int) bool {
	if len(row) == 0 {
		return true
	}
	for _, s := range row[0].stacks {
		*tries--
		if *tries < 0 {
			return true
		}
		if !has(left, nil, s, row[0].ends) {
			continue
		}
		take(left, s, row[0].ends)
		ok := canStand(row[1:], left, tries)
		take(left, s, -row[0].ends)
		if ok {
			return true
		}
	}
	return false
}

// leaf prices a whole arrangement whose columns come to at least c.
func (e *exact) leaf(c *cost) {
	if !e.l.lockstep {
		e.jointLeaf()
		return
	}
	a := e.p.evaluate(e.l, e.who)
	if a.cost.compare(c) > 0 && a.cost.short == 0 {
		e.plates(a)
	}
	if a.cost.compare(&e.best.cost) < 0 {
		e.best = a
	}
}
