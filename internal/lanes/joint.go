package lanes

import (
	"math"
	"slices"

	"hawser/internal/load"
)

const (
	stepsOfJoint = 50 // options tried that count as one unit of work
	stepsOfLane  = 15 // options that an order tried counts for
)

// joint looks for the cheapest options of lanes with clocks of their own that can stand
// together: all plates that the implements keep come out of one pile.
type joint struct {
	e    *exact
	pile []int
	left []int  // of it
	rest []cost // of the lanes from each on, the least they can come to
	now  []*option
}

// jointLeaf finds the best stacks of the lanes that are chosen: the cheapest of each
// where the pile has them all.
func (e *exact) jointLeaf() {
	n := len(e.cols)
	if e.joint == nil {
		e.joint = &joint{e: e, pile: counts(e.p.in.Kit.Plates), left: counts(e.p.in.Kit.Plates), rest: make([]cost, n+1), now: make([]*option, n)}
	}
	j := e.joint
	copy(j.left, j.pile)
	for i := n - 1; i >= 0; i-- {
		j.now[i] = e.cheapest(i, e.now[i])
		j.rest[i] = j.rest[i+1].plus(&j.now[i].cost)
		take(j.left, j.now[i].keeps, 1)
	}
	if j.stands() {
		if j.rest[0].compare(&e.best.cost) < 0 {
			e.best = j.answer(&j.rest[0])
		}
		return
	}
	copy(j.left, j.pile)
	j.lane(0, cost{})
}

// lane goes through the options of lane i and after, for less than the best; c is what
// those before cost.
func (j *joint) lane(i int, c cost) {
	e := j.e
	if i == len(e.cols) {
		e.best = j.answer(&c)
		return
	}
	room, all := math.MaxInt, &j.rest[0]
	if all.short == e.best.cost.short && all.over == e.best.cost.over {
		room = e.best.cost.plates - all.plates + e.now[i].cheapest.cost.plates
	}
	list := e.options(i, e.now[i], room)
	for k := range list {
		next := c.plus(&list[k].cost)
		least := next.plus(&j.rest[i+1])
		if least.compare(&e.best.cost) >= 0 || e.p.work >= e.p.limit() {
			return
		}
		e.step(1)
		take(j.left, list[k].keeps, 1)
		if j.stands() {
			j.now[i] = &list[k]
			j.lane(i+1, next)
		}
		take(j.left, list[k].keeps, -1)
	}
}

// step counts so many steps of work.
func (e *exact) step(n int) {
	e.steps += n
	e.p.work += e.steps / stepsOfJoint
	e.steps %= stepsOfJoint
}

// stands reports whether no kind of plate is overdrawn.
func (j *joint) stands() bool {
	return !slices.ContainsFunc(j.left, func(n int) bool { return n < 0 })
}

// answer is the lanes chosen with their options.
func (j *joint) answer(c *cost) *answer {
	e := j.e
	a := &answer{layout: e.l, who: slices.Clone(e.who), got: make([]load.Got, len(e.l.units)), cost: *c, proved: true}
	for i := range e.cols {
		racks := e.racksOf(&e.cols[i], e.now[i].order)
		for n, u := range e.cols[i].units {
			a.got[u] = e.p.got(e.choice(e.who[e.l.units[u].seat], u), racks[n].stacks[j.now[i].stacks[n]])
		}
	}
	return a
}
