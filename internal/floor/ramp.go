package floor

import (
	"time"

	"hawser/internal/measure"
)

// The rules of a ramp, habits of this house: times are for rampDistance and scale
// with the distance; jumps are capped by a share of the guess.
const (
	rampDistance = 30 * measure.Metre
	rampAttempts = 8
	rampMisses   = 2
)

// rampJump returns the jump after a good attempt of that time: 20, 10 or 5 kg, at
// most 20, 10 or 5 % of the guess, at least one step.
func rampJump(t time.Duration, d measure.Distance, guess, step measure.Mass) measure.Mass {
	if d > 0 {
		t = time.Duration(float64(t) * float64(rampDistance) / float64(d))
	}
	jump, share := 5*measure.Kilogram, 5*measure.Percent
	switch secs := t.Round(time.Second); {
	case secs <= 15*time.Second:
		jump, share = 20*measure.Kilogram, 20*measure.Percent
	case secs <= 25*time.Second:
		jump, share = 10*measure.Kilogram, 10*measure.Percent
	}
	if guess > 0 {
		jump = min(jump, share.Of(guess))
	}
	return max(jump, step)
}

// rampOver reports whether a person's ramp has come to its end: the second miss,
// or the last attempt.
func rampOver(p *part, i int) bool {
	tr := &p.tracks[i]
	misses := 0
	for k := range tr.done {
		if tr.cells[k].missed {
			misses++
		}
	}
	return tr.done >= rampAttempts || misses >= rampMisses
}

// Propose returns the spot that the tool proposes for a person's next attempt of
// the ramp in part pi, from 0, and whether it is another than the one that stands.
// The coach's key, or the press that starts the attempt, takes it.
func (s *State) Propose(pi, i int) (Spot, bool) {
	tr := &s.parts[pi].tracks[i]
	round := tr.done + 1
	sp := tr.spot(round, 0)
	if tr.done < 1 || s.changedAt(tr, round) {
		return sp, false
	}
	var good measure.Mass // the last
	for k := 1; k <= tr.done; k++ {
		if !tr.cells[k-1].missed {
			good = tr.spot(k, 0).Moves
		}
	}
	last := tr.cells[tr.done-1]
	var target measure.Mass
	switch {
	case last.missed && good == 0:
		return sp, false
	case last.missed:
		target = good + (sp.Moves-good)/2
	default:
		work, _ := s.split(pi, i, tr.done)
		target = sp.Moves + rampJump(work, s.spec(pi).Stations[0].Distance, s.guess(&tr.Spots[0]), s.plan.Kit.Step)
	}
	next, ok := s.nearest(pi, i, round, 0, target)
	if !ok || next.Moves == sp.Moves && !last.missed {
		up, ok := s.stepped(pi, i, round, 0, true)
		if !ok {
			return sp, false
		}
		return up, true
	}
	return next, next.Moves != sp.Moves
}

// guess is what the first load of a ramp is a share of.
func (s *State) guess(sp *Spot) measure.Mass {
	share := s.plan.House.RampStart
	if share <= 0 {
		return 0
	}
	return measure.Mass(float64(sp.Asked) * float64(measure.Whole) / float64(share))
}

// changedAt reports whether the coach has set the load of that round already.
func (s *State) changedAt(tr *track, round int) bool {
	for _, c := range tr.changes {
		if c.round == round && c.spots() {
			return true
		}
	}
	return false
}

// rampLoad is the load change that starting an attempt takes with it.
func (s *State) rampLoad(pi, i, round int) (Event, bool) {
	sp, changed := s.Propose(pi, i)
	if !changed {
		return nil, false
	}
	return loadChanged(s.plan.People[i].Name, pi, 0, round, &sp), true
}
