package cli

import (
	"slices"
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
	past, _, err := history.Read(h.logs, nil)
	if err != nil || past.Runs() == 0 {
		return nil
	}
	return past
}

// answer puts last time and next time into a report. run is the ULID of the run
// itself, "" where it has none yet; wall is when it began.
func (h *home) answer(report *review.Report, plan *floor.Plan, run string, wall time.Time) {
	past := h.history()
	report.SetNext(h.facts(past, plan, wall, run))
	if past != nil {
		report.SetBefore(past, plan, wall, h.house.Style())
	}
}

// lastReport is what the newest run of a session before skip said, nil where there
// was none. skip is the run that asks.
func (h *home) lastReport(past *review.History, session, skip string) *review.Report {
	log := h.lastLog(past, session, skip)
	if log == nil {
		return nil
	}
	report, _ := reportOf(log)
	return report
}

// lastLog is the log that lastReport reads, and the only one: past knows where it is.
func (h *home) lastLog(past *review.History, session, skip string) *logbook.Log {
	if past == nil {
		return nil
	}
	for _, run := range slices.Backward(past.Summaries()) {
		if run.Session != session || skip != "" && run.Run >= skip {
			continue
		}
		if log, err := h.load(run.Path); err == nil {
			return log
		}
	}
	return nil
}
