package presses

import (
	"errors"
	"time"
	"unicode"

	"hawser/internal/floor"
)

// horizon is how long after the last line the class may still run by itself.
const horizon = 24 * time.Hour

// Play opens a run, says GO at once and plays the lines from the end of the
// count-in on. Then the clock runs on by itself, the time for a late last round
// included, until only a press could move the class.
func Play(opened floor.Opened, lines []Line) Played {
	p := Played{State: floor.New()}
	p.take([]floor.Stamped{{N: 1, E: opened}})
	p.do(Line{Command: floor.Go{}}, 0)
	first := p.State.First()
	for _, line := range lines {
		p.do(line, first+line.At)
	}
	p.take(floor.Advance(p.State, p.Now+horizon))
	return p
}

// do hands one line to the engine at room time at.
func (p *Played) do(line Line, at time.Duration) {
	command := line.Command
	if command == nil {
		if p.held.Repeat(string(line.Key), at, p.State.Plan().House.HeldKey) {
			p.Refused = append(p.Refused, Refused{line, "a key that is held down is one press"})
			return
		}
		command = p.press(line.Key)
	}
	if command == nil {
		p.Refused = append(p.Refused, Refused{line, "this key is nobody's"})
		return
	}
	p.Now = max(p.Now, at)
	had := len(p.Events)
	var err error
	p.Events, err = floor.AppendDecide(p.Events, p.State, command, at)
	p.apply(had)
	if why := p.State.Warning(p.Events[had:]); why != "" {
		p.Warned = append(p.Warned, Refused{line, why})
	}
	if refusal, ok := errors.AsType[*floor.Refusal](err); ok {
		p.Refused = append(p.Refused, Refused{line, refusal.Word})
	}
}

func (p *Played) take(events []floor.Stamped) {
	had := len(p.Events)
	p.Events = append(p.Events, events...)
	p.apply(had)
}

// apply takes the events from so many on into the state.
func (p *Played) apply(had int) {
	for _, e := range p.Events[had:] {
		p.State.Apply(e)
		p.Now = max(p.Now, e.T)
	}
}

// press finds what a key means now: a digit is a sled, a letter a person, a
// shifted letter that person's leg. It returns nil for a key that nobody has.
func (p *Played) press(key rune) floor.Command {
	plan := p.State.Plan()
	if unicode.IsDigit(key) {
		k := int(key - '1')
		if k < 0 || k >= len(plan.Kit.Sleds) {
			return nil
		}
		return floor.PressSled{On: plan.Kit.Sleds[k].Name}
	}
	for _, who := range plan.People {
		switch who.Key {
		case string(key):
			return floor.Press{Who: who.Name}
		case string(unicode.ToLower(key)):
			return floor.LegDone{Who: who.Name}
		}
	}
	return nil
}
