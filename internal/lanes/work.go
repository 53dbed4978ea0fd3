package lanes

import (
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// Where the figure of an expected work is from.
const (
	Written      = "written"
	Logged       = "logged"
	HouseDefault = "house default"
)

// expected returns the work that is planned for a person's turn, and where that
// figure is from: the slot of a ramp's attempt, else the pull.
func (p *planner) expected(who, station int, moves measure.Mass) (time.Duration, string) {
	spec := &p.spec.Stations[station]
	if spec.Slot > 0 && spec.Expect == 0 && p.spec.Format != session.Intervals {
		return spec.Slot, Written
	}
	return p.pull(who, station, moves)
}

// pull returns the work that a person's pull should take: what the session says,
// else what the person did before, else the speed that the house expects of anybody.
func (p *planner) pull(who, station int, moves measure.Mass) (time.Duration, string) {
	spec, legs := p.own(who, station)
	switch {
	case p.spec.Format == session.Intervals:
		return p.spec.Work, Written
	case spec.Expect > 0:
		return spec.Expect, Written
	case spec.Time > 0:
		return spec.Time, Written
	}
	if p.in.Past != nil {
		distance := spec.Distance * measure.Distance(max(1, spec.Times))
		if d, ok := p.in.Past.Median(p.people[who].Name, p.movement(who, station), moves, distance); ok && d > 0 {
			return d, Logged
		}
	}
	m, _ := movement.Find(p.movement(who, station))
	return usual(m, &spec, legs, p.in.House), HouseDefault
}

// usual is the work at the house's default speeds. Of several pulls one after
// another, the sled's way back between them is inside the work.
func usual(m movement.Movement, spec *session.Station, legs int, h *house.House) time.Duration {
	if spec.Reps > 0 {
		return time.Duration(spec.Reps) * h.RepTime
	}
	speed := h.DragSpeed
	if m.Pattern == "pull" {
		speed = h.RopeSpeed
	}
	times := max(1, spec.Times)
	d := time.Duration(times-1) * Back(m, spec.Distance, legs, h.RopeLay)
	if speed > 0 {
		d += time.Duration(float64(spec.Distance) * float64(times) / float64(speed) * float64(time.Second))
	}
	return d.Round(time.Millisecond)
}
