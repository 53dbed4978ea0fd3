package review

import (
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Report is a run as it stood at one moment.
type Report struct {
	Session string
	Title   string
	Aim     session.Aim
	Ends    time.Duration // from the first GO to the end of the class; [floor.None] before it
	Parts   []Part        // those that have begun
	Told    map[string]Told
}

// Told is what a person said of a run. It stands in the private log and goes into
// the next load, never into a table, a page or JSON.
type Told struct {
	Effort *float64 // 0–10; nil: not given
	Pain   int      // 0–10, the worst that was given
	Site   string
}

// Part is one part of a Report.
type Part struct {
	Number   int // from 1
	Spec     session.Part
	Starts   []time.Duration // of the class's rounds or bouts, heat after heat; else of the part
	Athletes []Athlete       // in the order of the plan
}

// Athlete is one person in one part.
type Athlete struct {
	Name   string
	Person int           // index in Plan.People
	Came   bool          // into the room, early or late
	Rounds []floor.Round // every time of day counted from the first GO
	Groups []Group       // rounds that may be compared with each other
	Counts

	Work   time.Duration // sum of the splits
	Length time.Duration // of the format, rounds before arrival taken out; 0: not known
	Fade   *float64      // per cent; nil with fewer than two times or several stations
	Spread *float64      // per cent, sample SD; nil likewise

	Amount Amount        // amrap: full rounds and what is over
	Pull   *Pull         // long pull
	Waited time.Duration // ratio: due, and the sled was busy
	Best   measure.Mass  // ramp: the heaviest good attempt; 0: none
	Left   Amount        // for time: what the cap cut off
	Next   *Next         // nil until it has been asked for
}

// Counts says how many rounds stood how.
type Counts struct {
	InTime, Late, SatOut, NotHere, NoPress, Done, Missed, Struck int
}

// Amount is work counted in rounds, metres or repetitions.
type Amount struct {
	Rounds     int
	Metres     measure.Distance
	Reps       int
	Projection *float64 // rounds still to come at the pace of the last two
}

// running is the time that the session clock ran between two instants.
type running func(from, to time.Duration) time.Duration

// read works out one person's figures in one part.
func (m *room) read(spec *session.Part, rounds []floor.Round, starts []time.Duration, now time.Duration, ran running) Athlete {
	a := Athlete{Rounds: rounds, Counts: count(rounds)}
	for i := range rounds {
		if r := &rounds[i]; worked(r) {
			a.Work += r.Work
			a.Waited += max(0, r.Waited)
		}
	}
	a.Length = length(spec, &a, ran)
	a.Groups = m.groupsOf(spec.Format, rounds)
	g := overall(a.Groups)
	a.Fade, a.Spread = g.Fade, g.Spread
	switch spec.Format {
	case session.Amrap:
		a.Amount = amount(spec, rounds, starts, now)
	case session.LongPull:
		a.Pull = pull(spec, rounds, now, ran)
		if a.Pull != nil {
			a.Work, a.Length = a.Pull.Moving, a.Pull.Elapsed
		}
	case session.ForTime:
		a.Left = left(spec, rounds)
	case session.Ramp:
		a.Best = best(rounds)
	case session.Every, session.Intervals, session.Ratio, session.Sets, session.WarmUp, session.Break:
	}
	return a
}

// Share returns work as a percentage of the format's length, nil where that is
// not known.
func (a *Athlete) Share() *float64 {
	if a.Length <= 0 {
		return nil
	}
	return new(100 * float64(a.Work) / float64(a.Length))
}
