// Package load turns an asked load into plates that exist: asked → stack → moves,
// one station at a time and jointly for all loads that stand on the floor at the
// same moment, and keeps estimates and other surfaces marked as what they are.
//
// Choices of this package where the trade leaves them open: of several bests of a
// movement it goes by the one whose surface, distance and layout are today's, then
// by a tested one before an estimate, then by the latest. Whoever was never tested
// starts bare; any other load that cannot be worked out stops, and shows the bare
// implement. A max that is given by two pulls
// or by repetitions is an estimate; one that a coach noted is not.
//
//	on, _ := load.Implements(k, movement.Sled)
//	want, findings := load.Resolve(load.Question{Athlete: maren, Part: 1, Station: 1, Movement: "sled row",
//		Distance: 20 * measure.Metre, Surface: k.Strip.Surface, On: on[0], Ask: ask}, k, rules, past)
//	got, _ := load.Fill([]load.Want{want}, k.Plates, "best", load.Usual)
//	findings = append(findings, load.Findings(got[0], "sled row", k.Step, rules, past)...)
package load

import (
	"time"

	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Implement is one thing on the floor that takes plates. Tare is all of it (both
// handles of a pair); the stack stands on each of its Ends alike. Step is the
// lightest plate it takes, 0 for any.
type Implement struct {
	Name string
	Kind string // "sled", "bar", "trap bar", "handles"
	Tare measure.Mass
	Ends int
	Step measure.Mass
}

// Stack is the plates on one end: how many of each entry of [kit.Kit.Plates], by
// index. An empty or nil Stack is bare.
type Stack []int

// Want is one load that is asked for, in masses.
type Want struct {
	Athlete       string
	Part, Station int // from 1
	Set           int // from 1 where the station has a list of loads; else 0
	On            Implement
	Asked         measure.Mass // as AskedOf counts it
	AskedOf       string       // "added" or "total"
	Total         measure.Mass // asked, counted with the tare
	Basis         session.Basis
	Of            measure.Mass // what the percentage is of; 0: no percentage
	Max           measure.Mass // the max as it stands today, total; 0: none known
	Est           bool         // rests on an estimate
	Accepted      time.Time    // the day on which the coach accepted the load in place of the session's; zero: the session's
}

// Got is what a Want gets from the pile.
type Got struct {
	Want
	Stack Stack
	Moves measure.Mass // tare + plates
	Short measure.Mass // what unlimited plates of the pile's kinds would give, less Moves; 0 where the pile does
}

// Item is one load in the joint problem: how much is asked in total of which implement.
type Item struct {
	On    Implement
	Total measure.Mass
}

// Stamps returns the plates of s on one end by their stamps, biggest first.
func (s Stack) Stamps(pile []kit.Plates) []string {
	stamps := []string{}
	for i, n := range s {
		for range n {
			stamps = append(stamps, pile[i].Stamp)
		}
	}
	return stamps
}
