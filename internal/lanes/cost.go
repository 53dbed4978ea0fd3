package lanes

import (
	"cmp"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
)

// cost is what arrangements are compared by, first things first.
type cost struct {
	short  measure.Mass // what the pile's shortage costs: the misses there are less the misses alone
	plates int          // moved over the whole part
	mass   measure.Mass // of the plates moved
	used   int          // plates in use
	kinds  [maxKinds]int16
}

// maxKinds is how many kinds of plate are told apart in "biggest first"; the
// lightest ones of a bigger pile are not.
const maxKinds = 12

// compare is negative where a is the better arrangement.
func (a *cost) compare(b *cost) int {
	if c := cmp.Or(cmp.Compare(a.short, b.short), cmp.Compare(a.plates, b.plates), cmp.Compare(a.mass, b.mass), cmp.Compare(a.used, b.used)); c != 0 {
		return c
	}
	return slices.Compare(b.kinds[:], a.kinds[:])
}

// plus adds two costs; the order of costs survives addition.
func (a cost) plus(b *cost) cost {
	a.short += b.short
	a.plates += b.plates
	a.mass += b.mass
	a.used += b.used
	for k, n := range b.kinds {
		a.kinds[k] += n
	}
	return a
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
		if k < maxKinds {
			a.kinds[k] += int16(n * ends)
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
	n := 0
	for k := range max(len(from), len(to)) {
		d := at(from, k) - at(to, k)
		n += max(d, -d)
	}
	return n * ends
}
