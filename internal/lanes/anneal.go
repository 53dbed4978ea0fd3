package lanes

import (
	"math"
	"slices"

	"hawser/internal/load"
)

// Figures of the search by chance. They are counted in steps, and chance is a
// fixed row of numbers, so that every machine finds the same.
const (
	annealSteps = 16_000  // in all layouts of one search; some 5 ms, and more find no better boards
	annealTeams = 2       // look at the same time, each from its own place in the row of chance
	annealRuns  = 4       // of all teams
	annealWork  = 3       // steps that count as one unit of work
	firstPass   = 2       // plates more in every round that are let pass at first
	firstDoubt  = 3       // and by which a choice of stack may be mistaken
	lackWeight  = 6       // what a plate that is not there counts for, in plates moved
	overWeight  = 1 << 16 // and an implement that is too heavy empty

	annealChance = 0x9E3779B97F4A7C15 // where the row of chance begins
)

// annealing looks for a good arrangement by chance: two people change seats, each with
// the stack of their load that suits those beside them, or a stack becomes another of the
// same load. What is worse is let pass as long as it is not much worse, and ever less of
// it; so are choices of a stack that are not quite the best. Everyone has the load that
// they would get alone; the pile may be overdrawn on the way, at a price.
type annealing struct {
	p      *planner
	l      *layout
	racks  *racks
	pile   []int
	who    []int       // of each seat
	own    [][]ownRack // of each unit, by person
	rack   []*rack     // of each unit
	pick   []int       // of each unit: its stack in the rack
	units  [][]int     // of each seat
	beside [][]change  // of each unit: from it to another
	at     []int       // the moment of each unit
	used   [][]int     // plates of each kind that stand at each moment
	chance uint64
	sums   []int // scratch of choose
	often  int
	doubt  int // by how many plates choose may now be mistaken
	plates int // moved over the part
	over   int // stacks on an implement that is too heavy empty
	lacks  int // plates that are not there, over all moments

	swapped [2]int // what the last step did: seats that changed their people, if they are two
	was     []put  // what stood before
	before  int    // and the plates moved then
}

// ownRack is what one person may have for a unit.
type ownRack struct {
	rack *rack
	over bool
}

// put is a stack for a unit.
type put struct {
	unit int
	rack *rack
	pick int
}

// anneal returns the best arrangement that chance finds in so many steps; nil
// where it finds none for which the pile has the plates, and where lanes keep
// their own clock: there the deal of the pile counts for more than who follows whom.
func (p *planner) anneal(l *layout, start []int, steps int) *answer {
	steps /= annealRuns
	if len(l.seats) < 3 || steps < 1 || !l.lockstep {
		return nil
	}
	p.work += steps * annealRuns / annealWork
	found := make([]*answer, annealTeams)
	if len(p.in.Session.Parts) > 1 { // they are planned at the same time already
		found = found[:1]
	}
	teams := make([]func(), len(found))
	for i := range teams {
		of, chance := p, uint64(annealChance)
		if i > 0 {
			of, chance = p.another(), chance*uint64(2*i+1)
		}
		teams[i] = func() {
			a := newAnnealing(of, l, start, chance)
			for range annealRuns / len(teams) {
				found[i] = better(found[i], a.run(steps))
			}
		}
	}
	atOnce(teams...)
	var best *answer
	for _, b := range found {
		best = better(best, b)
	}
	return best
}

// better is the one of two answers that costs less, the first where none does; nil is no
// answer.
func better(a, b *answer) *answer {
	if a == nil || b != nil && b.cost.compare(&a.cost) < 0 {
		return b
	}
	return a
}

