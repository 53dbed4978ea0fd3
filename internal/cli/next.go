package cli

import (
	"time"

	"hawser/internal/floor"
	"hawser/internal/review"
	"hawser/internal/week"
)

// facts is what the next loads of a run hang on: last time, the maxes, the weeks.
// run is the ULID of the run itself, "" where it has none yet.
func (h *home) facts(past *review.History, plan *floor.Plan, day time.Time, run string) review.Facts {
	f := review.Facts{
		Plan: plan, Last: h.lastReport(past, plan.Session, run), Roster: h.roster,
		NextDay: day.AddDate(0, 0, 7), Style: h.house.Style(),
	}
	if file, err := parse(h, "week.toml", week.Parse); err == nil {
		f.BlockStarts = file.BlockStarts
	}
	return f
}
