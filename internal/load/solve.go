package load

import (
	"cmp"
	"math/bits"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// Deal is an answer to the joint problem: a stack an item, in their order.
type Deal struct {
	Stacks []Stack
	Moves  []measure.Mass // tare + plates
	Miss   measure.Mass   // Σ |moves − asked|
	Proved bool           // no better deal exists
	Work   int            // that it took: stacks looked at
}

// Solve deals the pile out to all items at once: least Σ |moves − asked|. Of
// equals it takes the smallest worst miss as a share of what was asked, so that a
// shortage does not always hit the same person; then the lightest, as for one
// item alone; then the fewest plates off the pile; then the biggest; then the one
// that gives the first in the list what suits them best, those on implements of
// many ends before the others, because the search goes that way.
//
// If each item's own best stack can be had at once, that is the answer. Else it is
// a depth-first search over the items, each over its stacks in the order of how
// well they suit, in three runs: the first finds the least sum, the second the
// best by all else of the deals of that sum, the third the first in the list of
// the equals. The first two look just above what is proved, where few stacks
// qualify, and double how far until they find. A branch is left
//
//   - when its misses so far and a bound on those to come reach the best known.
//     The bound is the larger of Σ of what each item would miss alone, and
//     Σ asked − plates left that they can take: what makes short piles tractable;
//   - from the second run on, when what is left cannot keep everyone within the
//     worst share looked at;
//   - when the same plates were left before the same item at no more cost.
//
// A stack that could drop a plate and come no further off is never tried. The
// search is exact. It ends after [Usual] work, or where the stacks that qualify are too
// many to list, with the best found and Proved false; so its memory is bounded too.
func Solve(items []Item, pile []kit.Plates) Deal {
	return solve(items, pile, Usual)
}

// solve is Solve with so much work.
func solve(items []Item, pile []kit.Plates, work int) Deal {
	left := counts(pile)
	own := ownBest(items, pile, left)
	if fits(items, own, left) {
		return newDeal(items, own, pile, true)
	}
	misses := make([]measure.Mass, len(items))
	for i, it := range items {
		misses[i] = abs(own[i].On(it.On, pile) - it.Total)
	}
	order := manyEndsFirst(items)
	sorted, misses := pick(items, order), pick(misses, order)
	s := newSearch(sorted, pile, left, misses, work)
	s.start(pick(inOrder(items, pile), order))
	s.start(pick(evenly(items, pile), order))
	s.leastSum()
	s.smallestWorst()
	best, proved := s.best, s.work < work
	if proved {
		last := newSearch(sorted, pile, s.rank.used, misses, work)
		best = last.firstOf(best)
		s.work += last.work
	}
	stacks := make([]Stack, len(items))
	for to, from := range order {
		stacks[from] = best[to]
	}
	d := newDeal(items, stacks, pile, proved)
	d.Work = s.work
	return d
}

// manyEndsFirst is the order to search in: an item of many ends has few stacks,
// and what it leaves bounds the long lists of the others.
func manyEndsFirst(items []Item) []int {
	order := make([]int, len(items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(items[b].On.Ends, items[a].On.Ends) })
	return order
}

// pick returns the elements of list in that order.
func pick[T any](list []T, order []int) []T {
	picked := make([]T, len(order))
	for to, from := range order {
		picked[to] = list[from]
	}
	return picked
}

// SolveInOrder deals the pile out in list order: each item takes its own best
// from what those before it left.
func SolveInOrder(items []Item, pile []kit.Plates) Deal {
	return newDeal(items, inOrder(items, pile), pile, true)
}

func inOrder(items []Item, pile []kit.Plates) []Stack {
	left := counts(pile)
	stacks := make([]Stack, len(items))
	for i, it := range items {
		stacks[i] = Nearest(it, pile, left)
		for k, n := range stacks[i] {
			left[k] -= n * it.On.Ends
		}
	}
	return stacks
}

// ownBest gives each item the stack that it would take alone.
func ownBest(items []Item, pile []kit.Plates, left []int) []Stack {
	type class struct {
		ends int
		step measure.Mass
	}
	plates := func(it Item) measure.Mass { return it.Total - it.On.Tare }
	most := map[class]measure.Mass{}
	for _, it := range items {
		c := class{it.On.Ends, it.On.Step}
		most[c] = max(most[c], plates(it))
	}
	tables := map[class]*table{}
	stacks := make([]Stack, len(items))
	for i, it := range items {
		c := class{it.On.Ends, it.On.Step}
		if tables[c] == nil {
			tables[c] = newTable(it.On, pile, left, most[c])
		}
		stacks[i] = tables[c].nearest(plates(it))
	}
	return stacks
}

// evenly gives the biggest plate that helps to whoever lacks the largest share of
// what was asked, until no plate helps anyone. It is a deal to start from.
func evenly(items []Item, pile []kit.Plates) []Stack {
	left := counts(pile)
	stacks := make([]Stack, len(items))
	lacks := make([]measure.Mass, len(items))
	for i, it := range items {
		stacks[i] = make(Stack, len(pile))
		lacks[i] = it.Total - it.On.Tare
	}
	for {
		i := neediest(items, lacks)
		if i < 0 {
			return stacks
		}
		on := items[i].On
		k := 0
		for k < len(pile) && (left[k] < on.Ends || pile[k].Mass < on.Step || pile[k].Mass <= 0 || pile[k].Mass*measure.Mass(on.Ends) >= 2*lacks[i]) {
			k++
		}
		if k == len(pile) {
			lacks[i] = 0
			continue
		}
		stacks[i][k]++
		left[k] -= on.Ends
		lacks[i] -= pile[k].Mass * measure.Mass(on.Ends)
	}
}

// neediest returns the item that lacks the largest share, −1 where none lacks any.
func neediest(items []Item, lacks []measure.Mass) int {
	found := -1
	for i, it := range items {
		if lacks[i] > 0 && (found < 0 || cmpShare(lacks[i], it.Total, lacks[found], items[found].Total) > 0) {
			found = i
		}
	}
	return found
}

// newDeal weighs the stacks. A stack of no plates becomes nil.
func newDeal(items []Item, stacks []Stack, pile []kit.Plates, proved bool) Deal {
	d := Deal{Stacks: stacks, Proved: proved}
	for i, it := range items {
		if stacks[i].Plates(it.On) == 0 {
			stacks[i] = nil
		}
		moves := stacks[i].On(it.On, pile)
		d.Moves = append(d.Moves, moves)
		d.Miss += abs(moves - it.Total)
	}
	return d
}

// counts returns how many plates of each kind the pile has.
func counts(pile []kit.Plates) []int {
	left := make([]int, len(pile))
	for k, p := range pile {
		left[k] = p.Count
	}
	return left
}

// fits reports whether the stacks stand on their implements all at once.
func fits(items []Item, stacks []Stack, left []int) bool {
	for k := range left {
		used := 0
		for i, s := range stacks {
			if s != nil {
				used += s[k] * items[i].On.Ends
			}
		}
		if used > left[k] {
			return false
		}
	}
	return true
}

// rank is what deals are compared by.
type rank struct {
	miss   measure.Mass
	worst  share
	moves  measure.Mass // Σ, tares included
	plates int
	used   []int // of each kind
}

// share is a miss as a part of what was asked.
type share struct{ miss, asked measure.Mass }

// rankOf ranks a deal.
func rankOf(items []Item, stacks []Stack, pile []kit.Plates) rank {
	r := rank{worst: share{0, 1}, used: make([]int, len(pile))}
	for i, it := range items {
		moves := stacks[i].On(it.On, pile)
		miss := abs(moves - it.Total)
		r.miss += miss
		r.worst = r.worst.or(miss, it.Total)
		r.moves += moves
		r.plates += stacks[i].Plates(it.On)
		for k, n := range stacks[i] {
			r.used[k] += n * it.On.Ends
		}
	}
	return r
}

// compare is negative where a is the better deal.
func (a rank) compare(b rank) int {
	return cmp.Or(
		cmp.Compare(a.miss, b.miss),
		a.worst.compare(b.worst),
		cmp.Compare(a.moves, b.moves),
		cmp.Compare(a.plates, b.plates),
		slices.Compare(b.used, a.used),
	)
}

// or returns the worse of two shares.
func (a share) or(miss, asked measure.Mass) share {
	if b := (share{miss, max(asked, 1)}); b.compare(a) > 0 {
		return b
	}
	return a
}

func (a share) compare(b share) int { return cmpShare(a.miss, a.asked, b.miss, b.asked) }

// cmpShare compares a ÷ of with b ÷ by, exactly.
func cmpShare(a, of, b, by measure.Mass) int {
	hi, lo := bits.Mul64(uint64(a), uint64(max(by, 1)))
	hi2, lo2 := bits.Mul64(uint64(b), uint64(max(of, 1)))
	return cmp.Or(cmp.Compare(hi, hi2), cmp.Compare(lo, lo2))
}

// within returns the largest miss of asked that is no worse than a.
func (a share) within(asked measure.Mass) measure.Mass {
	hi, lo := bits.Mul64(uint64(a.miss), uint64(max(asked, 1)))
	if hi >= uint64(a.asked) {
		return 1 << 62
	}
	q, _ := bits.Div64(hi, lo, uint64(a.asked))
	return measure.Mass(min(q, 1<<62))
}

// abs is the size of a difference.
func abs(m measure.Mass) measure.Mass { return max(m, -m) }
