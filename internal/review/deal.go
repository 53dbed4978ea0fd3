package review

import (
	"cmp"
	"slices"
	"time"

	"hawser/internal/floor"
	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// loads returns what somebody pulled last at each station, in their order.
func (a *Athlete) loads() []NextLoad {
	var all []NextLoad
	for i := len(a.Rounds) - 1; i >= 0; i-- {
		r := &a.Rounds[i]
		if r.State == floor.NotHere || r.Moves == 0 || slices.ContainsFunc(all, func(l NextLoad) bool { return l.Station == r.Station }) {
			continue
		}
		all = append(all, NextLoad{Station: r.Station, Movement: r.Movement, On: r.On, Moves: r.Moves, Stack: r.Stack})
	}
	slices.SortFunc(all, func(a, b NextLoad) int { return cmp.Compare(a.Station, b.Station) })
	return all
}

func sameLoads(a, b []NextLoad) bool {
	return slices.EqualFunc(a, b, func(a, b NextLoad) bool { return a.Station == b.Station && a.Moves == b.Moves })
}

// worstFade is the largest fade of the groups, nil where there is none.
func (a *Athlete) worstFade() *float64 {
	var worst *float64
	for i := range a.Groups {
		if f := a.Groups[i].Fade; f != nil && (worst == nil || *f > *worst) {
			worst = f
		}
	}
	return worst
}

// left counts the rounds that somebody who stopped for good did not pull.
func (a *Athlete) left() int {
	return marked(a.Rounds, func(r *floor.Round) bool { return r.State == floor.LeftRound })
}

// standing is one load of next time, and the moment at which it stands on the floor.
type standing struct {
	a     *Athlete
	now   NextLoad
	item  load.Item // asked of the pile
	at    [2]int    // heat, and order on the implement
	stays string    // why it cannot go up after all
}

// deal finds the stacks of next time in the pile, all loads that stand at one
// moment together: those of a heat, the k-th of each implement.
func (p *Part) deal(plan *floor.Plan, st measure.Style) {
	if plan.Kit == nil {
		return
	}
	var all []standing
	for i := range p.Athletes {
		a := &p.Athletes[i]
		if a.Next == nil {
			continue
		}
		for _, now := range a.loads() {
			if s, ok := stand(plan, p.Number, a, now); ok {
				all = append(all, s)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b standing) int {
		return slices.Compare(a.at[:], b.at[:])
	})
	for rest := all; len(rest) > 0; {
		n := 1
		for n < len(rest) && rest[n].at == rest[0].at {
			n++
		}
		settle(rest[:n], plan.Kit.Plates, st)
		rest = rest[n:]
	}
	for i := range p.Athletes {
		if p.Athletes[i].Next != nil {
			p.Athletes[i].conclude(p.Spec.Every, all)
		}
	}
}

// conclude makes the verdict true of the stacks that were found.
func (a *Athlete) conclude(every time.Duration, all []standing) {
	n, now := a.Next, a.loads()
	slices.SortFunc(n.Loads, func(a, b NextLoad) int { return cmp.Compare(a.Station, b.Station) })
	stays := ""
	for i := range all {
		if all[i].a == a && all[i].stays != "" {
			stays = all[i].stays
		}
	}
	rose, fell := false, false
	for _, l := range n.Loads {
		for _, before := range now {
			if before.Station == l.Station {
				rose, fell = rose || l.Moves > before.Moves, fell || l.Moves < before.Moves
			}
		}
	}
	switch {
	case n.Verdict == Up && stays != "" && !rose:
		n.Verdict = Same
		n.Why = stays + " (" + n.Why + ")"
	case n.Verdict == Up && stays != "":
		n.Why += ", in part: " + stays
	case n.Verdict == Down && n.want < measure.Whole && !fell && every > 0:
		n.Every = every + session.IntervalStep
		n.Why += ", no smaller plates to take off: every " + measure.Clock(n.Every)
	}
}

// stand says what one load asks of the pile: its share, or where plates are too
// coarse for that, the next load that exists.
func stand(plan *floor.Plan, part int, a *Athlete, now NextLoad) (standing, bool) {
	on, ok := implement(plan, part, now)
	if !ok {
		return standing{}, false
	}
	s := standing{a: a, now: now, item: load.Item{On: on, Total: a.Next.want.Of(now.Moves)}}
	if places := plan.Parts[part-1].Places; a.Person < len(places) {
		place := &places[a.Person]
		s.at[0] = place.Heat
		if now.Station <= len(place.Spots) {
			s.at[1] = place.Spots[now.Station-1].Order
		}
	}
	pile := plan.Kit.Plates
	alone := func(total measure.Mass) measure.Mass {
		return load.Nearest(load.Item{On: on, Total: total}, pile, counts(pile)).On(on, pile)
	}
	got, most := alone(s.item.Total), mostRise.Of(now.Moves)
	switch {
	case a.Next.want > measure.Whole:
		for t := s.item.Total; got <= now.Moves && t <= most; t += fine {
			got = alone(t)
		}
		if got <= now.Moves || got > most {
			s.stay("no smaller plates")
		} else {
			s.item.Total = got
		}
	case a.Next.want < measure.Whole && got >= now.Moves:
		for t := s.item.Total; t >= on.Tare && got >= now.Moves; t -= fine {
			got = alone(t)
		}
		s.item.Total = min(got, now.Moves)
		if plan.Parts[part-1].Spec.Every > 0 && got < mostFall.Of(now.Moves) {
			s.item.Total = now.Moves // the interval gives way instead
		}
	}
	return s, true
}

// Steps of the search for the next load that exists. A rise beyond 10 % is not a
// step but a leap (the ACSM's position stand of 2009 ends there), and "no smaller
// plates" then.
const (
	fine     = measure.Kilogram / 4
	mostRise = 110 * measure.Percent
	mostFall = 80 * measure.Percent // below, a longer interval is the smaller change
)

// stay keeps a load that should have gone up.
func (s *standing) stay(why string) {
	s.item.Total, s.stays = s.now.Moves, why
}

// settle deals the pile out to loads that stand together. Whoever should go up and
// finds no plates left stays, and then the rest is dealt again.
func settle(all []standing, pile []kit.Plates, st measure.Style) {
	items := make([]load.Item, len(all))
	var deal load.Deal
	for again := true; again; {
		for i := range all {
			items[i] = all[i].item
		}
		deal, again = load.Solve(items, pile), false
		for i := range all {
			s := &all[i]
			rises, more := s.stays == "" && s.a.Next.want > measure.Whole, deal.Moves[i]-s.now.Moves
			switch {
			case rises && more <= 0:
				s.stay("the pile is short")
				again = true
			case !rises && more > 0 && s.item.Total > s.item.On.Tare: // today's load is not in the pile: rather less than more
				s.item.Total = max(s.item.On.Tare, min(s.item.Total, s.now.Moves)-more)
				again = true
			}
		}
	}
	for i := range all {
		s := &all[i]
		if s.a.Next.want >= measure.Whole && deal.Moves[i] < s.now.Moves {
			s.a.Next.Why += ", the pile is short by " + st.Mass(s.now.Moves-deal.Moves[i])
		}
		s.a.Next.Loads = append(s.a.Next.Loads, NextLoad{
			Station: s.now.Station, Movement: s.now.Movement, On: s.now.On, Was: s.now.Moves, Moves: deal.Moves[i],
			Added: deal.Moves[i] - items[i].On.Tare, Stack: deal.Stacks[i].Stamps(pile),
			stands: items[i], plates: deal.Stacks[i], moment: s.at,
		})
	}
}

// Step takes a next load of the part up or down to the one beside it that exists,
// with the plates that the others of its moment leave; false where there is none.
func (p *Part) Step(l *NextLoad, by int, pile []kit.Plates) bool {
	free := counts(pile)
	for i := range p.Athletes {
		if n := p.Athletes[i].Next; n != nil {
			for k := range n.Loads {
				if other := &n.Loads[k]; other != l && other.moment == l.moment {
					for plate, count := range other.plates {
						free[plate] -= count * other.stands.On.Ends
					}
				}
			}
		}
	}
	below, above, hasBelow, hasAbove := load.Beside(l.stands.On, l.Moves, pile, free)
	switch {
	case by > 0 && hasAbove:
		l.plates = above
	case by < 0 && hasBelow:
		l.plates = below
	default:
		return false
	}
	l.Moves, l.Stack = l.plates.On(l.stands.On, pile), l.plates.Stamps(pile)
	l.Added = l.Moves - l.stands.On.Tare
	return true
}

// implement returns what a load stood on.
func implement(plan *floor.Plan, part int, now NextLoad) (load.Implement, bool) {
	for _, st := range plan.Parts[part-1].Stations {
		for _, thing := range st.On {
			if thing.Name != now.On {
				continue
			}
			on := load.Implement{Name: thing.Name, Tare: thing.Tare, Ends: thing.Ends}
			if slices.ContainsFunc(plan.Kit.Sleds, func(s kit.Sled) bool { return s.Name == now.On }) {
				on.Step = plan.Kit.Step
			}
			return on, true
		}
	}
	return load.Implement{}, false
}

func counts(pile []kit.Plates) []int {
	left := make([]int, len(pile))
	for i, p := range pile {
		left[i] = p.Count
	}
	return left
}
