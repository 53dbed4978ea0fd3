// Package roster reads and writes roster.toml: who trains here, their key, body
// mass and bests. Body mass and bests stay in this file; no log and no public
// page carries them.
package roster

import (
	"time"

	"hawser/internal/measure"
)

// Roster is the people in file order.
type Roster struct {
	Path     string
	Athletes []Athlete
}

// Athlete is one person.
type Athlete struct {
	Name     string
	Key      string       // one lower-case letter; Parse deals the free ones, "" only where all are taken
	BodyMass measure.Mass // 0: not known
	Newcomer bool         // a newcomer does half
	Bests    []Best
}

// How a best came about.
const (
	Tested   = "tested"
	FromReps = "reps"
	TwoPulls = "two pulls"
	Noted    = "noted"
)

// What the load of a best counts. After [Resolve] it is the total.
const (
	Total      = "total"
	PlatesOnly = "plates only"
)

// Formulas returns the names of the published equations for a max from
// repetitions, each under the name it is usually quoted by.
func Formulas() []string {
	return []string{"epley", "brzycki", "lombardi", "mayhew", "oconner", "wathan", "lander"}
}

// Best is a heaviest pull with the tags it was done under. It never stands for
// another movement, distance, layout or surface without that being said.
type Best struct {
	Movement string
	Load     measure.Mass     // total: tare + plates; 0 where only Pulls are written
	Counted  string           // PlatesOnly until Resolve has added the tare; else Total or ""
	Reps     int              // with How FromReps: the repetitions done at Load; 0: Load is the estimate
	Formula  string           // with How FromReps: which equation, "" the house's
	Pulls    []TimedPull      // with How TwoPulls: the two pulls; none: Load is the estimate
	Distance measure.Distance // 0: not noted
	Layout   string           // "straight", or "2 x 15 m"
	Surface  string
	Sled     string
	Date     time.Time // midnight UTC of the day; zero: not noted
	How      string    // Tested, FromReps, TwoPulls, Noted
}

// TimedPull is one timed pull over Best.Distance.
type TimedPull struct {
	Load measure.Mass // total
	Time time.Duration
}

// Find returns the athlete of that name, or nil.
func (r *Roster) Find(name string) *Athlete {
	for i := range r.Athletes {
		if r.Athletes[i].Name == name {
			return &r.Athletes[i]
		}
	}
	return nil
}
