package review

import (
	"fmt"
	"math"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Summary is what history keeps of one run: small enough that ten years of them
// fit in memory, whole enough that every question of [History] is answered.
type Summary struct {
	Run     string // ULID
	Wall    time.Time
	Session string
	Lines   []Line
	Efforts []Effort
}

// Line is one person at one station with one load. Where a movement or a load
// changed in between there are several.
type Line struct {
	Who      string
	Movement string
	Surface  string
	Layout   string // "straight" or "2 x 15 m", as the roster writes it
	On       string
	Format   session.Format
	Distance measure.Distance // of one pull; 0: by repetitions or time
	Moves    measure.Mass
	Best     bool     // a good ramp attempt: it may stand as a best
	Share    float64  // work, per cent of the format; NaN: not known
	Splits   []uint32 // milliseconds
	Fade     float64  // per cent; NaN with fewer than two splits
}

// Effort is one person's effort of a whole session, 0–10.
type Effort struct {
	Who     string
	Effort  float64
	Minutes float64
}

// Reader summarizes runs, one after another. One goroutine owns it.
type Reader struct{ room room }

// Summarize reads a run as it stands at room time now.
func (m *Reader) Summarize(st *floor.State, run string, wall time.Time, now time.Duration) Summary {
	s := Summary{Run: run, Wall: wall}
	plan := st.Plan()
	if plan == nil {
		return s
	}
	m.room.leave()
	r := m.room.make(st, now)
	s.Session = r.Session
	for i := range r.Parts {
		p := &r.Parts[i]
		for k := range p.Athletes {
			a := &p.Athletes[k]
			for n := range a.Groups {
				s.Lines = append(s.Lines, line(plan, p, a, &a.Groups[n]))
			}
		}
	}
	for _, who := range plan.People {
		if told := r.Told[who.Name]; told.Effort != nil {
			s.Efforts = append(s.Efforts, Effort{Who: who.Name, Effort: *told.Effort, Minutes: r.Minutes(who.Name)})
		}
	}
	return s
}

func line(plan *floor.Plan, p *Part, a *Athlete, g *Group) Line {
	l := Line{
		Who: a.Name, Movement: g.Movement, Layout: "straight", On: g.On, Format: p.Spec.Format,
		Distance: g.Distance, Moves: g.Moves, Best: p.Spec.Format == session.Ramp, Share: math.NaN(), Fade: math.NaN(),
	}
	if plan.Kit != nil {
		l.Surface = plan.Kit.Strip.Surface
	}
	if stations := plan.Parts[p.Number-1].Stations; g.Station <= len(stations) {
		if st := stations[g.Station-1]; st.Legs > 1 {
			l.Layout = fmt.Sprintf("%d x %s", st.Legs, st.Leg)
		}
	}
	if share := a.Share(); share != nil {
		l.Share = *share
	}
	if g.Fade != nil {
		l.Fade = *g.Fade
	}
	l.Splits = make([]uint32, len(g.Splits))
	for i, d := range g.Splits {
		l.Splits[i] = uint32(min(max(d.Milliseconds(), 0), math.MaxUint32))
	}
	return l
}

// Minutes is how long somebody's class was: from their first own start to its end
// for a latecomer, else all of it.
func (r *Report) Minutes(name string) float64 {
	if r.Ends == floor.None {
		return 0
	}
	from := time.Duration(0)
	for i := range r.Parts {
		for k := range r.Parts[i].Athletes {
			a := &r.Parts[i].Athletes[k]
			if a.Name != name {
				continue
			}
			for n := range a.Rounds {
				if a.Rounds[n].State == floor.NotHere {
					continue
				}
				if a.NotHere > 0 && a.Rounds[n].Starts != floor.None {
					from = a.Rounds[n].Starts
				}
				return max(0, r.Ends-from).Minutes()
			}
		}
	}
	return 0
}
