package lanes

import (
	"encoding/binary"
	"slices"

	"hawser/internal/load"
)

// answer is one arrangement with its stacks and its price.
type answer struct {
	layout *layout
	who    []int // of each seat
	got    []load.Got
	cost   cost
	proved bool // the deals of the pile in it are
}

// evaluate prices an arrangement: first what everyone moves, then which plates
// make it.
func (p *planner) evaluate(l *layout, who []int) *answer {
	p.work += evaluateWork * len(l.units)
	a := &answer{layout: l, who: slices.Clone(who), got: make([]load.Got, len(l.units)), proved: true}
	own := make([]*choice, len(l.units))
	for u, at := range l.units {
		own[u] = p.choose(who[at.seat], &l.seats[at.seat], at.set)
	}
	var pools [][]int
	if l.lockstep {
		pools = p.dealMoments(a, own)
	} else {
		pools = p.dealImplements(a, own)
	}
	for u := range a.got {
		a.cost.short += distance(a.got[u].Moves, own[u].want.Total) - own[u].miss
		if own[u].over {
			a.cost.over++
		}
	}
	a.cost.list = p.listOrder(l, who)
	p.plates(a, pools)
	return a
}

// listOrder is who sits where as one number, where there is one station.
func (p *planner) listOrder(l *layout, who []int) (order uint64) {
	if len(p.stations) == 1 {
		for i, w := range who {
			order += place(w, i, len(p.people), len(l.seats))
		}
	}
	return order
}

// dealMoments deals the pile out anew at each moment. It returns what is left of
// the pile for each unit: those of one moment share it.
func (p *planner) dealMoments(a *answer, own []*choice) [][]int {
	pools := make([][]int, len(a.got))
	for _, moment := range a.layout.moments {
		d := p.deal(moment, own)
		a.proved = a.proved && d.proved
		left := counts(p.in.Kit.Plates)
		for i, u := range moment {
			a.got[u] = d.got[i]
			take(left, a.got[u].Stack, a.got[u].On.Ends)
			pools[u] = left
		}
	}
	return pools
}

// left is what is left of the pile for each unit where the class shares a clock,
// given what stands: those of one moment share it.
func (p *planner) left(a *answer) [][]int {
	pools := make([][]int, len(a.got))
	for _, moment := range a.layout.moments {
		left := counts(p.in.Kit.Plates)
		for _, u := range moment {
			take(left, a.got[u].Stack, a.got[u].On.Ends)
			pools[u] = left
		}
	}
	return pools
}

// dealt is the joint problem of one moment, solved.
type dealt struct {
	got    []load.Got
	proved bool
}

// deal solves the joint problem of the units of a moment, once.
func (p *planner) deal(moment []int, own []*choice) dealt {
	key := make([]byte, 0, 4*len(moment))
	wants := make([]load.Want, len(moment))
	for i, u := range moment {
		key = binary.LittleEndian.AppendUint32(key, uint32(own[u].id))
		wants[i] = own[u].want
	}
	if d, ok := p.deals[string(key)]; ok {
		return d
	}
	p.work += dealWork
	d, ok := p.ample(moment, own)
	if !ok {
		var solved load.Deal
		d.got, solved = load.Fill(wants, p.in.Kit.Plates, p.spec.Allocate, p.workOfDeal())
		d.proved = solved.Proved
		p.work += max(0, solved.Work/stepsOfDeal-dealWork)
	}
	p.deals[string(key)] = d
	return d
}

// stepsOfDeal is how many stacks looked at for a deal count as one unit of work.
const stepsOfDeal = 100

// workOfDeal is how far one deal of the pile may be looked for: a share of what is left.
func (p *planner) workOfDeal() int {
	return min(load.Usual, max(leastOfDeal, (p.limit()-p.work)/16*stepsOfDeal))
}

// leastOfDeal is how far any is looked for.
const leastOfDeal = 100_000

// ample gives everybody of a moment what they would get alone, where the pile has all of
// it at once: there is no better deal, however it is dealt.
func (p *planner) ample(moment []int, own []*choice) (dealt, bool) {
	left := counts(p.in.Kit.Plates)
	d := dealt{proved: true}
	for _, u := range moment {
		c := own[u]
		if !has(left, nil, c.own, c.want.On.Ends) {
			return dealt{}, false
		}
		take(left, c.own, c.want.On.Ends)
		d.got = append(d.got, p.got(c, c.own))
	}
	return d, true
}

