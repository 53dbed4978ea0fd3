package cli

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"hawser/internal/logbook"
	"hawser/internal/tui"
)

func (s *shell) replayCommand() *cobra.Command {
	var r running
	cmd := &cobra.Command{
		Use:   "replay [LOG]",
		Short: "A class again, under a moving time line",
		Long: "Shows a run as ropes and knots under a time line that plays at any speed, back and\n" +
			"forth. Without a terminal it prints what splits prints.",
		Example: "hawser replay\nhawser replay 20261118T1702",
		Args:    atMostOne("LOG"),
		RunE: func(cmd *cobra.Command, args []string) error {
			h, log, err := s.homeAndLog(args)
			if err != nil {
				return err
			}
			if !term.IsTerminal(s.in.Fd()) {
				return errors.Join(printReport(cmd.OutOrStdout(), h.answered(log), h.house.Style(), false), s.damaged(log))
			}
			if err := tui.RunReplay(tui.NewReplay(log.Events), h.house, look(r), s.in, os.Stdout); err != nil && !errors.Is(err, tui.ErrInterrupted) {
				return fmt.Errorf("replay: %w", err)
			}
			return s.damaged(log)
		},
	}
	cmd.Flags().BoolVar(&r.ascii, "ascii", false, "draw with ASCII only")
	cmd.Flags().BoolVar(&r.light, "light", false, "dark on light, for a projector")
	return cmd
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
				return fmt.Errorf("watch: %w", err)
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
