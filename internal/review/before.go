package review

import (
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Before is how a group of rounds went beside the last time that may be compared
// with it: the same person, movement, distance, surface and layout.
type Before struct {
	Day     time.Time // on which last time was
	Moves   measure.Mass
	Typical time.Duration // the median split of last time; 0: the clock set it
	Says    string        // "0:01.2 faster than last time, with 5 kg more"
}

// SetBefore puts last time beside every group of the report. wall is when this run
// was: what came later is no last time.
func (r *Report) SetBefore(h *History, plan *floor.Plan, wall time.Time, st measure.Style) {
	for i := range r.Parts {
		p := &r.Parts[i]
		for k := range p.Athletes {
			a := &p.Athletes[k]
			for n := range a.Groups {
				now := new(Reader).line(plan, p, a, &a.Groups[n])
				if then, ok := h.LastTime(&now, wall); ok {
					a.Groups[n].Before = &Before{Day: then.Of.Wall, Moves: then.Moves, Typical: then.typical(), Says: now.Against(&then.Line, st)}
				}
			}
		}
	}
}

// typical is the median split where it says how fast somebody was, else 0: in
// intervals the clock sets it, and in a ramp the load.
func (l *Line) typical() time.Duration {
	if l.Format == session.Intervals || l.Format == session.Ramp {
		return 0
	}
	return l.Typical()
}
