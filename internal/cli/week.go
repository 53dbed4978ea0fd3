package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"time"

	"github.com/spf13/cobra"

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
			plan, err := h.week(monday(day))
			if err != nil {
				return err
			}
			switch {
			case asCalendar:
				h.timeSessions(&plan.Page)
				_, err = cmd.OutOrStdout().Write(week.Calendar([]week.Page{plan.Page}, time.Now()))
			case asJSON:
				return printJSON(cmd.OutOrStdout(), newWeekJSON(plan))
			default:
				_, err = io.WriteString(cmd.OutOrStdout(), plan.text())
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

// weekPlan is a week with what the logs say beside it.
type weekPlan struct {
	week.Page
	past   *review.History
	retest []string // whose max is likely to be too low by now, and why
}

// week plans the week of a Monday from week.toml, the sessions and the logs.
func (h *home) week(start time.Time) (*weekPlan, error) {
	file, err := parse(h, "week.toml", week.Parse)
	if errors.Is(err, fs.ErrNotExist) {
		file, err = &week.File{}, nil
	}
	if err != nil {
		return nil, err
	}
	f := week.Facts{File: file, Monday: start, LighterEvery: h.house.LighterEvery, LastRun: map[string]time.Time{}}
	for _, name := range h.sessions() {
		one, err := parse(h, "sessions/"+name+".toml", session.Parse)
		if err != nil {
			return nil, err
		}
		f.Sessions = append(f.Sessions, one)
	}
	past := h.history()
	if past == nil {
		past = review.NewHistory(nil)
	}
	for _, who := range past.Names() {
		for _, movement := range past.Movements(who) {
			for _, p := range past.Points(who, movement) {
				if p.Of.Wall.After(f.LastRun[p.Of.Session]) {
					f.LastRun[p.Of.Session] = p.Of.Wall
				}
			}
		}
	}
	f.Efforts = efforts(past, start)
	p := &weekPlan{Page: week.Make(f), past: past}
	for _, d := range p.Days {
		for _, one := range d.Sessions {
			if _, ran := f.LastRun[one.Name]; ran {
				p.retest = append(p.retest, h.retests(past, one.Name)...)
			}
		}
	}
	slices.Sort(p.retest)
	p.retest = slices.Compact(p.retest)
	return p, nil
}

// timeSessions says how long each session of a week lasts, where it has a board.
func (h *home) timeSessions(p *week.Page) {
	for i := range p.Days {
		for k := range p.Days[i].Sessions {
			one := &p.Days[i].Sessions[k]
			if plan, err := h.plan(one.Name, nil); err == nil {
				one.Lasts = plan.board.Length()
			}
		}
	}
}

// retests names those whose max the newest run of a session calls too low.
func (h *home) retests(past *review.History, session string) []string {
	log := h.lastLog(past, session, "")
	if log == nil {
		return nil
	}
	var all []string
	report := h.answered(log)
	for i := range report.Parts {
		for k := range report.Parts[i].Athletes {
			a := &report.Parts[i].Athletes[k]
			if a.Next != nil && a.Next.Retest {
				all = append(all, a.Name+", "+a.Rounds[len(a.Rounds)-1].Movement+": "+a.Next.Why)
			}
		}
	}
	return all
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
