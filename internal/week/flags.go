package week

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hawser/internal/movement"
	"hawser/internal/session"
)

// Flag is something in a week that stands too close together. Day is the later of
// its days.
type Flag struct {
	Day  time.Time // midnight UTC of the day
	Text string
}

// Limits of the flags, house defaults.
const (
	legsApart    = 48 * time.Hour // between days of heavy leg or hinge work
	gripApart    = 24 * time.Hour // from grip-heavy work to heavy deadlifts
	gripStations = 2              // in a session, at most
	hardEffort   = 8
)

// flags looks at a week that repeats: its Sunday stands before its own Monday.
func flags(days []DayPlan, efforts []Effort) []Flag {
	var all []Flag
	for i := range days {
		for _, s := range days[i].Sessions {
			if n := gripCount(s.Session); n > gripStations {
				all = append(all, Flag{days[i].Date, fmt.Sprintf("%s: %q has %d grip stations, more than %d", on(&days[i]), s.Name, n, gripStations)})
			}
		}
	}
	twice := slices.Clone(days)
	for _, d := range days {
		d.Date = d.Date.AddDate(0, 0, 7)
		twice = append(twice, d)
	}
	for i := range days {
		for j := i + 1; j < len(twice); j++ {
			a, b := &twice[i], &twice[j]
			if j < len(days) || j-len(days) < i { // each pair of days once
				all = append(all, near(a, b)...)
			}
		}
	}
	all = append(all, thirdDays(days, efforts)...)
	slices.SortStableFunc(all, func(a, b Flag) int { return a.Day.Compare(b.Day) })
	return all
}

// near flags two days, a before b.
func near(a, b *DayPlan) []Flag {
	var all []Flag
	apart := b.begins().Sub(a.begins())
	if x, y := heavyLegs(a), heavyLegs(b); x != "" && y != "" && apart < legsApart && !a.Date.Equal(b.Date) {
		all = append(all, Flag{b.Date, fmt.Sprintf("%s and %s: heavy leg or hinge work twice under 48 h apart (%s, %s)", on(a), on(b), x, y)})
	}
	if x, y := gripHeavy(a), deadlifts(b); x != "" && y != "" && apart > 0 && apart <= gripApart {
		all = append(all, Flag{b.Date, fmt.Sprintf("%s: grip-heavy work (%s) within 24 h before %s on %s", on(a), x, y, on(b))})
	}
	return all
}

func on(d *DayPlan) string { return d.Weekday.String() }

// heavyLegs names the session of a day that has heavy leg or hinge work, "" for none.
func heavyLegs(d *DayPlan) string {
	return first(d, func(st *session.Station, m movement.Movement) bool {
		return heavy(st) && (m.Pattern == "squat" || m.Pattern == "hinge")
	})
}

// deadlifts names what heavy deadlifting a day has: a session's, or its main lift.
func deadlifts(d *DayPlan) string {
	name := first(d, func(st *session.Station, m movement.Movement) bool {
		return heavy(st) && strings.Contains(m.Name, "deadlift")
	})
	if name == "" && slices.Contains(d.Main, "hinge") {
		return "the main lift, a hinge"
	}
	return name
}

// first names the first session of a day that has such a station.
func first(d *DayPlan, is func(*session.Station, movement.Movement) bool) string {
	for _, s := range d.Sessions {
		found := false
		if s.Session != nil {
			each(s.Session, func(st *session.Station, m movement.Movement) { found = found || is(st, m) })
		}
		if found {
			return s.Name
		}
	}
	return ""
}

// gripHeavy names the session of a day at least half of whose stations tire the grip.
func gripHeavy(d *DayPlan) string {
	for _, s := range d.Sessions {
		if s.Session == nil {
			continue
		}
		stations := 0
		each(s.Session, func(*session.Station, movement.Movement) { stations++ })
		if n := gripCount(s.Session); n > 0 && 2*n >= stations {
			return s.Name
		}
	}
	return ""
}

func gripCount(s *session.Session) int {
	n := 0
	if s != nil {
		each(s, func(_ *session.Station, m movement.Movement) {
			if m.Grip {
				n++
			}
		})
	}
	return n
}

// thirdDays flags whoever was at effort 8 or more on three days running, and the
// planned day that would be the third.
func thirdDays(days []DayPlan, efforts []Effort) []Flag {
	hard := map[string]map[time.Time]bool{}
	for _, e := range efforts {
		if e.Effort >= hardEffort {
			if hard[e.Who] == nil {
				hard[e.Who] = map[time.Time]bool{}
			}
			hard[e.Who][e.Day] = true
		}
	}
	var all []Flag
	for i := range days {
		d := days[i].Date
		if i > 0 && d.Equal(days[i-1].Date) || len(days[i].Sessions) == 0 && len(days[i].Main) == 0 {
			continue
		}
		var names []string
		for who, on := range hard {
			if on[d.AddDate(0, 0, -1)] && on[d.AddDate(0, 0, -2)] {
				names = append(names, who)
			}
		}
		if slices.Sort(names); len(names) > 0 {
			all = append(all, Flag{d, fmt.Sprintf("%s: a third day running at effort 8 or more for %s", on(&days[i]), strings.Join(names, ", "))})
		}
	}
	return all
}
