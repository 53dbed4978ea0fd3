package lanes

import (
	"encoding/binary"
	"slices"
	"strings"

	"hawser/internal/measure"
)

// row is the seats of one moment. When the pile is short, what it costs depends on
// who stand there together. Rows of the same implements share what is known.
type row struct {
	seats []int
	cheap map[set]priced    // the cheapest order of each group of people
	exact map[string]priced // what is known of each order
	rest  []measure.Mass    // by people: the least of this row and later ones for just them; −1: not so many
}

// priced is one order of people on a row, and what the pile's shortage costs there.
type priced struct {
	order []int
	short measure.Mass
	known bool // else a bound from below
}

// leastShort returns the least that the pile's shortage must cost over all rows.
// A row's cost is at first bounded by the plates there are; the table over sets of
// people says which rows would be best, and only those are solved, until the best
// rows are all known.
func (e *exact) leastShort() (measure.Mass, bool) {
	e.makeRows()
	all := set(1)<<len(e.p.people) - 1
	for e.p.work < e.p.limit() {
		e.tableRows()
		least := e.rows[0].rest[all]
		if least < 0 {
			return 0, false
		}
		settled := true
		left := all
		for r := range e.rows {
			people, known := e.cheapest(r, left)
			if !known {
				e.solve(r, people)
				settled = false
			}
			left &^= people
		}
		if settled {
			return least, true
		}
	}
	return 0, false
}

// makeRows lists every order of every row with its bound.
func (e *exact) makeRows() {
	shared := map[string]map[string]priced{}
	for n, m := range e.l.moments {
		r := row{cheap: map[set]priced{}}
		var on strings.Builder
		for _, u := range m {
			seat := e.l.units[u].seat
			r.seats = append(r.seats, seat)
			on.WriteString(e.l.seats[seat].on.Name + "\x00")
		}
		name := on.String()
		if shared[name] == nil {
			shared[name] = map[string]priced{}
		}
		r.exact = shared[name]
		e.rows = append(e.rows, r)
		e.orders(n, 0, func(order []int, people set) {
			e.offer(&e.rows[n], people, e.price(&r, order))
		})
	}
}

// orders calls do with every order of the people of only on row r; 0: of anyone.
func (e *exact) orders(r int, only set, do func(order []int, people set)) {
	seats := e.rows[r].seats
	order := make([]int, 0, len(seats))
	var from func(people set)
	from = func(people set) {
		if len(order) == len(seats) {
			do(order, people)
			return
		}
		seat := &e.l.seats[seats[len(order)]]
		for i := range e.p.people {
			if people>>i&1 == 0 && (only == 0 || only>>i&1 == 1) && e.p.may(i, seat) {
				order = append(order, i)
				from(people | 1<<i)
				order = order[:len(order)-1]
			}
		}
	}
	from(0)
}

// offer keeps the cheapest order of a group; of equals one that is known.
func (e *exact) offer(r *row, people set, c priced) {
	was, ok := r.cheap[people]
	if !ok || c.short < was.short || c.short == was.short && c.known && !was.known {
		c.order = slices.Clone(c.order)
		r.cheap[people] = c
	}
}

// price returns what is known of an order: the solved cost, else a bound. All
// that is asked, less all plates that there are, must be missed by somebody.
func (e *exact) price(r *row, order []int) priced {
	if c, ok := r.exact[string(keyOf(order))]; ok {
		return c
	}
	var need, over, alone measure.Mass
	for t, i := range order {
		c := e.choice(i, r.seats[t])
		need += max(0, c.want.Total-c.want.On.Tare)
		over += max(0, c.want.On.Tare-c.want.Total)
		alone += c.miss
	}
	return priced{order: order, short: max(0, over+max(0, need-e.pile())-alone)}
}

// pile is the mass of all plates.
func (e *exact) pile() measure.Mass {
	var m measure.Mass
	for _, p := range e.p.in.Kit.Plates {
		m += p.Mass * measure.Mass(max(0, p.Count))
	}
	return m
}

func keyOf(order []int) []byte {
	key := make([]byte, 0, len(order))
	for _, i := range order {
		key = binary.AppendUvarint(key, uint64(i))
	}
	return key
}

