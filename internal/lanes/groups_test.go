package lanes

import (
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/measure"
)

// TestGroupsAgainstBruteForce: a column keeps just the groups of people that it has in some
// arrangement whose loads cost no more than those of the best known.
func TestGroupsAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		sizes := rapid.SliceOfN(rapid.IntRange(1, 3), 2, 3).Draw(rt, "sizes")
		people := 0
		for _, n := range sizes {
			people += n
		}
		own := make([]*grouped, len(sizes))
		for j, n := range sizes {
			own[j] = noGroup(people)
			for group := range set(1) << people {
				if bits.OnesCount32(uint32(group)) == n && rapid.IntRange(0, 9).Draw(rt, "may") > 0 {
					own[j].add(group, loads{measure.Mass(rapid.IntRange(0, 4).Draw(rt, "short")), rapid.IntRange(0, 1).Draw(rt, "over")})
				}
			}
		}
		known := loads{measure.Mass(rapid.IntRange(0, 6).Draw(rt, "known")), 1}
		want := make([]map[set]bool, len(sizes))
		for j := range want {
			want[j] = map[set]bool{}
		}
		now := make([]set, len(sizes))
		var from func(j int, left set, sum loads)
		from = func(j int, left set, sum loads) {
			if j == len(sizes) {
				for i, group := range now {
					want[i][group] = want[i][group] || !known.better(sum)
				}
				return
			}
			for _, group := range own[j].sets {
				if group&^left == 0 {
					now[j] = group
					from(j+1, left&^group, sum.plus(own[j].loads[group]))
				}
			}
		}
		from(0, set(1)<<people-1, loads{})
		for j, groups := range possible(own, people, known) {
			var got []set
			for _, g := range groups {
				got = append(got, g.people)
			}
			for _, group := range own[j].sets {
				if slices.Contains(got, group) != want[j][group] {
					rt.Fatalf("column %d has %b: %v, want %v (known %v)", j, group, !want[j][group], want[j][group], known)
				}
			}
		}
	})
}
