package cli

import (
	"fmt"
	"slices"
	"time"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// keepBests adds the heaviest good attempt of every ramp of a run that is over to
// roster.toml, with its tags and its day. Nothing in the file is overwritten, and
// the file as it was is kept beside it. The made-up home keeps none.
func (h *home) keepBests(log *logbook.Log) error {
	o, ok := log.Opened()
	st, now := stateOf(log)
	if h.demo || !ok || st.Over() == floor.None {
		return nil
	}
	before, err := h.source("roster.toml")
	if err != nil {
		return err
	}
	people, err := roster.Parse(h.name("roster.toml"), before) // a form may have changed it since
	if err != nil {
		return err //nolint:wrapcheck // it names the file
	}
	src := before
	for n := range st.Plan().Parts {
		if st.Plan().Parts[n].Spec.Format != session.Ramp {
			continue
		}
		for i, who := range st.Plan().People {
			best, ok := bestOf(st, n, i, now)
			if best.Date = day(o.Wall); !ok || !isNew(people, who.Name, best) {
				continue
			}
			if src, err = roster.AddBest(h.name("roster.toml"), src, who.Name, best); err != nil {
				return fmt.Errorf("note the best of %s: %w", shown(who.Name), err)
			}
		}
	}
	return h.rewrite("roster.toml", before, src)
}

// day is midnight UTC of the day that t was where it was.
func day(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// bestOf is the heaviest good attempt of a person in part n, from 0, as a best
// without its day; false where there was none.
func bestOf(st *floor.State, n, person int, now time.Duration) (best roster.Best, ok bool) {
	plan := st.Plan()
	for _, r := range st.Rounds(n+1, person, now) {
		if r.State != floor.Good || r.Moves <= best.Load {
			continue
		}
		leg := plan.Parts[n].Stations[r.Station-1]
		best = roster.Best{
			Movement: r.Movement, Load: r.Moves, Distance: r.Distance, Layout: layout(leg.Legs, leg.Leg),
			Surface: plan.Kit.Strip.Surface, How: roster.Tested,
		}
		if plan.Kit.Sled(r.On) != nil {
			best.Sled = r.On
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

// isNew reports whether a person stands in the roster without that best.
func isNew(people *roster.Roster, who string, best roster.Best) bool {
	a := people.Find(who)
	return a != nil && !slices.ContainsFunc(a.Bests, func(b roster.Best) bool {
		return b.Movement == best.Movement && b.Load == best.Load && b.Date.Equal(best.Date)
	})
}
