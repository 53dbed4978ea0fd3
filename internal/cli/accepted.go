package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"

	"github.com/google/renameio/v2/maybe"

	"hawser/internal/floor"
	"hawser/internal/review"
	"hawser/internal/session"
	"hawser/internal/tui"
)

// nextName is the file of the loads for next time that the coach has accepted. It
// lies beside the logs, so that the made-up home has one too.
const nextName = "next.toml"

// readNext reads next.toml; where there is none, nothing was accepted.
func (h *home) readNext() ([]session.Accepted, error) {
	src, err := h.nextSource()
	if err != nil {
		return nil, err
	}
	return session.ParseAccepted(filepath.Join(h.logs, nextName), src)
}

func (h *home) nextSource() ([]byte, error) {
	src, err := readFile(filepath.Join(h.logs, nextName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return src, err
}

// standing is what was accepted and stands today.
func (h *home) standing() []session.Accepted { return session.Standing(h.accepted, day(time.Now())) }

// accept writes a load for next time down where the next board finds it.
func (h *home) accept(a session.Accepted) error {
	return h.changeNext(func(name string, src []byte) ([]byte, error) { return session.Accept(name, src, a) })
}

// coming is next time of a run as the screen reaches it. run is the ULID of the
// run, wall is when it began; guard is around every write.
func (h *home) coming(report *review.Report, plan *floor.Plan, run string, wall time.Time, guard func(func() error) error) *tui.Coming {
	h.answer(report, plan, run, wall)
	return &tui.Coming{
		Plan: plan, Report: report, Taken: h.accepted, Week: day(monday(wall.AddDate(0, 0, 7))),
		Accept: func(a session.Accepted) error {
			a.Date = day(time.Now())
			return guard(func() error { return h.accept(a) })
		},
		Reject: func(a session.Accepted) error {
			return guard(func() error { return h.dropNext(a.SamePlace) })
		},
	}
}

// guarded writes while no other program has the home.
func (s *shell) guarded(h *home) func(func() error) error {
	return func(write func() error) error {
		folder, err := s.lock(h)
		if err != nil {
			return err
		}
		return errors.Join(write(), folder.Close())
	}
}

// alone writes where the home is this program's already.
func alone(write func() error) error { return write() }

// dropNext takes accepted loads out again: those that are out.
func (h *home) dropNext(out func(*session.Accepted) bool) error {
	return h.changeNext(func(name string, src []byte) ([]byte, error) { return session.Reject(name, src, out) })
}

func (h *home) changeNext(change func(name string, src []byte) ([]byte, error)) error {
	path := filepath.Join(h.logs, nextName)
	before, err := h.nextSource()
	if err != nil {
		return err
	}
	after, err := change(path, before)
	if err != nil || bytes.Equal(before, after) {
		return err
	}
	if len(before) == 0 {
		after = h.fresh(nextName, after)
	}
	if err := maybe.WriteFile(path, after, 0o600); err != nil {
		return fmt.Errorf("write the next loads: %w", err)
	}
	h.accepted, err = session.ParseAccepted(path, after)
	return err
}
