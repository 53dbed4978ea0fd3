package session

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/movement"
)

// Accepted is one answer to next time that the coach has accepted, in place of what
// the session says, until another is accepted there or it is taken out again. A
// [[next]] of next.toml is a load or the metres of one person at one station; a
// [[class]] is the interval or the rounds of a part, for everybody. One of the four is
// set.
type Accepted struct {
	Athlete  string // "" for everybody
	Session  string // by name
	Part     int    // from 1
	Station  int    // from 1; 0 for everybody
	Movement string // it goes for no other; "" for everybody
	Load     measure.Mass
	Distance measure.Distance // of a long pull
	Every    time.Duration
	Rounds   int       // or sets
	Week     time.Time // Rounds: the Monday of the week that they are for, midnight UTC
	Date     time.Time // midnight UTC of the day on which it was accepted
}

// acceptedHead is how a fresh next.toml begins.
const acceptedHead = "# What was accepted for next time: of one person a load, sled or bar and plates\n" +
	"# together, or metres; of a class its interval or a week's rounds. Each stands in\n" +
	"# place of what its session says. Take one out and the session's own is back.\n"

// ParseAccepted reads next.toml. The error is [coachfile.Faults], all of them.
func ParseAccepted(name string, data []byte) ([]Accepted, error) {
	file, top := coachfile.Read(name, data, coachfile.RosterLimit)
	var all []Accepted
	for _, t := range top.Tables("next") {
		all = append(all, accepted(t))
	}
	for _, t := range top.Tables("class") {
		all = append(all, forClass(t))
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	return all, nil
}

// accepted reads a [[next]].
func accepted(t *coachfile.Table) Accepted {
	for _, key := range []struct{ name, example string }{
		{"athlete", `athlete = "Maren"`},
		{"session", `session = "slack-water"`},
		{"movement", `movement = "sled row"`},
		{"date", "date = 2026-11-25"},
	} {
		t.Need(key.name, key.example)
	}
	oneOfTwo(t, "load", `load = "72 kg"`, "distance", `distance = "240 m"`)
	a := Accepted{
		Athlete:  coachfile.Get(t, "athlete", coachfile.Name),
		Session:  coachfile.Get(t, "session", coachfile.Name),
		Part:     max(1, t.Int("part", 1, 99)),
		Station:  max(1, t.Int("station", 1, 99)),
		Movement: coachfile.Get(t, "movement", coachfile.Name),
		Load:     coachfile.Get(t, "load", coachfile.Some(measure.ParseMass)),
		Distance: coachfile.Get(t, "distance", coachfile.Some(measure.ParseDistance)),
		Date:     t.Date("date"),
	}
	if _, ok := movement.Find(a.Movement); !ok && a.Movement != "" {
		t.Fault("movement", fmt.Sprintf("%q is not a movement", coachfile.Clean(a.Movement)), "take the session's own word for it")
	}
	return a
}

// forClass reads a [[class]].
func forClass(t *coachfile.Table) Accepted {
	t.Need("session", `session = "slack-water"`)
	t.Need("date", "date = 2026-11-25")
	oneOfTwo(t, "every", `every = "1:15"`, "rounds", "rounds = 5")
	if t.Has("rounds") {
		t.Need("week", "week = 2026-11-30")
	}
	return Accepted{
		Session: coachfile.Get(t, "session", coachfile.Name),
		Part:    max(1, t.Int("part", 1, 99)),
		Every:   coachfile.Get(t, "every", coachfile.Some(measure.ParseClock)),
		Rounds:  t.Int("rounds", 1, 500),
		Week:    t.Date("week"),
		Date:    t.Date("date"),
	}
}

// oneOfTwo wants one of two keys, and not both.
func oneOfTwo(t *coachfile.Table, a, exampleA, b, exampleB string) {
	if t.Has(a) == t.Has(b) {
		t.Fault(b, "one of "+a+" and "+b+" is accepted at a time", "write "+exampleA+" or "+exampleB)
	}
}

// kind tells which of the four it is.
func (a *Accepted) kind() [3]bool { return [3]bool{a.Distance != 0, a.Every != 0, a.Rounds != 0} }

// SamePlace reports whether two are the same of the four, of one person at one
// station of one session, or of one part of it.
func (a *Accepted) SamePlace(b *Accepted) bool {
	return a.kind() == b.kind() && a.Athlete == b.Athlete && a.Session == b.Session && a.Part == b.Part && a.Station == b.Station
}

// Accept writes a into next.toml, in place of what was accepted there before;
// comments and all others stay.
func Accept(name string, data []byte, a Accepted) ([]byte, error) {
	data, err := Reject(name, data, a.SamePlace)
	if err != nil {
		return nil, err
	}
	if len(bytes.TrimSpace(data)) == 0 {
		data = []byte(acceptedHead)
	}
	data = coachfile.Insert(data, len(data), a.table())
	if _, err := ParseAccepted(name, data); err != nil {
		return nil, err
	}
	return data, nil
}

// table is a as it stands in next.toml.
func (a *Accepted) table() string {
	what := fmt.Sprintf("load = %q\n", a.Load)
	switch {
	case a.Distance > 0:
		what = fmt.Sprintf("distance = %q\n", a.Distance)
	case a.Every > 0:
		what = fmt.Sprintf("every = %q\n", measure.Clock(a.Every))
	case a.Rounds > 0:
		what = fmt.Sprintf("rounds = %d\nweek = %s\n", a.Rounds, a.Week.Format(time.DateOnly))
	}
	date := a.Date.Format(time.DateOnly)
	if a.Athlete == "" {
		return fmt.Sprintf("\n[[class]]\nsession = %s\npart = %d\n%sdate = %s\n", coachfile.Quote(a.Session), a.Part, what, date)
	}
	return fmt.Sprintf("\n[[next]]\nathlete = %s\nsession = %s\npart = %d\nstation = %d\nmovement = %s\n%sdate = %s\n",
		coachfile.Quote(a.Athlete), coachfile.Quote(a.Session), a.Part, a.Station, coachfile.Quote(a.Movement), what, date)
}

// Reject writes next.toml without those that are out.
func Reject(name string, data []byte, out func(*Accepted) bool) ([]byte, error) {
	if _, err := ParseAccepted(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.RosterLimit)
	tables := append(top.Tables("next"), top.Tables("class")...)
	slices.SortStableFunc(tables, func(a, b *coachfile.Table) int { return cmp.Compare(a.Start(), b.Start()) })
	var kept []byte
	from := 0
	for _, t := range tables {
		a, key := accepted(t), "next"
		if t.Has("every") || t.Has("rounds") {
			a, key = forClass(t), "class"
		}
		if out(&a) {
			if !top.Written(key) {
				return nil, coachfile.Faults{{File: name, What: "the list of next loads stands in brackets", Write: "change it by hand"}}
			}
			kept, from = append(kept, data[from:t.Start()]...), t.End()
			if bytes.HasSuffix(kept, []byte("\n\n")) { // the blank line above it
				kept = kept[:len(kept)-1]
			}
		}
	}
	return append(kept, data[from:]...), nil
}

// Standing returns what stands on a day: rounds are for their own week alone.
func Standing(all []Accepted, day time.Time) []Accepted {
	return slices.DeleteFunc(slices.Clone(all), func(a Accepted) bool {
		since := day.Sub(a.Week)
		return a.Rounds > 0 && (since < 0 || since >= 7*24*time.Hour)
	})
}

// With returns the session with the interval and the rounds that were accepted for it
// in place of its own, and which those are.
func (s *Session) With(all []Accepted) (*Session, []Accepted) {
	var taken []Accepted
	own := *s
	own.Parts = slices.Clone(s.Parts)
	for _, a := range all {
		if a.Athlete != "" || a.Session != s.Name || a.Part > len(s.Parts) {
			continue
		}
		switch p := &own.Parts[a.Part-1]; {
		case a.Every > 0 && p.Every > 0:
			p.Every = a.Every
		case a.Rounds > 0 && p.Rounds > 0:
			p.Rounds = a.Rounds
		case a.Rounds > 0 && p.Sets > 0:
			p.Sets = a.Rounds
		default:
			continue
		}
		taken = append(taken, a)
	}
	if len(taken) == 0 {
		return s, nil
	}
	return &own, taken
}
