package cli

import (
	"time"

	"hawser/internal/floor"
	"hawser/internal/history"
	"hawser/internal/load"
	"hawser/internal/logbook"
	"hawser/internal/review"
)

// past is what the home's logs say, nil where there are none. A log that cannot be
// read is named by history and splits; a board goes on without it.
func (h *home) past() load.Past {
	if past := h.history(); past != nil {
		return past
	}
	return nil // and no nil of a type of its own
}

func (h *home) history() *review.History {
	runs, err := logbook.Runs(h.logs)
	if err != nil || len(runs) == 0 {
		return nil
	}
	past, _, err := history.Read(h.logs, nil)
	if err != nil {
		return nil
	}
	return past
}

// answer puts last time and next time into a report. run is the ULID of the run
// itself, "" where it has none yet; wall is when it began.
func (h *home) answer(report *review.Report, plan *floor.Plan, run string, wall time.Time) {
	report.SetNext(h.facts(plan, wall, run))
	if past := h.history(); past != nil {
		report.SetBefore(past, plan, wall, h.house.Style())
	}
}

// lastReport is what the newest run of a session before skip said, nil where there
// was none. skip is the run that asks.
func (h *home) lastReport(session, skip string) *review.Report {
	log := h.lastLog(session, skip)
	if log == nil {
		return nil
	}
	report, _ := reportOf(log)
	return report
}

// lastLog is the log that lastReport reads.
func (h *home) lastLog(session, skip string) *logbook.Log {
	runs, err := logbook.Runs(h.logs)
	if err != nil {
		return nil
	}
	for i := len(runs) - 1; i >= 0; i-- {
		if skip != "" && runs[i].ULID >= skip {
			continue
		}
		log, err := h.load(&runs[i])
		if err != nil {
			continue
		}
		if o, ok := log.Opened(); ok && o.Plan != nil && o.Plan.Session == session {
			return log
		}
	}
	return nil
}
