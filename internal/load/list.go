package load

import (
	"cmp"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// option is one stack for one item.
type option struct {
	stack  Stack
	plates int // on one end
	mass   measure.Mass
	miss   measure.Mass
}

// byMiss orders options by how well they suit, as [Nearest] does.
func byMiss(a, b option) int {
	if c := cmp.Or(cmp.Compare(a.miss, b.miss), cmp.Compare(a.mass, b.mass), cmp.Compare(a.plates, b.plates)); c != 0 {
		return c
	}
	return slices.Compare(b.stack, a.stack)
}

// lister lists the stacks of one implement whose plates come to low … high.
type lister struct {
	on        Implement
	pile      []kit.Plates
	left      []int
	need      measure.Mass
	low, high measure.Mass
	rest      []measure.Mass // what kinds k and after can come to
	options   []option
	most      int   // options; the list ends there
	work      int   // that is left
	room      Stack // where the next stacks are kept, many to an allocation
}

// list returns the options by miss.
func (l *lister) list() []option {
	l.rest = make([]measure.Mass, len(l.pile)+1)
	for k := len(l.pile) - 1; k >= 0; k-- {
		l.rest[k] = l.rest[k+1]
		if l.takes(k) {
			l.rest[k] += l.unit(k) * measure.Mass(l.left[k]/l.on.Ends)
		}
	}
	l.from(0, 0, 0, make(Stack, len(l.pile)))
	slices.SortFunc(l.options, byMiss)
	return l.options
}

// takes reports whether plates of kind k may stand on the implement.
func (l *lister) takes(k int) bool { return l.pile[k].Mass > 0 && l.pile[k].Mass >= l.on.Step }

// unit is one plate of kind k on every end.
func (l *lister) unit(k int) measure.Mass { return l.pile[k].Mass * measure.Mass(l.on.Ends) }

// from goes on from kind k with mass in plates on. The last plate put on is the
// lightest: where it could be left off again and the load came no further off, the
// stack is not worth trying.
func (l *lister) from(k int, mass measure.Mass, plates int, on Stack) {
	l.work--
	if len(l.options) >= l.most || mass+l.rest[k] < l.low || l.work <= 0 {
		return
	}
	if k == len(l.pile) {
		l.work -= workOfOption
		l.options = append(l.options, option{stack: l.clone(on), plates: plates, mass: mass, miss: abs(mass - l.need)})
		return
	}
	l.from(k+1, mass, plates, on)
	if !l.takes(k) {
		return
	}
	unit := l.unit(k)
	for n := 1; n <= l.left[k]/l.on.Ends && mass+unit <= l.high; n++ {
		mass += unit
		on[k]++
		if over := mass - l.need; 2*over < unit {
			l.from(k+1, mass, plates+n, on)
		}
	}
	on[k] = 0
}

// clone keeps a copy of a stack.
func (l *lister) clone(on Stack) Stack {
	if cap(l.room)-len(l.room) < len(on) {
		l.room = make(Stack, 0, 256*len(on))
	}
	from := len(l.room)
	l.room = append(l.room, on...)
	return l.room[from:len(l.room):len(l.room)]
}
