package cli

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"runtime/debug"
	"strings"
	"time"

	"github.com/oklog/ulid/v2"
	"github.com/spf13/cobra"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/pages"
	"hawser/internal/presses"
	"hawser/internal/review"
)

func (s *shell) rehearseCommand() *cobra.Command {
	var who []string
	var file, at string
	var asJSON, keep bool
	cmd := &cobra.Command{
		Use:   "rehearse SESSION --presses FILE",
		Short: "The same run in simulated time, its presses read from a file",
		Long: "A class tried out at the desk: every press and every mess stands in a text file,\n" +
			"with the time on the room clock from the first GO. The answer is what the run's\n" +
			"splits would say. A press that a run would refuse is named on stderr with its line.",
		Example: "hawser rehearse slack-water --presses slack-water.presses\n" +
			"hawser rehearse slack-water --presses evening.txt --json\n" +
			"hawser rehearse slack-water --presses evening.txt --keep --at 2026-11-18T18:00",
		Args: one("SESSION"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if file == "" {
				return usage(fmt.Errorf("%s needs a file of presses: --presses FILE", cmd.CommandPath()))
			}
			began, err := began(keep, at)
			if err != nil {
				return err
			}
			debug.SetGCPercent(400) // it is short: most end before 16 MB are used once
			go pages.Reserve(8 << 20)
			plan, err := s.plan(args[0], who)
			if err != nil {
				return err
			}
			for _, f := range plan.board.Findings {
				if f.About == lanes.NextTime {
					fmt.Fprintln(s.talk, shown(strings.TrimPrefix(f.Athlete+": "+f.Text, ": ")))
				}
			}
			played, err := s.play(plan, file, began)
			if err != nil {
				return err
			}
			report := review.Make(played.State, played.Now)
			plan.answer(&report, played.State.Plan(), "", began) // before it is a log itself
			if keep {
				if err := s.keepRun(plan.home, played.Events); err != nil {
					return err
				}
			}
			return printReport(cmd.OutOrStdout(), &report, plan.house.Style(), asJSON)
		},
	}
	s.whoFlag(cmd, &who)
	cmd.Flags().StringVar(&file, "presses", "", "the file of presses")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the splits as JSON")
	cmd.Flags().BoolVar(&keep, "keep", false, "keep the run as a log, as if it had happened")
	cmd.Flags().StringVar(&at, "at", "", "with --keep: when it began, as 2026-11-18T18:00")
	s.completeSessions(cmd)
	return cmd
}

// began reads --at, the wall time of the run that --keep keeps.
func began(keep bool, at string) (time.Time, error) {
	switch {
	case at == "":
		return time.Now(), nil
	case !keep:
		return time.Time{}, usage(fmt.Errorf("--at says when a kept run began; add --keep"))
	}
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339} {
		if t, err := time.ParseInLocation(layout, at, time.Local); err == nil {
			return t, nil
		}
	}
	return time.Time{}, usage(fmt.Errorf("--at %q is no time; write it as 2026-11-18T18:00", shown(at)))
}

// play runs the presses of a file through the engine, and says which it refused.
// The made-up home has such a file beside each of its sessions: there the name of
// one serves where no file has it.
func (s *shell) play(plan *planned, file string, began time.Time) (presses.Played, error) {
	src, err := readFile(file)
	if errors.Is(err, fs.ErrNotExist) && plan.demo {
		if own, wrong := plan.source("sessions/" + file); wrong == nil {
			src, err = own, nil
		}
	}
	if err != nil {
		return presses.Played{}, err
	}
	cast := presses.Cast{}
	for _, a := range plan.roster.Athletes {
		cast.People = append(cast.People, a.Name)
	}
	for _, sled := range plan.kit.Sleds {
		cast.Sleds = append(cast.Sleds, sled.Name)
	}
	lines, err := presses.Parse(shown(file), src, cast)
	if err != nil {
		return presses.Played{}, err
	}
	played := presses.Play(floor.Opened{Run: runID(began), Wall: began, Plan: plan.floorPlan()}, lines)
	var said bytes.Buffer // a storm of presses has a thousand of them
	for _, w := range played.Warned {
		fmt.Fprintf(&said, "%s:%d: %s\n", shown(file), w.Line.Number, shown(w.Word))
	}
	for _, r := range played.Refused {
		fmt.Fprintf(&said, "%s:%d: refused: %s\n", shown(file), r.Line.Number, shown(r.Word))
	}
	_, _ = said.WriteTo(s.talk) // where nobody listens the answer is all the same
	return played, nil
}

// printReport prints what a run says, as a page or as JSON.
func printReport(out io.Writer, r *review.Report, style measure.Style, asJSON bool) error {
	if asJSON {
		return printJSON(out, r)
	}
	p := reportPage{report: r, style: style}
	if _, err := io.WriteString(out, p.String()); err != nil {
		return fmt.Errorf("print the splits: %w", err)
	}
	return nil
}

// runID names a run by when it began.
func runID(began time.Time) string {
	return ulid.MustNew(ulid.Timestamp(began), rand.Reader).String()
}
