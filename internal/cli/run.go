package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"sync"
	"time"

	"github.com/charmbracelet/colorprofile"
	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/logbook"
	"hawser/internal/session"
	"hawser/internal/sound"
	"hawser/internal/tui"
)

// running is what a run may be told on the command line.
type running struct {
	who   []string
	yes   bool
	plain bool
	quiet bool
	ascii bool
	light bool
}

func (s *shell) runCommand() *cobra.Command {
	var r running
	cmd := &cobra.Command{
		Use:   "run [SESSION]",
		Short: "Run the class: the wall, the desk, the clock and the presses",
		Long: "Asks who is here, shows the board, and runs the class full-screen. Letters and digits\n" +
			"are presses; the bottom line shows the other keys. Every press is on the disk before the\n" +
			"screen shows it as kept, and a class that was interrupted is offered back.",
		Example: "hawser run slack-water\nhawser run slack-water --who Maren,Eskil --yes\nhawser run slack-water --plain",
		Args:    atMostOne("SESSION"),
		RunE: func(cmd *cobra.Command, args []string) error {
			name := ""
			if len(args) > 0 {
				name = args[0]
			}
			return s.run(cmd, name, r)
		},
	}
	s.whoFlag(cmd, &r.who)
	cmd.Flags().BoolVar(&r.yes, "yes", false, "everyone is here and the board stands: straight to the class")
	cmd.Flags().BoolVar(&r.plain, "plain", false, "line mode: a plain line for everything that happens")
	cmd.Flags().BoolVar(&r.quiet, "quiet", false, "no sound")
	cmd.Flags().BoolVar(&r.ascii, "ascii", false, "draw with ASCII only")
	cmd.Flags().BoolVar(&r.light, "light", false, "dark on light, for a projector")
	s.completeSessions(cmd)
	return cmd
}

// pick is hawser with nothing behind it: the list of sessions.
func (s *shell) pick(cmd *cobra.Command) error { return s.run(cmd, "", running{}) }

// run is a class from the choice of a session to the page after it.
func (s *shell) run(cmd *cobra.Command, name string, r running) error {
	if !term.IsTerminal(s.in.Fd()) && !r.plain {
		return s.paper(cmd, name)
	}
	ctx, stop := context.WithCancel(cmd.Context())
	defer stop()
	if r.plain || os.Getenv("TERM") == "dumb" {
		return s.runLines(ctx, name, r)
	}
	return s.runScreen(ctx, name, r)
}

// gym is what a class is run with.
type gym struct {
	*home

	world *tui.World
	lock  *logbook.Home
	books *books
	cues  *cues
}

// gym opens the home for a class.
func (s *shell) gym(ctx context.Context, name string, r running) (*gym, error) {
	h, err := s.open(name)
	if err != nil {
		return nil, err
	}
	w, err := s.world(h, name, r)
	if err != nil {
		return nil, err
	}
	lock, err := s.lock(h)
	if err != nil {
		return nil, err
	}
	books := &books{folder: lock, root: h.logs}
	w.Open, w.Next = books.begin, books.next(h)
	shelf := &shelf{home: h}
	w.Recent, w.Replay = shelf.recent, shelf.replay
	cues := openCues(ctx, w.Clock, sound.Options{Quiet: r.quiet, Folder: h.sounds(), Latency: speakerLate()})
	w.Cues = cues
	return &gym{h, w, lock, books, cues}, nil
}

func (g *gym) close() {
	g.cues.close()
	g.books.close()
	g.lock.Close() // everything is on the disk already
}

// runScreen runs a class full-screen. The home is opened while the terminal is made
// ready, so what there is to say of it is said when the terminal is as it was.
func (s *shell) runScreen(ctx context.Context, name string, r running) error {
	go tui.Warm()
	var said bytes.Buffer
	var g *gym
	err := tui.Run(func() (*tui.World, error) {
		talk := s.talk
		s.talk = &said
		defer func() { s.talk = talk }()
		opened, err := s.gym(ctx, name, r)
		if err != nil {
			return nil, err
		}
		if opened.world.Resume, err = opened.books.unfinished(time.Now()); err != nil {
			opened.close()
			return nil, err
		}
		g = opened
		return g.world, nil
	}, look(r), s.in, os.Stdout)
	_, _ = said.WriteTo(s.talk)
	if g == nil {
		if s.home != nil {
			err = s.home.reported(err)
		}
		return err
	}
	defer g.close()
	g.books.close()
	s.bests(g.home, g.books)
	if errors.Is(err, tui.ErrInterrupted) {
		return &exit{Interrupted, nil}
	}
	if err != nil {
		return fmt.Errorf("run the class: %w", g.reported(err))
	}
	return nil
}

// paper is a run with no terminal to run on: the board, and how to try the class.
func (s *shell) paper(cmd *cobra.Command, name string) error {
	h, err := s.open(name)
	if err != nil {
		return err
	}
	if name == "" {
		list := h.sessions()
		if len(list) == 0 {
			return usage(errors.New("there is no session yet; write one as sessions/NAME.toml"))
		}
		name = list[0]
		for _, n := range list {
			if n == "slack-water" {
				name = n
			}
		}
	}
	plan, err := h.plan(name, nil)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprint(cmd.OutOrStdout(), plan.page(false)); err != nil {
		return fmt.Errorf("print the board: %w", err)
	}
	fmt.Fprintf(s.talk, "\nno terminal here, so no class runs. To try one out in simulated time:\n  hawser rehearse %s --presses FILE\n", shown(name))
	return nil
}

