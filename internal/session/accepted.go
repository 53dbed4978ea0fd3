package session

import (
	"bytes"
	"fmt"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/movement"
)

// Accepted is one [[next]] of next.toml: a load for next time that the coach has
// accepted, of one person at one station of a session. It stands in place of what
// the session asks until another is accepted there or it is taken out again.
type Accepted struct {
	Athlete  string
	Session  string // by name
	Part     int    // from 1
	Station  int    // from 1
	Movement string // it goes for no other
	Load     measure.Mass
	Date     time.Time // midnight UTC of the day on which it was accepted
}

// acceptedHead is how a fresh next.toml begins.
const acceptedHead = "# Loads for next time that were accepted, sled or bar and plates together. Each\n" +
	"# stands in place of what its session asks. Take one out and the session's own\n" +
	"# load is back.\n"

// ParseAccepted reads next.toml. The error is [coachfile.Faults], all of them.
func ParseAccepted(name string, data []byte) ([]Accepted, error) {
	file, top := coachfile.Read(name, data, coachfile.RosterLimit)
	var all []Accepted
	for _, t := range top.Tables("next") {
		all = append(all, accepted(t))
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	return all, nil
}

func accepted(t *coachfile.Table) Accepted {
	for _, key := range []struct{ name, example string }{
		{"athlete", `athlete = "Maren"`},
		{"session", `session = "slack-water"`},
		{"movement", `movement = "sled row"`},
		{"load", `load = "72 kg"`},
		{"date", "date = 2026-11-25"},
	} {
		t.Need(key.name, key.example)
	}
	a := Accepted{
		Athlete:  coachfile.Get(t, "athlete", coachfile.Name),
		Session:  coachfile.Get(t, "session", coachfile.Name),
		Part:     max(1, t.Int("part", 1, 99)),
		Station:  max(1, t.Int("station", 1, 99)),
		Movement: coachfile.Get(t, "movement", coachfile.Name),
		Load:     coachfile.Get(t, "load", coachfile.Some(measure.ParseMass)),
		Date:     t.Date("date"),
	}
	if _, ok := movement.Find(a.Movement); !ok && a.Movement != "" {
		t.Fault("movement", fmt.Sprintf("%q is not a movement", coachfile.Clean(a.Movement)), "take the session's own word for it")
	}
	return a
}

// SamePlace reports whether two are of one person at one station of one session.
func (a *Accepted) SamePlace(b *Accepted) bool {
	return a.Athlete == b.Athlete && a.Session == b.Session && a.Part == b.Part && a.Station == b.Station
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
	data = coachfile.Insert(data, len(data), fmt.Sprintf(
		"\n[[next]]\nathlete = %s\nsession = %s\npart = %d\nstation = %d\nmovement = %s\nload = %q\ndate = %s\n",
		coachfile.Quote(a.Athlete), coachfile.Quote(a.Session), a.Part, a.Station, coachfile.Quote(a.Movement),
		a.Load, a.Date.Format(time.DateOnly)))
	if _, err := ParseAccepted(name, data); err != nil {
		return nil, err
	}
	return data, nil
}

// Reject writes next.toml without those that are out.
func Reject(name string, data []byte, out func(*Accepted) bool) ([]byte, error) {
	if _, err := ParseAccepted(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.RosterLimit)
	var kept []byte
	from := 0
	for _, t := range top.Tables("next") {
		if a := accepted(t); out(&a) {
			if !top.Written("next") {
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
