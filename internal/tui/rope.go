package tui

import (
	"time"

	"hawser/internal/floor"
)

// Rope draws one person's rope into row y of r: time runs to the right over a
// span, taut while they pull, slack while they rest, a knot where a round ended.
// What lies after now is blank.
func (p *Page) Rope(r Rect, y int, rounds []floor.Round, s Span, now time.Duration, g *signs) {
	p.rope(r, y, rounds, span{s.From, s.To, now}, g, inkOf)
}

// FaintRope is Rope in the ink of what can wait: last time's knots.
func (p *Page) FaintRope(r Rect, y int, rounds []floor.Round, s Span, g *signs) {
	p.rope(r, y, rounds, span{s.From, s.To, s.To}, g, func(*floor.Round) Ink { return Dim })
}

// span is the time a rope is drawn to, and how far it has come.
type span struct{ from, to, now time.Duration }

// column is where an instant lies on a rope of w columns.
func (s span) column(t time.Duration, w int) int {
	if s.to <= s.from {
		return 0
	}
	return min(w-1, max(0, int(int64(t-s.from)*int64(w)/int64(s.to-s.from))))
}

func (p *Page) rope(r Rect, y int, rounds []floor.Round, s span, g *signs, ink func(*floor.Round) Ink) {
	if r.W < 2 || y >= r.H {
		return
	}
	last := -1 // column up to which the rope has been laid
	for i := range rounds {
		q := &rounds[i]
		if q.Starts == floor.None || q.Starts > s.now {
			continue
		}
		a, end := s.column(q.Starts, r.W), ended(q, s.now)
		b := s.column(end, r.W)
		if last >= 0 {
			for x := last + 1; x < a; x++ {
				p.put(r.X+x, r.Y+y, g.slack, Dim)
			}
		}
		if pulled(q) {
			for x := max(a, last+1); x <= b; x++ {
				p.put(r.X+x, r.Y+y, g.taut, ink(q))
			}
		} else {
			b = a
		}
		if q.State != floor.Open || end < s.now {
			p.put(r.X+b, r.Y+y, knot(q, g), ink(q))
		} else {
			p.put(r.X+b, r.Y+y, g.working, ink(q))
		}
		last = max(last, b)
	}
	if last < 0 {
		return
	}
	for x := last + 1; x <= s.column(s.now, r.W); x++ {
		p.put(r.X+x, r.Y+y, g.slack, Dim)
	}
}

// ended is where a round's stretch of rope stops, at now.
func ended(q *floor.Round, now time.Duration) time.Duration {
	switch {
	case q.Ends != floor.None:
		return min(q.Ends, now)
	case q.State == floor.Open:
		return now
	case q.Work != floor.None:
		return min(q.Starts+q.Work, now)
	}
	return q.Starts
}

// pulled reports whether a round has a stretch of rope to draw.
func pulled(q *floor.Round) bool {
	switch q.State {
	case floor.SatOut, floor.NotHere, floor.NoPress, floor.LeftRound:
		return false
	}
	return q.Ends != floor.None || q.State == floor.Open || q.Work > 0
}

// knot is the shape of a round's end.
func knot(q *floor.Round, g *signs) string {
	switch {
	case q.State == floor.LateRound:
		return g.late
	case q.State == floor.SatOut || q.State == floor.NotHere || q.State == floor.LeftRound:
		return g.out
	case q.State == floor.StruckOut || q.State == floor.Missed:
		return g.missed
	case q.State == floor.NoPress:
		return g.unpressed
	case q.State == floor.DoneNoTime:
		return g.noTime
	case q.ByHand:
		return g.byHand
	}
	return g.knot
}

// inkOf is the ink of a round.
func inkOf(q *floor.Round) Ink {
	switch q.State {
	case floor.LateRound, floor.Missed, floor.Capped:
		return Stopped
	case floor.NoPress, floor.SatOut:
		return Warn
	case floor.Open:
		return Work
	case floor.NotHere, floor.LeftRound, floor.StruckOut:
		return Dim
	}
	return Rest
}
