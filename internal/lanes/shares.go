package lanes

import (
	"encoding/binary"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// dealImplements deals the pile to the implements for the whole part, where each
// keeps its own clock and every combination of stacks may stand at once.
func (p *planner) dealImplements(a *answer, own []*choice) [][]int {
	share, left := p.hold(len(own), func(u int) (load.Implement, load.Stack) { return own[u].want.On, own[u].own })
	if slices.Min(append(left, 0)) < 0 {
		if share = p.dealt[a.layout].shares; share == nil {
			share = p.dealShares(a.layout, own)
		}
		a.proved = false
	}
	pools := make([][]int, len(own))
	for u, c := range own {
		on := c.want.On
		a.got[u] = p.got(c, p.nearest(c, share[on.Name]))
		pools[u] = slices.Clone(share[on.Name])
		take(pools[u], a.got[u].Stack, on.Ends)
	}
	return pools
}

// hold is what each implement needs to make the stacks of all units, by name and on all
// its ends, and what that leaves of the pile; less than none where there is too little.
func (p *planner) hold(units int, stack func(u int) (load.Implement, load.Stack)) (share map[string][]int, left []int) {
	share, left = map[string][]int{}, counts(p.in.Kit.Plates)
	for u := range units {
		on, s := stack(u)
		if share[on.Name] == nil {
			share[on.Name] = make([]int, len(left))
		}
		for k := range left {
			more := max(0, at(s, k)*on.Ends-share[on.Name][k])
			share[on.Name][k] += more
			left[k] -= more
		}
	}
	return share, left
}

// holder is an implement with the people whose loads its share of the pile must make.
type holder struct {
	users []*choice
	share []int
	gains []measure.Mass // what one plate more of each kind on every end takes off the misses; nil: not known
}

// dealShares deals a pile that is short: each implement in turn, the one that
// lacks most first, takes the plates that bring its people nearest, until no
// plate helps anyone. It is a good deal, not a proved one.
func (p *planner) dealShares(l *layout, own []*choice) map[string][]int {
	pile := p.in.Kit.Plates
	share := map[string][]int{}
	var holders []*holder
	at := map[string]*holder{}
	for u := range l.units {
		name := own[u].want.On.Name
		if at[name] == nil {
			at[name] = &holder{share: make([]int, len(pile))}
			share[name] = at[name].share
			holders = append(holders, at[name])
		}
		at[name].users = append(at[name].users, own[u])
	}
	left := counts(pile)
	for {
		var best measure.Mass
		var taker *holder
		kind := 0
		for _, h := range holders {
			if h.gains == nil {
				h.gains = p.gains(h)
			}
			ends := h.users[0].want.On.Ends
			for k, gain := range h.gains {
				if left[k] >= ends && gain > best {
					best, taker, kind = gain, h, k
				}
			}
		}
		if taker == nil {
			return share
		}
		ends := taker.users[0].want.On.Ends
		taker.share[kind] += ends
		taker.gains = nil
		left[kind] -= ends
	}
}

// gains works out what a plate more of each kind would bring.
func (p *planner) gains(h *holder) []measure.Mass {
	p.work += gainWork
	pile, on := p.in.Kit.Plates, h.users[0].want.On
	miss := func() (sum measure.Mass) {
		for _, c := range h.users {
			sum += distance(p.nearest(c, h.share).On(on, pile), c.want.Total)
		}
		return sum
	}
	now := miss()
	gains := make([]measure.Mass, len(pile))
	for k := range pile {
		if pile[k].Mass >= on.Step {
			h.share[k] += on.Ends
			gains[k] = now - miss()
			h.share[k] -= on.Ends
		}
	}
	return gains
}

// nearest is the stack that comes nearest to a choice with a share of the pile.
func (p *planner) nearest(c *choice, share []int) load.Stack {
	key := binary.AppendUvarint(make([]byte, 0, 16), uint64(c.id))
	for _, n := range share {
		key = binary.AppendUvarint(key, uint64(n))
	}
	s, ok := p.near[string(key)]
	if !ok {
		p.work += nearestWork
		s = p.stackOf(c, share, &p.shared)
		p.near[string(key)] = s
	}
	return s
}
