package roster

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// Write writes a fresh roster.toml.
func Write(r *Roster) []byte {
	var b bytes.Buffer
	for i, a := range r.Athletes {
		text := a.block()
		if i == 0 {
			text = strings.TrimPrefix(text, "\n")
		}
		b.WriteString(text)
	}
	return b.Bytes()
}

func (a Athlete) block() string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n[[athlete]]\nname = %s\n", coachfile.Quote(a.Name))
	if a.Key != "" {
		fmt.Fprintf(&b, "key = %q\n", a.Key)
	}
	if a.BodyMass > 0 {
		fmt.Fprintf(&b, "body_mass = %q\n", a.BodyMass)
	}
	if a.Newcomer {
		b.WriteString("newcomer = true\n")
	}
	for _, best := range a.Bests {
		b.WriteString(best.block())
	}
	return b.String()
}

func (b Best) block() string {
	var w strings.Builder
	fmt.Fprintf(&w, "\n[[athlete.best]]\nmovement = %q\n", b.Movement)
	if b.Load > 0 {
		fmt.Fprintf(&w, "load = %q\n", b.Load)
	}
	for _, text := range []struct{ key, value string }{
		{"counted", b.Counted}, {"formula", b.Formula}, {"layout", b.Layout}, {"surface", b.Surface}, {"sled", b.Sled}, {"how", b.How},
	} {
		if text.value != "" {
			fmt.Fprintf(&w, "%s = %s\n", text.key, coachfile.Quote(text.value))
		}
	}
	if b.Reps > 0 {
		fmt.Fprintf(&w, "reps = %d\n", b.Reps)
	}
	if b.Distance > 0 {
		fmt.Fprintf(&w, "distance = %q\n", b.Distance)
	}
	if !b.Date.IsZero() {
		fmt.Fprintf(&w, "date = %s\n", b.Date.Format(time.DateOnly))
	}
	if len(b.Pulls) > 0 {
		w.WriteString("pulls = [")
		for i, p := range b.Pulls {
			if i > 0 {
				w.WriteString(", ")
			}
			fmt.Fprintf(&w, "{ load = %q, time = %s }", p.Load, coachfile.Quote(measure.Notation(p.Time)))
		}
		w.WriteString("]\n")
	}
	return w.String()
}

// AddAthlete adds a person behind the others; comments and order stay.
func AddAthlete(name string, data []byte, a Athlete) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.RosterLimit)
	if !top.Written("athlete") {
		return nil, byHand(name, "people")
	}
	at := len(data)
	if all := top.Tables("athlete"); len(all) > 0 {
		at = all[len(all)-1].End()
	}
	return checked(name, coachfile.Insert(data, at, a.block()))
}

// AddBest adds a best behind the others of one person; comments and order stay,
// no earlier best is changed.
func AddBest(name string, data []byte, who string, b Best) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.RosterLimit)
	for _, t := range top.Tables("athlete") {
		if coachfile.Get(t, "name", coachfile.Name) != who {
			continue
		}
		if !top.Written("athlete") || !t.Written("best") {
			return nil, byHand(name, who+"'s bests")
		}
		return checked(name, coachfile.Insert(data, t.End(), b.block()))
	}
	return nil, coachfile.Faults{{File: name, What: fmt.Sprintf("nobody is called %q", who), Write: "add them first"}}
}

// Remove takes a person out of the file, bests and all. It is no fault where
// nobody has that name.
func Remove(name string, data []byte, who string) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.RosterLimit)
	for _, t := range top.Tables("athlete") {
		if coachfile.Get(t, "name", coachfile.Name) != who {
			continue
		}
		if !top.Written("athlete") {
			return nil, byHand(name, "people")
		}
		return checked(name, append(bytes.Clone(data[:t.Start()]), data[t.End():]...))
	}
	return data, nil
}

func byHand(name, what string) error {
	return coachfile.Faults{{File: name, What: "the list of " + what + " stands in brackets", Write: "change it by hand"}}
}

// checked returns data if it reads as a roster.
func checked(name string, data []byte) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	return data, nil
}
