package cli

import (
	"fmt"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// keepBests adds to roster.toml what a run that is over has shown, with its tags and
// its day: the heaviest good attempt of every ramp, and any other load that was
// pulled through and is more than all that stands there for the movement. A lighter
// one is no max: it would hold the next loads down. Nothing in the file is
// overwritten, and the file as it was is kept beside it. It returns what was added,
// one line each. The made-up home keeps none.
func (h *home) keepBests(log *logbook.Log) (added []string, err error) {
	o, ok := log.Opened()
	st, now := stateOf(log)
	if h.demo || !ok || st.Over() == floor.None {
		return nil, nil
	}
	before, err := h.source("roster.toml")
	if err != nil {
		return nil, err
	}
	people, err := roster.Parse(h.name("roster.toml"), before) // a form may have changed it since
	if err != nil {
		return nil, err
	}
	if wrong := roster.Resolve(people, h.kit); len(wrong) > 0 {
		return nil, wrong
	}
	src := before
	for n := range st.Plan().Parts {
		for i, who := range st.Plan().People {
			best, ok := bestOf(st, n, i, now)
			if best.Date = day(o.Wall); !ok || !isNew(people, who.Name, &best) {
				continue
			}
			if src, err = roster.AddBest(h.name("roster.toml"), src, who.Name, best); err != nil {
				return nil, fmt.Errorf("note the best of %s: %w", shown(who.Name), err)
			}
			a := people.Find(who.Name)
			a.Bests = append(a.Bests, best)
			added = append(added, shown(who.Name)+": "+h.said(&best))
		}
	}
	if err := h.rewrite("roster.toml", before, src); err != nil {
		return nil, err
	}
	return added, nil
}

// said is a best with its tags: "sled row 77 kg, 30 m, 2 x 15 m, turf, on A, tested 2026-11-18".
func (h *home) said(b *roster.Best) string {
	said := []string{shown(b.Movement) + " " + h.house.Style().Mass(b.Load)}
	if b.Distance > 0 {
		said = append(said, h.house.Style().Distance(b.Distance))
	}
	for _, tag := range []string{b.Layout, b.Surface} {
		if tag != "" {
			said = append(said, shown(tag))
		}
	}
	if b.Sled != "" {
		said = append(said, "on "+shown(b.Sled))
	}
	how := b.How
	if !b.Date.IsZero() {
		how = strings.TrimSpace(how + " " + b.Date.Format(time.DateOnly))
	}
	return strings.Join(append(said, how), ", ")
}

// day is midnight UTC of the day that t was where it was.
func day(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// bestOf is the heaviest load that a person pulled through in part n, from 0, as a
// best without its day; false where there was none.
func bestOf(st *floor.State, n, person int, now time.Duration) (best roster.Best, ok bool) {
	plan, how := st.Plan(), roster.Noted
	if plan.Parts[n].Spec.Format == session.Ramp {
		how = roster.Tested
	}
	for _, r := range st.Rounds(n+1, person, now) {
		switch r.State {
		case floor.Good, floor.Done, floor.InTime, floor.LateRound, floor.DoneNoTime:
		default:
			continue
		}
		if r.Moves <= best.Load {
			continue
		}
		best = roster.Best{Movement: r.Movement, Load: r.Moves, Distance: r.Distance, How: how}
		if plan.Kit.Sled(r.On) != nil {
			best.Sled = r.On
		}
		if best.Sled != "" || best.Distance > 0 { // what is lifted has no strip
			leg := plan.Parts[n].Stations[r.Station-1]
			best.Layout, best.Surface = layout(leg.Legs, leg.Leg), plan.Kit.Strip.Surface
		}
		ok = true
	}
	return best, ok
}

// layout is how a roster writes the legs of a pull.
func layout(legs int, leg measure.Distance) string {
	if legs <= 1 {
		return "straight"
	}
	return fmt.Sprintf("%d x %s", legs, leg)
}

// isNew reports whether a best is to be added: a tested one that is not there yet, or
// a load above all of the person's bests of the movement. Where one of these is an
// estimate only a test says more; where there is none, what was pulled is no max.
func isNew(people *roster.Roster, who string, best *roster.Best) bool {
	a := people.Find(who)
	if a == nil {
		return false
	}
	known := false
	for i := range a.Bests {
		b := &a.Bests[i]
		switch {
		case b.Movement != best.Movement:
			continue
		case b.Load == best.Load && b.Date.Equal(best.Date):
			return false
		case best.How == roster.Noted && (b.Load >= best.Load || b.How == roster.TwoPulls || b.How == roster.FromReps):
			return false
		}
		known = true
	}
	return known || best.How == roster.Tested
}

// bests notes what the run has shown, once it is over, and lists it.
func (s *shell) bests(h *home, b *books) {
	if b.path == "" {
		return
	}
	log, err := logbook.Load(b.path)
	if err != nil {
		fmt.Fprintln(s.talk, "hawser: note the bests: "+shown(err.Error()))
		return
	}
	added, err := h.keepBests(log)
	if err != nil {
		fmt.Fprintln(s.talk, "hawser: "+shown(err.Error()))
	}
	for _, line := range added {
		fmt.Fprintln(s.talk, "noted in roster.toml: "+line)
	}
}
