package lanes

import (
	"maps"
	"math"
	"slices"

	"hawser/internal/load"
	"hawser/internal/measure"
)

// boundOf returns how many plates at least move in any arrangement of a layout in
// which the pile's shortage costs no more than slack, without looking at arrangements:
// half of each change counts for the seat before it and half for the seat after it,
// each beside the person whose load is nearest; and everyone has a seat of the
// group. It is far from the truth where many loads are alike.
func (p *planner) boundOf(l *layout, who []int, slack measure.Mass) int {
	b := bounder{p: p, l: l, who: who, slack: slack, beside: make([][]change, len(l.seats)), groups: map[int][]int{}, sums: map[loadKey][][]measure.Mass{}}
	for _, ch := range l.changes {
		from, to := l.units[ch.from].seat, l.units[ch.to].seat
		b.beside[from] = append(b.beside[from], ch)
		b.beside[to] = append(b.beside[to], change{ch.to, ch.from, ch.times})
	}
	for i, s := range l.seats {
		b.groups[s.group] = append(b.groups[s.group], i)
	}
	halves := 0
	for _, seats := range b.groups {
		for _, person := range seats {
			least := math.MaxInt
			for _, seat := range seats {
				if p.may(who[person], &l.seats[seat]) {
					least = min(least, b.seat(who[person], seat))
				}
			}
			if least < math.MaxInt {
				halves += least
			}
		}
	}
	if slack == 0 && p.racks.cut {
		return 0
	}
	return (halves + 1) / 2
}

// leastPlates returns how many plates at least move where the pile's shortage costs no
// more than it does in what was found.
func (p *planner) leastPlates(layouts []*layout, short measure.Mass) int {
	least := math.MaxInt
	for _, l := range layouts {
		least = min(least, p.boundOf(l, l.start, short))
	}
	return least
}

// leastShort returns what the pile's shortage costs at least, however people are laid
// out; of most is known that it can be done.
func (p *planner) leastShort(layouts []*layout, most measure.Mass) measure.Mass {
	least := most
	for _, l := range layouts {
		bound := max(p.leastByMass(l), p.dealt[l].least)
		if bound < least {
			bound = max(bound, p.leastByKinds(l, kindsWork/len(layouts), least))
		}
		least = min(least, bound)
	}
	return least
}

// leastByMass returns what the pile's shortage costs at least at one station, since at
// each moment all plates together are no more than the pile.
func (p *planner) leastByMass(l *layout) measure.Mass {
	switch {
	case len(p.stations) > 1 || len(l.seats) == 0:
		return 0
	case !l.lockstep:
		return p.leastByMassApart(l)
	case len(l.units) > len(l.seats):
		return 0
	}
	sum := measure.Mass(0)
	for who := range p.people {
		sum += p.wants(l, who)
	}
	return max(0, sum-measure.Mass(len(l.moments))*p.pileMass())
}

// leastByMassApart is for lanes with clocks of their own, where any who share no
// implement may stand at once. So may the first of each, the second of each and so
// on, as many times as the fullest has people; and so may those who want most of
// each, whose sum is least where they all share the fullest, and so on down.
func (p *planner) leastByMassApart(l *layout) measure.Mass {
	wants := make([]measure.Mass, len(p.people))
	all := measure.Mass(0)
	for who := range wants {
		wants[who] = p.wants(l, who)
		all += wants[who]
	}
	slices.Sort(wants)
	people := map[string]int{}
	for i := range l.seats {
		people[l.seats[i].on.Name]++
	}
	sizes := slices.Sorted(maps.Values(people))
	heaviest, last := measure.Mass(0), len(wants)
	for _, n := range slices.Backward(sizes) {
		heaviest += wants[last-1]
		last -= n
	}
	fullest := sizes[len(sizes)-1]
	return max(0, heaviest-p.pileMass(), all-measure.Mass(fullest)*p.pileMass())
}

// wants is the least plates that a person has to have at one moment, on whichever
// implement, to miss no more than alone; of several sets, the most.
func (p *planner) wants(l *layout, who int) measure.Mass {
	most := measure.Mass(0)
	for set := range p.sets(0) {
		least := measure.Mass(math.MaxInt64)
		for i := range l.seats {
			c := p.choose(who, &l.seats[i], set)
			least = min(least, distance(c.want.Total, c.want.On.Tare)-c.miss)
		}
		most = max(most, least)
	}
	return most
}

// pileMass is the mass of all plates.
func (p *planner) pileMass() measure.Mass {
	sum := measure.Mass(0)
	for _, kind := range p.in.Kit.Plates {
		sum += kind.Mass * measure.Mass(max(0, kind.Count))
	}
	return sum
}

// bounder holds what boundOf looks at: the changes beside each seat, from its own
// unit, and the seats of each group.
type bounder struct {
	p      *planner
	l      *layout
	who    []int        // of each seat, to begin with
	slack  measure.Mass // what anyone may miss more than alone
	beside [][]change
	groups map[int][]int
	sums   map[loadKey][][]measure.Mass // by kind of implement: see counted
	people []int                        // scratch of seat
}

// seat returns the least plates that move beside a person on a seat, in halves.
func (b *bounder) seat(who, seat int) int {
	sum := 0
	for _, ch := range b.beside[seat] {
		other := b.l.units[ch.to].seat
		people := append(b.people[:0], who) // from one set to the next on the same seat
		if other != seat {
			people = people[:0]
			for _, i := range b.groups[b.l.seats[other].group] {
				if k := b.who[i]; k != who || b.l.seats[other].station != b.l.seats[seat].station {
					people = append(people, k)
				}
			}
		}
		least := math.MaxInt
		for _, k := range people {
			least = min(least, b.moved(b.choice(who, ch.from), b.choice(k, ch.to)))
		}
		if least < math.MaxInt {
			sum += ch.times * least
		}
		b.people = people
	}
	return sum
}

// choice is what a person gets in a unit.
func (b *bounder) choice(who, unit int) *choice {
	at := b.l.units[unit]
	return b.p.choose(who, &b.l.seats[at.seat], at.set)
}

// moved returns the least plates between two loads on one implement: between the stacks
// that make just these, or, with slack, any that come as near.
func (b *bounder) moved(from, to *choice) int {
	on, racks := from.want.On, b.p.racks
	if b.slack == 0 {
		return racks.fewest(racks.of(on, from.moves), racks.of(on, to.moves))
	}
	far, off := to.want.Total-from.want.Total, from.miss+to.miss+2*b.slack
	sums := b.counted(on)
	for n, masses := range sums {
		if i, _ := slices.BinarySearch(masses, far-off); i < len(masses) && masses[i] <= far+off {
			return n * on.Ends
		}
	}
	return len(sums) * on.Ends
}

// mostCounted is up to how many plates on an end are counted out.
const mostCounted = 3

// counted lists what a load can change by with none, one, two … plates put on or taken
// off each end, in order.
func (b *bounder) counted(on load.Implement) [][]measure.Mass {
	key := loadKey{on.Ends, on.Step, 0}
	if b.sums[key] == nil {
		sums := [][]measure.Mass{{0}}
		for range mostCounted {
			var next []measure.Mass
			for _, sum := range sums[len(sums)-1] {
				for _, kind := range b.p.in.Kit.Plates {
					if plate := kind.Mass * measure.Mass(on.Ends); kind.Mass >= on.Step {
						next = append(next, sum+plate, sum-plate)
					}
				}
			}
			slices.Sort(next)
			sums = append(sums, slices.Compact(next))
		}
		b.sums[key] = sums
	}
	return b.sums[key]
}
