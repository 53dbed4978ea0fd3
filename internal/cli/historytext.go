package cli

import (
	"math"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"hawser/internal/measure"
	"hawser/internal/review"
	"hawser/internal/roster"
)

// historyPage is a history as plain text in 80 columns.
type historyPage struct {
	page
	past   *review.History
	roster *roster.Roster
	style  measure.Style
	dot    string // a mark of a chart
}

// everyone is a line for each person and movement.
func (p *historyPage) everyone() string {
	p.line("%-12s %-20s %4s  %-21s  %s", "who", "movement", "runs", "from, to", "load then, now")
	p.rule()
	for _, who := range p.past.Names() {
		for _, movement := range p.past.Movements(who) {
			runs, first, last := 0, review.Mark{}, review.Mark{}
			for m := range p.past.Marks(who, movement) {
				if runs++; runs == 1 {
					first = m
				}
				last = m
			}
			p.line("%s %s %4d  %s %s  %s, %s", cell(shown(who), 12), cell(shown(movement), 20), runs,
				first.Wall.Format(time.DateOnly), last.Wall.Format(time.DateOnly), p.style.Mass(first.Moves), p.style.Mass(last.Moves))
		}
	}
	p.line("")
	p.line("hawser history NAME draws one person's months.")
	return p.String()
}

// person is one person's months: charts, bests with their tags, the newest classes,
// and the session loads of the last weeks.
func (p *historyPage) person(who string) string {
	p.line("%s", strings.ToUpper(shown(who)))
	p.rule()
	if p.roster.Find(who) == nil {
		p.wrapped("", shown(who)+" stands in the logs and not in roster.toml. Logs keep the name of their day: "+
			"whoever was renamed has two histories.")
		p.line("")
	}
	newest := time.Time{}
	for _, movement := range p.past.Movements(who) {
		course := slices.Collect(p.past.Marks(who, movement))
		for i := range course {
			newest = latest(newest, course[i].Wall)
		}
		p.movement(who, movement, course)
	}
	p.weeks(who, newest)
	return p.String()
}

// latest is the one of the later day, by the calendar of the place of each.
func latest(a, b time.Time) time.Time {
	if a.Format(time.DateOnly) > b.Format(time.DateOnly) {
		return a
	}
	return b
}

func (p *historyPage) movement(who, movement string, course []review.Mark) {
	p.line("%s, %s", shown(who), shown(movement))
	p.wrapped("  ", review.Trending(course, p.style))
	if len(course) >= 3 {
		p.charts(course)
	}
	for _, b := range p.past.Bests(who, movement) {
		tags := []string{p.style.Mass(b.Moves)}
		if b.Distance > 0 {
			tags = append(tags, p.style.Distance(b.Distance))
		}
		for _, tag := range []string{b.Layout, b.Surface} {
			if tag != "" {
				tags = append(tags, shown(tag))
			}
		}
		p.wrapped("  best        ", strings.Join(append(tags, "on "+shown(b.On), b.Of.Wall.Format(time.DateOnly)), ", "))
	}
	points := p.past.Points(who, movement)
	if over := len(points) - mostLines; over > 0 {
		p.line("  %d lines before these: --csv and --json have all", over)
		points = points[over:]
	}
	for _, at := range points {
		p.line("  %s  %-14s %9s  %6s x %-3d %s", at.Of.Wall.Format(time.DateOnly), cell(shown(at.Of.Session), 14),
			p.style.Mass(at.Moves), p.style.Split(at.Typical()), at.Splits.Len(), fadeOf(at, p.style))
	}
	p.line("")
}

// Measures of a page.
const (
	mostLines  = 12 // of one movement
	mostWeeks  = 8
	chartLeft  = 14 // columns of the words beside a chart
	chartWidth = columns - chartLeft - 2
)

// charts draws load, share and fade over one time line.
func (p *historyPage) charts(course []review.Mark) {
	load := func(m *review.Mark) float64 { return m.Moves.KG() }
	share := func(m *review.Mark) float64 { return m.Share }
	fade := func(m *review.Mark) float64 { return m.Fade }
	percents := func(x float64) string { return percent(p.style, x) }
	p.chart("load", 6, course, load, func(x float64) string { return p.style.Mass(measure.Mass(math.Round(x * float64(measure.Kilogram)))) })
	p.chart("work", 4, course, share, percents)
	p.chart("fade", 4, course, fade, percents)
	p.months(course)
}

