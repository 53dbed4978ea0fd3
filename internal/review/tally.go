package review

import (
	"cmp"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

func count(rounds []floor.Round) Counts {
	var c Counts
	for i := range rounds {
		switch rounds[i].State {
		case floor.InTime, floor.DoneNoTime:
			c.InTime++
		case floor.LateRound:
			c.Late++
		case floor.SatOut:
			c.SatOut++
		case floor.NotHere:
			c.NotHere++
		case floor.NoPress:
			c.NoPress++
		case floor.Done, floor.Good:
			c.Done++
		case floor.Missed:
			c.Missed++
		case floor.StruckOut:
			c.Struck++
		case floor.Capped, floor.LeftRound, floor.Open:
		}
	}
	return c
}

// timed reports whether a round's split says how fast this person is.
func timed(r *floor.Round) bool {
	switch r.State {
	case floor.InTime, floor.LateRound, floor.Done, floor.Good:
		return r.Work != floor.None
	default:
		return false
	}
}

// worked reports whether a round's time was spent pulling, finished or not.
func worked(r *floor.Round) bool {
	return timed(r) || (r.State == floor.Missed || r.State == floor.Capped) && r.Work != floor.None
}

// length is what the sum of the work is a share of: the whole format where the
// class has one clock, else the time from the own first start to the own last end.
func length(spec *session.Part, a *Athlete, ran running) time.Duration {
	var rounds, long time.Duration
	first, last := floor.None, floor.None
	for i := range a.Rounds {
		r := &a.Rounds[i]
		if r.State != floor.NotHere && r.State != floor.Open {
			rounds++
			long += r.Length
		}
		if r.Starts != floor.None && first == floor.None && r.State != floor.NotHere {
			first = r.Starts
		}
		if r.Ends != floor.None {
			last = max(last, r.Ends)
		}
	}
	switch spec.Format {
	case session.Every:
		return cmp.Or(long, rounds*spec.Every)
	case session.Intervals:
		return max(0, cmp.Or(long, rounds*(spec.Work+spec.Rest))-spec.Rest)
	case session.Amrap:
		return spec.Cap
	case session.ForTime:
		return a.Work
	case session.Ratio, session.Sets, session.LongPull, session.Ramp:
		if first == floor.None || last == floor.None {
			return 0
		}
		return max(0, ran(first, last))
	case session.WarmUp, session.Break:
	}
	return 0
}

// amount counts full rounds and what stands over of a most-rounds part. With a
// press at each station a round is full once every station of it is done.
func amount(spec *session.Part, rounds []floor.Round, starts []time.Duration, now time.Duration) Amount {
	per := 1
	if spec.PressAt == "station" {
		per = max(1, len(spec.Stations))
	}
	var a Amount
	var splits []time.Duration
	began, class := floor.None, floor.None
	for i := range rounds {
		r := &rounds[i]
		if began == floor.None && r.Starts != floor.None && r.State != floor.NotHere {
			began = r.Starts
		}
		switch {
		case r.State == floor.Done || r.State == floor.DoneNoTime:
			a.Rounds++
		case r.State != floor.StruckOut:
			a.Metres += r.Metres
			a.Reps += r.Reps
		}
		if timed(r) {
			splits = append(splits, r.Work)
		}
	}
	over := a.Rounds % per
	a.Rounds /= per
	if over > 0 { // stations done of the round that is not full
		for _, s := range spec.Stations[:over] {
			a.Metres += s.Distance * measure.Distance(max(1, s.Times))
			a.Reps += s.Reps
		}
	}
	for _, at := range starts { // the cap is the class's, also a latecomer's
		if at <= began {
			class = at
		}
	}
	if left := class + spec.Cap - now; began != floor.None && left > 0 && len(splits) >= 2*per {
		a.Projection = new(2 * left.Seconds() / total(splits[len(splits)-2*per:]).Seconds())
	}
	return a
}

// left is what a cap cut off a for-time part: all of it, less what is known done.
func left(spec *session.Part, rounds []floor.Round) Amount {
	var a Amount
	for i := range rounds {
		r := &rounds[i]
		if r.State != floor.Capped || len(spec.Stations) == 0 {
			continue
		}
		s := &spec.Stations[min(max(r.Station, 1), len(spec.Stations))-1]
		a.Rounds++
		a.Metres += max(0, s.Distance*measure.Distance(max(1, s.Times))-r.Metres)
		a.Reps += max(0, s.Reps-r.Reps)
	}
	return a
}

func total(splits []time.Duration) time.Duration {
	sum := time.Duration(0)
	for _, d := range splits {
		sum += d
	}
	return sum
}

func best(rounds []floor.Round) measure.Mass {
	heaviest := measure.Mass(0)
	for i := range rounds {
		if rounds[i].State == floor.Good {
			heaviest = max(heaviest, rounds[i].Moves)
		}
	}
	return heaviest
}
