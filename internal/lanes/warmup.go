package lanes

import (
	"slices"
	"time"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// warmUpSteps is what the loads of a warm-up come near to, as shares of the first
// heavy load (common practice, no single source).
var warmUpSteps = [...]measure.Share{40 * measure.Percent, 60 * measure.Percent, 80 * measure.Percent}

// warmUps fills in the way up to the first stacks of a heavy part, and how long
// the slowest lane takes for it.
func (p *planner) warmUps(a *answer, part *Part) {
	heavy := p.in.Session.Aim == session.Strength && (p.spec.Format == session.Sets || p.spec.Format == session.Ramp)
	if !heavy {
		return
	}
	steps := 0
	for _, lane := range p.lanesOf(a) {
		list := make([]WarmUp, len(lane))
		for n, i := range lane {
			list[n] = p.warmUp(a, i)
			steps += len(list[n].Stacks)
		}
		part.WarmUp = max(part.WarmUp, p.warmUpTakes(a, lane, list))
		part.WarmUps = append(part.WarmUps, slices.DeleteFunc(list, func(w WarmUp) bool { return len(w.Stacks) == 0 })...)
	}
	if steps > 0 {
		p.say(session.Note, "load", "", 0, "warm-up: %d steps, %s before the first heavy pull", steps, measure.Clock(part.WarmUp))
	}
}

// warmUp is the way of one person up to their first stack. It is chosen from the
// top down, each step out of the plates of the one above it, so that on the way up
// no plate comes off; steps that would be the same load are one.
func (p *planner) warmUp(a *answer, i int) WarmUp {
	got, pile := &a.got[a.layout.first[i]], p.in.Kit.Plates
	w := WarmUp{Athlete: got.Athlete, Station: got.Station, On: got.On}
	above, moves := got.Stack, got.Moves
	for _, share := range slices.Backward(warmUpSteps[:]) {
		left := make([]int, len(pile))
		take(left, above, -got.On.Ends)
		s := load.Nearest(load.Item{On: got.On, Total: share.Of(got.Moves)}, pile, left)
		if m := s.On(got.On, pile); m < moves {
			w.Stacks, w.Moves = slices.Insert(w.Stacks, 0, s), slices.Insert(w.Moves, 0, m)
			above, moves = s, m
		}
	}
	return w
}

// warmUpTakes returns how long a lane's warm-up takes: step by step, in each the
// people in their order, every change priced as a handover; the last one is to
// the first heavy stack.
func (p *planner) warmUpTakes(a *answer, lane []int, list []WarmUp) time.Duration {
	var takes time.Duration
	stands := load.Stack{}
	change := func(i int, to load.Stack) {
		s := &a.layout.seats[i]
		takes += p.in.House.HandoverBase + time.Duration(moved(stands, to, s.on.Ends))*p.in.House.HandoverPlate + p.stations[s.station].Return
		stands = to
	}
	begun := false
	for step := range warmUpSteps {
		for n, i := range lane {
			if step >= len(list[n].Stacks) {
				continue
			}
			if begun { // the first step's plates are loaded before anybody pulls
				change(i, list[n].Stacks[step])
			}
			begun, stands = true, list[n].Stacks[step]
			work, _ := p.pull(a.who[i], a.layout.seats[i].station, list[n].Moves[step])
			takes += work
		}
	}
	if begun {
		change(lane[0], a.got[a.layout.first[lane[0]]].Stack)
	}
	return takes
}
