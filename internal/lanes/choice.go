package lanes

import (
	"encoding/binary"
	"slices"

	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// choice is one person at one station on one implement: what is asked, and what
// they would get alone.
type choice struct {
	id       int
	want     load.Want
	own      load.Stack
	moves    measure.Mass // with own
	miss     measure.Mass // with own
	ideal    measure.Mass // with any number of the pile's kinds of plate; 0: not worked out
	over     bool         // the empty implement is over what is asked
	findings []session.Finding
}

type choiceKey struct {
	who, station, set int
	on                string
}

// choose returns the choice of a person for a seat in one set.
func (p *planner) choose(who int, s *seat, set int) *choice {
	key := choiceKey{who, s.station, set, s.on.Name}
	if c := p.choices[key]; c != nil {
		return c
	}
	c := &choice{id: len(p.choices)}
	c.want, c.findings = p.want(who, s, set)
	pile := p.in.Kit.Plates
	of := takes{s.on.Ends, s.on.Step}
	if p.alone[of] == nil {
		p.alone[of] = &nearby{}
	}
	c.own = p.stackOf(c, counts(pile), p.alone[of])
	c.moves = c.own.On(s.on, pile)
	c.miss = distance(c.moves, c.want.Total)
	c.over = c.want.Total < s.on.Tare
	p.choices[key] = c
	return c
}

// takes tells implements that take the same stacks from others.
type takes struct {
	ends int
	step measure.Mass
}

// nearby finds the stacks that come nearest to loads, and keeps what the last share of
// the pile can make.
type nearby struct {
	share string // with the kind of implement
	most  measure.Mass
	find  func(plates measure.Mass) load.Stack
}

// stackOf is the one of a share of the pile that comes nearest to a choice.
func (p *planner) stackOf(c *choice, share []int, n *nearby) load.Stack {
	on, plates, pile := c.want.On, c.want.Total-c.want.On.Tare, p.in.Kit.Plates
	key := binary.AppendUvarint(binary.AppendUvarint(nil, uint64(on.Ends)), uint64(on.Step))
	for _, count := range share {
		key = binary.AppendUvarint(key, uint64(count))
	}
	if n.find == nil || string(key) != n.share || plates > n.most {
		n.share, n.most = string(key), plates+plates/4
		var work int
		n.find, work = load.Nearby(on, pile, share, n.most)
		p.work += work / stepsOfNearby
	}
	return n.find(plates)
}

// stepsOfNearby is how many stacks written down count as one unit of work.
const stepsOfNearby = 100

// want resolves what a person is asked for.
func (p *planner) want(who int, s *seat, set int) (load.Want, []session.Finding) {
	spec, legs := p.own(who, s.station)
	q := load.Question{
		Athlete: p.people[who], Part: p.number, Station: s.station + 1, Movement: p.movement(who, s.station),
		Distance: spec.Distance, Legs: legs, Surface: p.in.Kit.Strip.Surface, On: s.on,
	}
	switch {
	case p.spec.Format == session.Ramp && len(spec.Loads) == 0:
		return p.rampStart(q, &spec)
	case len(spec.Loads) == 0:
		return load.Want{Athlete: q.Athlete.Name, Part: q.Part, Station: q.Station, On: s.on, AskedOf: "total", Asked: s.on.Tare, Total: s.on.Tare}, nil
	}
	if len(spec.Loads) > 1 {
		q.Set = set + 1
	}
	q.Ask = spec.Loads[min(set, len(spec.Loads)-1)]
	if set >= len(spec.Loads)-1 { // of a list of loads, the last is what next time is about
		q.Accepted = p.in.accepted(&q)
	}
	return load.Resolve(q, p.in.Kit, p.in.House, p.in.Past)
}

// rampStart is the first attempt: a share of the guess, else of the noted best,
// else bare.
func (p *planner) rampStart(q load.Question, spec *session.Station) (load.Want, []session.Finding) {
	share := p.in.House.RampStart
	if spec.Guess == 0 {
		q.Ask = session.Ask{Basis: session.OfMax, Share: share}
		w, findings := load.Resolve(q, p.in.Kit, p.in.House, p.in.Past)
		if w.Max == 0 {
			findings = []session.Finding{{
				Level: session.Note, About: "estimate", Athlete: q.Athlete.Name, Part: q.Part, Station: q.Station,
				Text: "nothing is known to ramp up from: the first attempt is bare; write a guess at the station to begin higher",
			}}
		}
		return w, findings
	}
	q.Ask = session.Ask{Basis: session.Plain, Mass: share.Of(spec.Guess)}
	w, findings := load.Resolve(q, p.in.Kit, p.in.House, p.in.Past)
	w.Asked, w.Total, w.AskedOf = q.Ask.Mass, q.Ask.Mass, "total"
	return w, findings
}

// movement is what a person does at a station: the station's, or what the coach
// put in its place.
func (p *planner) movement(who, station int) string {
	for i := len(p.in.Edits) - 1; i >= 0; i-- {
		if e := &p.in.Edits[i]; e.Movement != "" && e.about(p.number, station+1, p.people[who].Name) {
			return e.Movement
		}
	}
	return p.spec.Stations[station].Movement
}

// distance is how far apart two masses are.
func distance(a, b measure.Mass) measure.Mass { return max(a-b, b-a) }

// counts returns how many plates of each kind the pile has.
func counts(pile []kit.Plates) []int {
	left := make([]int, len(pile))
	for k, p := range pile {
		left[k] = max(0, p.Count)
	}
	return left
}

// Limits of one list of stacks that make the same load.
const (
	mostStacks = 256
	someStacks = 128 // where there are more
	mostTried  = 20_000
)

// stacks returns every stack that moves just that on the implement, fewest plates
// first, then biggest. all is false where the list was cut short.
func (p *planner) stacks(on load.Implement, moves measure.Mass) (list []load.Stack, all bool) {
	key := keyOfLoad(on, moves)
	if found, ok := p.lists[key]; ok {
		return found.stacks, found.all
	}
	list, all = p.stacksOf(on, moves, counts(p.in.Kit.Plates))
	p.lists[key] = listed{list, all}
	return list, all
}

// stacksOf is stacks with a share of the pile.
func (p *planner) stacksOf(on load.Implement, moves measure.Mass, share []int) (list []load.Stack, all bool) {
	e := newEnumeration(p.in.Kit.Plates, share, on)
	e.from(0, moves-on.Tare, make(load.Stack, len(e.pile)))
	slices.SortStableFunc(e.found, func(a, b load.Stack) int {
		if d := a.Plates(on) - b.Plates(on); d != 0 {
			return d
		}
		return slices.Compare(b, a)
	})
	if len(e.found) > mostStacks { // nothing will be proved: to get through them counts for more
		return e.found[:someStacks], false
	}
	return e.found, e.tried < mostTried
}

// loadKey is plates to that mass on a kind of implement.
type loadKey struct {
	ends         int
	step, plates measure.Mass
}

func keyOfLoad(on load.Implement, moves measure.Mass) loadKey {
	return loadKey{on.Ends, on.Step, moves - on.Tare}
}

type listed struct {
	stacks []load.Stack
	all    bool
}

// enumeration lists the stacks of one mass.
type enumeration struct {
	pile  []kit.Plates
	share []int // of each kind
	on    load.Implement
	rest  []measure.Mass // what kinds k and after can come to
	found []load.Stack
	tried int
}

func newEnumeration(pile []kit.Plates, share []int, on load.Implement) *enumeration {
	e := &enumeration{pile: pile, share: share, on: on, rest: make([]measure.Mass, len(pile)+1)}
	for k := len(pile) - 1; k >= 0; k-- {
		e.rest[k] = e.rest[k+1] + e.unit(k)*measure.Mass(e.most(k))
	}
	return e
}

func (e *enumeration) unit(k int) measure.Mass { return e.pile[k].Mass * measure.Mass(e.on.Ends) }

// most is how many of kind k stand on an end at most.
func (e *enumeration) most(k int) int {
	if e.pile[k].Mass <= 0 || e.pile[k].Mass < e.on.Step || e.on.Ends <= 0 {
		return 0
	}
	return max(0, e.share[k]) / e.on.Ends
}

func (e *enumeration) from(k int, mass measure.Mass, on load.Stack) {
	e.tried++
	if mass == 0 {
		e.found = append(e.found, slices.Clone(on))
		return
	}
	if k == len(e.pile) || mass > e.rest[k] || e.tried >= mostTried {
		return
	}
	unit := e.unit(k)
	for n := min(e.most(k), int(mass/max(unit, 1))); n >= 0; n-- {
		on[k] = n
		e.from(k+1, mass-unit*measure.Mass(n), on)
	}
	on[k] = 0
}
