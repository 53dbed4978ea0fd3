package lanes

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
)

// drawRun draws a choice of stacks for three to five units one after the other, with a
// change back from the last to one before.
func drawRun(rt *rapid.T) *run {
	pile := []kit.Plates{{Mass: 20 * measure.Kilogram, Count: 6}, {Mass: 10 * measure.Kilogram, Count: 6}, {Mass: 5 * measure.Kilogram, Count: 6}}
	racks := newRacks(&planner{in: &Input{Kit: &kit.Kit{Plates: pile}}})
	n := rapid.IntRange(3, 5).Draw(rt, "units")
	col := column{times: make([][]int, n)}
	for a := range n {
		col.times[a] = make([]int, n)
	}
	link := func(a, b, times int) { col.times[a][b], col.times[b][a] = times, times }
	for b := 1; b < n; b++ {
		link(b-1, b, rapid.IntRange(0, 2).Draw(rt, "times"))
	}
	link(rapid.IntRange(0, n-3).Draw(rt, "back to"), n-1, rapid.IntRange(0, 2).Draw(rt, "times back"))
	on := load.Implement{Ends: rapid.IntRange(1, 2).Draw(rt, "ends")}
	some := rapid.IntRange(0, 2)
	list := make([]*rack, n)
	for i := range list {
		list[i] = racks.rack(on, nil)
		for range rapid.IntRange(1, 4).Draw(rt, "stacks") {
			list[i].add(load.Stack{some.Draw(rt, "20s"), some.Draw(rt, "10s"), some.Draw(rt, "5s")})
		}
	}
	return racks.newRun(&col, list)
}

// every is every choice of stacks of a run with its cost.
func (u *run) every() (all []option) {
	var from func(b int, c cost)
	from = func(b int, c cost) {
		if b == len(u.racks) {
			all = append(all, option{slices.Clone(u.now), u.keeps(u.now, 3), c})
			return
		}
		for s := range u.racks[b].stacks {
			u.now[b] = s
			from(b+1, u.with(b, c))
		}
	}
	from(0, cost{})
	return all
}

// TestCheapestAgainstEvery: the cheapest choice of stacks costs what the least of all does,
// and none that begins as it does was ruled out by what is to come.
func TestCheapestAgainstEvery(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		u := drawRun(rt)
		all := u.every()
		want := slices.MinFunc(all, func(a, b option) int { return a.cost.compare(&b.cost) })
		if got := u.cheapest(); got != want.cost {
			rt.Fatalf("cheapest = %+v, want %+v", got, want.cost)
		}
		for _, one := range all {
			copy(u.now, one.stacks)
			whole, sum := price{one.cost.plates, one.cost.mass}, price{}
			for b, s := range one.stacks {
				sum = sum.plus(u.changes(b), 1)
				if least := sum.plus(u.tail[b][s], 1); whole.less(least) {
					rt.Fatalf("%v: after unit %d all changes come to %v, expected at least %v", one.stacks, b, whole, least)
				}
			}
		}
	})
}

// TestChoicesAgainstEvery: of all choices of stacks that move no more plates than there is
// room for, just those are left out that another is no worse than.
func TestChoicesAgainstEvery(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		u := drawRun(rt)
		room := rapid.IntRange(0, 20).Draw(rt, "room")
		all := slices.DeleteFunc(u.every(), func(one option) bool { return one.cost.plates > room })
		ends, ok := u.choices(cost{}, room)
		if !ok {
			rt.Fatal("choices gives up")
		}
		var got []option
		for _, c := range ends {
			got = append(got, u.option(c, 3))
		}
		noWorse := func(a, b option) bool {
			for k := range a.keeps {
				if a.keeps[k] > b.keeps[k] {
					return false
				}
			}
			return a.cost.compare(&b.cost) <= 0
		}
		for i, one := range got {
			if !slices.ContainsFunc(all, func(o option) bool { return slices.Equal(o.stacks, one.stacks) && o.cost == one.cost }) {
				rt.Fatalf("%v is no choice, or does not cost %+v", one.stacks, one.cost)
			}
			if slices.ContainsFunc(got[:i], func(o option) bool { return noWorse(o, one) }) {
				rt.Fatalf("%v is no better than one before it", one.stacks)
			}
		}
		for _, one := range all {
			if !slices.ContainsFunc(got, func(o option) bool { return noWorse(o, one) }) {
				rt.Fatalf("%v with %d plates moved is left out, and nothing is as good", one.stacks, one.cost.plates)
			}
		}
	})
}
