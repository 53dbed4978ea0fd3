package review

import (
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Group is the rounds of one person that may be compared: the same station, the
// same movement, the same load, the same metres. A swap or a change begins a new one.
type Group struct {
	Station  int
	Movement string
	Moves    measure.Mass
	On       string           // where the first of them was pulled
	Distance measure.Distance // of one pull; 0: by repetitions or time
	Rounds   []int            // numbers of the rounds with a time
	Splits   []time.Duration
	Fade     *float64 // per cent; nil with fewer than two times
	Spread   *float64 // per cent, sample SD; nil likewise
	Before   *Before  // last time; nil until it has been asked for, or where there was none

	pulls []pulledRound // what Fade and Spread compare
}

// pulledRound is one round that says how fast somebody was. pace is in seconds: of
// the split, or in intervals, where the clock sets the split, of a metre or a
// repetition.
type pulledRound struct {
	*floor.Round
	pace   float64
	amount bool // it is by the amount done
}

// paced returns the round with its pace; false in intervals where nobody typed
// what was done.
func paced(f session.Format, r *floor.Round) (pulledRound, bool) {
	took := r.Work.Seconds()
	switch {
	case f != session.Intervals:
		return pulledRound{r, took, false}, true
	case r.Metres > 0:
		return pulledRound{r, took / r.Metres.Metres(), true}, true
	case r.Reps > 0:
		return pulledRound{r, took / float64(r.Reps), true}, true
	}
	return pulledRound{}, false
}

func (m *room) groupsOf(f session.Format, rounds []floor.Round) []Group {
	had := len(m.groups)
	for i := range rounds {
		r := &rounds[i]
		if !timed(r) {
			continue
		}
		g := find(m.groups[had:], r)
		if g == nil {
			left := len(rounds) - i
			m.groups = append(m.groups, Group{
				Station: r.Station, Movement: r.Movement, Moves: r.Moves, On: r.On, Distance: r.Distance,
				Rounds: take(&m.numbers, left), Splits: take(&m.splits, left), pulls: take(&m.pulls, left),
			})
			g = &m.groups[len(m.groups)-1]
		}
		g.Rounds = append(g.Rounds, r.Round)
		g.Splits = append(g.Splits, r.Work)
		if p, ok := paced(f, r); ok {
			g.pulls = append(g.pulls, p)
		}
	}
	all := m.groups[had:len(m.groups):len(m.groups)]
	for i := range all {
		paces := take(&m.paces, len(all[i].pulls))
		for k := range all[i].pulls {
			paces = append(paces, all[i].pulls[k].pace)
		}
		all[i].Fade, all[i].Spread = fade(paces), spread(paces)
	}
	return all
}

// find returns the group that round r goes on with: the newest of its station, if
// that is of the same movement and load.
func find(all []Group, r *floor.Round) *Group {
	for i := len(all) - 1; i >= 0; i-- {
		if g := &all[i]; g.Station == r.Station {
			if g.Movement == r.Movement && g.Moves == r.Moves && g.Distance == r.Distance {
				return g
			}
			return nil
		}
	}
	return nil
}

// overall returns the rounds whose fade and spread stand beside a person's name:
// of the newest load where there is one station, none where there are several,
// because a drag and a lift are never averaged.
func overall(all []Group) Group {
	if len(all) == 0 {
		return Group{}
	}
	for i := range all {
		if all[i].Station != all[0].Station {
			return Group{}
		}
	}
	return all[len(all)-1]
}

// fade is how much longer the last quarter of the splits took than the first, in
// per cent; a quarter is rounded up.
func fade(splits []float64) *float64 {
	n := len(splits)
	if n < 2 {
		return nil
	}
	q := (n + 3) / 4
	first := mean(splits[:q])
	if first <= 0 {
		return nil
	}
	return new(100 * (mean(splits[n-q:])/first - 1))
}

// spread is the sample standard deviation as a percentage of the mean.
func spread(splits []float64) *float64 {
	if len(splits) < 2 || mean(splits) <= 0 {
		return nil
	}
	return new(100 * sampleSD(splits) / mean(splits))
}
