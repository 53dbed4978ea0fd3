package cli

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"github.com/spf13/cobra"

	"hawser/internal/coachfile"
	"hawser/internal/history"
	"hawser/internal/logbook"
	"hawser/internal/measure"
	"hawser/internal/review"
)

func (s *shell) historyCommand() *cobra.Command {
	var asJSON, asCSV bool
	cmd := &cobra.Command{
		Use:   "history [NAME]",
		Short: "Loads, work and fade over the months",
		Long: "Every run of the home. For one person: load, work and fade drawn over the months, bests\n" +
			"with their tags, and the session load of the last weeks.",
		Example: "hawser history Maren\nhawser history --csv",
		Args:    atMostOne("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			h, err := s.open("")
			if err != nil {
				return err
			}
			past, faults, err := history.Read(h.logs, s.progress())
			if err != nil {
				return fmt.Errorf("read the logs: %w", err)
			}
			if past.Runs() == 0 && len(past.Mute()) == 0 {
				return &exit{NoLog, fmt.Errorf("there is no log in %s yet; run a class first", shown(h.logs))}
			}
			for _, run := range past.Mute() {
				fmt.Fprintf(s.talk, "the log of run %s does not say what was run: its first line is gone or cut; nothing of it is counted\n", shown(run))
			}
			names := past.Names()
			if len(args) > 0 {
				names = args
				if len(past.Movements(args[0])) == 0 {
					return usage(fmt.Errorf("no log knows %q; it knows %s", shown(args[0]), shown(some(past.Names()))))
				}
			}
			out := cmd.OutOrStdout()
			switch {
			case asCSV:
				sheet := review.Sheet{Style: h.house.Style()}
				past.CSV(&sheet, names...)
				_, err = out.Write(sheet.Bytes())
			case asJSON:
				err = historyJSON(out, past, names)
			default:
				_, err = io.WriteString(out, h.historyText(past, args))
			}
			if err != nil {
				return fmt.Errorf("print the history: %w", err)
			}
			return s.faults(faults)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the history as JSON")
	cmd.Flags().BoolVar(&asCSV, "csv", false, "print the history as CSV")
	return cmd
}

// faults says what is wrong with the logs. That a line was being written when all
// ended, and that a newer program wrote more, is said and is nothing wrong.
func (s *shell) faults(all []*history.Fault) error {
	var wrong []error
	for _, f := range all {
		switch {
		case errors.Is(f, logbook.ErrTorn):
			fmt.Fprintf(s.talk, "%s; all before it is counted\n", shown(f.Error()))
		case errors.Is(f, logbook.ErrNewer):
			fmt.Fprintf(s.talk, "%s: a newer hawser wrote it; what this one does not know is not counted\n", shown(f.Path))
		default:
			wrong = append(wrong, f)
		}
	}
	if len(wrong) > 0 {
		return &exit{BadFile, errors.Join(wrong...)}
	}
	return nil
}

// historyText is the history of the one who is named, else of everyone.
func (h *home) historyText(past *review.History, named []string) string {
	p := historyPage{past: past, roster: h.roster, style: h.house.Style(), dot: "o"}
	if utf8Locale() {
		p.dot = "●"
	}
	if len(named) == 0 {
		return p.everyone()
	}
	return p.person(named[0])
}

// progress says how far a long reading is, once a second at most.
func (s *shell) progress() func(done, all int) {
	said := time.Now()
	return func(done, all int) {
		if now := time.Now(); now.Sub(said) >= time.Second {
			said = now
			fmt.Fprintf(s.talk, "read %d of %d logs\n", done, all)
		}
	}
}

// pointJSON is one line of a person's history.
type pointJSON struct {
	Athlete  string  `json:"athlete"`
	Day      string  `json:"day"`
	Session  string  `json:"session"`
	Movement string  `json:"movement"`
	On       string  `json:"on"`
	Surface  string  `json:"surface"`
	Layout   string  `json:"layout"`
	Format   string  `json:"format"`
	Metres   number  `json:"distance_m"`
	Moves    number  `json:"moves_kg"`
	Best     bool    `json:"best"`
	Typical  number  `json:"typical_s"`
	Rounds   int     `json:"rounds"`
	Share    *number `json:"work_share_pct"`
	Fade     *number `json:"fade_pct"`
}

// historyJSON prints every line of those people, a line each: ten years of them are
// a document that is better not held whole.
func historyJSON(out io.Writer, past *review.History, names []string) error {
	w := bufio.NewWriterSize(out, 1<<16)
	fmt.Fprintf(w, "{\n  \"runs\": %d,\n  \"points\": [", past.Runs())
	var point bytes.Buffer
	enc := json.NewEncoder(&point)
	enc.SetEscapeHTML(false)
	before := "\n    "
	for _, who := range names {
		for _, movement := range past.Movements(who) {
			for _, at := range past.Points(who, movement) {
				point.Reset()
				if err := enc.Encode(newPointJSON(who, at)); err != nil {
					return fmt.Errorf("write the answer: %w", err)
				}
				fmt.Fprintf(w, "%s%s", before, coachfile.EscapeJSON(bytes.TrimSuffix(point.Bytes(), []byte("\n"))))
				before = ",\n    "
			}
		}
	}
	fmt.Fprint(w, "\n  ]\n}\n")
	return w.Flush() //nolint:wrapcheck // the caller says what was printed
}

func fadeOf(p review.Point, style measure.Style) string {
	if math.IsNaN(p.Fade) {
		return ""
	}
	return "fade " + percent(style, p.Fade)
}

func newPointJSON(who string, p review.Point) pointJSON {
	return pointJSON{
		Athlete: who, Day: p.Of.Wall.Format(time.DateOnly), Session: p.Of.Session, Movement: p.Movement, On: p.On,
		Surface: p.Surface, Layout: p.Layout, Format: string(p.Format), Metres: metres(p.Distance), Moves: kilograms(p.Moves),
		Best: p.Best, Typical: seconds(p.Typical()), Rounds: p.Splits.Len(), Share: known(p.Share), Fade: known(p.Fade),
	}
}

// known is a number, or null where there is none.
func known(x float64) *number {
	if math.IsNaN(x) {
		return nil
	}
	return new(number(x))
}
