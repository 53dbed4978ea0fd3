package tui

import (
	"errors"
	"fmt"
	"os"
	"runtime"

	tea "charm.land/bubbletea/v2"
	"github.com/charmbracelet/x/ansi"

	"hawser/internal/house"
)

// ErrInterrupted is what Run returns after Ctrl-C. What was kept is kept.
var ErrInterrupted = tea.ErrInterrupted

// frames is how often in a second the renderer looks for something to draw. The first
// screen waits for its first look, and a second that turns for the next one.
const frames = 120

// Run shows a world full-screen, on a terminal in and out, until the person leaves.
// open makes the world, in a goroutine of its own while the terminal is made ready; where
// it fails nothing is shown, and Run returns its error. The terminal is as it was
// afterwards, whatever happened.
func Run(open func() (*World, error), look Look, in, out *os.File) error {
	m := &Model{look: look}
	return m.run(in, out, func() error {
		w, err := open()
		if err == nil {
			m.begin(w, look)
		}
		return err
	})
}

// RunReplay shows a run that is over, with the keys of the house.
func RunReplay(r *Replay, h *house.House, look Look, in, out *os.File) error {
	look.Style = styleOf(r.whole)
	m := &Model{world: &World{House: h}, look: look.ready(), on: r, w: 80, h: 24, stale: true}
	return m.run(in, out, nil)
}

// Warm builds what the first screen needs of the libraries, a table of 2 MB of how
// wide characters are. It is for a goroutine beside the reading of the files.
func Warm() { ansi.StringWidthWc("█") }

// run shows the model. open makes it whole before its first page; nil: it is.
func (m *Model) run(in, out *os.File, open func() error) error {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0)) // see settled
	m.stamps = &stamps{}
	var p *tea.Program
	crash := &crash{end: func() { go p.Quit() }}
	rescue := func() { crash.rescue(recover()) }
	screen := newDisplay(out, rescue)
	first := &opening{show: screen.show}
	p = tea.NewProgram(guarded{m, crash, first}, tea.WithInput(keyboard{in, m.stamps}), tea.WithOutput(screen),
		tea.WithColorProfile(m.look.Profile), tea.WithFPS(frames))
	unwatch := watchSignals(p, rescue)
	first.start(open, rescue)
	_, err := p.Run()
	unwatch()
	first.wait()
	screen.drain()
	if m.live != nil {
		m.live.disk.Lock() // what is being written is written before the log is closed
		defer m.live.disk.Unlock()
	}
	if broken := crash.broken(); broken != nil {
		return broken
	}
	if first.err != nil {
		return first.err
	}
	if err != nil && !errors.Is(err, tea.ErrInterrupted) {
		return fmt.Errorf("show the screen: %w", err)
	}
	return err //nolint:wrapcheck // ErrInterrupted, said above
}
