package aim

import (
	"cmp"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// Start is what a coach says of a part that is to be made: what it is for, how its
// clock runs, for how long, and what is moved at its stations.
type Start struct {
	Aim       session.Aim
	Format    session.Format
	Length    time.Duration
	Movements []movement.Movement
	Written   session.Part // what the coach has settled already: zero is not settled
}

// usualAmounts are what a new part begins from, inside the bands. Distances are
// counted in metres, or in the house's own unit of about that length.
var usualAmounts = map[session.Aim]struct {
	drag, row, reps int
	bout, rest      time.Duration
	share           measure.Share // of a max or 1RM
}{
	session.Strength:     {20, 10, 5, 20 * time.Second, 150 * time.Second, 90 * measure.Percent},
	session.Endurance:    {200, 120, 25, 90 * time.Second, 45 * time.Second, 45 * measure.Percent},
	session.Conditioning: {20, 20, 10, 30 * time.Second, 30 * time.Second, 55 * measure.Percent},
}

// UsualShare is the share of a max or 1RM that a coach would begin from.
func UsualShare(a session.Aim) measure.Share { return usualAmounts[a].share }

const (
	enduranceStop = 45 * time.Second // standing still in a long pull: under a minute
	mostRounds    = 100
)

// Usual returns the part that a coach would begin from: distances, repetitions,
// rests and the clock inside the aim's band, and as many rounds as the length
// holds, one at least. The loads are left to the caller, who knows whose maxes are
// known. It is common practice like the bands themselves, a beginning and no advice.
func Usual(s Start, h *house.House) session.Part {
	p := session.Part{Format: s.Format}
	var work time.Duration // at the longest station
	for i, m := range s.Movements {
		var settled session.Station
		if i < len(s.Written.Stations) {
			settled = s.Written.Stations[i]
		}
		station, takes := s.station(m, settled, h)
		p.Stations = append(p.Stations, station)
		work = max(work, takes)
	}
	rest := usualAmounts[s.Aim].rest
	if s.Aim == session.Conditioning {
		rest = max(rest, work) // one to one
	}
	set := &s.Written
	rest = cmp.Or(set.Rest, rest)
	switch s.Format {
	case session.Every:
		p.Every = cmp.Or(set.Every, max(time.Minute, (work+rest+session.IntervalStep-1).Truncate(session.IntervalStep)))
		p.Rounds = s.times(p.Every, 0)
	case session.Intervals:
		p.Work, p.Rest = cmp.Or(set.Work, work), rest
		p.Rounds = s.times(p.Work+rest, rest)
	case session.Ratio:
		p.RestFactor = cmp.Or(set.RestFactor, factor(s.Aim, rest, work))
		p.Rounds = s.times(work+work*time.Duration(p.RestFactor)/time.Duration(measure.Whole), 0)
	case session.Sets:
		p.Rest = rest
		if s.Aim == session.Strength && rest <= strengthRestMost {
			p.RestCeiling = strengthRestMost
		}
		p.Sets = s.times(work+rest, rest)
	case session.LongPull:
		p.Cap = s.Length
		if s.Aim == session.Endurance {
			p.StopCap = enduranceStop
		}
	case session.Ramp:
		p.Rest, p.Cap = h.RampRest, s.Length
	case session.Amrap, session.ForTime:
		p.Cap = s.Length
	case session.WarmUp, session.Break:
		p.Time, p.Stations = s.Length, nil
	}
	return p
}

// station is how much of a movement suits the aim, or what is settled, and the work
// that takes.
func (s Start) station(m movement.Movement, settled session.Station, h *house.House) (session.Station, time.Duration) {
	usual := usualAmounts[s.Aim]
	st := session.Station{Movement: m.Name, Times: 1}
	n, speed := usual.drag, h.DragSpeed
	if m.Pattern == "pull" {
		n, speed = usual.row, h.RopeSpeed
	}
	along := m.Need == movement.Sled || m.Need == movement.SledRope || m.Pattern == "carry"
	seconds := func(d measure.Distance) time.Duration {
		return time.Duration(float64(d) / float64(speed) * float64(time.Second))
	}
	switch {
	case s.Format == session.Intervals:
		return st, usual.bout
	case settled.Time > 0 || settled.Reps > 0 || settled.Distance > 0:
		settled.Movement = m.Name
		return settled, settled.Time + time.Duration(settled.Reps)*h.RepTime + time.Duration(settled.Times)*seconds(settled.Distance)
	case !along && s.Format == session.Ramp:
		st.Reps = 1
		return st, h.RepTime
	case !along:
		st.Reps = usual.reps
		return st, time.Duration(usual.reps) * h.RepTime
	}
	unit := measure.Metre
	switch h.ShowDistance {
	case "yd":
		unit = measure.Yard
	case "ft":
		unit = 3 * measure.Foot
	}
	st.Distance = measure.Distance(n) * unit
	return st, seconds(st.Distance)
}

// factor is the rest as a multiple of the work.
func factor(a session.Aim, rest, work time.Duration) measure.Share {
	switch a {
	case session.Conditioning:
		return 2 * measure.Whole
	case session.Strength:
		return measure.Share((rest+work-1)/max(time.Second, work)) * measure.Whole
	case session.Endurance: // halved until it is short enough
	}
	part := measure.Whole / 2
	for work*time.Duration(part)/time.Duration(measure.Whole) >= enduranceRest {
		part /= 2
	}
	return part
}

// times is how often a period goes into the length, where the last one is that
// much shorter.
func (s Start) times(period, last time.Duration) int {
	return int(min(mostRounds, max(1, (s.Length+last)/period)))
}
