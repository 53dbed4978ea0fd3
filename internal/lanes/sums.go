package lanes

import (
	"encoding/binary"

	"hawser/internal/measure"
)

// sums is the masses that an implement makes of half of the kinds, with so many of each on
// every end at most: in order, up to one plate more than anybody asks for.
func (a *apart) sums(on, half int, most []int) []measure.Mass {
	key := []byte{byte(on), byte(half)}
	for _, k := range a.halves[half] {
		key = binary.AppendUvarint(key, uint64(most[k]))
	}
	masses := a.made[string(key)]
	if masses == nil {
		masses = []measure.Mass{0}
		for _, k := range a.halves[half] {
			plate := a.p.in.Kit.Plates[k].Mass * measure.Mass(a.on[on].Ends)
			few := masses
			for c := 0; c < most[k] && plate*measure.Mass(c) <= a.most; c++ {
				masses = a.join(masses, few, plate, c)
			}
		}
		a.made[string(key)] = masses
	}
	return masses
}

// join is masses and, of few that are in order too, those with one plate more than so many,
// where these are not enough for everybody.
func (s *sharers) join(masses, few []measure.Mass, plate measure.Mass, plates int) []measure.Mass {
	joint := make([]measure.Mass, 0, len(masses)+len(few))
	i := 0
	for _, m := range few {
		if m += plate * measure.Mass(plates); m > s.most {
			break
		}
		for m += plate; i < len(masses) && masses[i] < m; i++ {
			joint = append(joint, masses[i])
		}
		if i == len(masses) || masses[i] != m {
			joint = append(joint, m)
		}
	}
	s.work -= cap(joint)
	return append(joint, masses[i:]...)
}

// miss is what everybody misses at a spot more than alone, with the masses that two sets
// of plates make, and who may miss it upwards or downwards.
func (a *apart) miss(o *spot, these, others []measure.Mass) (costs []measure.Mass, tied []bool) {
	costs, tied = make([]measure.Mass, len(o.asks)), make([]bool, len(o.asks))
	for who, asks := range o.asks {
		for _, ask := range asks {
			below, above := never, never
			i, j := 0, len(others)-1
			for i < len(these) && j >= 0 {
				if over := these[i] + others[j] - ask.plates; over > 0 {
					above = min(above, over)
					j--
				} else {
					below = min(below, -over)
					i++
				}
			}
			costs[who] += min(below, above) - ask.miss
			tied[who] = tied[who] || below == above
			a.work -= len(these) + len(others)
		}
		if o.barred[who] {
			costs[who] = never
		}
	}
	return costs, tied
}
