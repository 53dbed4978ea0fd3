package session

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// Write writes a fresh session file.
func Write(s *Session) []byte {
	w := &writer{}
	w.text("title", s.Title)
	w.text("aim", string(s.Aim))
	for _, p := range s.Parts {
		w.part(p)
	}
	return w.Bytes()
}

// writer writes the keys that have a value.
type writer struct{ bytes.Buffer }

func (w *writer) text(key, value string) {
	if value != "" {
		fmt.Fprintf(w, "%s = %s\n", key, coachfile.Quote(value))
	}
}

func (w *writer) number(key string, n int) {
	if n > 0 {
		fmt.Fprintf(w, "%s = %d\n", key, n)
	}
}

func (w *writer) clock(key string, d time.Duration) {
	if d > 0 {
		w.text(key, measure.Notation(d))
	}
}

func (w *writer) list(key string, list []string) {
	if len(list) == 1 {
		w.text(key, list[0])
	} else if len(list) > 1 {
		fmt.Fprintf(w, "%s = %s\n", key, coachfile.QuoteAll(list))
	}
}

func (w *writer) lists(key string, lists [][]string) {
	if len(lists) == 0 {
		return
	}
	quoted := make([]string, len(lists))
	for i, list := range lists {
		quoted[i] = coachfile.QuoteAll(list)
	}
	fmt.Fprintf(w, "%s = [%s]\n", key, strings.Join(quoted, ", "))
}

func (w *writer) part(p Part) {
	w.WriteString("\n[[part]]\n")
	w.text("title", p.Title)
	w.text("format", string(p.Format))
	w.clock("every", p.Every)
	w.clock("cap", p.Cap)
	w.clock("time", p.Time)
	w.clock("work", p.Work)
	switch {
	case p.RestFactor > 0:
		w.text("rest", strings.TrimSuffix((p.RestFactor/100).String(), "%")+" x work")
	case p.Rest > 0 || p.Format == Intervals || p.Format == Sets:
		w.text("rest", measure.Notation(p.Rest))
	}
	w.clock("rest_ceiling", p.RestCeiling)
	w.number("rounds", p.Rounds)
	w.number("sets", p.Sets)
	w.text("late", string(p.Late))
	w.clock("stop_cap", p.StopCap)
	w.lists("waves", p.Waves)
	w.lists("sides", p.Sides)
	w.clock("wave_every", p.WaveEvery)
	if p.PressAt != "round" {
		w.text("press", p.PressAt)
	}
	if p.Allocate != "best" {
		w.text("allocate", p.Allocate)
	}
	w.clock("count_in", p.CountIn)
	for _, s := range p.Stations {
		w.station(s, p)
	}
	for _, lane := range p.Lanes {
		fmt.Fprintf(w, "\n[[part.lane]]\non = %s\nwho = %s\n", coachfile.Quote(lane.On), coachfile.QuoteAll(lane.Who))
	}
}

func (w *writer) station(s Station, p Part) {
	w.WriteString("\n[[part.station]]\n")
	w.text("movement", s.Movement)
	if s.Distance > 0 {
		w.text("distance", s.Distance.String())
	}
	w.number("reps", s.Reps)
	if p.Format != Intervals || s.Time != p.Work {
		w.clock("time", s.Time)
	}
	if s.Times > 1 {
		w.number("times", s.Times)
	}
	var loads []string
	for _, ask := range s.Loads {
		loads = append(loads, ask.String())
	}
	w.list("load", loads)
	w.clock("expect", s.Expect)
	if s.Guess > 0 {
		w.text("guess", s.Guess.String())
	}
	w.clock("slot", s.Slot)
	w.list("on", s.On)
}
