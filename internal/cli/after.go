package cli

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hawser/internal/logbook"
	"hawser/internal/sound"
	"hawser/internal/tui"
)

func (s *shell) afterCommand() *cobra.Command {
	var r running
	cmd := &cobra.Command{
		Use:   "after [LOG]",
		Short: "The page after class, also a day later: amounts, effort, pain",
		Long: "Opens the page after class of a run that is over, the newest or the one whose file name\n" +
			"begins with LOG. What is typed there is added to the log; effort and pain go into the\n" +
			"private file beside it.",
		Example: "hawser after\nhawser after 20261118T1702",
		Args:    atMostOne("LOG"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.after(cmd, strings.Join(args, ""), r)
		},
	}
	cmd.Flags().BoolVar(&r.ascii, "ascii", false, "draw with ASCII only")
	cmd.Flags().BoolVar(&r.light, "light", false, "dark on light, for a projector")
	return cmd
}

// after shows the page after class of a run whose log begins with name.
func (s *shell) after(cmd *cobra.Command, name string, r running) error {
	h, err := s.open("")
	if err != nil {
		return err
	}
	folder, err := s.lock(h)
	if err != nil {
		return err
	}
	defer folder.Close()
	runs, err := folder.Runs()
	if err != nil {
		return fmt.Errorf("list the logs: %w", err)
	}
	slices.Reverse(runs)
	i := slices.IndexFunc(runs, func(run logbook.Run) bool {
		return strings.HasPrefix(run.Path[strings.LastIndex(run.Path, "/")+1:], name)
	})
	if i < 0 {
		return &exit{NoLog, fmt.Errorf("there is no such log in %s; see: hawser splits", shown(h.logs))}
	}
	open := &books{folder: folder, root: h.logs}
	defer open.close()
	found, w, err := open.again(&runs[i])
	if err != nil {
		return err
	}
	if !found.Log.Ended() {
		return usage(errors.New("that class is not over; take it up again with: hawser run"))
	}
	events := found.Log.Events
	page := &tui.World{
		Roster: h.roster, Kit: h.kit, House: h.house, Clock: tui.NewClock(0), Next: open.next(h),
		After: &tui.Log{
			Keeper: tui.NewBook(w), Past: append(slices.Clone(events), found.Log.Private...),
			Zero: time.Now().Add(-events[len(events)-1].T),
		},
	}
	silent := openCues(cmd.Context(), page.Clock, sound.Options{Quiet: true})
	defer silent.close()
	page.Cues = silent
	if err := tui.Run(func() (*tui.World, error) { return page, nil }, look(r), s.in, os.Stdout); err != nil && !errors.Is(err, tui.ErrInterrupted) {
		return fmt.Errorf("after class: %w", h.reported(err))
	}
	return nil
}
