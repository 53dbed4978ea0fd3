package lanes

import "slices"

// option is one choice of stacks for the units of a lane whose implement has a clock of
// its own, and the plates that the implement keeps for it: of each kind, and on all its
// ends, the most that it ever has.
type option struct {
	stacks []int // of the rack of each unit
	keeps  []int
	cost   cost // of the lane with them
}

// options is what a lane may have, the cheapest first, without those that keep no less
// and cost no less than another. Those that move more than room are not there.
type options struct {
	list []option
	room int
}

// options returns those of a lane of column j that move no more plates than room.
func (e *exact) options(j int, la *lane, room int) []option {
	if la.options.list != nil && room <= la.options.room {
		return la.options.list
	}
	u := e.racks.newRun(&e.cols[j], e.racksOf(&e.cols[j], la.order))
	ends, ok := u.choices(la.base, room)
	e.cut = e.cut || !ok
	e.p.work += 1 + u.work/stepsOfChoices
	list := make([]option, 0, len(ends))
	for _, c := range ends {
		list = append(list, u.option(c, len(e.p.in.Kit.Plates)))
	}
	la.options = options{list, room}
	return list
}

// option is a choice for all units, with plates of so many kinds.
func (u *run) option(c *chosen, kinds int) option {
	o := option{stacks: make([]int, len(u.racks)), cost: c.cost}
	for b := len(u.racks) - 1; b >= 0; b-- {
		o.stacks[b], c = c.stack, c.before
	}
	o.keeps = u.keeps(o.stacks, kinds)
	return o
}

// keeps is the most plates of each kind that any of the stacks chosen has, on all ends.
func (u *run) keeps(stacks []int, kinds int) []int {
	keeps := make([]int, kinds)
	for t, k := range stacks {
		for kind, n := range u.racks[t].stacks[k] {
			keeps[kind] = max(keeps[kind], n*u.racks[t].ends)
		}
	}
	return keeps
}

// packed is plates of each kind, a byte each, whose highest bit is free.
type packed [2]uint64

const guards = 0x8080808080808080

// pack packs a stack on all its ends; false where it has too many plates or kinds.
func (k *rack) pack(stack int) (p packed, ok bool) {
	for kind, n := range k.stacks[stack] {
		if n *= k.ends; n > 0 && (kind >= 8*len(p) || n > 0x7F) {
			return p, false
		} else if n > 0 {
			p[kind/8] |= uint64(n) << (kind % 8 * 8)
		}
	}
	return p, true
}

// more is the more of each kind.
func (p packed) more(q packed) packed {
	for i := range p {
		is := ((p[i] | guards) - q[i]) & guards // where p has no fewer
		of := is - is>>7
		p[i] = p[i]&of | q[i]&^of
	}
	return p
}

// has reports whether there are no fewer of any kind.
func (p packed) has(q packed) bool {
	return ((p[0]|guards)-q[0])&((p[1]|guards)-q[1])&guards == guards
}

// chosen is a choice of stacks for the first units of a run.
type chosen struct {
	before *chosen // for all of them but the last
	stack  int     // of the last
	open   [mostOpen]int16
	keeps  packed
	cost   cost
}

const (
	mostOpen       = 4       // units whose stack still counts for one to come
	mostChosen     = 100_000 // choices for some first units that are kept
	mostMade       = 400_000 // that they are chosen from
	stepsOfChoices = 50      // how many looked at count as one unit of work
)

// choices returns the choices of stacks that move no more plates than room, but for those
// that keep no less and cost no less than another, the cheapest first; c is what they cost
// besides. Unit by unit, of the choices so far that have the same stacks where that still
// counts, those are left out. It is false where not all were looked at.
func (u *run) choices(c cost, room int) (list []*chosen, ok bool) {
	list, u.work = []*chosen{{cost: c}}, 0
	open := []int{}
	for b, rack := range u.racks {
		next := u.open(b)
		if len(next) > mostOpen {
			return nil, false
		}
		keeps := make([]packed, len(rack.stacks))
		for s := range rack.stacks {
			if keeps[s], ok = rack.pack(s); !ok {
				return nil, false
			}
		}
		var all []*chosen
		for _, one := range list {
			for i, a := range open {
				u.now[a] = int(one.open[i])
			}
			for s := range rack.stacks {
				u.work++
				u.now[b] = s
				c := u.with(b, one.cost)
				if c.plates+u.tail[b][s].plates > room {
					continue
				}
				then := &chosen{before: one, stack: s, keeps: one.keeps.more(keeps[s]), cost: c}
				for i, a := range next {
					then.open[i] = int16(u.now[a])
				}
				if all = append(all, then); len(all) > mostMade {
					return nil, false
				}
			}
		}
		if list, open = u.undominated(all), next; len(list) > mostChosen {
			return nil, false
		}
	}
	return list, true
}

// open lists the units up to b whose stack counts for the changes of those after it.
func (u *run) open(b int) (open []int) {
	for a := range b + 1 {
		for after := b + 1; after < len(u.racks); after++ {
			if u.times[a][after] > 0 {
				open = append(open, a)
				break
			}
		}
	}
	return open
}

// undominated leaves out the choices that keep no less and cost no less than another with
// the same open stacks.
func (u *run) undominated(all []*chosen) []*chosen {
	slices.SortFunc(all, func(a, b *chosen) int { return a.cost.compare(&b.cost) })
	kept := map[[mostOpen]int16][]packed{}
	list := all[:0]
	for _, c := range all {
		better := kept[c.open]
		u.work += len(better) / 8
		if !slices.ContainsFunc(better, func(p packed) bool { return c.keeps.has(p) }) {
			kept[c.open] = append(better, c.keeps)
			list = append(list, c)
		}
	}
	return list
}
