package tui

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/charmbracelet/colorprofile"
	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"

	"hawser/internal/cue"
	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// TestMain starts the signal watcher once, outside any bubble of fake time.
func TestMain(m *testing.M) {
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt)
	signal.Stop(c)
	os.Exit(m.Run())
}

// terminal ends lines as a terminal's driver would.
type terminal struct{ w io.Writer }

func (t terminal) Write(p []byte) (int, error) {
	if _, err := t.w.Write(bytes.ReplaceAll(p, []byte("\n"), []byte("\r\n"))); err != nil { // Write is the locked one
		return 0, fmt.Errorf("emulator: %w", err)
	}
	return len(p), nil
}

// notebook is a log in memory; slow is how long each append takes.
type notebook struct {
	mu   sync.Mutex
	slow time.Duration
	kept []floor.Stamped
	when []time.Time // each was kept
	bad  string
}

func (n *notebook) Append(events []floor.Stamped) error {
	time.Sleep(n.slow)
	n.mu.Lock()
	defer n.mu.Unlock()
	n.kept = append(n.kept, events...)
	n.when = append(n.when, slices.Repeat([]time.Time{time.Now()}, len(events))...)
	return nil
}

func (n *notebook) Trouble() string { return n.bad }

// awake is a machine that never sleeps, also where time is not real.
func awake(mono time.Duration) time.Duration { return mono }

// silence is the sound of a test; it counts how often it was told to stop.
type silence struct{ held int }

func (s *silence) Schedule([]floor.Moment) {}
func (s *silence) Hold(time.Duration)      { s.held++ }
func (s *silence) ClockJumped()            {}
func (s *silence) Speak([]cue.Said)        {}
func (s *silence) Trouble() string         { return "" }

// world is the boathouse with n people, all here, on a plan of one part.
func world(part session.Part, n, sleds int, log *notebook) *World {
	plan := class(part, n, sleds)
	r := &roster.Roster{}
	for _, p := range plan.People {
		r.Athletes = append(r.Athletes, roster.Athlete{Name: p.Name, Key: p.Key})
	}
	s := &session.Session{Name: "slack-water", Title: "Slack water", Aim: session.Conditioning, Parts: []session.Part{plan.Parts[0].Spec}}
	board := &lanes.Board{
		Session: s, Ends: 10 * time.Minute, PlatesMoved: 4, Proved: true,
		Parts: []lanes.Part{{Number: 1, Every: part.Every, Fit: lanes.Fit{Fits: true, Needs: 65 * time.Second, Has: 75 * time.Second, On: "B"}}},
		Findings: []session.Finding{
			{Level: session.Note, About: "load", Text: "Eskil: 55.8 % of a max tested 20 m straight"},
			{Level: session.Warn, About: "rest", Text: "Ragna has 0:35 of rest where the aim asks for 0:45"},
			{Level: session.Note, About: "caution", Text: "look at strap, knot and carabiner before the first heavy pull"},
		},
	}
	return &World{
		Roster: r, Kit: plan.Kit, House: house.Default(), Sessions: []*session.Session{s}, Clock: newClock(0, awake), Cues: &silence{},
		Board: func(Day) (*lanes.Board, *floor.Plan, error) { return board, plan, nil },
		Week:  func(time.Time) (string, error) { return "WEEK\n", nil },
		Open: func(p *floor.Plan) (*Log, error) {
			return &Log{Keeper: log, Past: []floor.Stamped{{N: 1, E: floor.Opened{Plan: p}}}, Zero: time.Now()}, nil
		},
	}
}

// stage is a whole program on an emulated terminal in fake time.
type stage struct {
	t  *testing.T
	p  *tea.Program
	em *vt.SafeEmulator
	m  *watched
}

// watched is the model of a program, for a test that looks at it while it runs.
type watched struct {
	mu sync.Mutex
	*Model
}

func (w *watched) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	w.mu.Lock()
	defer w.mu.Unlock()
	_, cmd := w.Model.Update(msg)
	return w, cmd
}

func (w *watched) View() tea.View {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.Model.View()
}

// see calls f while the program leaves the model alone.
func (w *watched) see(f func(m *Model)) {
	w.mu.Lock()
	defer w.mu.Unlock()
	f(w.Model)
}

