package lanes

import (
	"slices"

	"hawser/internal/measure"
)

// best finds the arrangement of people over the seats of so many heats.
func (p *planner) best(heats int) *answer {
	p.heats = heats
	p.work = 0
	var found *answer
	proved, bound := true, 0
	layouts := p.layouts(heats)
	for n, l := range layouts {
		a, ok, least := p.improve(l, p.annealSteps()/len(layouts))
		if n == 0 || least < bound {
			bound = least
		}
		proved = proved && ok
		if found == nil || a.cost.compare(&found.cost) < 0 {
			found = a
		}
	}
	p.proved, p.bound, p.shortBound = proved && found.proved, bound, found.cost.short
	if found.cost.short > 0 && !p.proved {
		p.bound = p.leastPlates(layouts, found.cost.short) // the best may have other loads
		p.shortBound = p.leastShort(layouts, found.cost.short)
		p.proved = found.cost.plates == p.bound && p.shortBound == found.cost.short
	}
	if p.proved {
		p.bound = found.cost.plates
	}
	return found
}

// improve looks for the best arrangement of one layout: it changes two people, as
// long as that makes it better and the limit of work lasts. It says whether what
// it found is proved, and the least plates moved that are.
func (p *planner) improve(l *layout, steps int) (a *answer, proved bool, bound int) {
	a = p.evaluate(l, l.start)
	enough := p.limit() / (16 * p.heats) // the rest is for the proof
	if b := p.anneal(l, l.start, steps); b != nil {
		enough /= 4
		if b.cost.compare(&a.cost) < 0 {
			a = b
		}
	}
	a = p.swaps(l, a, enough)
	if a.cost.short > 0 && l.lockstep && !p.provable(l) {
		a = p.kicks(l, a, p.work+p.limit()/(16*p.heats))
	}
	if b := p.apart(l, a); b != nil {
		a = p.swaps(l, b, p.work+enough)
	}
	return p.prove(l, a)
}

// swaps changes two people as long as that makes an arrangement better and there is
// enough work left for it.
func (p *planner) swaps(l *layout, a *answer, enough int) *answer {
	for again := true; again; {
		again = false
		for i := range l.seats {
			for j := i + 1; j < len(l.seats); j++ {
				if p.work >= enough {
					return a
				}
				if l.seats[i].group != l.seats[j].group || !p.may(a.who[i], &l.seats[j]) || !p.may(a.who[j], &l.seats[i]) {
					continue
				}
				who := slices.Clone(a.who)
				who[i], who[j] = who[j], who[i]
				if b := p.evaluate(l, who); b.cost.compare(&a.cost) < 0 {
					a, again = b, true
				}
			}
		}
	}
	return a
}

// kicks changes some people at random and then goes on from there, again and again, as long
// as there is enough work left: where the pile is short, to change two at a time ends early.
// Less of a shortage than anybody feels is not worth a plate moved.
func (p *planner) kicks(l *layout, a *answer, enough int) *answer {
	chance := uint64(annealChance)
	for p.work < enough {
		who := slices.Clone(a.who)
		for range kicked {
			chance = next(chance)
			i := below(chance, len(who))
			chance = next(chance)
			j := below(chance, len(who))
			if l.seats[i].group == l.seats[j].group && p.may(who[i], &l.seats[j]) && p.may(who[j], &l.seats[i]) {
				who[i], who[j] = who[j], who[i]
			}
		}
		p.work++ // however little there is to look at
		b := p.swaps(l, p.evaluate(l, who), enough)
		if b.cost.short+felt <= a.cost.short || b.cost.plates <= a.cost.plates && b.cost.compare(&a.cost) < 0 {
			a = b
		}
	}
	return a
}

const (
	kicked = 3                     // pairs that are changed at once
	felt   = measure.Kilogram / 10 // of all that people miss
)

// apart deals a short pile anew where each implement keeps its plates for all of its
// people; nil where no deal is better than that of a, or there are too many kinds of plate.
func (p *planner) apart(l *layout, a *answer) *answer {
	if l.lockstep || a.cost.short == 0 || len(p.in.Kit.Plates) > mostKinds {
		return nil
	}
	work := p.limit() / 2
	switch {
	case len(p.people) > exactPeople:
		work /= 8 // such a board is to be there at once
	case len(l.columns()) > exactColumns:
		work /= 4
	}
	d, who := p.dealApart(l, a, work, len(p.people) <= exactPeople && len(p.stations) == 1)
	p.dealt[l] = d
	if who == nil {
		return nil
	}
	return p.evaluate(l, who)
}

// provable reports whether the best arrangement of a layout is looked for by a search that
// proves it.
func (p *planner) provable(l *layout) bool {
	return len(p.stations) == 1 && len(p.people) <= exactPeople && (!l.lockstep || len(l.units) == len(l.seats))
}

// prove goes on to the best where that can be done, and says whether it is.
func (p *planner) prove(l *layout, a *answer) (best *answer, proved bool, bound int) {
	if !p.provable(l) {
		settled := a.cost.plates == 0 && a.cost.short == 0 || len(l.units) == len(p.stations)
		if settled && a.proved {
			return a, true, a.cost.plates
		}
		return a, false, p.boundOf(l, a.who, 0)
	}
	best, proved, bound = p.exactly(l, a)
	if !proved {
		bound = max(bound, p.boundOf(l, best.who, 0))
	}
	return best, proved, bound
}

// annealSteps is how far the search by chance goes. Few people are left to the
// proof. Where there are several stations nothing will be proved, and the board is
// to be there at once, with several parts too.
func (p *planner) annealSteps() int {
	steps := min(annealSteps, p.limit()*annealWork/4)
	if len(p.in.Session.Parts) > 1 {
		steps /= 2
	}
	if len(p.people) <= 9 {
		steps /= 8
	}
	return steps
}

func (p *planner) limit() int {
	if p.in.Limit > 0 {
		return p.in.Limit
	}
	return UsualLimit
}
