package review

import (
	"fmt"
	"iter"
	"math"
	"strconv"
	"time"

	"hawser/internal/measure"
)

// Mark is one run on a person's course over the months: the heaviest load of a
// movement that day, with the share and the fade that went with it.
type Mark struct {
	Wall  time.Time
	Moves measure.Mass
	Share float64 // per cent; NaN: not known
	Fade  float64 // per cent; NaN: not known
}

// Marks returns a mark for every run in which somebody pulled a movement, in the
// order of time.
func (h *History) Marks(who, movement string) iter.Seq[Mark] {
	return func(yield func(Mark) bool) {
		var m Mark
		var of *Summary
		for p := range h.each(who, movement) {
			if p.Of != of {
				if of != nil && !yield(m) {
					return
				}
				m, of = Mark{Wall: p.Of.Wall, Share: math.NaN(), Fade: math.NaN()}, p.Of
			}
			if p.Moves >= m.Moves {
				m = Mark{Wall: m.Wall, Moves: p.Moves, Share: p.Share, Fade: p.Fade}
			}
		}
		if of != nil {
			yield(m)
		}
	}
}

// Trend is the change of the load over time, in kilograms a week, by least
// squares; nil with fewer than three runs or all of them at one instant.
func Trend(course []Mark) *float64 {
	if len(course) < 3 || course[len(course)-1].Wall.Equal(course[0].Wall) {
		return nil
	}
	var weeks, loads []float64
	for _, m := range course {
		weeks = append(weeks, m.Wall.Sub(course[0].Wall).Hours()/(24*7))
		loads = append(loads, m.Moves.KG())
	}
	_, perWeek := slope(weeks, loads)
	return &perWeek
}

// Trending says a course in one plain sentence.
func Trending(course []Mark, st measure.Style) string {
	perWeek := Trend(course)
	if perWeek == nil {
		return "Too few classes to tell which way the load goes."
	}
	span := fmt.Sprintf("over %s, by least squares.", strconv.Itoa(len(course))+" classes")
	switch change := measure.Mass(math.Round(*perWeek * float64(measure.Kilogram))); {
	case st.MassFigure(max(change, -change)) == st.MassFigure(0):
		return "The load stays as it is " + span
	case change > 0:
		return "The load rises by " + st.Mass(change) + " a week " + span
	default:
		return "The load falls by " + st.Mass(-change) + " a week " + span
	}
}

// Weeks returns the session loads of the n weeks up to and with that of t, Monday
// to Sunday, each day's with rest days as 0.
func (h *History) Weeks(who string, t time.Time, n int) [][]float64 {
	sunday := t.AddDate(0, 0, (7-int(t.Weekday()))%7)
	weeks := make([][]float64, n)
	for i := range weeks {
		weeks[i] = h.Days(who, sunday.AddDate(0, 0, -7*(n-1-i)), 7)
	}
	return weeks
}