func newAnnealing(p *planner, l *layout, start []int, chance uint64) *annealing {
	n := len(l.units)
	a := &annealing{
		p: p, l: l, racks: p.racks, pile: counts(p.in.Kit.Plates), who: slices.Clone(start), own: make([][]ownRack, n),
		rack: make([]*rack, n), pick: make([]int, n), units: make([][]int, len(l.seats)),
		beside: make([][]change, n), at: make([]int, n), chance: chance,
	}
	for _, ch := range l.changes {
		a.often = max(a.often, ch.times)
		a.beside[ch.from] = append(a.beside[ch.from], ch)
		a.beside[ch.to] = append(a.beside[ch.to], change{ch.to, ch.from, ch.times})
	}
	for m, units := range l.moments {
		a.used = append(a.used, make([]int, len(a.pile)))
		for _, u := range units {
			a.at[u] = m
		}
	}
	for u, at := range l.units {
		a.own[u] = make([]ownRack, len(p.people))
		a.units[at.seat] = append(a.units[at.seat], u)
		a.put(put{u, a.ownOf(u, start[at.seat]).rack, 0})
	}
	for i := range l.seats {
		a.over += a.tooHeavy(i)
	}
	return a
}

// ownOf is what a person may have for a unit.
func (a *annealing) ownOf(u, who int) ownRack {
	o := &a.own[u][who]
	if o.rack == nil {
		at := a.l.units[u]
		c := a.p.choose(who, &a.l.seats[at.seat], at.set)
		*o = ownRack{a.racks.of(c.want.On, c.moves), c.over}
		if len(o.rack.stacks) == 0 { // too many to list
			o.rack = a.racks.rack(c.want.On, []load.Stack{c.own})
		}
	}
	return *o
}

// tooHeavy counts the stacks of a seat whose implement is too heavy empty.
func (a *annealing) tooHeavy(seat int) int {
	n := 0
	for _, u := range a.units[seat] {
		if a.ownOf(u, a.who[seat]).over {
			n++
		}
	}
	return n
}

// put gives a unit a stack.
func (a *annealing) put(t put) {
	if a.rack[t.unit] != nil {
		a.plates -= a.changes(t.unit)
	}
	a.set(t)
	a.plates += a.changes(t.unit)
}

// set is put without the plates moved.
func (a *annealing) set(t put) {
	u := t.unit
	ends := a.l.seats[a.l.units[u].seat].on.Ends
	a.stand(u, -ends)
	a.rack[u], a.pick[u] = t.rack, t.pick
	a.stand(u, ends)
}

// stand takes the plates of a unit off the pile of its moment, or gives them back.
func (a *annealing) stand(u, ends int) {
	used := a.used[a.at[u]]
	for kind, n := range a.stack(u) {
		if n > 0 {
			a.lacks -= max(0, used[kind]-a.pile[kind])
			used[kind] += n * ends
			a.lacks += max(0, used[kind]-a.pile[kind])
		}
	}
}

// stack is what stands for a unit; bare before anything was put there.
func (a *annealing) stack(u int) load.Stack {
	if a.rack[u] == nil {
		return nil
	}
	return a.rack[u].stacks[a.pick[u]]
}

// changes is the plates moved between a unit and those before and after it.
func (a *annealing) changes(u int) int {
	sum := 0
	for i := range a.beside[u] {
		ch := &a.beside[u][i]
		if a.rack[ch.to] != nil {
			sum += ch.times * int(a.row(ch.to, a.rack[u])[a.pick[u]])
		}
	}
	return sum
}

// row is the plates moved from the stack of a unit to each of a rack.
func (a *annealing) row(u int, k *rack) []int32 {
	return a.racks.row(a.rack[u], a.pick[u], k)
}

// choose returns the stack of a rack that suits a unit, more or less: beside the stacks
// before and after it, and with the plates that there are.
func (a *annealing) choose(u int, k *rack) int {
	if len(k.stacks) == 1 {
		return 0
	}
	sums := slices.Grow(a.sums[:0], len(k.stacks))[:len(k.stacks)]
	a.sums = sums
	chance := a.chance
	for s := range sums {
		chance = next(chance)
		sums[s] = below(chance, a.doubt+1)
	}
	a.chance = chance
	for i := range a.beside[u] {
		ch := &a.beside[u][i]
		if a.rack[ch.to] == nil {
			continue
		}
		for s, n := range a.row(ch.to, k) {
			sums[s] += ch.times * int(n)
		}
	}
	used, now, ends := a.used[a.at[u]], a.stack(u), a.l.seats[a.l.units[u].seat].on.Ends
	best, least := 0, math.MaxInt
	for s, sum := range sums {
		if sum >= least {
			continue
		}
		for kind, n := range k.stacks[s] {
			if n > 0 {
				sum += lackWeight * a.often * max(0, used[kind]+(n-at(now, kind))*ends-a.pile[kind])
			}
		}
		if sum < least {
			best, least = s, sum
		}
	}
	return best
}

