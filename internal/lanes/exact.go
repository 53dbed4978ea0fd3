package lanes

import "slices"

// exactPeople is up to how many people the exact search is tried, and exactColumns up to how
// many implements it is given all the work that there is.
const (
	exactPeople  = 12
	exactColumns = 4
)

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
	known *shareBook       // what was worked out
	cut   bool             // a choice of stacks was not looked through
}

// set is people, a bit each.
type set uint32

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
	if e.best.cost.short > 0 || e.racks.cut || e.cut { // other stacks may move fewer
		return e.best, false, 0
	}
	proved := p.work < p.limit()
	e.best.proved = e.best.proved || proved && !l.lockstep // however its pile was dealt
	return e.best, proved, least.plates
}

func (p *planner) newExact(l *layout, best *answer) *exact {
	cols := l.columns()
	return &exact{p: p, l: l, cols: cols, racks: p.racks, now: make([]*lane, len(cols)), who: make([]int, len(l.seats)), seen: map[string]bool{}, known: newShareBook(), best: best}
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

// choice is what a person gets for a unit.
func (e *exact) choice(who, unit int) *choice {
	at := e.l.units[unit]
	return e.p.choose(who, &e.l.seats[at.seat], at.set)
}

// table fills in the least cost of the columns from each on; false where there is
// nothing.
func (e *exact) table() bool {
	n, all := len(e.cols), set(1)<<len(e.p.people)-1
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
				both, sum := la.people|others, la.least.plus(e.rest[j+1][others])
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
		lane  *lane
		sum   cost // at least, of all columns
		after set
	}
	var branches []branch
	for _, lanes := range e.lists[j] {
		after := left &^ lanes[0].people
		if lanes[0].people&^left != 0 || e.rest[j+1][after] == nil {
			continue
		}
		rest := c.plus(e.rest[j+1][after])
		for _, la := range lanes {
			sum := rest.plus(&la.least)
			if sum.compare(&e.best.cost) >= 0 {
				break
			}
			branches = append(branches, branch{la, sum, after})
		}
	}
	slices.SortFunc(branches, func(a, b branch) int { return a.sum.compare(&b.sum) })
	for _, b := range branches {
		if b.sum.compare(&e.best.cost) >= 0 || e.p.work >= e.p.limit() {
			return
		}
		e.step(stepsOfLane)
		cheapest := e.cheapest(j, b.lane)
		next := c.plus(&cheapest.cost)
		if sum := next.plus(e.rest[j+1][b.after]); sum.compare(&e.best.cost) >= 0 {
			continue
		}
		e.now[j] = b.lane
		for t, i := range b.lane.order {
			e.who[e.cols[j].seats[t]] = i
		}
		if e.stands(j) {
			e.column(j+1, b.after, &next)
		}
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
