package cli

import (
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"

	"hawser/internal/logbook"
	"hawser/internal/review"
)

func (s *shell) splitsCommand() *cobra.Command {
	var asJSON, asCSV bool
	var page string
	cmd := &cobra.Command{
		Use:   "splits [LOG…]",
		Short: "What everybody did in a class, and what comes next",
		Long: "The splits of a run: times, margins, fade, score, and the load for next time with its\n" +
			"reason. LOG is a file, or how its name begins; without one it is the newest run.",
		Example: "hawser splits\nhawser splits 20261118T1702 --csv\nhawser splits --page evening.html",
		RunE: func(cmd *cobra.Command, args []string) error {
			h, err := s.open("")
			if err != nil {
				return err
			}
			if len(args) == 0 {
				args = []string{""}
			}
			var faults []error
			sheet := review.Sheet{Style: h.house.Style()}
			for _, arg := range args {
				log, err := h.log(arg)
				if err != nil {
					return err
				}
				if err := begun(log); err != nil {
					return err
				}
				faults = append(faults, s.damaged(log))
				report := h.answered(log)
				switch {
				case page != "":
					err = writePage(page, log, report, h)
				case asCSV:
					report.CSV(&sheet)
				default:
					err = printReport(cmd.OutOrStdout(), report, h.house.Style(), asJSON)
				}
				if err != nil {
					return err
				}
			}
			if asCSV {
				if _, err := cmd.OutOrStdout().Write(sheet.Bytes()); err != nil {
					return fmt.Errorf("print the splits: %w", err)
				}
			}
			return errors.Join(faults...)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the splits as JSON")
	cmd.Flags().BoolVar(&asCSV, "csv", false, "print the splits as CSV")
	cmd.Flags().StringVar(&page, "page", "", "write a page for printing and sharing, one HTML file")
	return cmd
}

// answered is what a log says, with next time.
func (h *home) answered(log *logbook.Log) *review.Report {
	report, st := reportOf(log)
	if o, ok := log.Opened(); ok && st.Plan() != nil {
		h.answer(report, st.Plan(), o.Run, o.Wall)
	}
	return report
}

// writePage writes the results page, for its owner's eyes until they share it.
func writePage(path string, log *logbook.Log, report *review.Report, h *home) error {
	day := ""
	if o, ok := log.Opened(); ok {
		day = o.Wall.Format(time.DateOnly)
	}
	if err := os.WriteFile(path, []byte(report.Page(day, h.house.Style())), 0o600); err != nil {
		return fmt.Errorf("write the page: %w", err)
	}
	return nil
}
