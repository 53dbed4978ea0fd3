package lanes

import (
	"math"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// intervalStep is what a longer interval is longer by, once or several times.
const intervalStep = 15 * time.Second

// turnSum is what the people of one implement take in one round.
type turnSum struct {
	on        string
	people    int
	work      time.Duration // Σ
	handovers time.Duration // Σ
	needs     time.Duration // as the format counts it
}

// rounds of turns: by heat, round and implement, the people who go one after another.
func (p *planner) turnSums(a *answer) []turnSum {
	var sums []turnSum
	l := a.layout
	period := 1
	if p.alternate() {
		period = len(p.stations)
	}
	for heat := range l.heats {
		rounds := make([]map[string][]int, period)
		for round := range rounds {
			rounds[round] = l.visits(p, heat, round)
		}
		for round := range rounds {
			for name, visits := range rounds[round] {
				next := visits[0] // who has the implement in the round after
				for k := 1; k <= period; k++ {
					if after := rounds[(round+k)%period][name]; len(after) > 0 {
						next = after[0]
						break
					}
				}
				sums = append(sums, p.turnSum(a, visits, next))
			}
		}
	}
	return sums
}

// turnSum adds up one implement in one round, with the change to whoever has it
// next. A person alone changes with nobody, but the sled still has to be brought
// back.
func (p *planner) turnSum(a *answer, visits []int, next int) turnSum {
	l := a.layout
	t := turnSum{on: l.seats[visits[0]].on.Name, people: len(visits)}
	least, longest := time.Duration(math.MaxInt64), time.Duration(0)
	for n, i := range visits {
		w, _ := p.expected(a.who[i], l.seats[i].station, a.got[l.first[i]].Moves)
		t.work += w
		least, longest = min(least, w), max(longest, w)
		to := next
		if n+1 < len(visits) {
			to = visits[n+1]
		}
		if to != i {
			t.handovers += p.handover(a, i, to)
		} else {
			t.handovers += p.stations[l.seats[i].station].Return
		}
	}
	t.needs = t.work + t.handovers
	if p.spec.Format == session.Intervals { // the rest that whoever works least must be given
		t.needs -= least
	}
	return t
}

// fit says whether the arrangement fits the clock.
func (p *planner) fit(a *answer, every time.Duration) Fit {
	f := Fit{Fits: true}
	switch p.spec.Format {
	case session.Every:
		f.Has = every
	case session.Intervals:
		f.Has = p.spec.Rest
	case session.Amrap, session.Ratio, session.Sets, session.LongPull, session.ForTime, session.Ramp, session.WarmUp, session.Break:
		return f
	}
	for _, t := range p.turnSums(a) {
		if t.needs > f.Needs || t.needs == f.Needs && (f.On == "" || t.on < f.On) {
			f.Needs, f.On = t.needs, t.on
		}
	}
	f.Fits = f.Needs <= f.Has
	return f
}

// wayOut prices the ways out of a schedule that does not fit, and takes the one
// that the house does. It returns the arrangement that is then in force.
func (p *planner) wayOut(part *Part, a *answer) *answer {
	proved, bound, short := p.proved, p.bound, p.shortBound
	fit, every := &part.Fit, part.Every
	people := float64(len(p.people))
	working := float64(len(p.lanesOf(a)))
	idle := func(busy float64) float64 { return math.Round(1000*math.Max(0, 1-busy/people)) / 10 }

	var longer time.Duration
	if p.spec.Format == session.Every {
		longer = every
		for longer < fit.Needs {
			longer += intervalStep
		}
		var work time.Duration
		for i, s := range a.layout.seats {
			w, _ := p.expected(a.who[i], s.station, a.got[a.layout.first[i]].Moves)
			work += w
		}
		share := 100 * work.Seconds() / float64(len(a.layout.seats)) / longer.Seconds()
		fit.Ways = append(fit.Ways, Way{
			Way: "longer interval", Every: longer, Ends: p.length(a, 1, longer), WorkShare: share, Idle: idle(working),
		})
	}
	heats := p.heatsThatFit(a, every)
	if heats != nil {
		fit.Ways = append(fit.Ways, Way{
			Way: "heats", Heats: heats.layout.heats, Ends: p.length(heats, heats.layout.heats, every),
			Idle: idle(people / float64(heats.layout.heats)),
		})
	}
	if most := p.mostOnOne(a); p.spec.Rounds/max(1, most) > 0 && most > 1 {
		fit.Ways = append(fit.Ways, Way{Way: "rotate stations", PullsEach: p.spec.Rounds / most, Ends: p.length(a, 1, every), Idle: idle(working)})
	}
	if d := p.fewerMetres(a, fit); d > 0 {
		fit.Ways = append(fit.Ways, Way{Way: "fewer metres", Distance: d, Ends: p.length(a, 1, every), Idle: idle(working)})
	}
	took := p.in.House.WhenItDoesNotFit
	switch {
	case took == "longer interval" && longer > 0:
		part.Every = longer
	case took == "as written" || heats == nil:
		took = "as written"
	default:
		took = "heats"
	}
	fit.Took = took
	p.say(session.Warn, "fit", "", 0, "does not fit: %s needs %s and has %s; this board takes: %s", fit.On, measure.Clock(fit.Needs), measure.Clock(fit.Has), took)
	if took == "heats" {
		return heats
	}
	p.proved, p.bound, p.shortBound = proved, bound, short
	return a
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
