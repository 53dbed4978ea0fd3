package tui

import (
	"strconv"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/week"
)

const weekFile = "week.toml"

// daySheet is a day of the usual week.
type daySheet struct {
	day, lifts, lifts2, at, pull string
	monday                       time.Time // the block of a fresh week begins there
}

func newDaySheet(now time.Time) *daySheet {
	y, m, d := now.Date()
	back := (int(now.Weekday()) + 6) % 7
	return &daySheet{day: "monday", at: "18:00", monday: time.Date(y, m, d-back, 0, 0, 0, 0, time.UTC)}
}

func (s *daySheet) title() string { return "a day" }

func (s *daySheet) rows(w *World) []row {
	pulls := []string{none}
	for _, one := range w.Sessions {
		pulls = append(pulls, one.Name)
	}
	rows := []row{
		{name: "day", value: &s.day, options: week.Weekdays()},
		{name: "main lifts", value: &s.lifts, options: week.Patterns(), hint: "what is lifted that day, by pattern; pulls are fitted to it"},
	}
	if s.lifts != none {
		rows = append(rows, row{name: "and", value: &s.lifts2, options: append([]string{none}, week.Patterns()[:len(week.Patterns())-1]...)})
	}
	return append(rows,
		row{name: "at", value: &s.at, check: may(timeOfDay), empty: "any time", hint: `"18:00"`},
		row{name: "pull", value: &s.pull, options: pulls, hint: "the session of that day; a letter goes to the next that begins with it"})
}

// timeOfDay reads "18:00" as the time since midnight.
func timeOfDay(s string) (time.Duration, error) {
	at, err := time.Parse("15:04", s)
	if err != nil {
		return 0, &measure.Error{What: strconv.Quote(coachfile.Clean(s)) + " is no time of day", Write: "18:00: hours and two digits of minutes"}
	}
	return at.Sub(at.Truncate(24 * time.Hour)), nil
}

func (s *daySheet) panel(_ *Model, w int) [][]Said {
	var rows [][]Said
	for _, text := range []string{
		"press goes with rows and rope pulls, squat with backward drags, hinge with forward drags; conditioning goes on most days",
		"the page of the week says what fits, and what stands too close",
	} {
		rows = append(append(rows, told(text, w)...), nil)
	}
	return rows
}

func (s *daySheet) change(*World) (Change, error) {
	d := week.Day{Main: []string{s.lifts}, At: given(s.at, timeOfDay)}
	for i, name := range week.Weekdays() {
		if name == s.day {
			d.Weekday = time.Weekday(i)
		}
	}
	if s.lifts != none && s.lifts2 != none && s.lifts2 != s.lifts {
		d.Main = append(d.Main, s.lifts2)
	}
	if s.pull != none {
		d.Pull = []string{s.pull}
	}
	block := s.monday
	return Change{File: weekFile, Done: strings.ToUpper(s.day[:1]) + s.day[1:] + " is written; another, or Esc", Edit: func(src []byte) ([]byte, error) {
		if len(src) == 0 {
			src = week.Write(&week.File{BlockStarts: block})
		}
		return week.AddDay(weekFile, src, d)
	}}, nil
}
