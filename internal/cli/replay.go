package cli

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync/atomic"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"hawser/internal/logbook"
	"hawser/internal/review"
	"hawser/internal/tui"
)

func (s *shell) replayCommand() *cobra.Command {
	var r running
	cmd := &cobra.Command{
		Use:   "replay [LOG [BEFORE]]",
		Short: "A class again, under a moving time line",
		Long: "Shows a run as ropes and knots under a time line that plays at any speed, back and\n" +
			"forth; Enter leads to next time, where loads are accepted, changed or rejected. Tab lays\n" +
			"another run beneath it: BEFORE, or else the last one of the same session. Without a\n" +
			"terminal it prints what splits prints.",
		Example: "hawser replay\nhawser replay 20261118T1702\nhawser replay 20261118T1702 20261111T1702",
		Args:    atMost("LOG and BEFORE", 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			h, log, err := s.homeAndLog(args[:min(1, len(args))])
			if err != nil {
				return err
			}
			if err := begun(log); err != nil {
				return err
			}
			if !term.IsTerminal(s.in.Fd()) {
				return errors.Join(printReport(cmd.OutOrStdout(), h.answered(log), h.house.Style(), false), s.damaged(log))
			}
			from, err := h.replayed(h.history(), log, args, s.guarded(h))
			if err != nil {
				return err
			}
			if err := tui.RunReplay(tui.NewReplay(from), h.house, look(r), s.in, os.Stdout); err != nil && !errors.Is(err, tui.ErrInterrupted) {
				return fmt.Errorf("replay: %w", h.reported(err))
			}
			return s.damaged(log)
		},
	}
	cmd.Flags().BoolVar(&r.ascii, "ascii", false, "draw with ASCII only")
	cmd.Flags().BoolVar(&r.light, "light", false, "dark on light, for a projector")
	return cmd
}

// shelf is the runs of the home as they are listed to choose a replay from.
type shelf struct {
	home *home
	past atomic.Pointer[review.History] // what the list was made of
}

// recent is the runs, the newest first.
func (s *shelf) recent() []tui.Recent {
	past := s.home.history()
	s.past.Store(past)
	if past == nil {
		return nil
	}
	var all []tui.Recent
	for _, run := range slices.Backward(past.Summaries()) {
		all = append(all, tui.Recent{Log: run.Path, Wall: run.Wall, Session: run.Session, People: run.People()})
	}
	return all
}

// replay opens a log of the list. It looks for no other: the list knows where the
// run before it is.
func (s *shelf) replay(path string) (*tui.Replay, error) {
	log, err := s.home.load(path)
	if err == nil {
		err = begun(log)
	}
	if err != nil {
		return nil, err
	}
	from, err := s.home.replayed(s.past.Load(), log, nil, alone)
	if err != nil {
		return nil, err
	}
	return tui.NewReplay(from), nil
}

// replayed is what a replay is fed from; args may name the run beneath, and guard is
// around every write.
func (h *home) replayed(past *review.History, log *logbook.Log, args []string, guard func(func() error) error) (tui.Replayed, error) {
	from := tui.Replayed{Events: log.Events}
	o, _ := log.Opened()
	before := h.lastLog(past, o.Plan.Session, o.Run)
	if len(args) > 1 {
		var err error
		if before, err = h.log(args[1]); err != nil {
			return from, err
		}
	}
	if before != nil {
		if b, ok := before.Opened(); ok && b.Plan != nil {
			from.Before = before.Events
		}
	}
	from.Next = func() (*tui.Coming, error) {
		report, st := reportOf(log)
		return h.coming(report, st.Plan(), o.Run, o.Wall, guard), nil
	}
	return from, nil
}

func (s *shell) watchCommand() *cobra.Command {
	var r running
	cmd := &cobra.Command{
		Use:     "watch [LOG]",
		Short:   "The wall on a second screen, by following the log of the class",
		Long:    "Mirrors a run that another terminal, or another machine that sees the folder, has on.",
		Example: "hawser watch",
		Args:    atMostOne("LOG"),
		RunE: func(_ *cobra.Command, args []string) error {
			h, log, err := s.homeAndLog(args)
			if err != nil {
				return err
			}
			err = tui.RunWatch(logbook.Follow(log.Path).Next, h.house, look(r), s.in, os.Stdout)
			if errors.Is(err, tui.ErrInterrupted) {
				return &exit{Interrupted, nil}
			}
			if err != nil {
				return fmt.Errorf("watch: %w", h.reported(err))
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&r.ascii, "ascii", false, "draw with ASCII only")
	cmd.Flags().BoolVar(&r.light, "light", false, "dark on light, for a projector")
	return cmd
}

// homeAndLog opens the home and the run that is named, or the newest.
func (s *shell) homeAndLog(args []string) (*home, *logbook.Log, error) {
	h, err := s.open("")
	if err != nil {
		return nil, nil, err
	}
	log, err := h.log(strings.Join(args, ""))
	return h, log, err
}
