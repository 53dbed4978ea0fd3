package load

import (
	"hawser/internal/kit"
	"hawser/internal/measure"
)

// Beside returns the nearest loads below and above what moves now, with free
// plates of each kind: those in the pile and those on this implement. False where
// there is none on that side.
func Beside(on Implement, moves measure.Mass, pile []kit.Plates, free []int) (down, up Stack, hasDown, hasUp bool) {
	added := moves - on.Tare
	t := newTable(on, pile, free, added)
	down, hasDown = t.best(added-1, func(m measure.Mass) bool { return m < added })
	up, hasUp = t.best(added, func(m measure.Mass) bool { return m > added })
	return down, up, hasDown, hasUp
}
