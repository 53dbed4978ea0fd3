package lanes

import "slices"

const (
	mostRuns   = 50_000 // choices of stacks that one column lists
	settleWork = 4      // choices tried that count as one unit of work
)

// picked is one choice of stacks for a column.
type picked struct {
	stacks []int
	cost   cost
}

// plates finds the stacks that move the fewest plates in an arrangement of a class that
// shares a clock, whose loads are settled and whose columns the pile ties together:
// column after column, each over its choices, cheapest first, as long as they and the
// cheapest of the columns to come are better than what is known.
func (e *exact) plates(a *answer) {
	n := len(e.cols)
	lists := make([][]*rack, n)
	rest, cheapest := make([]cost, n+1), make([][]picked, n)
	for j := n - 1; j >= 0; j-- {
		for _, u := range e.cols[j].units {
			lists[j] = append(lists[j], e.racks.of(a.got[u].On, a.got[u].Moves))
		}
		u := e.racks.newRun(&e.cols[j], lists[j])
		c := u.cheapest()
		if !u.found {
			return
		}
		cheapest[j] = []picked{{u.pick, c}}
		rest[j] = rest[j+1].plus(&c)
	}
	s := settle{e: e, a: a, lists: lists, rest: rest, now: make([][]int, n), base: a.settled()}
	s.beat = a.cost
	if e.best.cost.compare(&s.beat) < 0 {
		s.beat = e.best.cost
	}
	for range e.l.seats {
		s.left = append(s.left, counts(e.p.in.Kit.Plates))
	}
	s.runs = cheapest
	s.column(0, &s.base)
	if least := s.base.plus(&rest[0]); s.beat.compare(&least) <= 0 {
		return
	}
	s.runs = nil
	s.column(0, &s.base)
}

// settle is the search of plates.
type settle struct {
	e     *exact
	a     *answer
	lists [][]*rack
	rest  []cost
	left  [][]int // of the pile, by row
	now   [][]int
	base  cost // what no stack changes
	beat  cost // the best known of any arrangement
	runs  [][]picked
	tried int
}

// settled is what of an arrangement's cost no other stacks of the same loads change.
func (a *answer) settled() cost {
	return cost{short: a.cost.short, over: a.cost.over, list: a.cost.list}
}

func (s *settle) column(j int, c *cost) {
	e := s.e
	if j == len(e.cols) {
		if c.compare(&s.beat) < 0 {
			s.a.cost, s.beat = *c, *c
			for i := range e.cols {
				for n, u := range e.cols[i].units {
					s.a.got[u].Stack = s.lists[i][n].stacks[s.now[i][n]]
				}
			}
		}
		return
	}
	if len(s.runs) == j {
		slack := s.base.plus(&s.rest[0])
		s.runs = append(s.runs, s.choices(j, &slack))
	}
	for _, r := range s.runs[j] {
		next := c.plus(&r.cost)
		least := next.plus(&s.rest[j+1])
		if least.compare(&s.beat) >= 0 || e.p.work >= e.p.limit() {
			return
		}
		if s.tried++; s.tried%settleWork == 0 {
			e.p.work++
		}
		if s.put(j, r.stacks, 1) {
			s.now[j] = r.stacks
			s.column(j+1, &next)
		}
		s.put(j, r.stacks, -1)
	}
}

// put takes the stacks of column j off the pile, row by row, or gives them back;
// it reports whether they were there.
func (s *settle) put(j int, stacks []int, sign int) bool {
	ok := true
	for t, k := range stacks {
		rack := s.lists[j][t]
		left := s.left[t]
		for kind, n := range rack.stacks[k] {
			left[kind] -= sign * n * rack.ends
			ok = ok && left[kind] >= 0
		}
	}
	return ok
}

// choices lists the choices of stacks of a column that could still be in a better
// answer, cheapest first. all is what the cheapest of every column come to.
func (s *settle) choices(j int, all *cost) []picked {
	col := &s.e.cols[j]
	u := s.e.racks.newRun(col, s.lists[j])
	cheapest := u.cheapest()
	room := s.beat.plates - all.plates + cheapest.plates
	var found []picked
	u.within(room, func(c *cost) bool {
		found = append(found, picked{slices.Clone(u.now), *c})
		return len(found) <= mostRuns
	})
	if len(found) > mostRuns {
		s.e.cut = true
	}
	s.e.p.work += len(found) / 10
	slices.SortFunc(found, func(a, b picked) int { return a.cost.compare(&b.cost) })
	return found
}
