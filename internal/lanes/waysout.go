package lanes

import (
	"math"
	"slices"
	"time"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// wayOut prices the ways out of a schedule that does not fit, and takes the one
// that the coach's hand or else the house says, as written where that cannot be
// had. It returns the arrangement that is then in force.
func (p *planner) wayOut(part *Part, a *answer) *answer {
	proved, bound, short := p.proved, p.bound, p.shortBound
	fit := &part.Fit
	heats := p.heatsThatFit(a, part.Every)
	fit.Ways = p.ways(a, heats, part)
	fit.Took = p.wayTaken()
	at := slices.IndexFunc(fit.Ways, func(w Way) bool { return w.Way == fit.Took })
	if at < 0 || fit.Took == RotateStations {
		fit.Took = AsWritten
	}
	p.say(session.Warn, "fit", "", 0, "does not fit: %s needs %s and has %s; this board takes: %s", fit.On, measure.Clock(fit.Needs), measure.Clock(fit.Has), fit.Took)
	if fit.Took == InHeats {
		return heats
	}
	p.heats, p.proved, p.bound, p.shortBound = 1, proved, bound, short
	switch fit.Took {
	case LongerInterval:
		part.Every = fit.Ways[at].Every
	case FewerMetres:
		return p.shorten(fit.Ways[at].Distance)
	}
	return a
}

// wayTaken is the way out that the coach's hand says for this part, else the house.
func (p *planner) wayTaken() string {
	for _, e := range slices.Backward(p.in.Edits) {
		if e.Part == p.number && e.Way != "" {
			return e.Way
		}
	}
	return p.in.House.WhenItDoesNotFit
}

// ways prices each way out; its end is so far the length of the part.
func (p *planner) ways(a, heats *answer, part *Part) []Way {
	every, people := part.Every, float64(len(p.people))
	idle := func(busy float64) float64 { return math.Round(1000*math.Max(0, 1-busy/people)) / 10 }
	working := idle(float64(len(p.lanesOf(a))))
	var ways []Way
	if p.spec.Format == session.Every {
		longer := every
		for longer < part.Fit.Needs {
			longer += session.IntervalStep
		}
		ways = append(ways, Way{
			Way: LongerInterval, Every: longer, Ends: p.length(a, 1, longer), WorkShare: p.workShare(a, longer), Idle: working,
		})
	}
	if heats != nil {
		n := heats.layout.heats
		ways = append(ways, Way{Way: InHeats, Heats: n, Ends: p.length(heats, n, every), Idle: idle(people / float64(n))})
	}
	if most := p.mostOnOne(a); p.spec.Rounds/max(1, most) > 0 && most > 1 {
		ways = append(ways, Way{Way: RotateStations, PullsEach: p.spec.Rounds / most, Ends: p.length(a, 1, every), Idle: working})
	}
	if d := p.fewerMetres(a, &part.Fit); d > 0 {
		ways = append(ways, Way{Way: FewerMetres, Distance: d, Ends: p.length(a, 1, every), Idle: working})
	}
	return ways
}

// workShare is the work of one seat as a share of an interval, in per cent.
func (p *planner) workShare(a *answer, every time.Duration) float64 {
	var work time.Duration
	for i, s := range a.layout.seats {
		w, _ := p.expected(a.who[i], s.station, a.got[a.layout.first[i]].Moves)
		work += w
	}
	return 100 * work.Seconds() / float64(len(a.layout.seats)) / every.Seconds()
}

// mostOnOne is how many people the fullest implement has in one round.
func (p *planner) mostOnOne(a *answer) int {
	most := 0
	for _, t := range p.turnSums(a) {
		most = max(most, t.people)
	}
	return most
}

// heatsThatFit returns the arrangement in so many heats that everyone has an
// implement to themselves, nil where even that does not fit.
func (p *planner) heatsThatFit(a *answer, every time.Duration) *answer {
	heats := min(p.mostOnOne(a), len(p.people))
	if heats < 2 {
		return nil
	}
	if b := p.best(heats); p.fit(b, every).Fits {
		return b
	}
	return nil
}

// shorten takes the distance of the only station down, and the work written for it
// with it, and lays the part out anew. The session that was read stays as it was.
func (p *planner) shorten(d measure.Distance) *answer {
	spec := *p.spec
	spec.Stations = slices.Clone(spec.Stations)
	st := &spec.Stations[0]
	st.Expect = time.Duration(float64(st.Expect) * float64(d) / float64(st.Distance)).Round(time.Second)
	st.Distance = d
	p.spec, p.stations = &spec, nil
	p.choices, p.deals, p.near = map[choiceKey]*choice{}, map[string]dealt{}, map[string]load.Stack{}
	p.findings = slices.DeleteFunc(p.findings, func(f session.Finding) bool { return f.About != "fit" })
	p.lay()
	p.lanesLimit()
	return p.best(1)
}

// fewerMetres returns the longest distance, in whole metres, that would fit; 0 for none.
func (p *planner) fewerMetres(a *answer, fit *Fit) measure.Distance {
	if len(p.stations) != 1 || p.spec.Stations[0].Distance == 0 || p.spec.Format != session.Every {
		return 0
	}
	for d := p.spec.Stations[0].Distance - measure.Metre; d >= 5*measure.Metre; d -= measure.Metre {
		d -= d % measure.Metre
		share := float64(d) / float64(p.spec.Stations[0].Distance)
		fits := true
		for _, t := range p.turnSums(a) {
			back := time.Duration(t.people) * p.stations[0].Return
			if time.Duration(share*float64(t.work+back))+t.handovers-back > fit.Has {
				fits = false
			}
		}
		if fits {
			return d
		}
	}
	return 0
}
