package lanes

import (
	"slices"

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

	Accepted []session.Accepted // loads for next time that the coach accepted; of other sessions too
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
	here := session.Accepted{Athlete: q.Athlete.Name, Session: in.Session.Name, Part: q.Part, Station: q.Station}
	for i := range in.Accepted {
		if a := &in.Accepted[i]; a.SamePlace(&here) && a.Movement == q.Movement {
			return a
		}
	}
	return nil
}
