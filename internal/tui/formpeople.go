package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/roster"
)

const rosterFile = "roster.toml"

// need makes a check of a parser, for a row that must be written.
func need[T any](parse func(string) (T, error)) func(string) error {
	return func(s string) error {
		_, err := parse(s)
		return err
	}
}

// may makes a check of a parser, for a row that can be left empty.
func may[T any](parse func(string) (T, error)) func(string) error {
	return func(s string) error {
		if s == "" {
			return nil
		}
		return need(parse)(s)
	}
}

// given reads a row that was checked already; the zero value where it is empty.
func given[T any](s string, parse func(string) (T, error)) T {
	v, err := parse(strings.TrimSpace(s))
	if err != nil {
		var zero T
		return zero
	}
	return v
}

// countTo reads a whole number from 1 to most.
func countTo(most int) func(string) (int, error) {
	return func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > most {
			return 0, &measure.Error{What: fmt.Sprintf("%q is not a whole number that fits", coachfile.Clean(s)), Write: fmt.Sprintf("a number from 1 to %d", most)}
		}
		return n, nil
	}
}

// Answers that are no text of a file.
const (
	no   = "no"
	yes  = "yes"
	none = "none"
)

// personSheet is a new athlete.
type personSheet struct{ name, key, mass, newcomer string }

func (s *personSheet) title() string { return "a person" }

func (s *personSheet) rows(w *World) []row {
	return []row{
		{name: "name", value: &s.name, hint: "as it stands on the wall", check: func(name string) error {
			if taken := slices.IndexFunc(w.Roster.Athletes, func(a roster.Athlete) bool { return strings.EqualFold(a.Name, name) }); taken >= 0 {
				return &measure.Error{What: w.Roster.Athletes[taken].Name + " is in the roster already", Write: "a second name too"}
			}
			return need(coachfile.Name)(name)
		}},
		{name: "letter", value: &s.key, empty: s.letter(w), hint: "the key that presses for them; left empty, a free one is given", check: func(key string) error {
			if taken := slices.IndexFunc(w.Roster.Athletes, func(a roster.Athlete) bool { return a.Key == key && key != "" }); taken >= 0 {
				return &measure.Error{What: key + " is " + w.Roster.Athletes[taken].Name + "'s already", Write: "another letter, or none"}
			}
			return may(roster.Letter)(key)
		}},
		{name: "body mass", value: &s.mass, empty: "not needed", hint: `for loads such as "50% body mass"; no wall shows it. Write "68 kg" or "150 lb"`, check: may(coachfile.Some(measure.ParseMass))},
		{name: "newcomer", value: &s.newcomer, options: []string{no, yes}, hint: "a newcomer does half"},
	}
}

// letter says which letter is given where none is written.
func (s *personSheet) letter(w *World) string {
	people := append(slices.Clone(w.Roster.Athletes), roster.Athlete{Name: s.name})
	roster.Deal(people)
	if given := people[len(people)-1].Key; given != "" && s.name != "" {
		return given + ", a free one"
	}
	return "a free one is given"
}

func (s *personSheet) panel(m *Model, w int) [][]Said {
	rows := [][]Said{{{itoa(len(m.world.Roster.Athletes)) + " in the roster", Strong}}}
	for i := range m.world.Roster.Athletes {
		a := &m.world.Roster.Athletes[i]
		rows = append(rows, []Said{{cmp.Or(a.Key, "-") + "  ", KeyInk}, {clean(a.Name), Body}})
	}
	const most = 12
	if len(rows) > most {
		rows = append(rows[:most], []Said{{"… and more", Dim}})
	}
	rows = append(rows, nil)
	for _, caution := range movement.General() {
		if strings.Contains(caution, "newcomer") || strings.Contains(caution, "under 18") {
			rows = append(rows, told(caution, w)...)
		}
	}
	return rows
}

// told is a text over as many lines as it takes, its first letter large.
func told(s string, w int) [][]Said {
	var rows [][]Said
	for _, line := range wrap(strings.ToUpper(s[:1])+s[1:]+".", w) {
		rows = append(rows, []Said{{line, Dim}})
	}
	return rows
}

