package cli

import (
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/review"
	"hawser/internal/tui"
)

// books opens the log of a run, once.
type books struct {
	folder *logbook.Home
	root   string // where the home's logs are
	writer *logbook.Writer
	path   string       // of the log, once it is closed
	opened floor.Opened // how the log begins
}

// next works out next time of the class whose log is open. The home is this
// program's as long as it is.
func (b *books) next(h *home) func(*review.Report, *floor.Plan) (*tui.Coming, error) {
	return func(report *review.Report, plan *floor.Plan) (*tui.Coming, error) {
		return h.coming(report, plan, b.opened.Run, b.opened.Wall, alone), nil
	}
}

// begin writes the first event of a new run.
func (b *books) begin(plan *floor.Plan) (*tui.Log, error) {
	now := time.Now()
	opened := floor.Opened{Run: runID(now), Wall: now, Plan: plan}
	first := floor.Stamped{N: 1, E: opened}
	w, err := b.folder.Create(first)
	if err != nil && !errors.Is(err, logbook.ErrWaiting) {
		return nil, fmt.Errorf("begin the log: %w", err)
	}
	b.writer, b.opened = w, opened
	return &tui.Log{Keeper: tui.NewBook(w), Past: []floor.Stamped{first}, Zero: now}, nil
}

// unfinished takes up again the class that was interrupted, nil where there is none.
func (b *books) unfinished(now time.Time) (*tui.Log, error) {
	run, _, err := b.folder.Unfinished(now)
	if err != nil || run == nil {
		return nil, nil //nolint:nilerr,nilnil // a log that cannot be read is no reason not to run a class
	}
	found, w, err := b.again(run)
	if err != nil {
		return nil, err
	}
	t, gap := found.Log.Room(now)
	events := found.Log.Events
	back := floor.Stamped{N: events[len(events)-1].N + 1, T: t.Truncate(time.Millisecond), E: floor.Recovered{Gap: gap, Cut: found.Cut}}
	if err := w.Append(back); err != nil && !errors.Is(err, logbook.ErrWaiting) {
		return nil, fmt.Errorf("take up the interrupted class: %w", err)
	}
	return &tui.Log{Keeper: tui.NewBook(w), Past: append(append(events, back), found.Log.Private...), Zero: now.Add(-t)}, nil
}

// again opens the log of a run that is there already.
func (b *books) again(run *logbook.Run) (logbook.Recovered, *logbook.Writer, error) {
	w, found, err := b.folder.Resume(run)
	if err != nil && !errors.Is(err, logbook.ErrWaiting) {
		return found, nil, fmt.Errorf("take up the class again: %w", err)
	}
	b.writer = w
	b.opened, _ = found.Log.Opened()
	return found, w, nil
}

// close gives the log up; what could be kept is kept, and the rest was said.
func (b *books) close() {
	if b.writer != nil {
		b.path = filepath.Join(b.root, filepath.FromSlash(b.writer.State().Path))
		b.writer.Close()
		b.writer = nil
	}
}
