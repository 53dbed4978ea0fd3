package load

import (
	"cmp"
	"slices"
	"sort"

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

// Nearby is [Nearest] for many loads on one kind of implement, asked for in plates and of
// no more than most: what it needs to know of the pile is worked out once. work is how many
// stacks were written down for that.
func Nearby(on Implement, pile []kit.Plates, left []int, most measure.Mass) (find func(plates measure.Mass) Stack, work int) {
	t := newTable(on, pile, left, most)
	return t.nearest, t.work
}

// Unlimited returns the nearest stack if there were any number of each kind of
// plate that the pile has.
func Unlimited(it Item, pile []kit.Plates) Stack {
	endless := make([]int, len(pile))
	for k, p := range pile {
		if p.Mass > 0 && p.Count > 0 {
			enough := max(it.Total, 0)/p.Mass + 1
			for _, bigger := range pile[:k] {
				if bigger.Count > 0 && bigger.Mass >= it.On.Step {
					// so many of these are fewer of the bigger ones
					enough = min(enough, bigger.Mass/commonMeasure(bigger.Mass, p.Mass)-1)
				}
			}
			endless[k] = it.On.Ends * int(enough)
		}
	}
	return Nearest(it, pile, endless)
}

// table answers for one kind of implement which plate masses can be had. It holds
// the kinds of plate in two halves, because the sums of a half are few where those of
// all kinds are not: the halves of eight kinds have some hundred sums, all eight have
// some hundred thousand. Those of plates in kg fall on each other, and so do those in lb.
type table struct {
	halves [2][]sum // by mass; one entry a mass
	work   int      // sums written down
}

// sum is one mass that a half gives, by its best plates.
type sum struct {
	mass   measure.Mass // on all ends
	plates int          // on one end
	stack  Stack
}

// newTable lists what on takes from left, up to one plate beyond most.
func newTable(on Implement, pile []kit.Plates, left []int, most measure.Mass) *table {
	t := &table{}
	if most < 0 {
		most = 0
	}
	ends := measure.Mass(on.Ends)
	var usable []int
	for k, p := range pile {
		if p.Mass >= on.Step && p.Mass > 0 && left[k] >= on.Ends {
			usable = append(usable, k)
		}
	}
	for h, kinds := range Halves(usable, pile) {
		t.halves[h] = []sum{{stack: make(Stack, len(pile))}}
		for _, k := range kinds {
			t.add(h, k, left[k]/on.Ends, pile[k].Mass*ends, most)
		}
	}
	return t
}

// add gives the sums of a half none, one, two … plates of kind k more, up to so many; unit
// is what one weighs on all ends. A sum over most gets none.
func (t *table) add(half, k, plates int, unit, most measure.Mass) {
	sums := t.halves[half]
	for n := 1; n <= plates; n++ {
		light := sort.Search(len(sums), func(i int) bool { return sums[i].mass+unit*measure.Mass(n-1) > most })
		if light == 0 {
			break
		}
		t.halves[half] = withPlates(t.halves[half], sums[:light], k, n, unit)
		t.work += len(t.halves[half])
	}
}

// withPlates is all sums and those of some with n plates of kind k, in order of mass, the
// better one of each.
func withPlates(all, some []sum, k, n int, unit measure.Mass) []sum {
	both := make([]sum, 0, len(all)+len(some))
	stacks := make(Stack, 0, len(some)*len(some[0].stack))
	i := 0
	for _, s := range some {
		s.mass += unit * measure.Mass(n)
		s.plates += n
		for ; i < len(all) && all[i].mass < s.mass; i++ {
			both = append(both, all[i])
		}
		if i < len(all) && all[i].mass == s.mass && all[i].plates < s.plates {
			continue
		}
		from := len(stacks)
		stacks = append(stacks, s.stack...)
		s.stack = stacks[from:len(stacks):len(stacks)]
		s.stack[k] = n
		if i < len(all) && all[i].mass == s.mass {
			if betterSum(all[i], s) < 0 {
				continue
			}
			i++
		}
		both = append(both, s)
	}
	return append(both, all[i:]...)
}

// commonMeasure is the greatest that goes into both of two plates. Plates in lb are rounded, so
// that what is left may be nearly nothing. It is under a gram where one is in kg and one in lb.
func commonMeasure(a, b measure.Mass) measure.Mass {
	for b >= rounding {
		a, b = b, a%b
	}
	return a
}

// rounding is more than masses in lb are off, and less than anybody weighs.
const rounding = measure.Gram / 1000

// Halves parts kinds of plate so that the sums of either part are few: those of the first
// one's unit of mass from the others, or where there is but one unit, every other kind from
// the others.
func Halves(kinds []int, pile []kit.Plates) (parts [2][]int) {
	for _, k := range kinds {
		h := 0
		if commonMeasure(pile[kinds[0]].Mass, pile[k].Mass) < measure.Gram {
			h = 1
		}
		parts[h] = append(parts[h], k)
	}
	if len(parts[1]) > 0 {
		return parts
	}
	parts = [2][]int{}
	for i, k := range kinds {
		parts[i%2] = append(parts[i%2], k)
	}
	return parts
}

// betterSum orders by mass, then fewest plates, then biggest plates.
func betterSum(a, b sum) int {
	if c := cmp.Or(cmp.Compare(a.mass, b.mass), cmp.Compare(a.plates, b.plates)); c != 0 {
		return c
	}
	return slices.Compare(b.stack, a.stack)
}

// nearest returns the stack nearest to need, nil where bare is.
func (t *table) nearest(need measure.Mass) Stack {
	s, _ := t.best(need, func(measure.Mass) bool { return true })
	return s
}

// best returns the stack nearest to need among the masses that will do. It walks
// up one half and down the other; what it steps over is further off on both sides.
func (t *table) best(need measure.Mass, will func(measure.Mass) bool) (Stack, bool) {
	var best sum
	found := false
	try := func(a, b sum) {
		if mass := a.mass + b.mass; will(mass) && (!found || nearer(a, b, best, need)) {
			best, found = sum{mass: mass, plates: a.plates + b.plates, stack: join(a.stack, b.stack)}, true
		}
	}
	down := t.halves[1]
	j := len(down) - 1
	for _, up := range t.halves[0] {
		for ; j >= 0 && up.mass+down[j].mass > need; j-- {
			try(up, down[j])
		}
		if j < 0 {
			break
		}
		try(up, down[j])
	}
	if best.plates == 0 {
		return nil, found
	}
	return best.stack, found
}

// nearer reports whether a + b is better than best.
func nearer(a, b, best sum, need measure.Mass) bool {
	mass := a.mass + b.mass
	c := cmp.Or(
		cmp.Compare(abs(mass-need), abs(best.mass-need)),
		cmp.Compare(mass, best.mass),
		cmp.Compare(a.plates+b.plates, best.plates),
	)
	return c < 0 || c == 0 && slices.Compare(join(a.stack, b.stack), best.stack) > 0
}

// join adds two stacks.
func join(a, b Stack) Stack {
	s := make(Stack, len(a))
	for k := range s {
		s[k] = a[k] + b[k]
	}
	return s
}