func (s *personSheet) change(*World) (Change, error) {
	a := roster.Athlete{
		Name: given(s.name, coachfile.Name), Key: given(s.key, roster.Letter),
		BodyMass: given(s.mass, measure.ParseMass), Newcomer: s.newcomer == yes,
	}
	return Change{File: rosterFile, Done: a.Name + " is added; another, or Esc", Edit: func(src []byte) ([]byte, error) {
		return roster.AddAthlete(rosterFile, src, a)
	}}, nil
}

// bestSheet is a best of somebody who is in the roster, with its tags.
type bestSheet struct {
	who, movement, how, load, counted, sled, reps       string
	load2, time, time2, distance, layout, surface, date string
}

func newBestSheet(w *World, now time.Time) *bestSheet {
	s := &bestSheet{how: roster.Tested, layout: "straight", surface: w.Kit.Strip.Surface, date: now.Format(time.DateOnly)}
	if len(w.Roster.Athletes) > 0 {
		s.who = w.Roster.Athletes[0].Name
	}
	s.movement = movement.Names()[0]
	return s
}

func (s *bestSheet) title() string { return "a best" }

// along reports whether the movement is pulled or carried along the strip.
func along(name string) bool {
	m, _ := movement.Find(name)
	return m.Need == movement.Sled || m.Need == movement.SledRope || m.Pattern == "carry"
}

func (s *bestSheet) rows(w *World) []row {
	var people []string
	for i := range w.Roster.Athletes {
		people = append(people, w.Roster.Athletes[i].Name)
	}
	mass := coachfile.Some(measure.ParseMass)
	rows := []row{
		{name: "who", value: &s.who, options: people},
		{name: "movement", value: &s.movement, options: movement.Names()},
	}
	sled := along(s.movement) && !strings.HasPrefix(s.movement, "handles")
	ways := []string{roster.Tested, roster.FromReps, roster.Noted}
	if sled {
		ways = []string{roster.Tested, roster.TwoPulls, roster.Noted}
	}
	if !slices.Contains(ways, s.how) {
		s.how = roster.Tested
	}
	rows = append(rows, row{name: "how", value: &s.how, options: ways, hint: "tested: done. noted: told, or estimated. two pulls, reps: worked out from what was done"})
	load := row{name: "load", value: &s.load, check: need(mass), hint: `the whole of it, sled or bar and plates: "120 kg"`}
	if s.how == roster.TwoPulls {
		load.name = "first load"
		rows = append(rows, load,
			row{name: "first time", value: &s.time, check: need(coachfile.Some(measure.ParseClock)), hint: `over the same distance: "0:08.4"`},
			row{name: "second load", value: &s.load2, hint: "clearly heavier than the first", check: func(text string) error {
				if err := need(mass)(text); err != nil || given(text, mass) != given(s.load, mass) {
					return err
				}
				return &measure.Error{What: "both pulls have the same load", Write: "two pulls with different loads"}
			}},
			row{name: "second time", value: &s.time2, check: need(coachfile.Some(measure.ParseClock)), hint: `"0:13.1"`})
	} else {
		rows = append(rows, load)
	}
	if s.how == roster.FromReps {
		rows = append(rows, row{name: "repetitions", value: &s.reps, check: need(countTo(100)), hint: "how many were done with it; above 10 the estimate is doubtful"})
	}
	if sled {
		rows = append(rows, row{name: "on", value: &s.sled, options: append([]string{none}, sleds(w)...)})
		if s.sled != none {
			rows = append(rows, row{name: "counted", value: &s.counted, options: []string{roster.Total, roster.PlatesOnly}, hint: "total: sled and plates. plates only: the sled's tare is added"})
		}
	}
	if along(s.movement) {
		distance := row{name: "distance", value: &s.distance, empty: "not noted", check: may(coachfile.Some(measure.ParseDistance)), hint: `"20 m"; a best never stands for another distance without a word`}
		if s.how == roster.TwoPulls {
			distance.check = need(coachfile.Some(measure.ParseDistance))
		}
		rows = append(rows, distance,
			row{name: "layout", value: &s.layout, empty: "not noted", check: may(roster.Layout), hint: `"straight", or with turns "2 x 15 m"`},
			row{name: "surface", value: &s.surface, empty: "not noted", check: may(coachfile.Name), hint: `"turf", as kit.toml calls it`})
	}
	return append(rows, row{name: "date", value: &s.date, empty: "not noted", check: may(aDay), hint: "the day, as 2026-11-25"})
}

