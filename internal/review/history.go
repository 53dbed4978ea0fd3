package review

import (
	"cmp"
	"iter"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"hawser/internal/measure"
)

// History answers for many runs: out of a cache, from which it takes what it is asked
// for. It is made once and then only read.
type History struct {
	cache *Cache
	runs  []*Summary                 // in the order of time
	mute  []string                   // by ULID
	last  map[string]time.Time       // when each session was run last
	loads map[string]map[int]float64 // by person: session load by day
	hard  map[string]map[int]float64 // by person: the hardest effort by day
}

// subject is what a person's runs are gathered under.
type subject struct{ who, movement string }

// Point is one line with the run that it is from.
type Point struct {
	Line
	Of *Summary
}

// NewHistory answers for those runs.
func NewHistory(all []Summary) *History {
	files := make([]Cached, len(all))
	for i := range all {
		files[i].Summary = all[i]
	}
	c, _ := NewCache(files)
	return c.History()
}

// History answers from what the cache says.
func (c *Cache) History() *History {
	h := &History{cache: c, last: map[string]time.Time{}, loads: map[string]map[int]float64{}, hard: map[string]map[int]float64{}}
	for i := range c.Files {
		s := &c.Files[i].Summary
		if s.Wall.IsZero() {
			h.mute = append(h.mute, s.Run)
			continue
		}
		h.runs = append(h.runs, s)
		h.last[s.Session] = s.Wall
		day := dayNumber(s.Wall)
		for _, e := range s.Efforts {
			h.effort(e, day)
		}
	}
	return h
}

// inTime returns each run once, in the order of time.
func inTime(all []Cached) []*Cached {
	order := make([]*Cached, 0, len(all))
	at := make(map[string]int, len(all))
	for i := range all {
		c := &all[i]
		k, have := at[c.Run]
		switch {
		case !have:
			at[c.Run] = len(order)
			order = append(order, c)
		case c.splits() > order[k].splits():
			order[k] = c
		}
	}
	slices.SortFunc(order, func(a, b *Cached) int {
		return cmp.Or(a.Wall.Compare(b.Wall), strings.Compare(a.Run, b.Run))
	})
	return order
}

func (s *Summary) splits() int {
	n := 0
	for i := range s.Lines {
		n += s.Lines[i].Splits.Len()
	}
	return n
}

func (h *History) effort(e Effort, day int) {
	if h.loads[e.Who] == nil {
		h.loads[e.Who], h.hard[e.Who] = map[int]float64{}, map[int]float64{}
	}
	h.hard[e.Who][day] = max(h.hard[e.Who][day], e.Effort)
	h.loads[e.Who][day] += SessionLoad(e.Effort, time.Duration(e.Minutes*float64(time.Minute)))
}

