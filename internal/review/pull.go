package review

import (
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Pull is a long pull taken apart.
type Pull struct {
	Elapsed   time.Duration // the person's own time, holds taken out
	Moving    time.Duration // Elapsed less all stops
	Stopped   time.Duration
	Longest   time.Duration // the longest stop
	Stops     int
	LongStops int // over the cap of a stop
	Distance  measure.Distance
	All       measure.Distance // what was asked
	Finished  bool
}

// pull reads the pulls of one person in a long-pull part as one.
func pull(spec *session.Part, rounds []floor.Round, now time.Duration, ran running) *Pull {
	var p *Pull
	for i := range rounds {
		r := &rounds[i]
		if r.State == floor.StruckOut || r.State == floor.NotHere || r.Starts == floor.None || len(spec.Stations) == 0 {
			continue
		}
		if p == nil {
			p = &Pull{Finished: true}
		}
		all := asked(spec, r)
		p.All += all
		end := ended(r, now)
		if r.Work != floor.None {
			p.Elapsed += r.Work
		} else {
			p.Elapsed += max(0, ran(r.Starts, end))
		}
		p.stops(r.Stops, end, spec.StopCap, ran)
		if r.State == floor.Done {
			p.Distance += all
		} else {
			p.Finished = false
			p.Distance += r.Metres
		}
	}
	if p != nil {
		p.Moving = max(0, p.Elapsed-p.Stopped)
	}
	return p
}

// ended is when a pull ended, or how far it has come: now while it lasts, the last
// thing that was heard of whoever left it.
func ended(r *floor.Round, now time.Duration) time.Duration {
	switch {
	case r.Ends != floor.None:
		return r.Ends
	case r.State != floor.LeftRound:
		return now
	}
	last := r.Starts
	for _, leg := range r.Legs {
		last = max(last, leg)
	}
	for _, s := range r.Stops {
		last = max(last, s.From, s.To)
	}
	return last
}

// asked is the distance of a round: as it was cut, else as written.
func asked(spec *session.Part, r *floor.Round) measure.Distance {
	if len(spec.Stations) == 0 {
		return r.Distance
	}
	s := &spec.Stations[min(max(r.Station, 1), len(spec.Stations))-1]
	d := r.Distance
	if d == 0 {
		d = s.Distance
	}
	return d * measure.Distance(max(1, s.Times))
}

func (p *Pull) stops(stops []floor.Span, end, limit time.Duration, ran running) {
	for _, s := range stops {
		to := s.To
		if to == floor.None {
			to = end
		}
		d := max(0, ran(s.From, to))
		p.Stops++
		p.Stopped += d
		p.Longest = max(p.Longest, d)
		if limit > 0 && d > limit {
			p.LongStops++
		}
	}
}

// Pace returns seconds per 100 m over that time, nil where no metres are known.
func (p *Pull) Pace(over time.Duration) *float64 {
	if p.Distance <= 0 {
		return nil
	}
	return new(over.Seconds() / (p.Distance.Metres() / 100))
}
