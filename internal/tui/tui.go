package tui

import (
	"errors"
	"fmt"
	"os"
	"runtime"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/house"
)

// ErrInterrupted is what Run returns after Ctrl-C. What was kept is kept.
var ErrInterrupted = tea.ErrInterrupted

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

func (m *Model) run(in, out *os.File) error {
	// One core draws: a second one would be woken for each of the renderer's sixty
	// ticks a second, only to find nothing to do. That is a third of what a class costs.
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	m.stamps = &stamps{}
	var p *tea.Program
	crash := &crash{end: func() { go p.Quit() }}
	rescue := func() { crash.rescue(recover()) }
	screen := newDisplay(out, rescue)
	p = tea.NewProgram(guarded{m, crash}, tea.WithInput(keyboard{in, m.stamps}), tea.WithOutput(screen), tea.WithColorProfile(m.look.Profile))
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
