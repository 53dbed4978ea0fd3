package floor

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// Fit is the fit check of the next round, as the floor stands after a change: the
// implement with the least room, and what would fit.
type Fit struct {
	On     string
	People int
	Needs  time.Duration    // work and handovers of all who share it; in intervals without the least work
	Has    time.Duration    // the interval, or the rest
	Every  time.Duration    // the shortest longer interval that fits, in steps
	Rest   time.Duration    // intervals: the rest with it; else 0
	Later  time.Duration    // how much later the part would end with it
	Metres measure.Distance // the longest pull that fits, in whole metres; 0: none
}

// Short says what does not fit.
func (f *Fit) Short() string {
	return fmt.Sprintf("does not fit: %s needs %s for %d, has %s", f.On, measure.Clock(f.Needs), f.People, measure.Clock(f.Has))
}

// String says what does not fit and the ways out, in a line.
func (f *Fit) String() string {
	longer := "every " + measure.Clock(f.Every)
	if f.Rest > 0 {
		longer = "rest " + measure.Clock(f.Rest)
	}
	ways := []string{fmt.Sprintf("%s (ends %s later)", longer, measure.Clock(f.Later))}
	if f.Metres > 0 {
		ways = append(ways, fmt.Sprintf("%d m", f.Metres/measure.Metre))
	}
	return f.Short() + "; would fit: " + strings.Join(ways, ", ")
}

// Fit checks the part that is on. It is nil where the next round fits, or where no
// clock of the class has to be kept.
func (s *State) Fit(now time.Duration) *Fit {
	if s.on < 0 || s.parts[s.on].ended != None {
		return nil
	}
	p, spec := &s.parts[s.on], s.spec(s.on)
	h := &p.heats[p.heatOn()]
	f := Fit{Has: spec.Every}
	switch spec.Format {
	case session.Every:
	case session.Intervals:
		f.Has = spec.Rest
	default:
		return nil
	}
	k := h.roundAt(s.clock(now)) + 1
	if k > p.rounds {
		return nil
	}
	for _, st := range s.plan.Parts[s.on].Stations {
		for _, on := range st.On {
			if order := s.order(on.Name, p.heatOn()+1, k); len(order) > 0 {
				if needs := s.needs(order, k); needs > f.Needs {
					f.On, f.People, f.Needs = on.Name, len(order), needs
				}
			}
		}
	}
	if f.Needs <= f.Has {
		return nil
	}
	longer := f.Has
	for longer < f.Needs {
		longer += session.IntervalStep
	}
	later, each := p.rounds-k+1, p.rounds // rounds of this heat and of each to come
	f.Every = longer
	if spec.Format == session.Intervals { // no rest after the last
		f.Every, f.Rest, later, each = spec.Work+longer, longer, later-1, each-1
	}
	later += each * (len(p.heats) - p.heatOn() - 1)
	f.Later = time.Duration(later) * (longer - f.Has)
	f.Metres = s.metresThatFit(&f, k, p.heatOn()+1)
	return &f
}

// order returns those who share an implement in round k, in their order.
func (s *State) order(on string, heat, k int) []int {
	p := &s.parts[s.on]
	var order []int
	for i := range p.tracks {
		tr := &p.tracks[i]
		if tr.Heat != heat || !s.Here(i) || !s.in(p, i, k) {
			continue
		}
		if sp := tr.spot(k, s.station(s.on, tr, k)); sp.On == on {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		if s.goesBefore(s.on, k, a, b) {
			return -1
		}
		return 1
	})
	return order
}

// needs is what those in order on one implement take, back to the first of them.
func (s *State) needs(order []int, k int) time.Duration {
	sum := s.turns(s.on, order[0], k, order) // the last one's handover is to the first
	if len(order) == 1 {                     // with nobody to change with, the sled still comes back
		sum -= s.plan.House.HandoverBase
	}
	if s.spec(s.on).Format == session.Intervals {
		sum -= s.spec(s.on).Work
	}
	return sum
}

// metresThatFit is the longest pull with which the fullest implement keeps to the
// interval, the work taken to shrink with the metres; 0 where there is none.
func (s *State) metresThatFit(f *Fit, k, heat int) measure.Distance {
	st := s.spec(s.on).Stations
	if len(st) != 1 || st[0].Distance == 0 || s.spec(s.on).Format != session.Every {
		return 0
	}
	p := &s.parts[s.on]
	work := time.Duration(0)
	for _, i := range s.order(f.On, heat, k) {
		work += s.expected(s.on, i, k)
	}
	room := f.Has - (f.Needs - work)
	if work <= 0 || room <= 0 {
		return 0
	}
	now := st[0].Distance
	if c := p.cutTo(heat-1, k, 0); c > 0 {
		now = c
	}
	d := measure.Distance(float64(now) * float64(room) / float64(work))
	if d -= d % measure.Metre; d < 5*measure.Metre {
		return 0
	}
	return d
}

// Warning says what the coach should know of what has just been changed, "" for
// nothing: nobody restarts, refuses or lengthens anything for it. events are those
// of one command, applied.
func (s *State) Warning(events []Stamped) string {
	changed := false
	for _, e := range events {
		switch x := e.E.(type) {
		case Arrived:
			if why := s.tooLate(x, e.T); why != "" {
				return why
			}
			changed = true
		case SledOut:
			if who := s.stranded(x.On, e.T); len(who) > 0 {
				return strings.Join(who, ", ") + ": no other implement of that station is left; bring one back or end the part"
			}
			changed = true
		case LaneChanged:
			changed = true
		default:
		}
	}
	if !changed {
		return ""
	}
	if f := s.Fit(events[len(events)-1].T); f != nil {
		return f.String()
	}
	return ""
}

// tooLate says that a latecomer is not warm before the part is over.
func (s *State) tooLate(x Arrived, now time.Duration) string {
	p := &s.parts[x.Part-1]
	h := p.heatOf(&p.tracks[s.person(x.Who)])
	if h == nil || !classClock(s.spec(x.Part-1).Format) {
		return ""
	}
	last := h.starts[len(h.starts)-1]
	if x.Round < len(h.starts) && s.room(last, now) > x.Ready {
		return ""
	}
	text := x.Who + " is not warm before this part is over: no round of it is left"
	if x.Part < len(s.parts) {
		text += fmt.Sprintf("; from part %d on", x.Part+1)
	}
	return text
}

// stranded names those who still stand on an implement that is out.
func (s *State) stranded(on string, now time.Duration) []string {
	if s.on < 0 || s.parts[s.on].ended != None {
		return nil
	}
	var who []string
	for i := range s.parts[s.on].tracks {
		tr := &s.parts[s.on].tracks[i]
		if tr.first < 1 || !s.Here(i) || s.through(s.on, s.view(s.on, now), i) {
			continue
		}
		k := s.fresh(s.on, i, now)
		if sp := tr.spot(k, s.station(s.on, tr, k)); sp.On == on {
			who = append(who, s.plan.People[i].Name)
		}
	}
	return who
}
