package lanes

import (
	"cmp"
	"math/bits"
	"slices"

	"hawser/internal/measure"
)

// shared looks for what the pile's shortage costs at least, and for who, where each
// implement keeps its plates for all of its people. What it may keep for a group of
// people, and what that costs them, is listed without whatever keeps no less and costs
// no less than something else; those lists are short.
type shared struct {
	*picks
	e     *exact
	field int // bits of each kind of plate in a number
	kept  []map[set][]pick
	now   []kept
	best  []kept // nil: nothing costs less than what is known
	left  int    // steps
}

// kept is who is on a column and what its implement keeps for them.
type kept struct {
	group set
	pick
}

// leastShared looks, where people have one load each, for who is on which implement with
// what share of the pile, so that its shortage costs the least and less than what is known; nobody where nothing does,
// and then that is the least. It is false where it was not found out.
func (p *planner) leastShared(l *layout, known *answer, work int) (best dealtApart, who []int, ok bool) {
	e := p.newExact(l, known)
	w := shared{e: e, picks: &picks{lists: map[[2]int][]pick{}, most: known.cost.short}, left: work * stepsOfWork}
	if len(l.units) > len(l.seats) || len(p.stations) > 1 || len(p.people) > exactPeople || !p.anywhere(l) || !w.pack() {
		return best, nil, false
	}
	w.kept, w.now = make([]map[set][]pick, len(e.cols)), make([]kept, len(e.cols))
	w.column(0, set(1)<<len(p.people)-1, w.pile, 0)
	p.work += work - w.left/stepsOfWork
	if w.best == nil {
		return dealtApart{least: w.most}, nil, w.left > 0
	}
	who = make([]int, len(l.seats))
	left := counts(p.in.Kit.Plates)
	best = dealtApart{shares: map[string][]int{}, least: w.most}
	for j, k := range w.best {
		share := w.unpack(k.plates)
		take(left, share, 1)
		if j == len(w.best)-1 {
			take(share, left, -1) // all there is: more is never worse
		}
		for _, seat := range e.cols[j].seats {
			who[seat] = bits.TrailingZeros32(uint32(k.group))
			k.group &= k.group - 1
			best.shares[l.seats[seat].on.Name] = share
		}
	}
	return best, who, w.left > 0
}

// anywhere reports whether everybody may sit on every seat.
func (p *planner) anywhere(l *layout) bool {
	for i := range l.seats {
		for who := range p.people {
			if !p.may(who, &l.seats[i]) {
				return false
			}
		}
	}
	return true
}

// unpack is a number of plates by kind.
func (w *shared) unpack(plates uint64) []int {
	share := make([]int, len(w.shift))
	for k, at := range w.shift {
		share[k] = int(plates >> at & (1<<(w.field-1) - 1))
	}
	return share
}

// pack gives every kind of plate as many bits of a number; false where there are too few.
func (w *shared) pack() bool {
	pile := w.e.p.in.Kit.Plates
	for k := range pile {
		w.field = max(w.field, 1+bits.Len(uint(max(0, pile[k].Count))))
	}
	if w.field*len(pile) > 64 {
		return false
	}
	for k := range pile {
		w.shift = append(w.shift, k*w.field)
		w.pile |= uint64(max(0, pile[k].Count)) << w.shift[k]
		w.guards |= 1 << (w.shift[k] + w.field - 1)
	}
	w.pile |= w.guards
	return true
}

// column goes through who may be on column j and after, of the people who are left.
func (w *shared) column(j int, people set, left uint64, sum measure.Mass) {
	if j == len(w.now) {
		w.most, w.best = sum, slices.Clone(w.now)
		return
	}
	w.groups(len(w.e.cols[j].seats), people, 0, func(group set) {
		for _, k := range w.of(j, group) {
			if w.left--; w.left <= 0 || sum+k.excess >= w.most {
				return
			}
			if rest := left - k.plates; rest&w.guards == w.guards {
				w.now[j] = kept{group, k}
				w.column(j+1, people&^group, rest, sum+k.excess)
			}
		}
	})
}

// groups calls do with every group of n of the people, and those of with.
func (w *shared) groups(n int, people, with set, do func(set)) {
	if n == 0 {
		do(with)
		return
	}
	for rest := people; bits.OnesCount32(uint32(rest)) >= n; {
		one := rest & -rest
		rest &^= one
		w.groups(n-1, rest, with|one, do)
	}
}

// of is what column j may keep for a group of people, the least cost first.
func (w *shared) of(j int, group set) []pick {
	if w.kept[j] == nil {
		w.kept[j] = map[set][]pick{0: {{}}}
	}
	if found, ok := w.kept[j][group]; ok {
		return found
	}
	one := group & -group
	list := w.of(j, group&^one)
	who, seat := bits.TrailingZeros32(uint32(one)), w.e.cols[j].seats[0]
	w.steps = 0
	more := w.list(w.e, who, seat)
	w.left -= w.steps
	list = w.both(list, more)
	w.kept[j][group] = list
	return list
}

// sortSteps is how many steps it takes to put one pick into its place.
const sortSteps = 30

// both is what keeps one of each list.
func (w *shared) both(a, b []pick) []pick {
	var all []pick
	for _, x := range a {
		for _, y := range b {
			if x.excess+y.excess >= w.most {
				break
			}
			all = append(all, pick{w.more(x.plates, y.plates), x.excess + y.excess})
		}
	}
	slices.SortFunc(all, func(a, b pick) int { return cmp.Or(cmp.Compare(a.excess, b.excess), cmp.Compare(a.plates, b.plates)) })
	all = slices.Compact(all)
	list := all[:0]
	w.left -= sortSteps * len(all)
	for _, one := range all {
		w.left -= len(list) / 4
		if w.left > 0 && !slices.ContainsFunc(list, func(p pick) bool { return ((one.plates|w.guards)-p.plates)&w.guards == w.guards }) {
			list = append(list, one)
		}
	}
	return slices.Clip(list)
}

// more is the more of each kind of plate.
func (w *shared) more(a, b uint64) uint64 {
	is := ((a | w.guards) - b) & w.guards // where a has no fewer
	of := is - is>>(w.field-1)
	return a&of | b&^of
}
