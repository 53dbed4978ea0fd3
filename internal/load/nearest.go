package load

import (
	"cmp"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// On returns what moves with s on that implement: tare + plates.
func (s Stack) On(on Implement, pile []kit.Plates) measure.Mass {
	moves := on.Tare
	for k, n := range s {
		moves += pile[k].Mass * measure.Mass(n*on.Ends)
	}
	return moves
}

// Plates returns how many plates s takes from the pile, on all ends.
func (s Stack) Plates(on Implement) int {
	count := 0
	for _, n := range s {
		count += n * on.Ends
	}
	return count
}

// Nearest returns the stack that comes nearest to the item with left plates of
// each kind of the pile, whatever else is asked. Of two loads equally near it
// takes the lighter; of several stacks of one load, the one of fewest plates, and
// of those the one of the biggest. The empty sled is nil.
func Nearest(it Item, pile []kit.Plates, left []int) Stack {
	return newTable(it.On, pile, left, it.Total-it.On.Tare).nearest(it.Total - it.On.Tare)
}

// Unlimited returns the nearest stack if there were any number of each kind of
// plate in the pile, also of those of which none is there today.
func Unlimited(it Item, pile []kit.Plates) Stack {
	endless := make([]int, len(pile))
	for k, p := range pile {
		if p.Mass > 0 {
			endless[k] = it.On.Ends * int(max(it.Total, 0)/p.Mass+1)
		}
	}
	return Nearest(it, pile, endless)
}

// table answers for one kind of implement which plate masses can be had. It holds
// the kinds of plate in two halves, every other one in each, because the sums of
// a half are few where those of all kinds are not: the halves of eight kinds have
// some hundred sums, all eight have some hundred thousand.
type table struct {
	kinds  int
	halves [2][]sum // by mass; one entry a mass
}

// sum is one mass that a half gives, by its best plates.
type sum struct {
	mass   measure.Mass // on all ends
	plates int          // on one end
	stack  Stack
}

// newTable lists what on takes from left, up to one plate beyond most.
func newTable(on Implement, pile []kit.Plates, left []int, most measure.Mass) *table {
	t := &table{kinds: len(pile)}
	if most < 0 {
		most = 0
	}
	ends := measure.Mass(on.Ends)
	var usable [2][]int
	for k, p := range pile {
		if p.Mass >= on.Step && p.Mass > 0 && left[k] >= on.Ends {
			h := (len(usable[0]) + len(usable[1])) % 2
			usable[h] = append(usable[h], k)
		}
	}
	for h := range t.halves {
		sums := []sum{{stack: make(Stack, len(pile))}}
		for _, k := range usable[h] {
			for _, s := range sums {
				for n := 1; n <= left[k]/on.Ends && s.mass <= most; n++ {
					s.mass += pile[k].Mass * ends
					s.plates++
					s.stack = slices.Clone(s.stack)
					s.stack[k]++
					sums = append(sums, s)
				}
			}
			slices.SortFunc(sums, betterSum)
			sums = slices.CompactFunc(sums, func(a, b sum) bool { return a.mass == b.mass })
		}
		t.halves[h] = sums
	}
	return t
}

// betterSum orders by mass, then fewest plates, then biggest plates.
func betterSum(a, b sum) int {
	return cmp.Or(cmp.Compare(a.mass, b.mass), cmp.Compare(a.plates, b.plates), slices.Compare(b.stack, a.stack))
}

// nearest walks up one half and down the other.
func (t *table) nearest(need measure.Mass) Stack {
	up, down := t.halves[0], t.halves[1]
	best, found := sum{}, false
	j := len(down) - 1
	for i := range up {
		for j >= 0 && up[i].mass+down[j].mass > need {
			best, found = t.better(best, found, up[i], down[j], need)
			j--
		}
		if j < 0 {
			break
		}
		best, found = t.better(best, found, up[i], down[j], need)
	}
	if best.plates == 0 {
		return nil
	}
	return best.stack
}

// better returns the better of best and a + b.
func (t *table) better(best sum, found bool, a, b sum, need measure.Mass) (sum, bool) {
	mass, plates := a.mass+b.mass, a.plates+b.plates
	if found {
		c := cmp.Or(cmp.Compare(abs(mass-need), abs(best.mass-need)), cmp.Compare(mass, best.mass), cmp.Compare(plates, best.plates))
		if c > 0 {
			return best, true
		}
		if c == 0 && slices.Compare(join(a.stack, b.stack), best.stack) <= 0 {
			return best, true
		}
	}
	return sum{mass: mass, plates: plates, stack: join(a.stack, b.stack)}, true
}

// join adds two stacks.
func join(a, b Stack) Stack {
	s := make(Stack, len(a))
	for k := range s {
		s[k] = a[k] + b[k]
	}
	return s
}
