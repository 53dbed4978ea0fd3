package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hawser/internal/history"
	"hawser/internal/review"
	"hawser/internal/session"
	"hawser/internal/week"
)

func (s *shell) weekCommand() *cobra.Command {
	var asJSON, asCalendar bool
	var of string
	cmd := &cobra.Command{
		Use:   "week",
		Short: "Pulls fitted into the week's lifts, and what stands too close",
		Long: "Which pull fits which day by the pattern of its main lifts, what is heavy too soon after\n" +
			"something heavy, lighter weeks, and sessions that fit the empty places.",
		Example: "hawser week\nhawser week --of 2026-11-23\nhawser week --ics > week.ics",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			h, err := s.open("")
			if err != nil {
				return err
			}
			day := time.Now()
			if of != "" {
				if day, err = time.Parse(time.DateOnly, of); err != nil {
					return usage(fmt.Errorf("--of %q is no day; write it as 2026-11-23", shown(of)))
				}
			}
			page, past, err := h.week(monday(day))
			if err != nil {
				return err
			}
			switch {
			case asCalendar:
				_, err = cmd.OutOrStdout().Write(week.Calendar([]week.Page{page}, time.Now()))
			case asJSON:
				return printJSON(cmd.OutOrStdout(), newWeekJSON(page))
			default:
				_, err = io.WriteString(cmd.OutOrStdout(), weekText(page, past))
			}
			if err != nil {
				return fmt.Errorf("print the week: %w", err)
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the week as JSON")
	cmd.Flags().BoolVar(&asCalendar, "ics", false, "print it as iCalendar")
	cmd.Flags().StringVar(&of, "of", "", "any day of the week that is meant (default today)")
	return cmd
}

// monday is midnight UTC of the Monday of t's week.
func monday(t time.Time) time.Time {
	day := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
	return day.AddDate(0, 0, -(int(day.Weekday())+6)%7)
}

// week plans the week of a Monday from week.toml, the sessions and the logs.
func (h *home) week(start time.Time) (week.Page, *review.History, error) {
	file, err := parse(h, "week.toml", week.Parse)
	if errors.Is(err, fs.ErrNotExist) {
		file, err = &week.File{}, nil
	}
	if err != nil {
		return week.Page{}, nil, err
	}
	f := week.Facts{File: file, Monday: start, LighterEvery: h.house.LighterEvery, LastRun: map[string]time.Time{}}
	for _, name := range h.sessions() {
		one, err := parse(h, "sessions/"+name+".toml", session.Parse)
		if err != nil {
			return week.Page{}, nil, err
		}
		f.Sessions = append(f.Sessions, one)
	}
	past, _, err := history.Read(h.logs, nil)
	if err != nil {
		past = review.NewHistory(nil)
	}
	f.Efforts = efforts(past, start)
	return week.Make(f), past, nil
}

// efforts are those of the fortnight before a week ends.
func efforts(past *review.History, start time.Time) []week.Effort {
	var out []week.Effort
	for day := start.AddDate(0, 0, -7); day.Before(start.AddDate(0, 0, 7)); day = day.AddDate(0, 0, 1) {
		for _, who := range past.Names() {
			if e, ok := past.Effort(who, day); ok {
				out = append(out, week.Effort{Who: who, Day: day, Effort: e})
			}
		}
	}
	return out
}

// weekText is the week as a page.
func weekText(w week.Page, past *review.History) string {
	var p page
	head := "WEEK OF " + w.Monday.Format(time.DateOnly)
	if w.Lighter {
		head += "  a lighter week: rounds x 0.6, the same loads"
	}
	p.line("%s", head)
	p.rule()
	for _, d := range w.Days {
		p.line("%-10s %s", d.Date.Format("Mon 02 Jan"), strings.Join(d.Main, ", "))
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
	p.line("")
	for _, who := range past.Names() {
		t := review.TrainingOf(past.Days(who, w.Monday.AddDate(0, 0, 6), 7))
		p.line("%s %s", cell(shown(who), 16), t.String())
	}
	p.line("Session load of the week; %s.", review.SDNote)
	p.wrapped("", review.Critique)
	return p.String()
}

// weekJSON is the week as JSON.
type weekJSON struct {
	Monday      string     `json:"monday"`
	Lighter     bool       `json:"lighter"`
	Days        []dayJSON  `json:"days"`
	Flags       []flagJSON `json:"flags"`
	Suggestions []flagJSON `json:"suggestions"`
}

type dayJSON struct {
	Day      string       `json:"day"`
	Main     []string     `json:"main"`
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

func newWeekJSON(w week.Page) weekJSON {
	out := weekJSON{Monday: w.Monday.Format(time.DateOnly), Lighter: w.Lighter, Days: []dayJSON{}, Flags: []flagJSON{}, Suggestions: []flagJSON{}}
	for _, d := range w.Days {
		day := dayJSON{Day: d.Date.Format(time.DateOnly), Main: append([]string{}, d.Main...), Sessions: []placedJSON{}}
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
