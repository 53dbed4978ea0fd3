package week

import (
	"slices"
	"strconv"
	"strings"

	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// goesWith says which pulls a day of lifting takes, by pattern: rows and rope
// pulls after pressing, backward drags after squats, forward drags after hinges.
func goesWith(main string) (pattern, words string) {
	switch main {
	case "press", "pull":
		return "pull", "rows and rope pulls"
	case "squat":
		return "squat", "backward drags"
	case "hinge":
		return "hinge", "forward drags"
	}
	return "", ""
}

// Takes says which pulls go on a day, by the pattern of its main lifts.
func (d *Day) Takes() string {
	var all []string
	for _, m := range d.Main {
		_, words := goesWith(m)
		if m == "mixed" {
			words = "every pull"
		}
		if words != "" && !slices.Contains(all, words) {
			all = append(all, words)
		}
	}
	if len(all) == 0 {
		return "conditioning or endurance, alone"
	}
	return strings.Join(all, ", ") + "; conditioning"
}

// fits judges a session on a day with those main lifts. Strength goes on strength
// days by pattern, endurance after them as a finisher of the day's pattern,
// conditioning on any day, alone where there is nothing else. Common practice, no
// single source.
func fits(main []string, s *session.Session) (ok bool, why string) {
	lifts := slices.DeleteFunc(slices.Clone(main), func(m string) bool { return m == "none" })
	switch {
	case s.Aim == session.Conditioning && len(lifts) == 0:
		return true, "conditioning, alone"
	case s.Aim == session.Conditioning:
		return true, "conditioning goes on most days"
	case len(lifts) == 0 && s.Aim == session.Endurance:
		return true, "endurance, alone: no main lift to follow"
	case len(lifts) == 0:
		return false, "strength pulls go on strength days, and this day has no main lift"
	case slices.Contains(lifts, "mixed"):
		return true, string(s.Aim) + " on a mixed day"
	}
	patterns := patternsOf(s)
	for _, m := range lifts {
		pattern, words := goesWith(m)
		if !slices.Contains(patterns, pattern) {
			continue
		}
		if s.Aim == session.Endurance {
			return true, "a finisher of the day's pattern: " + words + " after " + m
		}
		return true, words + " go with " + m
	}
	_, words := goesWith(lifts[0])
	return false, words + " go with " + strings.Join(lifts, " and ") + ", this is " + strings.Join(patterns, " and ")
}

// patternsOf returns the patterns of a session's stations, each once, in order.
func patternsOf(s *session.Session) []string {
	var all []string
	each(s, func(_ *session.Station, m movement.Movement) {
		if !slices.Contains(all, m.Pattern) {
			all = append(all, m.Pattern)
		}
	})
	return all
}

// each goes over the stations of a session whose movement the library knows.
func each(s *session.Session, do func(*session.Station, movement.Movement)) {
	for i := range s.Parts {
		for k := range s.Parts[i].Stations {
			st := &s.Parts[i].Stations[k]
			if m, ok := movement.Find(st.Movement); ok {
				do(st, m)
			}
		}
	}
}

// heavyFrom is the share of max or 1RM from which work counts as heavy, the same
// as the strength band's floor.
const heavyFrom = 85 * measure.Percent

// heavy reports whether a station asks for a heavy load.
func heavy(st *session.Station) bool {
	return slices.ContainsFunc(st.Loads, func(a session.Ask) bool {
		switch a.Basis {
		case session.OfMax, session.Of1RM:
			return a.Share >= heavyFrom
		case session.Heaviest:
			return true
		default:
			return false
		}
	})
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}
