package lanes

import (
	"slices"
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// UsualLimit is the work of one search that takes about a second on one core.
const UsualLimit = 400_000

// Input is all that a board is made of. A sled or plate that is missing today is
// simply not in the Kit.
type Input struct {
	Session *session.Session
	Roster  *roster.Roster
	Kit     *kit.Kit
	House   *house.House
	Here    []string  // who is here; nil: all of the roster
	Past    load.Past // nil: nothing is logged
	Limit   int       // arrangements looked at for each choice of lanes; 0: UsualLimit
	Edits   []Edit    // what the coach moved by hand

	Accepted []session.Accepted // what the coach accepted for next time and stands today; of other sessions too
}

// Edit is one change by the coach's hand: a person to another implement or heat,
// a load up or down by steps that exist, another movement for one person, the way
// out of a part that does not fit. The board that Make returns with one edit more
// has the price of it.
type Edit struct {
	Part     int // from 1
	Station  int // from 1; 0: every station of the part
	Athlete  string
	On       string // this implement
	Heat     int    // this heat, from 1
	Steps    int    // steps up, below 0 down
	Movement string // in place of the station's
	Way      string // out of a part that does not fit: one of Fit.Ways that can be taken, or [AsWritten]
}

// about reports whether the edit concerns a person at a station of a part.
func (e *Edit) about(part, station int, athlete string) bool {
	return e.Part == part && (e.Station == 0 || e.Station == station) && e.Athlete == athlete
}

// people returns who is here, in roster order.
func (in *Input) people() []*roster.Athlete {
	var here []*roster.Athlete
	for i := range in.Roster.Athletes {
		if a := &in.Roster.Athletes[i]; in.Here == nil || slices.Contains(in.Here, a.Name) {
			here = append(here, a)
		}
	}
	return here
}

// accepted returns the load that the coach has accepted for a question, nil for none.
func (in *Input) accepted(q *load.Question) *session.Accepted {
	return in.find(q.Movement, &session.Accepted{Athlete: q.Athlete.Name, Part: q.Part, Station: q.Station})
}

// find returns what stands in the same place, nil for nothing.
func (in *Input) find(movement string, place *session.Accepted) *session.Accepted {
	place.Session = in.Session.Name
	for i := range in.Accepted {
		if a := &in.Accepted[i]; a.SamePlace(place) && a.Movement == movement {
			return a
		}
	}
	return nil
}

// metres returns the metres of a long pull that the coach has accepted for a person,
// nil for none.
func (p *planner) metres(who, station int) *session.Accepted {
	if p.spec.Format != session.LongPull || p.spec.Stations[station].Distance == 0 {
		return nil
	}
	return p.in.find(p.movement(who, station), &session.Accepted{
		Athlete: p.people[who].Name, Part: p.number, Station: station + 1, Distance: 1,
	})
}

// own is a station as it is for one person, with the legs that its metres make.
func (p *planner) own(who, station int) (session.Station, int) {
	spec := p.spec.Stations[station]
	a := p.metres(who, station)
	if a == nil {
		return spec, p.stations[station].Legs
	}
	if spec.Expect > 0 { // the time that was written is for the written metres
		spec.Expect = time.Duration(float64(spec.Expect) * float64(a.Distance) / float64(spec.Distance)).Round(time.Second)
	}
	spec.Distance = a.Distance
	legs, _ := Lengths(spec.Distance, p.in.Kit.Strip.Length)
	return spec, legs
}
