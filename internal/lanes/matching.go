package lanes

import (
	"math"
	"slices"

	"hawser/internal/measure"
)

// seated returns the least cost of people of a group at its spots, each in one place at
// most and every place taken, and who is at each place, spot by spot. Where places are
// fewer, the others stand there at another moment.
func (s *sharers) seated(group int) (measure.Mass, []int) {
	var places []*spot
	for _, o := range s.spots {
		if o.group == group {
			places = append(places, slices.Repeat([]*spot{o}, o.room)...)
		}
	}
	people := s.people[group]
	if len(places) > len(people) {
		return 0, nil
	}
	m := newMatching(len(places), len(people))
	for row := 1; row <= len(places); row++ {
		s.work -= m.add(row, func(row, col int) measure.Mass { return places[row-1].costs[people[col-1]] })
	}
	sum := measure.Mass(0)
	who := make([]int, len(places))
	for col := 1; col <= len(people); col++ {
		if row := m.row[col]; row > 0 {
			who[row-1] = people[col-1]
			sum += places[row-1].costs[people[col-1]]
		}
	}
	return sum, who
}

// matching gives each row a column of its own at the least cost in all: the Hungarian
// method (Kuhn, Naval Research Logistics Quarterly 2, 1955) with potentials, row by row.
// Rows and columns count from 1.
type matching struct {
	rows, cols []measure.Mass // potentials: no cost is less than those of its row and column
	row        []int          // of each column; 0: none
	from       []int          // the column before on the way to each
	near       []measure.Mass // least that is left of a cost over its potentials, of each column
	done       []bool
}

func newMatching(rows, cols int) *matching {
	return &matching{
		rows: make([]measure.Mass, rows+1), cols: make([]measure.Mass, cols+1),
		row: make([]int, cols+1), from: make([]int, cols+1),
		near: make([]measure.Mass, cols+1), done: make([]bool, cols+1),
	}
}

// add finds a column for one more row, moving others where that is cheaper. It returns
// how many costs it looked at.
func (m *matching) add(row int, cost func(row, col int) measure.Mass) (steps int) {
	for col := range m.near {
		m.near[col], m.done[col] = math.MaxInt64, false
	}
	at := 0
	m.row[0] = row
	for m.row[at] != 0 {
		m.done[at] = true
		next, least := 0, measure.Mass(math.MaxInt64)
		for col := 1; col < len(m.row); col++ {
			if m.done[col] {
				continue
			}
			if left := cost(m.row[at], col) - m.rows[m.row[at]] - m.cols[col]; left < m.near[col] {
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