// play runs a program of w × h for as long as f does.
func play(t *testing.T, w *World, cols, rows int, f func(s *stage)) {
	t.Helper()
	em := vt.NewSafeEmulator(cols, rows)
	m := &watched{Model: NewModel(w, Look{Profile: colorprofile.TrueColor})}
	p := tea.NewProgram(m, tea.WithInput(nil), tea.WithOutput(terminal{em}), tea.WithWindowSize(cols, rows),
		tea.WithoutSignalHandler(), tea.WithColorProfile(colorprofile.TrueColor), tea.WithEnvironment([]string{"TERM=xterm-256color"}))
	done := make(chan error)
	go func() {
		_, err := p.Run()
		done <- err
	}()
	defer func() {
		p.Quit()
		if err := <-done; err != nil {
			t.Errorf("the program ended with %v", err)
		}
		time.Sleep(3 * time.Second) // the last tick ends inside the bubble
	}()
	s := &stage{t, p, em, m}
	s.wait(50 * time.Millisecond)
	f(s)
}

func (s *stage) wait(d time.Duration) {
	time.Sleep(d)
	synctest.Wait()
}

// keys strikes keys, a little apart, as hands do.
func (s *stage) keys(names ...string) {
	named := map[string]tea.KeyPressMsg{
		"enter": {Code: tea.KeyEnter}, "space": {Code: tea.KeySpace, Text: " "}, "backspace": {Code: tea.KeyBackspace},
		"tab": {Code: tea.KeyTab}, "esc": {Code: tea.KeyEscape}, "down": {Code: tea.KeyDown}, "right": {Code: tea.KeyRight},
		"ctrl+c": {Code: 'c', Mod: tea.ModCtrl}, "ctrl+z": {Code: 'z', Mod: tea.ModCtrl},
	}
	for _, n := range names {
		k, ok := named[n]
		if !ok {
			k = tea.KeyPressMsg{Code: []rune(n)[0], Text: n}
		}
		s.p.Send(k)
		s.wait(150 * time.Millisecond)
	}
}

// screen is what stands on the terminal.
func (s *stage) screen() string { return ansi.Strip(s.em.Render()) }

// want fails where a text is not on the screen.
func (s *stage) want(texts ...string) {
	s.t.Helper()
	for _, text := range texts {
		if !strings.Contains(s.screen(), text) {
			s.t.Fatalf("the screen lacks %q:\n%s", text, s.screen())
		}
	}
}

// wantDigits fails where the big digits do not read so: they are read off the
// screen by drawing the text anew and looking for its lines.
func (s *stage) wantDigits(text string) {
	s.t.Helper()
	var big Raster
	var p *Page
	var l Layout
	s.m.see(func(m *Model) { p, l = NewPage(m.w, m.h), m.on.(*classroom).layout })
	big.Draw(p, l.Digits.in(1), l.Least, Quadrants, text, Work)
	screen := strings.Split(s.screen(), "\n")
	for y, line := range strings.Split(p.Plain(), "\n") {
		if y >= l.Digits.Y && y < l.Digits.Y+l.Digits.H {
			have := []rune(screen[y])
			have = have[:min(len(have), l.Digits.X+l.Digits.W)]
			if got := strings.TrimRight(string(have), " "); got != line {
				s.t.Fatalf("the digits do not read %s:\n%s", text, s.screen())
			}
		}
	}
}

// TestTenMinutes runs a whole class on fake time: from the picker to the wall,
// eight rounds with presses, and the page after class.
func TestTenMinutes(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		log := &notebook{slow: 4 * time.Millisecond}
		play(t, world(everyPart(), 4, 4, log), 80, 24, func(s *stage) {
			s.want("hawser", "Slack water", "conditioning")
			s.keys("enter")
			s.want("Who is here?", "nobody marked: all 4")
			s.keys("?", "g", "u", "e")
			s.want("a guest, by name alone")
			s.keys("esc")
			s.keys("m", "e")
			s.want("2 here")
			s.keys("*", "enter")
			s.want("The board", "Maren", "67 kg", "fits: B needs 1:05, has 1:15", "for the coach alone")
			s.keys("enter")
			s.want("ends 10:00 after GO")
			s.wantDigits("1:15")
			start := time.Now()
			s.keys("space") // 150 ms have gone by after it
			to := func(at time.Duration) { s.wait(ten + at - time.Since(start)) }
			s.want("part 1 starts in 0:10")
			s.wantDigits("0:10")
			for k := range time.Duration(8) {
				round := k * 75 * time.Second
				to(round + 500*time.Millisecond)
				s.wantDigits("1:15")
				for i, key := range []string{"m", "e", "t", "o"} {
					to(round + 30*time.Second + time.Duration(i)*2*time.Second)
					s.keys(key)
				}
				for at := 40 * time.Second; at < 75*time.Second; at += 10 * time.Second {
					to(round + at + 20*time.Millisecond)
					s.wantDigits(measure.Clock(75*time.Second - at))
				}
				to(round + 74*time.Second + 980*time.Millisecond)
				s.wantDigits("0:01")
			}
			to(12 * time.Minute)
			s.keys("enter")
			s.want("After class", "effort")
			s.keys("enter", "7", "enter", "0", "enter", "enter", "8", "enter")
			s.want("8 in time")
		})
		var presses, efforts int
		for _, e := range log.kept {
			switch x := e.E.(type) {
			case floor.Pressed:
				presses++
				if got := (e.T - ten) % (75 * time.Second); got < 30*time.Second || got > 40*time.Second {
					t.Errorf("%s pressed at %v into a round", x.Who, got)
				}
			case floor.EffortGiven:
				efforts++
			}
		}
		if presses != 32 || efforts != 2 {
			t.Errorf("%d presses and %d efforts were kept, want 32 and 2", presses, efforts)
		}
	})
}

