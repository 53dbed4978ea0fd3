package lanes

import (
	"cmp"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
)

// cost is what arrangements are compared by, first things first. Costs of parts of
// an arrangement add up, and the order of costs survives addition.
type cost struct {
	short  measure.Mass // what the pile's shortage costs: the misses there are less the misses alone
	over   int          // people for whom the empty implement is too heavy already
	plates int          // moved over the whole part
	mass   measure.Mass // of the plates moved
	used   int          // plates in use
	kinds  [2]uint64    // plates in use of each kind, ten bits a kind, biggest first: more is better
	list   uint64       // who sits where, as one number: the earlier in the list the smaller
}

// Kinds of plate that are told apart in "biggest first": the lightest ones of a
// bigger pile are not.
const (
	kindBits = 10
	perWord  = 64 / kindBits
)

// compare is negative where a is the better arrangement.
func (a *cost) compare(b *cost) int {
	switch {
	case a.short != b.short:
		return cmp.Compare(a.short, b.short)
	case a.over != b.over:
		return cmp.Compare(a.over, b.over)
	case a.plates != b.plates:
		return cmp.Compare(a.plates, b.plates)
	case a.mass != b.mass:
		return cmp.Compare(a.mass, b.mass)
	case a.used != b.used:
		return cmp.Compare(a.used, b.used)
	}
	return cmp.Or(slices.Compare(b.kinds[:], a.kinds[:]), cmp.Compare(a.list, b.list))
}

// plus adds two costs.
func (a *cost) plus(b *cost) cost {
	return cost{
		a.short + b.short, a.over + b.over, a.plates + b.plates, a.mass + b.mass, a.used + b.used,
		[2]uint64{a.kinds[0] + b.kinds[0], a.kinds[1] + b.kinds[1]},
		a.list + b.list,
	}
}

// swap adds the change from one stack to another on an implement, done times.
func (a *cost) swap(from, to load.Stack, ends int, pile []kit.Plates, times int) {
	for k := range pile {
		n := (at(from, k) - at(to, k)) * ends * times
		n = max(n, -n)
		a.plates += n
		a.mass += measure.Mass(n) * pile[k].Mass
	}
}

// use adds the plates of a stack that stands on an implement.
func (a *cost) use(s load.Stack, ends int) {
	for k, n := range s {
		a.used += n * ends
		if word := k / perWord; word < len(a.kinds) {
			a.kinds[word] += uint64(n*ends) << (kindBits * (perWord - 1 - k%perWord))
		}
	}
}

// at is how many plates of kind k a stack has on an end; a nil stack is bare.
func at(s load.Stack, k int) int {
	if k < len(s) {
		return s[k]
	}
	return 0
}

// moved counts the plates to take off and put on between two stacks, on all ends.
func moved(from, to load.Stack, ends int) int {
	if len(to) < len(from) { // bare is nil
		from, to = to, from
	}
	n := 0
	for k, had := range from {
		d := had - to[k]
		n += max(d, -d)
	}
	for _, more := range to[len(from):] {
		n += more
	}
	return n * ends
}
