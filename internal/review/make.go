package review

import (
	"slices"
	"time"

	"hawser/internal/floor"
	"hawser/internal/session"
)

// Make reads a run at room time now.
func Make(st *floor.State, now time.Duration) Report { return new(room).make(st, now) }

// room is where the slices of a report stand. Whoever makes many reports, one after
// another, makes them in one room and leaves it in between.
type room struct {
	athletes []Athlete
	rounds   []floor.Round
	groups   []Group
	numbers  []int
	splits   []time.Duration
	pulls    []pulledRound
	paces    []float64
}

// leave gives all of the room free: the reports made in it are no more.
func (m *room) leave() {
	m.athletes, m.rounds, m.groups, m.numbers = m.athletes[:0], m.rounds[:0], m.groups[:0], m.numbers[:0]
	m.splits, m.pulls, m.paces = m.splits[:0], m.pulls[:0], m.paces[:0]
}

// take returns an empty slice with room for n, from stock, and never twice the same.
func take[T any](stock *[]T, n int) []T {
	if cap(*stock)-len(*stock) < n {
		*stock = make([]T, 0, n+2*cap(*stock)) // what was taken before stays where it is
	}
	at := len(*stock)
	*stock = (*stock)[:at+n]
	return (*stock)[at : at : at+n]
}

func (m *room) make(st *floor.State, now time.Duration) Report {
	plan := st.Plan()
	if plan == nil {
		return Report{Ends: floor.None}
	}
	r := Report{Session: plan.Session, Title: plan.Title, Aim: plan.Aim, Ends: floor.None, Told: told(st)}
	first := st.First()
	if first == floor.None {
		return r
	}
	ran := func(from, to time.Duration) time.Duration { return st.Worked(from+first, to+first) }
	for n := 1; n <= st.Part(); n++ {
		p := Part{Number: n, Spec: plan.Parts[n-1].Spec, Starts: st.Starts(n, now)}
		if limit := st.Limit(n); limit > 0 && p.Spec.Format.Pulls() {
			p.Spec.Cap = limit
		}
		for i := range p.Starts {
			p.Starts[i] -= first
		}
		p.Athletes = take(&m.athletes, len(plan.People))
		for i, who := range plan.People {
			if !p.Spec.Format.Pulls() {
				break
			}
			had := len(m.rounds)
			m.rounds = st.AppendRounds(m.rounds, n, i, now)
			rounds := since(m.rounds[had:len(m.rounds):len(m.rounds)], first)
			if len(rounds) == 0 && !st.Came(i) {
				rounds = away(&p, plan.Parts[n-1].Heats)
			}
			a := m.read(&p.Spec, rounds, p.Starts, now-first, ran)
			a.Name, a.Person, a.Came = who.Name, i, st.Came(i)
			p.Athletes = append(p.Athletes, a)
		}
		r.Parts = append(r.Parts, p)
	}
	if end := st.End(now); end != floor.None {
		r.Ends = end - first
	} else {
		r.Ends = r.lastWork()
		for n := 1; n <= st.Part(); n++ {
			if end := st.PartEnd(n); end != floor.None {
				r.Ends = max(r.Ends, end-first)
			}
		}
	}
	return r
}

// since counts the instants of rounds, which are the caller's own, from the first
// GO. Stops and legs are the run's and are copied.
func since(rounds []floor.Round, first time.Duration) []floor.Round {
	shift := func(t *time.Duration) {
		if *t != floor.None {
			*t -= first
		}
	}
	for i := range rounds {
		r := &rounds[i]
		shift(&r.Starts)
		shift(&r.Ends)
		shift(&r.Due)
		r.Stops, r.Legs = slices.Clone(r.Stops), slices.Clone(r.Legs)
		for k := range r.Stops {
			shift(&r.Stops[k].From)
			shift(&r.Stops[k].To)
		}
		for k := range r.Legs {
			shift(&r.Legs[k])
		}
	}
	return rounds
}

// away is the rounds of somebody who never came: all of the class's, where there
// was but one heat to come to.
func away(p *Part, heats int) []floor.Round {
	if heats > 1 || p.Spec.Format != session.Every && p.Spec.Format != session.Intervals {
		return nil
	}
	var rounds []floor.Round
	for k, at := range p.Starts {
		rounds = append(rounds, floor.Round{
			Round: k + 1, Station: 1, Starts: at, Ends: floor.None, Work: floor.None, Margin: floor.None,
			Due: floor.None, Waited: floor.None, Rest: floor.None, State: floor.NotHere,
		})
	}
	return rounds
}

// lastWork is when the last round that has ended did.
func (r *Report) lastWork() time.Duration {
	end := floor.None
	for i := range r.Parts {
		for k := range r.Parts[i].Athletes {
			for _, round := range r.Parts[i].Athletes[k].Rounds {
				end = max(end, round.Ends)
			}
		}
	}
	return end
}

// told gathers the efforts and pains of a run. The last effort counts, because it
// is asked once for the whole session; of pains the worst.
func told(st *floor.State) map[string]Told {
	all := map[string]Told{}
	for _, e := range st.Private() {
		switch e := e.E.(type) {
		case floor.EffortGiven:
			one := all[e.Who]
			one.Effort = &e.Effort
			all[e.Who] = one
		case floor.PainGiven:
			one := all[e.Who]
			if e.Pain >= one.Pain {
				one.Pain, one.Site = e.Pain, e.Site
			}
			all[e.Who] = one
		default:
		}
	}
	return all
}
