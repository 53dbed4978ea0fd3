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
	costs map[string]measure.Mass // of each order of people; none where it is more than the best arrangement costs
	cheap map[set]measure.Mass    // of the cheapest order of each group of people
	rest  []measure.Mass          // by people: the least of this row and later ones for just them; −1: not so many
}

// leastShort returns the least that the pile's shortage must cost over all rows:
// each order of people on a row has its cost, and a table over sets of people adds
// them up. It reports whether that came to an end.
func (e *exact) leastShort() (measure.Mass, bool) {
	all, ok := e.picks()
	if !ok {
		return 0, false
	}
	shared := map[string]map[string]measure.Mass{}
	for n, m := range e.l.moments {
		r := row{cheap: map[set]measure.Mass{}}
		var on strings.Builder
		for _, u := range m {
			seat := e.l.units[u].seat
			r.seats = append(r.seats, seat)
			on.WriteString(e.l.seats[seat].on.Name + "\x00")
		}
		if shared[on.String()] == nil {
			shared[on.String()] = map[string]measure.Mass{}
		}
		r.costs = shared[on.String()]
		e.rows = append(e.rows, r)
		e.orders(n, 0, func(order []int, people set) {
			if e.p.work >= e.p.limit() {
				return
			}
			cost, is := all.cost(e, &e.rows[n], order)
			if was, ok := r.cheap[people]; is && (!ok || cost < was) {
				r.cheap[people] = cost
			}
		})
	}
	if e.p.work >= e.p.limit() {
		return 0, false
	}
	e.tableRows()
	least := e.rows[0].rest[set(1)<<len(e.p.people)-1]
	return least, least >= 0
}

func keyOf(order []int) []byte {
	key := make([]byte, 0, len(order))
	for _, i := range order {
		key = binary.AppendUvarint(key, uint64(i))
	}
	return key
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
		for people, cost := range e.rows[r].cheap {
			for _, others := range reached {
				if people&others != 0 {
					continue
				}
				both := people | others
				if rest[both] < 0 {
					now = append(now, both)
				} else if rest[both] <= cost+later[others] {
					continue
				}
				rest[both] = cost + later[others]
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

// short goes through all arrangements of the least shortage for the one that is best by
// all else; it reports whether it came to the end. The loads of a row, as the short pile
// settles them, say what has to move from those before at least.
func (e *exact) short(least measure.Mass) bool {
	s := e.newSettled()
	var from func(r int, left set, sum measure.Mass, c cost)
	from = func(r int, left set, sum measure.Mass, c cost) {
		if r == len(e.rows) {
			all := s.least()
			all.short, all.over = c.short, c.over
			if all.compare(&e.best.cost) < 0 {
				e.shortLeaf()
			}
			return
		}
		ro := &e.rows[r]
		e.orders(r, left, func(order []int, people set) {
			rest, ok := e.after(r, left&^people)
			cost, is := ro.costs[string(keyOf(order))]
			if e.p.work >= e.p.limit() || !ok || !is || sum+cost+rest > least {
				return
			}
			for t, i := range order {
				e.who[ro.seats[t]] = i
			}
			if then := s.put(r, order, c); then.compare(&e.best.cost) < 0 {
				from(r+1, left&^people, sum+cost, then)
			}
		})
	}
	from(0, set(1)<<len(e.p.people)-1, 0, cost{short: least})
	return e.p.work < e.p.limit()
}

// settled is the loads that the short pile gives people, row by row, with the stacks that
// make them.
type settled struct {
	e     *exact
	at    [][2]int          // of each unit: its column, and its place there
	racks [][]*rack         // of each column: as the rows so far have it
	loads map[string]*laden // by row and order
}

// laden is a row with an order of people.
type laden struct {
	racks []*rack // of each unit of its moment
	over  int
}

func (e *exact) newSettled() *settled {
	s := &settled{e, make([][2]int, len(e.l.units)), make([][]*rack, len(e.cols)), map[string]*laden{}}
	for j := range e.cols {
		s.racks[j] = make([]*rack, len(e.cols[j].units))
		for n, u := range e.cols[j].units {
			s.at[u] = [2]int{j, n}
		}
	}
	return s
}

// stepsOfPut is how many options tried it counts for to have people stand on a row.
const stepsOfPut = 4

// put has people stand on row r, and adds to c what has to move at least between them and
// those of the rows before.
func (s *settled) put(r int, order []int, c cost) cost {
	row := s.row(r, order)
	c.over += row.over
	for t, u := range s.e.l.moments[r] {
		j, n := s.at[u][0], s.at[u][1]
		s.racks[j][n] = row.racks[t]
		for before := range n {
			if times := s.e.cols[j].times[before][n]; times > 0 {
				c.plates += times * s.e.racks.fewest(s.racks[j][before], row.racks[t])
			}
		}
	}
	s.e.step(stepsOfPut)
	return c
}

// row is the loads of an order of people on row r.
func (s *settled) row(r int, order []int) *laden {
	key := string(append(keyOf(order), byte(r)))
	if s.loads[key] == nil {
		e, moment := s.e, s.e.l.moments[r]
		own, row := make([]*choice, len(e.l.units)), &laden{}
		for t, u := range moment {
			if own[u] = e.choice(order[t], u); own[u].over {
				row.over++
			}
		}
		for _, got := range e.p.deal(moment, own).got {
			row.racks = append(row.racks, e.racks.of(got.On, got.Moves))
		}
		s.loads[key] = row
	}
	return s.loads[key]
}

// least is what all columns cost at least, each with stacks as if the pile were there for
// it alone.
func (s *settled) least() (sum cost) {
	for j, racks := range s.racks {
		sum = sum.plus(&s.e.priced(j, racks).least)
	}
	return sum
}

// shortLeaf prices one arrangement whose loads the short pile settles.
func (e *exact) shortLeaf() {
	before := e.p.work
	a := e.p.evaluate(e.l, e.who)
	e.p.work -= (e.p.work - before) * 2 / 3 // its deals are known
	e.plates(a)
	if a.cost.compare(&e.best.cost) < 0 {
		e.best = a
	}
}
