package lanes

import (
	"math"
	"slices"

	"hawser/internal/measure"
)

// seated returns the least cost of a party at its spots, everybody in one place at most and
// every place taken, and who is at each place, spot by spot. Where places are fewer, the
// others stand there at another moment.
func (s *sharers) seated(of *party) (measure.Mass, []int) {
	if of.spare < 0 {
		return 0, nil
	}
	if of.matching == nil {
		of.matching = newMatching(len(of.people)-of.spare, len(of.people))
	}
	m := of.matching
	m.clear()
	place := 0
	for _, o := range of.spots {
		for range o.room {
			place++
			for i, who := range of.people {
				m.costs[place][i+1] = o.costs[who]
			}
			s.work -= stepsOfPlace*len(of.people) + m.add(place)
		}
	}
	sum := measure.Mass(0)
	who := make([]int, place)
	for i, person := range of.people {
		if row := m.row[i+1]; row > 0 {
			who[row-1] = person
			sum += m.costs[row][i+1]
		}
	}
	return sum, who
}

// stepsOfPlace is how many steps it counts for to find somebody for a place, for each of
// the people.
const stepsOfPlace = 4

// tolled returns what a party costs at least, by weak duality: everybody is at their
// cheapest spot, which costs them less by its toll, and the tolls of all places are paid
// beside. With the tolls of costs not unlike that is close.
func (s *sharers) tolled(of *party) measure.Mass {
	if of.spare < 0 {
		return 0
	}
	sum := measure.Mass(0)
	for _, o := range of.spots {
		sum += measure.Mass(o.room) * o.toll
	}
	for _, who := range of.people {
		sum += of.cheapest(who, nil)
	}
	s.work -= len(of.spots) * len(of.people)
	return sum
}

// cheapest is the least that somebody costs at any spot but one, less its toll.
func (of *party) cheapest(who int, but *spot) measure.Mass {
	least := never
	if of.spare > 0 { // they may be at none
		least = 0
	}
	for _, o := range of.spots {
		if o != but {
			least = min(least, o.costs[who]-o.toll)
		}
	}
	return least
}

// raise sets the tolls of a party's spots, one by one, so that tolled comes to the most: of
// each as high as it may be with as many people there as it has room for.
func (s *sharers) raise(of *party) {
	if of.spare < 0 {
		return
	}
	tolls := make([]measure.Mass, len(of.people))
	for _, o := range of.spots {
		for i, who := range of.people {
			tolls[i] = o.costs[who] - of.cheapest(who, o)
		}
		slices.Sort(tolls)
		o.toll = tolls[o.room-1]
	}
	s.work -= len(of.spots) * len(of.spots) * len(of.people)
}

// matching gives each row a column of its own at the least cost in all: the Hungarian
// method (Kuhn, Naval Research Logistics Quarterly 2, 1955) with potentials, row by row.
// Rows and columns count from 1.
type matching struct {
	costs      [][]measure.Mass // of each row, by column
	rows, cols []measure.Mass   // potentials: no cost is less than those of its row and column
	row        []int            // of each column; 0: none
	from       []int            // the column before on the way to each
	near       []measure.Mass   // least that is left of a cost over its potentials, of each column
	done       []bool
}

func newMatching(rows, cols int) *matching {
	m := &matching{
		costs: make([][]measure.Mass, rows+1),
		rows:  make([]measure.Mass, rows+1), cols: make([]measure.Mass, cols+1),
		row: make([]int, cols+1), from: make([]int, cols+1),
		near: make([]measure.Mass, cols+1), done: make([]bool, cols+1),
	}
	for row := range m.costs {
		m.costs[row] = make([]measure.Mass, cols+1)
	}
	return m
}

// clear forgets all but the costs.
func (m *matching) clear() {
	clear(m.rows)
	clear(m.cols)
	clear(m.row)
}

// add finds a column for one more row, moving others where that is cheaper. It returns
// how many costs it looked at.
func (m *matching) add(row int) (steps int) {
	for col := range m.near {
		m.near[col], m.done[col] = math.MaxInt64, false
	}
	at := 0
	m.row[0] = row
	for m.row[at] != 0 {
		m.done[at] = true
		next, least := 0, measure.Mass(math.MaxInt64)
		costs, paid := m.costs[m.row[at]], m.rows[m.row[at]]
		for col := 1; col < len(m.row); col++ {
			if m.done[col] {
				continue
			}
			if left := costs[col] - paid - m.cols[col]; left < m.near[col] {
				m.near[col], m.from[col] = left, at
			}
			if m.near[col] < least {
				next, least = col, m.near[col]
			}
		}
		for col := range m.row {
			if m.done[col] {
				m.rows[m.row[col]] += least
				m.cols[col] -= least
			} else {
				m.near[col] -= least
			}
		}
		at = next
		steps += len(m.row)
	}
	for at != 0 {
		m.row[at] = m.row[m.from[at]]
		at = m.from[at]
	}
	return steps
}