// world is what the screens reach this home through.
func (s *shell) world(h *home, name string, r running) (*tui.World, error) {
	w := &tui.World{Roster: h.roster, Kit: h.kit, House: h.house, Clock: tui.NewClock(0), Before: h.before}
	if h.demo {
		w.Notice = "the made-up class of a boathouse; for your own: hawser init DIR"
	}
	var err error
	w.Sessions, w.Rest = h.choice(name)
	if name != "" {
		if w.Session, err = h.session(name); err != nil {
			return nil, err
		}
	}
	if w.Here, err = h.present(r.who); err != nil {
		return nil, err
	}
	w.Yes = r.yes
	if !h.demo {
		w.Change = func(c tui.Change) (*tui.World, error) { return s.change(h, c) }
		w.Notice = h.lacks()
	}
	w.Week = func(day time.Time) (string, error) {
		plan, err := h.week(monday(day))
		if err != nil {
			return "", err
		}
		return plan.text(), nil
	}
	past := sync.OnceValue(h.past) // the picker does not wait for it
	w.Board = func(d tui.Day) (*lanes.Board, *floor.Plan, error) {
		b := lanes.Make(lanes.Input{Session: d.Session, Kit: d.Kit, Roster: h.roster, House: h.house, Here: d.Who, Past: past(), Edits: d.Edits, Accepted: h.standing()})
		return b, floor.MakePlan(b, h.roster, d.Kit, h.house, d.Who), nil
	}
	return w, nil
}

// firstSessions is how many sessions are read before the first screen: more than
// stand on one.
const firstSessions = 60

// choice reads the sessions that the first screen shows, none where one is named
// already, and says how to read the rest.
func (h *home) choice(named string) (first []*session.Session, rest func() ([]*session.Session, map[string]time.Time)) {
	names := h.sessions()
	at := min(len(names), firstSessions)
	if named != "" {
		at = 0
	}
	return h.readable(names[:at]), func() ([]*session.Session, map[string]time.Time) {
		var ran map[string]time.Time
		if past := h.history(); past != nil {
			ran = past.LastRuns()
		}
		return h.readable(names[at:]), ran
	}
}

// readable returns those sessions that can be run; the others are named by check.
func (h *home) readable(names []string) []*session.Session {
	var all []*session.Session
	for _, n := range names {
		if one, err := h.session(n); err == nil {
			all = append(all, one)
		}
	}
	return all
}

// before returns last time's rounds of a session.
func (h *home) before(name string) func(part int, who string) []floor.Round {
	report := h.lastReport(h.history(), name, "")
	if report == nil {
		return nil
	}
	return func(part int, who string) []floor.Round {
		if part < 1 || part > len(report.Parts) {
			return nil
		}
		for i := range report.Parts[part-1].Athletes {
			if a := &report.Parts[part-1].Athletes[i]; a.Name == who {
				return a.Rounds
			}
		}
		return nil
	}
}

// runLines runs a class in line mode: there is no screen to choose on, so the
// session stands on the command line.
func (s *shell) runLines(ctx context.Context, name string, r running) error {
	g, err := s.gym(ctx, name, r)
	if err != nil {
		return err
	}
	defer g.close()
	w, open := g.world, g.books
	if w.Session == nil {
		return usage(fmt.Errorf("line mode needs a session: hawser run SESSION --plain; %s", g.offer()))
	}
	log, err := open.unfinished(time.Now())
	if err != nil {
		return err
	}
	if log != nil {
		fmt.Fprintln(s.talk, "a class was interrupted: it goes on; type end and Enter to end it")
	} else {
		board, plan, err := w.Board(tui.Day{Session: w.Session, Who: w.Here, Kit: g.kit})
		if err != nil {
			return err
		}
		if s.beforeGO(board) {
			return &exit{Findings, nil}
		}
		if log, err = open.begin(plan); err != nil {
			return err
		}
	}
	err = tui.RunLines(ctx, w, log, s.in, os.Stdout)
	open.close()
	s.bests(g.home, open)
	if errors.Is(err, tui.ErrInterrupted) {
		return &exit{Interrupted, nil}
	}
	return err // it says what it was doing
}

// beforeGO says in line mode what the board asks on a screen, and which way it takes;
// it reports whether the class is refused.
func (s *shell) beforeGO(board *lanes.Board) bool {
	for _, f := range board.Findings {
		if f.Level == session.Stop || f.Level == session.Warn && f.About == "fit" {
			fmt.Fprintf(s.talk, "%s: %s\n", f.Level, shown(strings.TrimPrefix(f.Athlete+": "+apart(f), ": ")))
		}
	}
	_, refused := board.Stops()
	if refused {
		fmt.Fprintln(s.talk, "this does not go as it stands")
	}
	return refused
}

// look is the terminal as it says it is. NO_COLOR set to anything, and a locale
// that is not UTF-8, have hand-made looks of their own.
func look(r running) tui.Look {
	k := tui.Look{Profile: colorprofile.Detect(os.Stdout, os.Environ())}
	if os.Getenv("NO_COLOR") != "" {
		k.Profile = colorprofile.ASCII
	}
	if r.ascii || !utf8Locale() {
		k.Mode = tui.Hashes
	}
	if r.light {
		k.Ground = tui.LightGround
	}
	return k
}

// utf8Locale reports whether the locale in force says UTF-8.
func utf8Locale() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := os.Getenv(name); v != "" {
			v = strings.ToUpper(v)
			return strings.Contains(v, "UTF-8") || strings.Contains(v, "UTF8")
		}
	}
	return false
}
