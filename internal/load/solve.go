package load

import (
	"hawser/internal/kit"
	"hawser/internal/measure"
)

// Deal is the answer to the joint problem: a stack an item, in their order.
type Deal struct {
	Stacks []Stack
	Moves  []measure.Mass // tare + plates
	Miss   measure.Mass   // Σ |moves − asked|
	Proved bool           // no better deal exists
}

// Solve deals the pile out to all items at once.
func Solve(items []Item, pile []kit.Plates) Deal {
	var own Deal
	left := counts(pile)
	for _, it := range items {
		own.add(it, Nearest(it, pile, left), pile)
	}
	if fits(items, own.Stacks, left) {
		own.Proved = true
		return own
	}
	d := SolveInOrder(items, pile)
	d.Proved = false
	return d
}

// SolveInOrder deals the pile out in list order: each item takes its own best
// from what those before it left.
func SolveInOrder(items []Item, pile []kit.Plates) Deal {
	left := counts(pile)
	d := Deal{Proved: true}
	for _, it := range items {
		s := Nearest(it, pile, left)
		for k, n := range s {
			left[k] -= n * it.On.Ends
		}
		d.add(it, s, pile)
	}
	return d
}

// add appends the stack of the next item.
func (d *Deal) add(it Item, s Stack, pile []kit.Plates) {
	moves := s.On(it.On, pile)
	d.Stacks = append(d.Stacks, s)
	d.Moves = append(d.Moves, moves)
	d.Miss += abs(moves - it.Total)
}

// counts returns how many plates of each kind the pile has.
func counts(pile []kit.Plates) []int {
	left := make([]int, len(pile))
	for k, p := range pile {
		left[k] = p.Count
	}
	return left
}

// abs is the size of a difference.
func abs(m measure.Mass) measure.Mass { return max(m, -m) }

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
