package cli

import (
	"fmt"
	"strings"
	"time"

	"hawser/internal/review"
)

// text is the week as a page.
func (w *weekPlan) text() string {
	var p page
	head := "WEEK OF " + w.Monday.Format(time.DateOnly)
	if w.Lighter {
		head += "  a lighter week: rounds x 0.6, the same loads"
	}
	p.line("%s", head)
	p.rule()
	for _, d := range w.Days {
		p.wrapped(fmt.Sprintf("%-10s %-8s ", d.Date.Format("Mon 02 Jan"), shown(strings.Join(d.Main, ", "))), "takes "+d.Takes())
		for _, s := range d.Sessions {
			mark := "fits"
			if !s.Fits {
				mark = "look"
			}
			p.wrapped(fmt.Sprintf("           %s  %s: ", mark, shown(s.Name)), shown(s.Why))
		}
	}
	for _, f := range w.Flags {
		p.wrapped("flag  ", f.Day.Format("Mon 02 Jan")+": "+shown(f.Text))
	}
	for _, s := range w.Suggestions {
		p.wrapped("try   ", fmt.Sprintf("%s on %s: %s", shown(s.Session.Name), s.Day.Date.Format("Mon 02 Jan"), shown(s.Why)))
	}
	for _, r := range w.retest {
		p.wrapped("test  ", shown(r))
	}
	if !w.NextLighter.IsZero() {
		p.line("next lighter week: %s", w.NextLighter.Format(time.DateOnly))
	}
	p.line("")
	for _, who := range w.past.Names() {
		t := review.TrainingOf(w.past.Days(who, w.Monday.AddDate(0, 0, 6), 7))
		p.line("%s %s", cell(shown(who), 16), t.String())
	}
	p.line("Session load of the week; %s.", review.SDNote)
	p.wrapped("", review.Critique)
	return p.String()
}

// weekJSON is the week as JSON.
type weekJSON struct {
	Monday      string         `json:"monday"`
	Lighter     bool           `json:"lighter"`
	Days        []dayJSON      `json:"days"`
	Flags       []flagJSON     `json:"flags"`
	Suggestions []flagJSON     `json:"suggestions"`
	NextLighter string         `json:"next_lighter,omitempty"`
	Retest      []string       `json:"retest"`
	Loads       []weekLoadJSON `json:"loads"`
}

// weekLoadJSON is a person's session load of the week; null where all days are alike.
type weekLoadJSON struct {
	Athlete  string   `json:"athlete"`
	Load     float64  `json:"load"`
	Monotony *float64 `json:"monotony"`
	Strain   *float64 `json:"strain"`
}

type dayJSON struct {
	Day      string       `json:"day"`
	Main     []string     `json:"main"`
	Takes    string       `json:"takes"`
	Sessions []placedJSON `json:"sessions"`
}

type placedJSON struct {
	Session string `json:"session"`
	Fits    bool   `json:"fits"`
	Why     string `json:"why"`
}

type flagJSON struct {
	Day     string `json:"day"`
	Session string `json:"session,omitempty"`
	Text    string `json:"text"`
}

func newWeekJSON(w *weekPlan) weekJSON {
	out := weekJSON{Monday: w.Monday.Format(time.DateOnly), Lighter: w.Lighter, Days: []dayJSON{}, Flags: []flagJSON{}, Suggestions: []flagJSON{}, Retest: append([]string{}, w.retest...), Loads: []weekLoadJSON{}}
	if !w.NextLighter.IsZero() {
		out.NextLighter = w.NextLighter.Format(time.DateOnly)
	}
	for _, who := range w.past.Names() {
		t := review.TrainingOf(w.past.Days(who, w.Monday.AddDate(0, 0, 6), 7))
		out.Loads = append(out.Loads, weekLoadJSON{who, t.Load, t.Monotony, t.Strain})
	}
	for _, d := range w.Days {
		day := dayJSON{Day: d.Date.Format(time.DateOnly), Main: append([]string{}, d.Main...), Takes: d.Takes(), Sessions: []placedJSON{}}
		for _, s := range d.Sessions {
			day.Sessions = append(day.Sessions, placedJSON{s.Name, s.Fits, s.Why})
		}
		out.Days = append(out.Days, day)
	}
	for _, f := range w.Flags {
		out.Flags = append(out.Flags, flagJSON{Day: f.Day.Format(time.DateOnly), Text: f.Text})
	}
	for _, s := range w.Suggestions {
		out.Suggestions = append(out.Suggestions, flagJSON{Day: s.Day.Date.Format(time.DateOnly), Session: s.Session.Name, Text: s.Why})
	}
	return out
}
