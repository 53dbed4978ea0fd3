package lanes

import (
	"encoding/binary"
	"slices"
)

// stand is what the implements hold where they have just the plates of an arrangement.
func (a *apart) stand(known *answer) []*held {
	now := make([]*held, len(a.on))
	for i := range a.on {
		most := make([]int, len(a.p.in.Kit.Plates))
		for u := range known.got {
			if known.got[u].On.Name == a.on[i].Name {
				for k := range most {
					most[k] = max(most[k], at(known.got[u].Stack, k))
				}
			}
		}
		now[i] = a.hold(i, most)
	}
	return now
}

// hold is an implement with a share.
func (a *apart) hold(on int, share []int) *held {
	key := []byte{byte(on)}
	for _, n := range share {
		key = binary.AppendUvarint(key, uint64(n))
	}
	h := a.whole[string(key)]
	if h == nil {
		h = a.held(on, share, 0)
		a.whole[string(key)] = h
	}
	return h
}

// climb gives plates from one implement to another, or changes them for those of another
// kind, as long as that costs less and there is work left.
func (a *apart) climb(now []*held) {
	left := counts(a.p.in.Kit.Plates)
	for i, h := range now {
		for k := range left {
			left[k] -= h.share[k] * a.on[i].Ends
		}
	}
	for again := true; again && a.work > 0; {
		again = false
		for from := range now {
			for to := range now {
				for i := 0; i < len(a.kinds) && from != to; i++ {
					for j := -1; j < len(a.kinds) && a.work > 0; j++ {
						then := slices.Clone(now)
						rest := slices.Clone(left)
						if !a.give(then, rest, from, to, a.kinds[i]) || j >= 0 && !a.give(then, rest, to, from, a.kinds[j]) {
							continue
						}
						if cost := a.cost(then); cost < a.least {
							a.best, a.least, now, left, again = then, cost, then, rest, true
						}
					}
				}
			}
		}
	}
}

// give takes a plate of a kind from each end of an implement, and puts what there is of
// them on another.
func (a *apart) give(now []*held, left []int, from, to, k int) bool {
	fewer, more := slices.Clone(now[from].share), slices.Clone(now[to].share)
	if fewer[k] == 0 {
		return false
	}
	fewer[k]--
	left[k] += a.on[from].Ends
	for left[k] >= a.on[to].Ends && more[k] < a.holds(&a.on[to], k) {
		more[k]++
		left[k] -= a.on[to].Ends
	}
	now[from], now[to] = a.hold(from, fewer), a.hold(to, more)
	return true
}
