package review

import (
	"fmt"
	"iter"
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
	Path    string // of its log, below the home
	Wall    time.Time
	Session string
	Lines   []Line // of one in a History: ask Points
	Efforts []Effort

	people int // known of one in a History
}

// Line is one person at one station with one load. Where a movement or a load
// changed in between there are several.
type Line struct {
	Who    string
	*Tags  // shared with other lines; nobody changes them
	Moves  measure.Mass
	Share  float64 // work, per cent of the format; NaN: not known
	Fade   float64 // per cent; NaN with fewer than two splits
	Splits Splits
}

// Splits are times in milliseconds as they stand in the cache, four bytes each with
// the little end first: most of ten years' are never asked for.
type Splits struct{ bytes row }

// NewSplits is those times.
func NewSplits(ms ...uint32) Splits {
	s := Splits{make(row, 0, splitSize*len(ms))}
	for _, one := range ms {
		s.bytes = u32(s.bytes, one)
	}
	return s
}

// Len returns how many there are.
func (s Splits) Len() int { return len(s.bytes) / splitSize }

// All returns them in the order of the rounds.
func (s Splits) All() iter.Seq[uint32] {
	return func(yield func(uint32) bool) {
		for left := s.bytes; len(left) > 0; {
			if !yield(left.next32()) {
				return
			}
		}
	}
}

// Tags is what was pulled, on what and how: the same in very many lines.
type Tags struct {
	Movement string
	Surface  string
	Layout   string // "straight" or "2 x 15 m", as the roster writes it
	On       string
	Format   session.Format
	Distance measure.Distance // of one pull; 0: by repetitions or time
	Best     bool             // a good ramp attempt: it may stand as a best
}

// Effort is one person's effort of a whole session, 0–10.
type Effort struct {
	Who     string
	Effort  float64
	Minutes float64
}

// Reader summarizes runs, one after another. One goroutine owns it.
type Reader struct {
	room room
	tags map[Tags]*Tags // each once
}

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
	lines := 0
	for i := range r.Parts {
		for k := range r.Parts[i].Athletes {
			lines += len(r.Parts[i].Athletes[k].Groups)
		}
	}
	s.Lines = make([]Line, 0, lines)
	for i := range r.Parts {
		p := &r.Parts[i]
		for k := range p.Athletes {
			a := &p.Athletes[k]
			for n := range a.Groups {
				s.Lines = append(s.Lines, m.line(plan, p, a, &a.Groups[n]))
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

// line is one group of rounds as a line, its tags those that other lines have.
func (m *Reader) line(plan *floor.Plan, p *Part, a *Athlete, g *Group) Line {
	l := Line{Who: a.Name, Tags: m.once(tagsOf(plan, p, g)), Moves: g.Moves, Share: math.NaN(), Fade: math.NaN()}
	if share := a.Share(); share != nil {
		l.Share = *share
	}
	if g.Fade != nil {
		l.Fade = *g.Fade
	}
	l.Splits.bytes = make(row, 0, splitSize*len(g.Splits))
	for _, d := range g.Splits {
		l.Splits.bytes = u32(l.Splits.bytes, uint32(min(max(d.Milliseconds(), 0), math.MaxUint32)))
	}
	return l
}

// once returns where those tags stand, the same for all that are alike.
func (m *Reader) once(tags Tags) *Tags {
	if have := m.tags[tags]; have != nil {
		return have
	}
	if m.tags == nil {
		m.tags = map[Tags]*Tags{}
	}
	m.tags[tags] = new(tags)
	return m.tags[tags]
}

func tagsOf(plan *floor.Plan, p *Part, g *Group) Tags {
	t := Tags{Movement: g.Movement, Layout: "straight", On: g.On, Format: p.Spec.Format, Distance: g.Distance, Best: p.Spec.Format == session.Ramp}
	if plan.Kit != nil {
		t.Surface = plan.Kit.Strip.Surface
	}
	if stations := plan.Parts[p.Number-1].Stations; g.Station <= len(stations) {
		if st := stations[g.Station-1]; st.Legs > 1 {
			t.Layout = fmt.Sprintf("%d x %s", st.Legs, st.Leg)
		}
	}
	return t
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
