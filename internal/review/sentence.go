package review

import (
	"fmt"
	"strings"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Fading is the largest slowing down of one person at one load.
type Fading struct {
	Part, Person int // Part from 1, Person an index in Plan.People
	Name         string
	Group        Group
	Round        int    // the slowest of the last quarter
	Took         string // its time; in intervals what was done
}

// LargestFade returns the largest fade of a run; false where nobody slowed down.
func (r *Report) LargestFade(st measure.Style) (Fading, bool) {
	var worst Fading
	for i := range r.Parts {
		p := &r.Parts[i]
		if p.Spec.Format == session.Ramp {
			continue
		}
		for k := range p.Athletes {
			a := &p.Athletes[k]
			g := a.fading()
			if g == nil || worst.Group.Fade != nil && *g.Fade <= *worst.Group.Fade {
				continue
			}
			worst = Fading{Part: p.Number, Person: a.Person, Name: a.Name, Group: *g}
			worst.Round, worst.Took = g.slowest(st)
		}
	}
	return worst, worst.Group.Fade != nil
}

// fading returns the group in which this person slowed down most, nil for none.
func (a *Athlete) fading() *Group {
	var worst *Group
	for i := range a.Groups {
		g := &a.Groups[i]
		if g.Fade != nil && *g.Fade > 0 && (worst == nil || *g.Fade > *worst.Fade) {
			worst = g
		}
	}
	return worst
}

// slowest returns the slowest round of the last quarter and how it went.
func (g *Group) slowest(st measure.Style) (round int, took string) {
	n, worst := len(g.pulls), 0.0
	for i := n - (n+3)/4; i < n; i++ {
		if p := &g.pulls[i]; p.pace > worst {
			worst, round, took = p.pace, p.Round.Round, st.Split(p.Work)
			switch {
			case p.amount && p.Metres > 0:
				took = st.Distance(p.Metres)
			case p.amount:
				took = plural(p.Reps, "rep")
			}
		}
	}
	return round, took
}

// Headline names the largest fade of a run in one sentence.
func (r *Report) Headline(st measure.Style) string {
	f, ok := r.LargestFade(st)
	if !ok {
		return "Nobody slowed down."
	}
	return fmt.Sprintf("Largest fade: %s, %s slower at the end (round %d: %s) with %s on the %s.",
		f.Name, percent(*f.Group.Fade, st), f.Round, f.Took, st.Mass(f.Group.Moves), f.Group.Movement)
}

// Sentence says how one person's part went, in one plain sentence with their name.
func (p *Part) Sentence(a *Athlete, st measure.Style) string { return a.Name + ": " + p.Says(a, st) }

// Says is the sentence without the name.
func (p *Part) Says(a *Athlete, st measure.Style) string {
	said := []string{p.Score(a, st)}
	paced := p.Spec.Format != session.Ramp // there the load sets the time
	if g := a.fading(); g != nil && paced {
		round, took := g.slowest(st)
		said = append(said, fmt.Sprintf("%s slower at the end (round %d: %s) with %s",
			percent(*g.Fade, st), round, took, st.Mass(g.Moves)))
	} else if a.Fade != nil && paced {
		said = append(said, "no slower at the end")
	}
	if a.NoPress > 0 {
		said = append(said, plural(a.NoPress, "round")+" nobody pressed")
	}
	if a.NotHere > 0 {
		said = append(said, fmt.Sprintf("not here for the first %d", a.NotHere))
	}
	if n := marked(a.Rounds, func(r *floor.Round) bool { return r.ByHand }); n > 0 {
		said = append(said, plural(n, "split")+" by hand")
	}
	if n := marked(a.Rounds, func(r *floor.Round) bool { return r.Unlikely }); n > 0 && paced && p.Spec.Format != session.Intervals { // there the clock sets the split
		said = append(said, plural(n, "split")+" unlikely")
	}
	return strings.Join(said, "; ") + "."
}

func marked(rounds []floor.Round, is func(*floor.Round) bool) int {
	n := 0
	for i := range rounds {
		if is(&rounds[i]) {
			n++
		}
	}
	return n
}
