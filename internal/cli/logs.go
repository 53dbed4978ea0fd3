package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/review"
)

// load reads the run of a log of the home; path is below that.
func (h *home) load(path string) (*logbook.Log, error) {
	log, err := logbook.Load(filepath.Join(h.logs, filepath.FromSlash(path)))
	if err != nil {
		return nil, fmt.Errorf("read a log: %w", err)
	}
	return log, nil
}

// log finds a run by the path of its file, by the beginning of its file name, or,
// where arg is "", the newest.
func (h *home) log(arg string) (*logbook.Log, error) {
	if _, err := os.Stat(arg); arg != "" && err == nil {
		log, err := logbook.Load(arg)
		if err != nil {
			return nil, fmt.Errorf("read a log: %w", err)
		}
		return log, nil
	}
	runs, err := logbook.Runs(h.logs)
	if err != nil {
		return nil, fmt.Errorf("list the logs: %w", err)
	}
	for _, run := range slices.Backward(runs) {
		name := filepath.Base(run.Path)
		if arg == "" || strings.HasPrefix(name, arg) || strings.HasPrefix(run.ULID, strings.ToUpper(arg)) {
			return h.load(run.Path)
		}
	}
	if arg == "" {
		return nil, &exit{NoLog, fmt.Errorf("there is no log in %s yet; run a class, or try: hawser rehearse SESSION --presses FILE --keep", shown(h.logs))}
	}
	return nil, &exit{NoLog, fmt.Errorf("no log begins with %q; look for one in %s", shown(arg), shown(filepath.Join(h.logs, "log")))}
}

// stateOf plays a log through the engine, up to the last thing that the clock did
// by itself.
func stateOf(log *logbook.Log) (*floor.State, time.Duration) {
	st := floor.New()
	now := time.Duration(0)
	for _, e := range log.Events {
		st.Apply(e)
		now = max(now, e.T)
	}
	for _, e := range log.Private {
		st.Apply(e)
	}
	return st, now
}

// reportOf is what a log says.
func reportOf(log *logbook.Log) (*review.Report, *floor.State) {
	st, now := stateOf(log)
	if st.Plan() == nil {
		return &review.Report{Ends: floor.None}, st
	}
	report := review.Make(st, now)
	return &report, st
}

// begun refuses a log that does not say what was run: nothing of it can be told.
func begun(log *logbook.Log) error {
	if o, ok := log.Opened(); ok && o.Plan != nil {
		return nil
	}
	why := errors.New("there is not one whole line in it, so nothing of it can be told")
	if len(log.Events) > 0 {
		why = errors.New("its first line, which says what was run, is gone; look for another copy of it")
	}
	return &exit{BadFile, errors.Join(fmt.Errorf("%s: %w", shown(log.Path), why), log.Err())}
}

// damaged says what is wrong with a log; it is exit status 3 once all is printed.
// That a line was being written when all ended, that the class did not end, and
// that a newer program wrote more is said, and is nothing wrong.
func (s *shell) damaged(log *logbook.Log) error {
	name := shown(filepath.Base(log.Path))
	for _, d := range log.Damage {
		if errors.Is(d, logbook.ErrTorn) {
			fmt.Fprintf(s.talk, "%s: line %d is cut short and left out; all before it is here\n", name, d.Line)
		}
	}
	if log.Newer {
		fmt.Fprintf(s.talk, "%s: a newer hawser wrote it; what this one does not know is left out\n", name)
	}
	if !log.Ended() {
		fmt.Fprintf(s.talk, "%s: this class has not ended\n", name)
	}
	err := log.Err()
	if err == nil {
		return nil
	}
	return &exit{BadFile, err}
}

// keepRun writes the events of a rehearsal as a log.
func (s *shell) keepRun(h *home, events []floor.Stamped) (err error) {
	folder, err := s.lock(h)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, folder.Close()) }()
	w, err := folder.Create(events[0])
	if err != nil {
		return fmt.Errorf("keep the run: %w", err)
	}
	if err := w.Append(events[1:]...); err != nil {
		return errors.Join(fmt.Errorf("keep the run: %w", err), w.Close())
	}
	if err := w.Close(); err != nil {
		return fmt.Errorf("keep the run: %w", err)
	}
	return nil
}

// lock takes the home's logs for this process alone.
func (s *shell) lock(h *home) (*logbook.Home, error) {
	folder, err := logbook.Open(h.logs)
	if errors.Is(err, logbook.ErrInUse) {
		return nil, &exit{HomeInUse, err}
	}
	if err != nil {
		return nil, fmt.Errorf("open the logs: %w", err)
	}
	return folder, nil
}