// TestKeysOfARun strikes every kind of key in a run and holds that the digits stay
// in sight throughout.
func TestKeysOfARun(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		log := &notebook{}
		play(t, world(everyPart(), 4, 4, log), 80, 24, func(s *stage) {
			s.keys("enter", "enter", "enter", "space")
			s.wait(30 * time.Second)
			for _, tt := range []struct {
				keys []string
				want string
			}{
				{[]string{"m"}, "Maren: round 1"},
				{[]string{"backspace"}, "undone: Maren's press, round 1"},
				{[]string{"1"}, "Maren: round 1"},
				{[]string{"x"}, "nobody has the key x"},
				{[]string{"down", "enter"}, "+ heavier"},
				{[]string{"esc", "?"}, "that person's press"},
				{[]string{"e"}, "Eskil: round 1"},
				{[]string{"?", "tab", "tab", "tab"}, "Tuva"},
				{[]string{"ctrl+z"}, "Tuva"},
				{[]string{"space"}, "CLOCK STOPPED"},
				{[]string{"!"}, "defibrillator"},
				{[]string{"esc", "space"}, "the clock runs in 0:05"},
				{[]string{"ctrl+c"}, "once more within 3 s"},
			} {
				s.keys(tt.keys...)
				if tt.want == "CLOCK STOPPED" && !strings.Contains(s.screen(), tt.want) {
					s.want("clock stopped")
				} else {
					s.want(tt.want)
				}
				var clock string
				s.m.see(func(m *Model) { clock = m.on.(*classroom).look().clock() })
				s.wantDigits(clock)
			}
		})
	})
}

// TestTakenUp offers an interrupted class back and goes on in the right second.
func TestTakenUp(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		r := begin(t, class(everyPart(), 4, 4))
		r.do(30*time.Second, floor.Press{Who: "Maren"})
		past := append([]floor.Stamped{{N: 1, E: floor.Opened{Plan: r.st.Plan()}}}, r.kept...)
		w := world(everyPart(), 4, 4, &notebook{})
		w.Resume = &Log{Keeper: &notebook{}, Past: past, Zero: time.Now().Add(-ten - 40*time.Second)}
		play(t, w, 100, 36, func(s *stage) {
			s.want("A class was interrupted", "1 splits")
			s.keys("enter")
			s.wait(20*time.Second - 130*time.Millisecond)
			s.wantDigits("0:15")
			s.want("0:30.0")
		})
	})
}

// TestStraight goes to the class without a question.
func TestStraight(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		w := world(everyPart(), 4, 4, &notebook{})
		w.Session, w.Yes, w.Here = w.Sessions[0], true, crew[:4]
		play(t, w, 100, 36, func(s *stage) { s.want("ends 10:00 after GO", "Space GO") })
	})
}

// TestHeldKey holds that a key that is held down is one press, and that a second
// press of a person within two seconds changes nothing.
func TestHeldKey(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		log := &notebook{}
		play(t, world(everyPart(), 4, 4, log), 100, 36, func(s *stage) {
			s.keys("enter", "enter", "enter", "space")
			s.wait(40 * time.Second)
			for range 30 {
				s.p.Send(tea.KeyPressMsg{Code: 'm', Text: "m"})
				s.wait(33 * time.Millisecond)
			}
			s.keys("backspace")
			s.want("undone: Maren's press, round 1")
		})
		n := 0
		for _, e := range log.kept {
			if _, ok := e.E.(floor.Pressed); ok {
				n++
			}
		}
		if n != 1 {
			t.Errorf("a held key was kept as %d presses, want 1", n)
		}
	})
}