// price is what arrangements are compared by on the way.
func (a *annealing) price() int {
	return a.plates + lackWeight*a.often*a.lacks + overWeight*a.over
}

// below returns a number from 0 to under n.
func (a *annealing) below(n int) int {
	a.chance = next(a.chance)
	return below(a.chance, n)
}

// next is the number after one in the row of chance.
func next(chance uint64) uint64 {
	chance ^= chance << 13
	chance ^= chance >> 7
	return chance ^ chance<<17
}

// below makes a number from 0 to under n of one in the row of chance.
func below(chance uint64, n int) int { return int(chance >> 32 * uint64(n) >> 32) }

// run goes so many steps and returns the best on the way.
func (a *annealing) run(steps int) *answer {
	var who, pick []int
	best, price := 0, a.price()
	for step := range steps {
		ahead := a.often * (steps - step)
		a.doubt = firstDoubt * ahead / steps
		a.step()
		next := a.price()
		if next > price+firstPass*ahead/steps {
			a.back()
			continue
		}
		price = next
		if a.lacks == 0 && (who == nil || price < best) {
			best, who, pick = price, append(who[:0], a.who...), append(pick[:0], a.pick...)
		}
	}
	if who == nil {
		return nil
	}
	return a.answer(who, pick)
}

// step changes two people's seats, or a stack.
func (a *annealing) step() {
	a.was, a.before = a.was[:0], a.plates
	i, j := a.below(len(a.l.seats)), a.below(len(a.l.seats))
	a.swapped = [2]int{i, i}
	s, t := &a.l.seats[i], &a.l.seats[j]
	if i == j || a.chance&1 == 0 || s.group != t.group || !a.p.may(a.who[i], t) || !a.p.may(a.who[j], s) {
		u := a.units[i][a.below(len(a.units[i]))]
		a.change(put{u, a.rack[u], a.below(len(a.rack[u].stacks))})
		return
	}
	a.swap(i, j)
	a.swapped = [2]int{i, j}
	for _, seat := range a.swapped {
		for _, u := range a.units[seat] {
			k := a.ownOf(u, a.who[seat]).rack
			a.change(put{u, k, a.choose(u, k)})
		}
	}
}

// change puts a stack and remembers what was there.
func (a *annealing) change(t put) {
	a.was = append(a.was, put{t.unit, a.rack[t.unit], a.pick[t.unit]})
	a.put(t)
}

// swap changes the people of two seats.
func (a *annealing) swap(i, j int) {
	a.over -= a.tooHeavy(i) + a.tooHeavy(j)
	a.who[i], a.who[j] = a.who[j], a.who[i]
	a.over += a.tooHeavy(i) + a.tooHeavy(j)
}

// back undoes the last step.
func (a *annealing) back() {
	if i, j := a.swapped[0], a.swapped[1]; i != j {
		a.swap(i, j)
	}
	for _, t := range a.was {
		a.set(t)
	}
	a.plates = a.before
}

// answer is an arrangement in which everyone has their own load, priced; its
// stacks are made better where one alone can be.
func (a *annealing) answer(who, pick []int) *answer {
	p, l := a.p, a.l
	b := &answer{layout: l, who: who, got: make([]load.Got, len(l.units)), proved: true}
	for u, at := range l.units {
		c := p.choose(who[at.seat], &l.seats[at.seat], at.set)
		b.got[u] = p.got(c, a.ownOf(u, who[at.seat]).rack.stacks[pick[u]])
		if c.over {
			b.cost.over++
		}
	}
	b.cost.list = p.listOrder(l, who)
	p.plates(b, p.left(b))
	return b
}
