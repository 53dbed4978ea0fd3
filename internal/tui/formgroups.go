package tui

import (
	"fmt"
	"strings"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// groups is the rows of a part whose people begin in groups: sides where stations
// alternate, waves where it is for time.
func (s *partSheet) groups(w *World, p *session.Part) []row {
	const how = `by letters or names, "Maren, Eskil / Tove"; empty: `
	named := may(readGroups(w))
	switch p.Format {
	case session.Every, session.Intervals:
		if len(p.Stations) > 1 {
			return []row{{name: "sides", value: s.at("sides"), check: named, empty: "as the board deals", hint: "who begins at which station, " + how + "the board deals them"}}
		}
	case session.ForTime:
		rows := []row{{name: "waves", value: s.at("waves"), check: named, empty: "as the board deals", hint: "who starts together, one a sled, " + how + "as the sleds allow"}}
		if *s.at("waves") != "" {
			rows = append(rows, row{name: "wave every", value: s.at("wave every"), check: may(coachfile.Some(measure.ParseClock)), empty: "as the sleds come free", hint: `from one wave to the next: "2:00"`})
		}
		return rows
	case session.Amrap, session.Ratio, session.Sets, session.LongPull, session.Ramp, session.WarmUp, session.Break:
	}
	return nil
}

// readGroups reads people in groups: a slash between groups, a comma between
// people, each by letter or name.
func readGroups(w *World) func(string) ([][]string, error) {
	return func(s string) ([][]string, error) {
		var groups [][]string
		for group := range strings.SplitSeq(s, "/") {
			var people []string
			for word := range strings.SplitSeq(group, ",") {
				who, err := someone(w, strings.TrimSpace(word))
				if err != nil {
					return nil, err
				}
				people = append(people, who)
			}
			groups = append(groups, people)
		}
		return groups, nil
	}
}

// someone is the person of a letter or a name.
func someone(w *World, word string) (string, error) {
	var names []string
	for _, a := range w.Roster.Athletes {
		if word == a.Key || strings.EqualFold(word, a.Name) {
			return a.Name, nil
		}
		names = append(names, a.Name)
	}
	wrong := &measure.Error{What: fmt.Sprintf("%q is not in the roster", coachfile.Clean(word)), Write: `names or letters, "Maren, Eskil / Tove"`}
	if near := coachfile.Nearest(word, names); near != "" {
		wrong.Write = near
	}
	return "", wrong
}