// dayNumber numbers a day on the calendar of the place where the run was.
func dayNumber(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Runs returns how many different runs there are.
func (h *History) Runs() int { return len(h.runs) }

// Summaries returns the runs in the order of time.
func (h *History) Summaries() []*Summary { return h.runs }

// People is how many of a run did anything.
func (s *Summary) People() int { return s.people }

// Mute returns the runs that do not say what was run: their first line is gone, or
// was never whole.
func (h *History) Mute() []string { return h.mute }

// LastRuns returns when each session was run last, by its name.
func (h *History) LastRuns() map[string]time.Time { return h.last }

// Names returns everybody who ever pulled, in order.
func (h *History) Names() []string {
	seen := map[string]bool{}
	for _, key := range h.cache.order {
		seen[key.who] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// Movements returns what somebody ever pulled, in order.
func (h *History) Movements(who string) []string {
	var all []string
	for _, key := range h.cache.order {
		if key.who == who {
			all = append(all, key.movement)
		}
	}
	slices.Sort(all)
	return all
}

// Points returns somebody's lines of one movement in the order of time.
func (h *History) Points(who, movement string) []Point {
	return slices.Collect(h.each(who, movement))
}

// each returns somebody's lines of one movement in the order of time.
func (h *History) each(who, movement string) iter.Seq[Point] {
	s := subject{who, movement}
	return func(yield func(Point) bool) {
		for rows := h.cache.lines[s]; len(rows) > 0; {
			if !yield(h.cache.point(s, rows.cut(lineSize))) {
				return
			}
		}
	}
}

// back returns somebody's lines of one movement, the newest first.
func (h *History) back(who, movement string) iter.Seq[Point] {
	s := subject{who, movement}
	return func(yield func(Point) bool) {
		rows := h.cache.lines[s]
		for at := len(rows) - lineSize; at >= 0; at -= lineSize {
			if !yield(h.cache.point(s, rows[at:])) {
				return
			}
		}
	}
}

// Heaviest implements [load.Past]. Every load that was pulled through counts.
func (h *History) Heaviest(athlete, movement string) (measure.Mass, bool) {
	heaviest := measure.Mass(0)
	for p := range h.each(athlete, movement) {
		heaviest = max(heaviest, p.Moves)
	}
	return heaviest, heaviest > 0
}

// Median implements [load.Past]: of the splits over that distance at a load within
// 10 %, from the newest dozen of lines that have one.
func (h *History) Median(athlete, movement string, total measure.Mass, distance measure.Distance) (time.Duration, bool) {
	var splits []float64
	lines := 0
	for p := range h.back(athlete, movement) {
		if p.Distance != distance || 10*max(p.Moves-total, total-p.Moves) > total || p.Splits.Len() == 0 {
			continue
		}
		if lines++; lines > 12 {
			break
		}
		for ms := range p.Splits.All() {
			splits = append(splits, float64(ms))
		}
	}
	if len(splits) == 0 {
		return 0, false
	}
	return time.Duration(math.Round(quantile(splits, 0.5))) * time.Millisecond, true
}

// Bests returns the heaviest load somebody pulled of a movement for each set of
// tags: a best never stands for another distance, layout or surface.
func (h *History) Bests(who, movement string) []Point {
	type tags struct {
		distance        measure.Distance
		layout, surface string
	}
	best := map[tags]Point{}
	for p := range h.each(who, movement) {
		key := tags{p.Distance, p.Layout, p.Surface}
		if have, ok := best[key]; !ok || p.Moves > have.Moves {
			best[key] = p
		}
	}
	return slices.SortedFunc(maps.Values(best), func(a, b Point) int {
		return cmp.Or(-cmp.Compare(a.Moves, b.Moves), cmp.Compare(a.Distance, b.Distance), strings.Compare(a.Layout, b.Layout), strings.Compare(a.Surface, b.Surface))
	})
}

// LastTime returns the newest line before that instant that may be compared with l:
// the same person, movement, distance, surface and layout; false where there is none.
func (h *History) LastTime(l *Line, before time.Time) (Point, bool) {
	before = before.Truncate(time.Millisecond) // as a history has the times of its runs
	for p := range h.back(l.Who, l.Movement) {
		if p.Of.Wall.Before(before) && p.Distance == l.Distance && p.Surface == l.Surface && p.Layout == l.Layout {
			return p, true
		}
	}
	return Point{}, false
}

// Typical is the median of a line's splits, 0 where it has none.
func (l *Line) Typical() time.Duration {
	if l.Splits.Len() == 0 {
		return 0
	}
	xs := make([]float64, 0, l.Splits.Len())
	for ms := range l.Splits.All() {
		xs = append(xs, float64(ms))
	}
	return time.Duration(math.Round(quantile(xs, 0.5))) * time.Millisecond
}

// Against says how a line went beside an earlier one, by the median split: "0:01.2
// faster than last time, with 5 kg more".
func (l *Line) Against(then *Line, st measure.Style) string {
	said := "as fast as last time"
	switch d := (l.typical() - then.typical()).Round(100 * time.Millisecond); { // as it is shown
	case l.typical() == 0 || then.typical() == 0:
		said = "no times to compare with last time"
	case d < 0:
		said = st.Split(-d) + " faster than last time"
	case d > 0:
		said = st.Split(d) + " slower than last time"
	}
	switch more := l.Moves - then.Moves; {
	case more > 0:
		return said + ", with " + st.Mass(more) + " more"
	case more < 0:
		return said + ", with " + st.Mass(-more) + " less"
	}
	return said + ", with the same load"
}

// Days returns the session loads of the n days up to and with the day of t, rest
// days as 0.
func (h *History) Days(who string, t time.Time, n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = h.loads[who][dayNumber(t)-n+1+i]
	}
	return all
}

// Effort returns the hardest effort of a person on the day of t, false where none
// was given.
func (h *History) Effort(who string, t time.Time) (float64, bool) {
	e, ok := h.hard[who][dayNumber(t)]
	return e, ok
}
