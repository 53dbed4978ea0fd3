package review

import (
	"fmt"
	"time"

	"hawser/internal/floor"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// Verdict is up, same or down.
type Verdict string

// The verdicts.
const (
	Up   Verdict = "up"
	Same Verdict = "same"
	Down Verdict = "down"
)

// Next is what one person should pull next time, and why. It is proposed; the
// coach takes it, changes it or leaves it.
type Next struct {
	Verdict Verdict
	Loads   []NextLoad       // one a station, in their order; empty where nothing was loaded
	Every   time.Duration    // a longer interval, where no load can come off; else 0
	Rounds  int              // a lighter week's rounds or sets; else 0
	Metres  measure.Distance // long pull: what to pull; else 0
	Retest  bool             // the max is likely to be too low by now
	Why     string

	want measure.Share // of what moves now, before the pile is asked
}

// NextLoad is a stack that exists, found together with those that stand on the
// floor at the same moment.
type NextLoad struct {
	Station  int
	Movement string
	On       string
	Was      measure.Mass // what moved this time
	Moves    measure.Mass
	Added    measure.Mass
	Stack    []string // on one end, biggest first

	stands load.Item  // what it is of
	plates load.Stack // as Stack
	moment [2]int     // heat and order: what is alike stands on the floor together
}

// Facts is what the next loads hang on beside the run itself.
type Facts struct {
	Plan        *floor.Plan
	Last        *Report        // the run of the same session before this one; nil: none
	Roster      *roster.Roster // nil: no max is known
	BlockStarts time.Time      // zero: no lighter weeks
	NextDay     time.Time      // the day of the next run
	Style       measure.Style  // of the reasons
}

// SetNext gives everybody in the report their next time.
func (r *Report) SetNext(f Facts) {
	lighter := f.Plan.House != nil && LighterWeek(f.BlockStarts, f.NextDay, f.Plan.House.LighterEvery)
	for i := range r.Parts {
		p := &r.Parts[i]
		for k := range p.Athletes {
			a := &p.Athletes[k]
			c := compare{spec: &p.Spec, a: a, told: r.Told[a.Name], max: noted(f.Roster, a), style: f.Style}
			c.last, c.lastTold = f.Last.find(p, a.Name)
			if a.Next = c.next(); a.Next != nil && lighter {
				a.Next.lighten(&p.Spec)
			}
		}
		p.deal(f.Plan, f.Style)
		for k := range p.Athletes {
			p.Athletes[k].hintRetest(p.Spec.Format, f.Roster, f.Style)
		}
	}
}

// find returns one person's last time in the same part, nil for none.
func (r *Report) find(p *Part, name string) (*Athlete, Told) {
	if r == nil || p.Number > len(r.Parts) || r.Parts[p.Number-1].Spec.Format != p.Spec.Format {
		return nil, Told{}
	}
	for i := range r.Parts[p.Number-1].Athletes {
		if a := &r.Parts[p.Number-1].Athletes[i]; a.Name == name && a.began() {
			return a, r.Told[name]
		}
	}
	return nil, Told{}
}

// began reports whether somebody did anything of the part.
func (a *Athlete) began() bool {
	return a.InTime+a.Late+a.NoPress+a.Done+a.Missed > 0 || a.Work > 0 || a.Pull != nil
}

// lighten turns a verdict into a lighter week's: fewer rounds, never more load.
func (n *Next) lighten(spec *session.Part) {
	rounds := max(spec.Rounds, spec.Sets)
	if spec.Format == session.LongPull || rounds == 0 {
		return
	}
	n.Rounds = (rounds*6 + 5) / 10
	if n.Verdict == Up {
		n.Verdict, n.want = Same, measure.Whole
	}
	n.Why = fmt.Sprintf("lighter week: %d of %d rounds; %s", n.Rounds, rounds, n.Why)
}

// LighterWeek reports whether day falls in the last of every so many weeks,
// counted from the first day of the block, by
// the calendar of the place: an evening far from Greenwich is that evening.
func LighterWeek(starts, day time.Time, every int) bool {
	days := dayNumber(day) - dayNumber(starts)
	return !starts.IsZero() && every >= 2 && days >= 0 && days/7%every == every-1
}

// noted returns the noted max of the movement that somebody pulled last, 0 for
// none. The newest counts, whatever its tags: it only ever holds a load down.
func noted(r *roster.Roster, a *Athlete) measure.Mass {
	if r == nil || len(a.Rounds) == 0 {
		return 0
	}
	who, movement := r.Find(a.Name), a.Rounds[len(a.Rounds)-1].Movement
	if who == nil {
		return 0
	}
	var newest *roster.Best
	for i := range who.Bests {
		b := &who.Bests[i]
		if b.Movement == movement && b.Load > 0 && b.How != roster.FromReps && (newest == nil || b.Date.After(newest.Date)) {
			newest = b
		}
	}
	if newest == nil {
		return 0
	}
	return newest.Load
}

// hintRetest says "re-test" where a small share of work meets a load that the
// noted max calls heavy: 60 % and 64 %, the house's own figures. Sets are heavy by
// intent, and their rest is as long as it takes: their share says nothing.
func (a *Athlete) hintRetest(f session.Format, r *roster.Roster, st measure.Style) {
	share := a.Share()
	most := noted(r, a)
	if f == session.Sets || a.Next == nil || len(a.Next.Loads) == 0 || most == 0 || share == nil || *share > upShare {
		return
	}
	if next := a.Next.Loads[0].Moves; measure.Pct(next, most) >= 64 {
		a.Next.Retest = true
		a.Next.Why += fmt.Sprintf("; re-test: %s is %s of the noted max", st.Mass(next), st.Percent(next, most))
	}
}
