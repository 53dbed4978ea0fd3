package floor

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// bout is one pull as it has to be: due when the rest was over, started when the sled was
// there too.
type bout struct{ due, start, end time.Duration }

// queue works out one sled of a ratio part by hand: who was due first takes it, the one
// higher in the list where two were due at once, after the change of plates where another
// had it. work and stacks are by person; times are from GO.
func queue(work [][]time.Duration, stacks [][]string, rest float64) [][]bout {
	bouts := make([][]bout, len(work))
	due := make([]time.Duration, len(work))
	free, last := time.Duration(0), -1
	for {
		next := -1
		for i := range work {
			if len(bouts[i]) < len(work[i]) && (next < 0 || due[i] < due[next]) {
				next = i
			}
		}
		if next < 0 {
			return bouts
		}
		start := max(due[next], free)
		if last >= 0 && last != next {
			start = max(due[next], free+10*time.Second+5*time.Second*time.Duration(plateMoves(stacks[last], stacks[next])))
		}
		w := work[next][len(bouts[next])]
		bouts[next] = append(bouts[next], bout{due[next], start, start + w})
		free, last = start+w, next
		due[next] = free + time.Duration(rest*float64(w))
	}
}

// plateMoves is how many plates come off and go on between two stacks.
func plateMoves(from, to []string) int {
	n := map[string]int{}
	for _, p := range from {
		n[p]++
	}
	for _, p := range to {
		n[p]--
	}
	sum := 0
	for _, d := range n {
		sum += max(d, -d)
	}
	return sum
}

// Whatever people take, each bout starts at the later of two things, the own rest and the
// sled; how long the sled kept somebody is known; and at any instant the tiles say who
// pulls, who rests, who is due but has no sled, and who is next on it.
func TestRatioAgainstAQueue(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		sleds := rapid.IntRange(1, 2).Draw(rt, "sleds")
		rounds := rapid.IntRange(1, 4).Draw(rt, "rounds")
		halves := rapid.IntRange(1, 6).Draw(rt, "rest")
		names := []string{"Ada", "Bo", "Cleo", "Dag", "Eli"}[:rapid.IntRange(sleds, 5).Draw(rt, "people")]
		p := one(session.Part{Format: session.Ratio, RestFactor: measure.Share(halves) * measure.Whole / 2, Rounds: rounds}, "Ada Bo Cleo Dag Eli", "A B A B A")
		if sleds == 1 {
			p = one(p.Parts[0].Spec, "Ada Bo Cleo Dag Eli", "A A A A A")
		}
		p.People, p.Parts[0].Places = p.People[:len(names)], p.Parts[0].Places[:len(names)]
		work, stacks := make([][]time.Duration, len(names)), make([][]string, len(names))
		for i := range names {
			stacks[i] = rapid.SliceOfN(rapid.SampledFrom([]string{"20 kg", "10 kg", "5 kg"}), 0, 3).Draw(rt, "stack")
			p.Parts[0].Places[i].Spots[0].Stack = stacks[i]
			for range rounds {
				work[i] = append(work[i], time.Duration(rapid.IntRange(5, 90).Draw(rt, "work"))*time.Second)
			}
		}
		want := make([][]bout, len(names))
		for sled := range sleds {
			var on []int
			var w [][]time.Duration
			var s [][]string
			for i := sled; i < len(names); i += sleds {
				on, w, s = append(on, i), append(w, work[i]), append(s, stacks[i])
			}
			for n, bouts := range queue(w, s, float64(halves)/2) {
				want[on[n]] = bouts
			}
		}
		r := begin(t, p)
		looks := rapid.SliceOfN(rapid.IntRange(0, 900), 1, 6).Draw(rt, "looks")
		slices.Sort(looks)
		for _, at := range ends(want) {
			for len(looks) > 0 && time.Duration(looks[0])*time.Second < at {
				r.tilesAre(rt, time.Duration(looks[0])*time.Second, want, sleds)
				looks = looks[1:]
			}
			for i := range want {
				if slices.ContainsFunc(want[i], func(b bout) bool { return b.end == at }) {
					if err := r.do(at, Press{names[i]}); err != nil {
						rt.Fatalf("%s at %v: %v", names[i], at, err)
					}
				}
			}
		}
		for i, bouts := range want {
			got := r.s.Rounds(1, i, r.zero+24*time.Hour)
			if len(got) != len(bouts) {
				rt.Fatalf("%s has %d bouts, want %d", names[i], len(got), len(bouts))
			}
			for k, b := range bouts {
				g := got[k]
				if g.Starts-r.zero != b.start || g.Ends-r.zero != b.end || g.Work != b.end-b.start {
					rt.Errorf("%s, bout %d: %v to %v, want %v to %v", names[i], k+1, g.Starts-r.zero, g.Ends-r.zero, b.start, b.end)
				}
				if k > 0 && (g.Due-r.zero != b.due || g.Waited != b.start-b.due) {
					rt.Errorf("%s, bout %d: due %v, waited %v, want %v and %v", names[i], k+1, g.Due-r.zero, g.Waited, b.due, b.start-b.due)
				}
			}
		}
	})
}

// ends are the instants at which somebody is done, in order.
func ends(bouts [][]bout) (all []time.Duration) {
	for i := range bouts {
		for _, b := range bouts[i] {
			all = append(all, b.end)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// tilesAre holds the tiles at a time after GO to the bouts as they have to be.
func (r *run) tilesAre(rt *rapid.T, now time.Duration, want [][]bout, sleds int) {
	tiles := r.s.Tiles(nil, 1, r.zero+now)
	busy, next := make([]bool, sleds), make([]int, sleds) // by sled: is it taken; who starts next
	for sled := range sleds {
		next[sled] = -1
	}
	coming := make([]*bout, len(want))
	for i := range want {
		sled := i % sleds
		for k := range want[i] {
			switch b := &want[i][k]; {
			case b.start <= now && now < b.end:
				busy[sled] = true
				if tiles[i].State != TileWork || tiles[i].Since-r.zero != b.start {
					rt.Errorf("at %v person %d is in state %d since %v, wants to pull since %v", now, i, tiles[i].State, tiles[i].Since-r.zero, b.start)
				}
			case b.start > now && coming[i] == nil:
				coming[i] = b
				if n := next[sled]; n < 0 || b.start < coming[n].start {
					next[sled] = i
				}
			}
		}
	}
	for i, b := range coming {
		if b == nil || tiles[i].State == TileWork {
			continue
		}
		state, due := TileRest, b.due
		if b.due <= now {
			state = TileWait
		}
		if !busy[i%sleds] && next[i%sleds] == i {
			due = b.start
		}
		if tiles[i].State != state || tiles[i].Due-r.zero != due {
			rt.Errorf("at %v person %d is in state %d until %v, want state %d until %v", now, i, tiles[i].State, tiles[i].Due-r.zero, state, due)
		}
	}
}