// got is a choice with a stack.
func (p *planner) got(c *choice, s load.Stack) load.Got {
	pile, it := p.in.Kit.Plates, load.Item{On: c.want.On, Total: c.want.Total}
	g := load.Got{Want: c.want, Stack: s, Moves: s.On(it.On, pile)}
	if g.Moves < it.Total {
		if c.ideal == 0 {
			c.ideal = load.Unlimited(it, pile).On(it.On, pile)
		}
		g.Short = max(0, c.ideal-g.Moves)
	}
	return g
}

// What the steps of a search count for against its limit, in units of some three
// microseconds.
const (
	dealWork     = 150 // one joint problem of the pile
	evaluateWork = 3   // each stack of an arrangement
	tableWork    = 300 // one table over the rows
	gainWork     = 2   // what a plate more of each kind brings to one implement
	nearestWork  = 6   // one load out of a share of the pile
	stepsOfPrice = 40  // stacks priced beside their neighbours that count as one
)

// plates chooses, of the stacks that make each load, those that move fewest plates
// over the part: each in turn the best beside its neighbours, until none changes.
func (p *planner) plates(a *answer, pools [][]int) {
	l, pile := a.layout, p.in.Kit.Plates
	fits := func(u int, s load.Stack) bool { return has(pools[u], a.got[u].Stack, s, a.got[u].On.Ends) }
	if !l.lockstep {
		fits = func(u int, s load.Stack) bool { return a.together(u, s, counts(pile)) }
	}
	beside := make([][]change, len(l.units))
	for _, c := range l.changes {
		beside[c.from] = append(beside[c.from], c)
		beside[c.to] = append(beside[c.to], c)
	}
	priced := 0
	price := func(u int, s load.Stack) (c cost) {
		priced++
		ends := a.got[u].On.Ends
		for _, ch := range beside[u] {
			other := ch.from + ch.to - u
			c.swap(s, a.got[other].Stack, ends, pile, ch.times)
		}
		c.use(s, ends)
		return c
	}
	for again, rounds := true, 0; again && rounds < 10; rounds++ {
		again = false
		for u := range l.units {
			on, now := a.got[u].On, a.got[u].Stack
			list, _ := p.stacks(on, a.got[u].Moves)
			best := price(u, now)
			for _, s := range list {
				if c := price(u, s); c.compare(&best) < 0 && fits(u, s) {
					take(pools[u], s, on.Ends)
					take(pools[u], now, -on.Ends)
					now, best, again = s, c, true
					a.got[u].Stack = s
				}
			}
		}
	}
	p.work += max(0, priced/stepsOfPrice-evaluateWork*len(l.units))
	for _, ch := range l.changes {
		a.cost.swap(a.got[ch.from].Stack, a.got[ch.to].Stack, a.got[ch.from].On.Ends, pile, ch.times)
	}
	for u := range a.got {
		a.cost.use(a.got[u].Stack, a.got[u].On.Ends)
	}
}

// together reports whether every combination of the implements can stand at once
// when unit u has stack s: each implement may have the most it ever has.
func (a *answer) together(u int, s load.Stack, left []int) bool {
	most := map[string][]int{}
	for v := range a.got {
		on, stack := a.got[v].On, a.got[v].Stack
		if v == u {
			stack = s
		}
		if most[on.Name] == nil {
			most[on.Name] = make([]int, len(left))
		}
		for k := range left {
			most[on.Name][k] = max(most[on.Name][k], at(stack, k)*on.Ends)
		}
	}
	for _, n := range most {
		for k := range left {
			if left[k] -= n[k]; left[k] < 0 {
				return false
			}
		}
	}
	return true
}

// take takes the plates of s on so many ends off what is left.
func take(left []int, s load.Stack, ends int) {
	for k, n := range s {
		left[k] -= n * ends
	}
}

// has reports whether s can stand in place of now with what is left.
func has(left []int, now, s load.Stack, ends int) bool {
	for k, n := range s {
		if left[k]+(at(now, k)-n)*ends < 0 {
			return false
		}
	}
	return true
}
