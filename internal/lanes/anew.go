package lanes

import (
	"hawser/internal/load"
	"hawser/internal/measure"
)

// loose is the stacks that everybody may have where the pile's shortage is shared out
// anew, whoever misses of it what.
type loose struct {
	shared
	racks map[int]*rack // by choice
}

// anew looks for the best arrangement of people with one load each on lanes with clocks
// of their own, in which the pile's shortage costs no more than in the best known, which
// is the least. It returns the best and whether that is proved.
func (p *planner) anew(l *layout, best *answer) (*answer, bool) {
	known := *best
	known.cost.short = 0 // it is the same in all
	e := p.newExact(l, &known)
	e.slack = best.cost.short
	e.loose = &loose{shared{picks: &picks{lists: map[[2]int][]pick{}, most: e.slack}, e: e}, map[int]*rack{}}
	if !e.loose.pack() || !e.small() || !e.list() || !e.table() {
		return best, false
	}
	e.column(0, set(1)<<len(p.people)-1, &cost{})
	if e.best != &known {
		best = e.best
		best.cost.short = e.slack
	}
	best.proved = best.proved || p.work < p.limit() && !e.cut
	return best, p.work < p.limit() && !e.cut
}

// rack is every stack that a person may have for a unit, with what it misses. Of two
// loads as near the lighter is theirs; where the other one may be all that the pile has,
// nothing is proved.
func (o *loose) rack(who, unit int) *rack {
	c := o.e.choice(who, unit)
	if k := o.racks[c.id]; k != nil {
		return k
	}
	var list []load.Stack
	var misses, moves []measure.Mass
	lighter := map[measure.Mass]bool{} // by miss
	for _, one := range o.list(o.e, who, o.e.l.units[unit].seat) {
		s := load.Stack(o.unpack(one.plates))
		for k := range s {
			s[k] /= c.want.On.Ends
		}
		list, misses = append(list, s), append(misses, one.excess)
		moves = append(moves, s.On(c.want.On, o.e.p.in.Kit.Plates))
		lighter[one.excess] = lighter[one.excess] || moves[len(moves)-1] < c.want.Total
	}
	k := o.e.racks.rack(c.want.On, nil)
	for i, s := range list {
		if lighter[misses[i]] && moves[i] > c.want.Total {
			o.e.cut = true
			continue
		}
		k.add(s)
		k.misses = append(k.misses, misses[i])
	}
	o.racks[c.id] = k
	return k
}
