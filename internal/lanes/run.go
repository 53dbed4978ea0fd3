package lanes

import (
	"cmp"
	"math"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
)

// price is what changes of stacks come to: the plates that move count first, then their
// mass.
type price struct {
	plates int
	mass   measure.Mass
}

// dearest is more than any.
var dearest = price{math.MaxInt / 1024, never}

// priceOf is the price of one change from a stack to another on all ends.
func priceOf(from, to load.Stack, ends int, pile []kit.Plates) price {
	if len(to) < len(from) { // bare is nil; it is as far back
		from, to = to, from
	}
	var p price
	for k, n := range to {
		n -= at(from, k)
		n = max(n, -n)
		p.plates += n
		p.mass += measure.Mass(n) * pile[k].Mass
	}
	return price{p.plates * ends, p.mass * measure.Mass(ends)}
}

// plus adds a price, so many times.
func (p price) plus(q price, times int) price {
	return price{p.plates + times*q.plates, p.mass + measure.Mass(times)*q.mass}
}

func (p price) less(q price) bool {
	return p.plates < q.plates || p.plates == q.plates && p.mass < q.mass
}

func (p price) compare(q price) int {
	return cmp.Or(cmp.Compare(p.plates, q.plates), cmp.Compare(p.mass, q.mass))
}

// mostSteps is how far one column's choice of stacks is searched.
const mostSteps = 2_000_000

// run chooses one stack for each unit of a column, given what each must move.
type run struct {
	racks  []*rack
	times  [][]int
	prices [][]*prices // of units a < b
	tail   [][]price   // of each stack of each unit: the least that the changes of the units after it come to
	now    []int
	pick   []int // the best
	best   cost
	most   price // of the best
	found  bool
	work   int
}

// newRun prepares the choice.
func (r *racks) newRun(col *column, list []*rack) *run {
	n := len(list)
	u := &run{racks: list, times: col.times, prices: make([][]*prices, n), tail: make([][]price, n), now: make([]int, n)}
	for b := range n {
		u.prices[b] = make([]*prices, n)
		for a := range b {
			if col.times[a][b] > 0 {
				u.prices[b][a] = r.between(list[a], list[b])
			}
		}
	}
	for b := n - 1; b >= 0; b-- {
		u.tail[b] = u.after(b)
	}
	return u
}

// after is the least that the changes of the units after b come to, by its stack. The
// change to the next unit is counted as it is, and others as the cheapest that there are.
func (u *run) after(b int) []price {
	tail := make([]price, len(u.racks[b].stacks))
	next := b + 1
	if next == len(u.racks) || len(u.tail[next]) == 0 {
		return tail
	}
	var far price
	for a := range b {
		if p := u.prices[next][a]; p != nil {
			far = far.plus(p.least, u.times[a][next])
		}
	}
	order := make([]int, len(u.tail[next])) // the cheapest first
	for k := range order {
		order[k] = k
	}
	slices.SortFunc(order, func(a, b int) int { return u.tail[next][a].compare(u.tail[next][b]) })
	t, p := u.times[b][next], u.prices[next][b]
	for s := range tail {
		if t == 0 {
			tail[s] = far.plus(u.tail[next][order[0]], 1)
			continue
		}
		best, row := dearest, p.row(s)
		for _, k := range order {
			u.work++
			if least := u.tail[next][k].plus(p.from[s], t); !least.less(best) {
				break
			}
			if one := u.tail[next][k].plus(row[k], t); one.less(best) {
				best = one
			}
		}
		tail[s] = far.plus(best, 1)
	}
	return tail
}

// least is what the column costs at least; dearest where some load has no stacks.
func (u *run) least() (sum cost) {
	for _, k := range u.racks {
		if len(k.stacks) == 0 {
			return cost{plates: dearest.plates}
		}
		sum = sum.plus(&k.least)
	}
	changes := slices.MinFunc(u.tail[0], price.compare)
	sum.plates, sum.mass = changes.plates, changes.mass
	return sum
}

// cheapest returns the least cost of the column, whatever stands on the others.
func (u *run) cheapest() cost {
	u.found, u.work, u.most = false, 0, dearest
	u.from(0, price{})
	return u.best
}

// from goes through the stacks of unit b and after, for less than the best.
func (u *run) from(b int, p price) {
	if b == len(u.racks) {
		sum := cost{plates: p.plates, mass: p.mass}
		for t, s := range u.now {
			sum = sum.plus(&u.racks[t].uses[s])
		}
		if !u.found || sum.compare(&u.best) < 0 {
			u.best, u.found, u.pick, u.most = sum, true, append(u.pick[:0], u.now...), p
		}
		return
	}
	for s, tail := range u.tail[b] {
		if u.work++; u.work > mostSteps && u.found {
			return
		}
		u.now[b] = s
		if next := p.plus(u.changes(b), 1); !u.most.less(next.plus(tail, 1)) {
			u.from(b+1, next)
		}
	}
}

// changes is the price of those between unit b, as chosen now, and the units before it.
func (u *run) changes(b int) (sum price) {
	for a, p := range u.prices[b] {
		if p != nil {
			sum = sum.plus(p.row(u.now[a])[u.now[b]], u.times[a][b])
		}
	}
	return sum
}

// within calls do with every choice of stacks that moves no more plates than room, and its
// cost; u.now has it. It ends where do wants no more.
func (u *run) within(room int, do func(c *cost) bool) {
	var from func(b int, c cost) bool
	from = func(b int, c cost) bool {
		if b == len(u.racks) {
			return do(&c)
		}
		for s := range u.racks[b].stacks {
			u.now[b] = s
			if next := u.with(b, c); next.plates+u.tail[b][s].plates <= room && !from(b+1, next) {
				return false
			}
		}
		return true
	}
	from(0, cost{})
}

// with adds unit b, as chosen now, to a cost.
func (u *run) with(b int, c cost) cost {
	p := u.changes(b)
	c.plates += p.plates
	c.mass += p.mass
	return c.plus(&u.racks[b].uses[u.now[b]])
}