// sleds returns the names of the kit's sleds.
func sleds(w *World) []string {
	var names []string
	for i := range w.Kit.Sleds {
		names = append(names, w.Kit.Sleds[i].Name)
	}
	return names
}

func aDay(s string) (time.Time, error) {
	day, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return day, &measure.Error{What: strconv.Quote(coachfile.Clean(s)) + " is no day", Write: "2026-11-25: year, month, day"}
	}
	return day, nil
}

// best is the best as it stands in the rows, those alone that are asked.
func (s *bestSheet) best() roster.Best {
	b := roster.Best{
		Movement: s.movement, How: s.how, Date: given(s.date, aDay),
		Load: given(s.load, measure.ParseMass), Distance: given(s.distance, measure.ParseDistance),
	}
	if along(s.movement) {
		b.Layout, b.Surface = given(s.layout, roster.Layout), strings.TrimSpace(s.surface)
		if s.sled != none && !strings.HasPrefix(s.movement, "handles") {
			b.Sled = s.sled
			if s.counted == roster.PlatesOnly {
				b.Counted = s.counted
			}
		}
	} else {
		b.Distance = 0
	}
	switch s.how {
	case roster.FromReps:
		b.Reps = given(s.reps, countTo(100))
	case roster.TwoPulls:
		b.Pulls = []roster.TimedPull{
			{Load: b.Load, Time: given(s.time, measure.ParseClock)},
			{Load: given(s.load2, measure.ParseMass), Time: given(s.time2, measure.ParseClock)},
		}
		b.Load = 0
	}
	return b
}

func (s *bestSheet) change(w *World) (Change, error) {
	if w.Roster.Find(s.who) == nil {
		return Change{}, fmt.Errorf("nobody is in the roster yet; add a person first")
	}
	who, b := s.who, s.best()
	return Change{File: rosterFile, Done: "noted for " + who + "; another, or Esc", Edit: func(src []byte) ([]byte, error) {
		return roster.AddBest(rosterFile, src, who, b)
	}}, nil
}

// far is how much above the heaviest so far a best is doubted.
const far = 10 * measure.Percent

// soFar is the bests of the person in the movement.
func (s *bestSheet) soFar(w *World) []roster.Best {
	var all []roster.Best
	if a := w.Roster.Find(s.who); a != nil {
		for _, b := range a.Bests {
			if b.Movement == s.movement {
				all = append(all, b)
			}
		}
	}
	return all
}

// doubt asks back where the load is far above the heaviest so far.
func (s *bestSheet) doubt(m *Model) string {
	load, most := s.total(m.world.Kit, s.best()), measure.Mass(0)
	for _, b := range s.soFar(m.world) {
		most = max(most, b.Load)
	}
	if most == 0 || load <= most+far.Of(most) {
		return ""
	}
	style := m.look.Style
	return fmt.Sprintf("%s is %s above the %s so far: is it the same pull, and the total?", style.Mass(load), style.Percent(load-most, most), style.Mass(most))
}

// panel is what the person has so far, and the movement's card.
func (s *bestSheet) panel(m *Model, w int) [][]Said {
	rows := [][]Said{{{"Bests of " + clean(s.who), Strong}, {"  coach's eyes only", Dim}}}
	for _, b := range s.soFar(m.world) {
		rows = append(rows, []Said{{join(", ", m.look.Style.Mass(b.Load), b.Layout, b.Surface, b.How, noted(b.Date)), Body}})
	}
	if len(rows) == 1 {
		rows = append(rows, []Said{{"none of " + s.movement + " so far", Dim}})
	}
	rows = append(rows, nil)
	mv, _ := movement.Find(s.movement)
	return append(rows, card(&mv, w)...)
}

// total is the load with the tare in it where plates alone were counted.
func (s *bestSheet) total(k *kit.Kit, b roster.Best) measure.Mass {
	if sled := k.Sled(b.Sled); sled != nil && b.Counted == roster.PlatesOnly && b.Load > 0 {
		return b.Load + sled.Tare
	}
	return b.Load
}

// noted is the day of a best, "" where it is not noted.
func noted(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}