// chart draws one figure of every mark, most at the top. Marks without it are left
// out; a figure that hardly any has draws nothing.
func (p *historyPage) chart(name string, rows int, course []review.Mark, of func(*review.Mark) float64, label func(float64) string) {
	least, most, known := math.Inf(1), math.Inf(-1), 0
	for i := range course {
		if x := of(&course[i]); !math.IsNaN(x) {
			least, most, known = min(least, x), max(most, x), known+1
		}
	}
	if known < 3 {
		return
	}
	if most == least {
		rows = 1
	}
	grid := make([][]string, rows)
	for y := range grid {
		grid[y] = strings.Split(strings.Repeat(" ", chartWidth), "")
	}
	for i := range course {
		if x := of(&course[i]); !math.IsNaN(x) {
			y := 0
			if rows > 1 {
				y = int(math.Round((most - x) / (most - least) * float64(rows-1)))
			}
			grid[y][column(course, i)] = p.dot
		}
	}
	for y := range grid {
		word, value := "", ""
		switch y {
		case 0:
			word, value = name, label(most)
		case rows - 1:
			value = label(least)
		}
		p.line("  %-4s %*s|%s", word, chartLeft-8, pad(value, chartLeft-8), strings.Join(grid[y], ""))
	}
}

// pad puts a value to the right of w columns.
func pad(value string, w int) string {
	return strings.Repeat(" ", max(0, w-ansi.StringWidth(value))) + value
}

// column is where a mark stands: days to the right.
func column(course []review.Mark, i int) int {
	from, to := course[0].Wall, course[len(course)-1].Wall
	if !to.After(from) {
		return 0
	}
	return int(float64(chartWidth-1) * float64(course[i].Wall.Sub(from)) / float64(to.Sub(from)))
}

// months writes the time line under the charts: a month's name where it begins,
// the years where the months have no room.
func (p *historyPage) months(course []review.Mark) {
	from, to := course[0].Wall, course[len(course)-1].Wall
	line := []rune(strings.Repeat(" ", chartWidth))
	free := 0
	put := func(at time.Time, text string) {
		x := 0
		if to.After(from) {
			x = int(float64(chartWidth-1) * float64(max(0, at.Sub(from))) / float64(to.Sub(from)))
		}
		if x >= free && x+len(text) <= chartWidth {
			copy(line[x:], []rune(text))
			free = x + len(text) + 1
		}
	}
	put(from, from.Format("Jan 2006"))
	for at := time.Date(from.Year(), from.Month()+1, 1, 0, 0, 0, 0, from.Location()); !at.After(to); at = at.AddDate(0, 1, 0) {
		if long := to.Sub(from) > 2*365*24*time.Hour; long && at.Month() == time.January {
			put(at, at.Format("2006"))
		} else if !long {
			put(at, at.Format("Jan"))
		}
	}
	p.line("  %s%s", strings.Repeat(" ", chartLeft-2), strings.TrimRight(string(line), " "))
}

// weeks prints the session loads of the weeks up to that of t, where there are any.
func (p *historyPage) weeks(who string, t time.Time) {
	weeks := p.past.Weeks(who, t, mostWeeks)
	most := 0.0
	for _, week := range weeks {
		most = max(most, review.TrainingOf(week).Load)
	}
	if most == 0 {
		p.line("No effort was given in the last %d weeks, so there is no session load.", mostWeeks)
		return
	}
	p.wrapped("", "Session load (effort x minutes) by weeks from Monday; "+review.SDNote+".")
	sunday, begun := t.AddDate(0, 0, (7-int(t.Weekday()))%7), false
	for i, week := range weeks {
		training := review.TrainingOf(week)
		if begun = begun || training.Load > 0; !begun {
			continue
		}
		bar := strings.Repeat("#", int(math.Round(20*training.Load/most)))
		monday := sunday.AddDate(0, 0, -6-7*(mostWeeks-1-i))
		p.line("  %s  %-20s %s", monday.Format(time.DateOnly), bar, training)
	}
}
