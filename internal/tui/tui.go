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

// Run shows the world full-screen, on a terminal in and out, until the person
// leaves. The terminal is as it was afterwards, whatever happened.
func Run(w *World, look Look, in, out *os.File) error {
	m := NewModel(w, look)
	return m.run(in, out)
}

// RunReplay shows a run that is over, with the keys of the house.
func RunReplay(r *Replay, h *house.House, look Look, in, out *os.File) error {
	look.Style = styleOf(r.whole)
	m := &Model{world: &World{House: h}, look: look.ready(), on: r, w: 80, h: 24, stale: true}
	return m.run(in, out)
}

// Warm builds what the first screen needs of the libraries, a table of 2 MB of how
// wide characters are. It is for a goroutine beside the reading of the files.
func Warm() { ansi.StringWidthWc("█") }

func (m *Model) run(in, out *os.File) error {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0)) // see settled
	m.stamps = &stamps{}
	var p *tea.Program
	crash := &crash{end: func() { go p.Quit() }}
	rescue := func() { crash.rescue(recover()) }
	screen := newDisplay(out, rescue)
	p = tea.NewProgram(guarded{m, crash}, tea.WithInput(keyboard{in, m.stamps}), tea.WithOutput(screen),
		tea.WithColorProfile(m.look.Profile), tea.WithFPS(frames))
	unwatch := watchSignals(p, rescue)
	_, err := p.Run()
	unwatch()
	screen.drain()
	if m.live != nil {
		m.live.disk.Lock() // what is being written is written before the log is closed
		defer m.live.disk.Unlock()
	}
	if broken := crash.broken(); broken != nil {
		return broken
	}
	if err != nil && !errors.Is(err, tea.ErrInterrupted) {
		return fmt.Errorf("show the screen: %w", err)
	}
	return err //nolint:wrapcheck // ErrInterrupted, said above
}