// solve finds out what the cheapest order of a group costs, and which is then the
// cheapest.
func (e *exact) solve(r int, people set) {
	ro := &e.rows[r]
	e.known(ro, ro.cheap[people].order)
	for n := range e.rows {
		other := &e.rows[n]
		if _, ok := other.cheap[people]; !ok || len(other.seats) != len(ro.seats) {
			continue
		}
		delete(other.cheap, people)
		e.orders(n, people, func(order []int, _ set) {
			e.offer(other, people, e.price(other, order))
		})
	}
}

// known solves the joint problem of one order, once.
func (e *exact) known(r *row, order []int) priced {
	key := string(keyOf(order))
	if c, ok := r.exact[key]; ok {
		return c
	}
	own := make([]*choice, len(e.l.units))
	units := make([]int, len(order))
	for t, i := range order {
		units[t] = e.l.first[r.seats[t]]
		own[units[t]] = e.choice(i, r.seats[t])
	}
	c := priced{order: slices.Clone(order), known: true}
	for t, got := range e.p.deal(units, own).got {
		c.short += distance(got.Moves, got.Total) - own[units[t]].miss
	}
	r.exact[key] = c
	return c
}

// tableRows fills in the least cost of the rows from each on.
func (e *exact) tableRows() {
	e.p.work += tableWork
	none := make([]measure.Mass, set(1)<<len(e.p.people))
	for i := range none {
		none[i] = -1
	}
	later, reached := slices.Clone(none), []set{0}
	later[0] = 0
	for r := len(e.rows) - 1; r >= 0; r-- {
		rest, now := slices.Clone(none), []set{}
		for people, c := range e.rows[r].cheap {
			for _, others := range reached {
				if people&others != 0 {
					continue
				}
				both := people | others
				if rest[both] < 0 {
					now = append(now, both)
				} else if rest[both] <= c.short+later[others] {
					continue
				}
				rest[both] = c.short + later[others]
			}
		}
		e.rows[r].rest = rest
		later, reached = rest, now
	}
}

// after is the least cost of the rows after r for those people.
func (e *exact) after(r int, people set) (measure.Mass, bool) {
	if r+1 == len(e.rows) {
		return 0, people == 0
	}
	m := e.rows[r+1].rest[people]
	return m, m >= 0
}

// cheapest returns a group for row r that the least for those left begins with,
// and whether its cost is known.
func (e *exact) cheapest(r int, left set) (set, bool) {
	found, known := set(0), false
	for people, c := range e.rows[r].cheap {
		rest, ok := e.after(r, left&^people)
		if people&^left != 0 || !ok || c.short+rest != e.rows[r].rest[left] {
			continue
		}
		if found == 0 || c.known && !known || c.known == known && people < found {
			found, known = people, c.known
		}
	}
	return found, known
}

// short goes through all arrangements of the least shortage for the one that is
// best by all else; it reports whether it came to the end.
func (e *exact) short(least measure.Mass) bool {
	var from func(r int, left set, sum measure.Mass)
	from = func(r int, left set, sum measure.Mass) {
		if r == len(e.rows) {
			e.shortLeaf()
			return
		}
		ro := &e.rows[r]
		e.orders(r, left, func(order []int, people set) {
			rest, ok := e.after(r, left&^people)
			if e.p.work >= e.p.limit() || !ok || sum+e.price(ro, order).short+rest > least {
				return
			}
			e.p.work++
			c := e.known(ro, order)
			if sum+c.short+rest > least {
				return
			}
			for t, i := range order {
				e.who[ro.seats[t]] = i
			}
			from(r+1, left&^people, sum+c.short)
		})
	}
	from(0, set(1)<<len(e.p.people)-1, 0)
	return e.p.work < e.p.limit()
}

// shortLeaf prices one arrangement whose loads the short pile settles.
func (e *exact) shortLeaf() {
	a := e.p.evaluate(e.l, e.who)
	e.plates(a)
	if a.cost.compare(&e.best.cost) < 0 {
		e.best = a
	}
}
