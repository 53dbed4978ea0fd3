package lanes

import (
	"math"
	"math/bits"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// column is the seats of one implement, in the order in which they are used, their units,
// set by set, and how often the stack of one follows on that of another over the part.
type column struct {
	seats []int
	units []int
	whose []int   // of each unit: which of the seats
	times [][]int // between two units, either way
}

// columns returns the columns of a layout of one station.
func (l *layout) columns() []column {
	var cols []column
	at := map[string]int{}
	for i, s := range l.seats {
		j, ok := at[s.on.Name]
		if !ok {
			j = len(cols)
			at[s.on.Name] = j
			cols = append(cols, column{})
		}
		cols[j].seats = append(cols[j].seats, i)
	}
	place := make([]int, len(l.units))
	for j := range cols {
		n := cols[j].list(l, place)
		cols[j].times = make([][]int, n)
		for a := range n {
			cols[j].times[a] = make([]int, n)
		}
	}
	for _, ch := range l.changes {
		c := &cols[at[l.seats[l.units[ch.from].seat].on.Name]]
		a, b := place[ch.from], place[ch.to]
		c.times[a][b] += ch.times
		c.times[b][a] += ch.times
	}
	return cols
}

// list lists the units of a column, and notes where each is. It returns how many they are.
func (c *column) list(l *layout, place []int) int {
	for set, some := 0, true; some; set++ {
		some = false
		for t, seat := range c.seats {
			if u := l.first[seat] + set; u < len(l.units) && l.units[u] == (unit{seat, set}) {
				place[u], some = len(c.units), true
				c.units, c.whose = append(c.units, u), append(c.whose, t)
			}
		}
	}
	return len(c.units)
}

// pair is what it takes to change from one stack to another once.
type pair struct {
	plates int
	mass   measure.Mass
}

// rack is the stacks that make one load on one kind of implement.
type rack struct {
	id     int
	stacks []load.Stack
	uses   []cost
	misses []measure.Mass // with each, more than alone; nil: none
	ends   int
}

// missed is what a stack misses more than theirs alone.
func (k *rack) missed(stack int) measure.Mass {
	if k.misses == nil {
		return 0
	}
	return k.misses[stack]
}

// racks holds the racks of a part and what lies between each two.
type racks struct {
	p     *planner
	all   map[loadKey]*rack
	count int
	pairs map[[2]int][]pair // by id: stack a of one × stack b of the other
	least map[[2]int]pair   // the cheapest of them, each figure for itself
	moves [][]between       // by id of both
	cut   bool              // a list of stacks is not whole
}

// between is the plates that move from the stacks of one rack to those of another.
// Of long racks most rows are never asked for.
type between struct {
	rows   [][]int32 // of each stack of the one, to each of the other; nil: not asked for yet
	fewest int       // 0: not asked for yet
}

func newRacks(p *planner) *racks {
	return &racks{p: p, all: map[loadKey]*rack{}, pairs: map[[2]int][]pair{}, least: map[[2]int]pair{}}
}

// of returns the rack of a load.
func (r *racks) of(on load.Implement, moves measure.Mass) *rack {
	key := keyOfLoad(on, moves)
	if k := r.all[key]; k != nil {
		return k
	}
	list, whole := r.p.stacks(on, moves)
	r.cut = r.cut || !whole
	r.all[key] = r.rack(on, list)
	return r.all[key]
}

// rack makes a rack of a list of stacks.
func (r *racks) rack(on load.Implement, list []load.Stack) *rack {
	k := &rack{id: r.count, ends: on.Ends}
	r.count++
	for _, s := range list {
		k.add(s)
	}
	return k
}

func (k *rack) add(s load.Stack) {
	var c cost
	c.use(s, k.ends)
	k.stacks, k.uses = append(k.stacks, s), append(k.uses, c)
}

// row returns the plates that move from a stack of one rack to each of another, of one
// implement.
func (r *racks) row(a *rack, stack int, b *rack) []int32 {
	m := r.at(a, b)
	if m.rows == nil {
		m.rows = make([][]int32, len(a.stacks))
	}
	if m.rows[stack] == nil {
		row := make([]int32, len(b.stacks))
		for i, t := range b.stacks {
			row[i] = int32(moved(a.stacks[stack], t, a.ends))
		}
		m.rows[stack] = row
	}
	return m.rows[stack]
}

// fewest returns the fewest plates that move between two racks of one implement.
func (r *racks) fewest(a, b *rack) int {
	if a == b {
		return 0
	}
	if a.id > b.id { // it is as far back
		a, b = b, a
	}
	m := r.at(a, b)
	if m.fewest == 0 {
		m.fewest = math.MaxInt
		for i := 0; i < len(a.stacks) && m.fewest > a.ends; i++ { // two loads differ by a plate an end
			for _, t := range b.stacks {
				m.fewest = min(m.fewest, moved(a.stacks[i], t, a.ends))
			}
		}
	}
	return m.fewest
}

// at is what is known of two racks.
func (r *racks) at(a, b *rack) *between {
	for len(r.moves) <= a.id {
		r.moves = append(r.moves, nil)
	}
	for len(r.moves[a.id]) <= b.id {
		r.moves[a.id] = append(r.moves[a.id], between{})
	}
	return &r.moves[a.id][b.id]
}

// between returns the pairs of two racks of one implement.
func (r *racks) between(a, b *rack) ([]pair, pair) {
	key := [2]int{a.id, b.id}
	if found, ok := r.pairs[key]; ok {
		return found, r.least[key]
	}
	list := make([]pair, 0, len(a.stacks)*len(b.stacks))
	least := pair{1 << 30, 1 << 60}
	for _, s := range a.stacks {
		for _, t := range b.stacks {
			var c cost
			c.swap(s, t, a.ends, r.p.in.Kit.Plates, 1)
			list = append(list, pair{c.plates, c.mass})
			least = pair{min(least.plates, c.plates), min(least.mass, c.mass)}
		}
	}
	r.pairs[key], r.least[key] = list, least
	return list, least
}

// mostSteps is how far one column's choice of stacks is searched.
const mostSteps = 2_000_000

// run chooses one stack for each unit of a column, given what each must move.
type run struct {
	racks []*rack
	times [][]int
	pairs [][][]pair // of units a < b
	rest  []pair     // of units c and after: the least that their changes and uses can come to
	now   []int
	pick  []int // the best
	best  cost
	found bool
	work  int
}

// newRun prepares the choice.
func (r *racks) newRun(col *column, list []*rack) *run {
	n := len(list)
	u := &run{racks: list, times: col.times, pairs: make([][][]pair, n), rest: make([]pair, n+1), now: make([]int, n)}
	for b := n - 1; b >= 0; b-- {
		u.pairs[b] = make([][]pair, n)
		u.rest[b] = u.rest[b+1]
		for a := range b {
			if t := col.times[a][b]; t > 0 {
				var least pair
				u.pairs[b][a], least = r.between(list[a], list[b])
				u.rest[b].plates += t * least.plates
				u.rest[b].mass += measure.Mass(t) * least.mass
			}
		}
	}
	return u
}

// cheapest returns the least cost of the column, whatever stands on the others.
func (u *run) cheapest() (cost, bool) {
	u.found, u.work = false, 0
	u.from(0, pair{})
	return u.best, u.found
}

// from goes through the stacks of unit b and after, for less than the best.
func (u *run) from(b int, c pair) {
	plates, mass := c.plates+u.rest[b].plates, c.mass+u.rest[b].mass
	if u.found && (plates > u.best.plates || plates == u.best.plates && mass > u.best.mass) {
		return
	}
	if b == len(u.racks) {
		sum := cost{plates: c.plates, mass: c.mass}
		for t, s := range u.now {
			sum = sum.plus(&u.racks[t].uses[s])
		}
		if !u.found || sum.compare(&u.best) < 0 {
			u.best, u.found, u.pick = sum, true, append(u.pick[:0], u.now...)
		}
		return
	}
	for s := range u.racks[b].stacks {
		if u.work++; u.work > mostSteps && u.found {
			return
		}
		u.now[b] = s
		next := c
		u.follow(b, &next)
		u.from(b+1, next)
	}
}

// follow adds the changes between unit b, as chosen now, and those before it.
func (u *run) follow(b int, c *pair) {
	for a := range b {
		if t := u.times[a][b]; t > 0 {
			p := &u.pairs[b][a][u.now[a]*len(u.racks[b].stacks)+u.now[b]]
			c.plates += t * p.plates
			c.mass += measure.Mass(t) * p.mass
		}
	}
}

// with adds unit b, as chosen now, to a cost.
func (u *run) with(b int, c cost) cost {
	var changes pair
	u.follow(b, &changes)
	c.plates += changes.plates
	c.mass += changes.mass
	return c.plus(&u.racks[b].uses[u.now[b]])
}

// place is what a person on a seat adds to the number of list order: the seats
// are its digits, and earlier in the list is less.
func place(who, seat, people, seats int) uint64 {
	n := uint64(who)
	for range seats - 1 - seat {
		hi, lo := bits.Mul64(n, uint64(people))
		if hi > 0 {
			return 0 // too many to tell apart; list order is then as found
		}
		n = lo
	}
	return n
}
