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

// rack is the stacks that make one load on one kind of implement.
type rack struct {
	id     int
	stacks []load.Stack
	uses   []cost
	least  cost // of the uses
	ends   int
}

// racks holds the racks of a part and what lies between each two.
type racks struct {
	p      *planner
	all    map[loadKey]*rack
	count  int
	prices map[[2]int]*prices // by id of both
	moves  [][]between        // by id of both
	cut    bool               // a list of stacks is not whole
}

// between is the plates that move from the stacks of one rack to those of another.
// Of long racks most rows are never asked for.
type between struct {
	rows   [][]int32 // of each stack of the one, to each of the other; nil: not asked for yet
	fewest int       // 0: not asked for yet
}

func newRacks(p *planner) *racks {
	return &racks{p: p, all: map[loadKey]*rack{}, prices: map[[2]int]*prices{}}
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
	if len(k.uses) == 0 || c.compare(&k.least) < 0 {
		k.least = c
	}
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

// prices is what lies between the stacks of two racks.
type prices struct {
	all   []price // stack a of one × stack b of the other
	from  []price // the least from each of the one
	least price
}

// row is the prices from a stack of the one rack.
func (p *prices) row(stack int) []price {
	n := len(p.all) / len(p.from)
	return p.all[stack*n : (stack+1)*n]
}

// stepsOfPrices is how many pairs of stacks priced count as one unit of work.
const stepsOfPrices = 60

// between returns the prices of two racks of one implement.
func (r *racks) between(a, b *rack) *prices {
	key := [2]int{a.id, b.id}
	if found, ok := r.prices[key]; ok {
		return found
	}
	r.p.work += len(a.stacks) * len(b.stacks) / stepsOfPrices
	p := &prices{make([]price, 0, len(a.stacks)*len(b.stacks)), make([]price, len(a.stacks)), dearest}
	for i, s := range a.stacks {
		p.from[i] = dearest
		for _, t := range b.stacks {
			one := priceOf(s, t, a.ends, r.p.in.Kit.Plates)
			p.all = append(p.all, one)
			if one.less(p.from[i]) {
				p.from[i] = one
			}
		}
		if p.from[i].less(p.least) {
			p.least = p.from[i]
		}
	}
	r.prices[key] = p
	return p
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
