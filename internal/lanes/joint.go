package lanes

import (
	"encoding/binary"
	"math"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// option is one choice of stacks for the units of a lane whose implement has a clock of
// its own, and the plates that the implement keeps for it: of each kind, and on all its
// ends, the most that it ever has.
type option struct {
	stacks []int // of the rack of each unit
	keeps  []int
	miss   measure.Mass // more than alone, as far as the pile's shortage is shared out anew
	cost   cost         // of the lane with them
}

// options is what a lane may have: of those that keep the same plates the cheapest, the
// cheapest first. Those that move more than room are not there.
type options struct {
	list []option
	room int
}

// mostTriedOptions is how many choices of stacks of one lane are gone through.
const mostTriedOptions = 50_000

// stepsOfJoint is how many options or lanes tried count as one unit of work.
const stepsOfJoint = 20

// options returns those of a lane of column j that move no more plates than room.
func (e *exact) options(j int, la *lane, room int) []option {
	if la.options.list != nil && room <= la.options.room {
		return la.options.list
	}
	col := &e.cols[j]
	u := e.racks.newRun(col, e.racksOf(col, la.order))
	found := map[string]int{}
	list := []option{}
	tried := 0
	var from func(b int, miss measure.Mass, c cost)
	from = func(b int, miss measure.Mass, c cost) {
		if tried > mostTriedOptions || miss > e.slack || c.plates+u.rest[b].plates > room {
			return
		}
		if b < len(u.racks) {
			for k := range u.racks[b].stacks {
				u.now[b] = k
				from(b+1, miss+u.racks[b].missed(k), u.with(b, c))
			}
			return
		}
		tried++
		keeps := u.keeps(len(e.p.in.Kit.Plates))
		key := binary.AppendUvarint(make([]byte, 0, 16), uint64(miss))
		for _, n := range keeps {
			key = binary.AppendUvarint(key, uint64(n))
		}
		at, ok := found[string(key)]
		switch {
		case !ok:
			found[string(key)] = len(list)
			list = append(list, option{slices.Clone(u.now), keeps, miss, c})
		case c.compare(&list[at].cost) < 0:
			list[at] = option{slices.Clone(u.now), keeps, miss, c}
		}
	}
	from(0, 0, cost{short: la.cost.short, over: la.cost.over, list: la.cost.list})
	e.cut = e.cut || tried > mostTriedOptions
	e.p.work += 1 + tried/10
	slices.SortFunc(list, func(a, b option) int { return a.cost.compare(&b.cost) })
	la.options = options{list, room}
	return list
}

// keeps is the most plates of each kind that any of the stacks chosen has, on all ends.
func (u *run) keeps(kinds int) []int {
	keeps := make([]int, kinds)
	for t, k := range u.now {
		for kind, n := range u.racks[t].stacks[k] {
			keeps[kind] = max(keeps[kind], n*u.racks[t].ends)
		}
	}
	return keeps
}

// racksOf is the racks of the units of a column, with these people on it.
func (e *exact) racksOf(col *column, order []int) []*rack {
	list := make([]*rack, len(col.units))
	for n, u := range col.units {
		list[n], _ = e.rack(order[col.whose[n]], u)
	}
	return list
}

// cheapestOf returns the cheapest option of a lane of column j.
func (e *exact) cheapestOf(j int, la *lane) *option {
	if la.cheapest == nil {
		u := e.racks.newRun(&e.cols[j], e.racksOf(&e.cols[j], la.order))
		u.cheapest()
		copy(u.now, u.pick)
		la.cheapest = &option{u.pick, u.keeps(len(e.p.in.Kit.Plates)), 0, la.cost}
		for b, k := range u.pick {
			la.cheapest.miss += u.racks[b].missed(k)
		}
	}
	return la.cheapest
}

// joint looks for the cheapest options of lanes with clocks of their own that can stand
// together: all plates that the implements keep come out of one pile.
type joint struct {
	e    *exact
	left []int        // of the pile
	miss measure.Mass // of the lanes so far
	rest []cost       // of the lanes from each on, the least they can come to
	now  []*option
}

// jointLeaf finds the best stacks of the lanes that are chosen: the cheapest of each
// where the pile has them all.
func (e *exact) jointLeaf() {
	n := len(e.cols)
	j := joint{e: e, left: counts(e.p.in.Kit.Plates), rest: make([]cost, n+1), now: make([]*option, n)}
	for i := n - 1; i >= 0; i-- {
		j.rest[i] = j.rest[i+1].plus(&e.now[i].cost)
		j.now[i] = e.cheapestOf(i, e.now[i])
		take(j.left, j.now[i].keeps, 1)
		j.miss += j.now[i].miss
	}
	if j.stands() {
		if j.rest[0].compare(&e.best.cost) < 0 {
			e.best = j.answer(&j.rest[0])
		}
		return
	}
	j.left, j.miss = counts(e.p.in.Kit.Plates), 0
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
		room = e.best.cost.plates - all.plates + e.now[i].cost.plates
	}
	list := e.options(i, e.now[i], room)
	for k := range list {
		next := c.plus(&list[k].cost)
		least := next.plus(&j.rest[i+1])
		if least.compare(&e.best.cost) >= 0 || e.p.work >= e.p.limit() {
			return
		}
		e.step()
		take(j.left, list[k].keeps, 1)
		j.miss += list[k].miss
		if j.stands() {
			j.now[i] = &list[k]
			j.lane(i+1, next)
		}
		take(j.left, list[k].keeps, -1)
		j.miss -= list[k].miss
	}
}

// step counts work: an arrangement of a class that shares a clock is priced at once.
func (e *exact) step() {
	if e.steps++; e.l.lockstep || e.steps%stepsOfJoint == 0 {
		e.p.work++
	}
}

// stands reports whether no kind of plate is overdrawn, and nobody misses too much.
func (j *joint) stands() bool {
	return j.miss <= j.e.slack && !slices.ContainsFunc(j.left, func(n int) bool { return n < 0 })
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
