package week

import (
	"slices"
	"time"

	"hawser/internal/review"
	"hawser/internal/session"
)

// Facts is what a week is made from.
type Facts struct {
	File         *File
	Sessions     []*session.Session   // all of the home
	Monday       time.Time            // midnight UTC of the day
	LighterEvery int                  // weeks; 0: never
	LastRun      map[string]time.Time // by session: when it was run last
	Efforts      []Effort             // lately logged
}

// Effort is how hard one day was for one person, 0–10, the hardest of the day.
type Effort struct {
	Who    string
	Day    time.Time // midnight UTC of the day
	Effort float64
}

// Page is one week.
type Page struct {
	Monday      time.Time
	Lighter     bool
	NextLighter time.Time // Monday of the next lighter week after this one; zero: there are none
	Days        []DayPlan // in the order of the week
	Flags       []Flag
	Suggestions []Suggestion
}

// DayPlan is one [[day]] on its date.
type DayPlan struct {
	Day
	Date     time.Time // midnight UTC of the day
	Sessions []Placed
}

// Placed is one chosen session. Session is nil where the home has none of that name.
type Placed struct {
	Name    string
	Session *session.Session
	Fits    bool
	Why     string        // why it fits that day, or not
	Lasts   time.Duration // as the board has it; 0: not known
}

// Suggestion is a session that would fill an empty day.
type Suggestion struct {
	Day     DayPlan
	Session *session.Session
	Why     string
}

// Make fits a week together.
func Make(f Facts) Page {
	p := Page{Monday: f.Monday, Lighter: review.LighterWeek(f.File.BlockStarts, f.Monday, f.LighterEvery)}
	for n := 1; n <= f.LighterEvery && p.NextLighter.IsZero(); n++ {
		if later := f.Monday.AddDate(0, 0, 7*n); review.LighterWeek(f.File.BlockStarts, later, f.LighterEvery) {
			p.NextLighter = later
		}
	}
	for _, d := range f.File.Days {
		p.Days = append(p.Days, f.place(d))
	}
	slices.SortStableFunc(p.Days, func(a, b DayPlan) int { return a.begins().Compare(b.begins()) })
	p.Flags = flags(p.Days, f.Efforts)
	p.Suggestions = f.suggest(&p)
	return p
}

// place puts a day on its date and judges what was chosen for it.
func (f *Facts) place(d Day) DayPlan {
	sinceMonday := (int(d.Weekday) + 6) % 7
	plan := DayPlan{Day: d, Date: f.Monday.AddDate(0, 0, sinceMonday)}
	for _, name := range d.Pull {
		at := slices.IndexFunc(f.Sessions, func(s *session.Session) bool { return s.Name == name })
		if at < 0 {
			plan.Sessions = append(plan.Sessions, Placed{Name: name, Why: "no session of that name"})
			continue
		}
		s := f.Sessions[at]
		ok, why := fits(d.Main, s)
		plan.Sessions = append(plan.Sessions, Placed{Name: name, Session: s, Fits: ok, Why: why})
	}
	return plan
}

// begins is when the day's training begins; noon where that is not written.
func (d *DayPlan) begins() time.Time {
	if d.At == 0 {
		return d.Date.Add(12 * time.Hour)
	}
	return d.Date.Add(d.At)
}

// suggest looks for the session that fits each empty day best: one that raises no
// flag there, the longest not run, each at most once a week.
func (f *Facts) suggest(p *Page) []Suggestion {
	var all []Suggestion
	taken := map[string]bool{}
	for _, d := range p.Days {
		for _, s := range d.Sessions {
			taken[s.Name] = true
		}
	}
	for i := range p.Days {
		if len(p.Days[i].Pull) > 0 {
			continue
		}
		var best *session.Session
		why := ""
		for _, s := range f.Sessions {
			ok, reason := fits(p.Days[i].Main, s)
			if !ok || taken[s.Name] || len(flags(with(p.Days, i, s), f.Efforts)) > len(p.Flags) {
				continue
			}
			if best == nil || f.LastRun[s.Name].Before(f.LastRun[best.Name]) {
				best, why = s, reason
			}
		}
		if best == nil {
			continue
		}
		taken[best.Name] = true
		all = append(all, Suggestion{Day: p.Days[i], Session: best, Why: why + f.lately(best, p.Days[i].Date)})
	}
	return all
}

// with returns the days with one more session on day i.
func with(days []DayPlan, i int, s *session.Session) []DayPlan {
	days = slices.Clone(days)
	days[i].Sessions = append(slices.Clone(days[i].Sessions), Placed{Name: s.Name, Session: s})
	return days
}

// lately says when a session was run last.
func (f *Facts) lately(s *session.Session, day time.Time) string {
	last, ok := f.LastRun[s.Name]
	if !ok {
		return "; not run yet"
	}
	days := int(day.Sub(last).Hours() / 24)
	return "; last run " + plural(days, "day") + " before"
}
