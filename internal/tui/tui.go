package tui

import (
	"errors"
	"fmt"
	"os"
	"sync"

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
	m.stamps = &stamps{}
	var p *tea.Program
	crash := &crash{}
	rescue := func() { crash.rescue(recover(), func() { p.Kill() }) }
	screen := newDisplay(out, rescue)
	p = tea.NewProgram(m, tea.WithInput(keyboard{in, m.stamps}), tea.WithOutput(screen), tea.WithColorProfile(m.look.Profile))
	unwatch := watchSignals(p, rescue)
	_, err := p.Run()
	unwatch()
	screen.drain()
	if m.live != nil {
		m.live.disk.Lock() // what is being written is written before the log is closed
		defer m.live.disk.Unlock()
	}
	if crash.said != nil {
		return crash.said
	}
	if err != nil && !errors.Is(err, tea.ErrInterrupted) {
		return fmt.Errorf("show the screen: %w", err)
	}
	return err //nolint:wrapcheck // ErrInterrupted, said above
}

// crash keeps what went wrong in a goroutine of our own until the terminal is back.
type crash struct {
	mu   sync.Mutex
	said error
}

// rescue takes the value of recover and ends the program, so that the terminal is
// put back. It is deferred through a closure in each goroutine.
func (c *crash) rescue(r any, kill func()) {
	if r == nil {
		return
	}
	c.mu.Lock()
	c.said = fmt.Errorf("something broke: %v; the class is kept up to the last press: start hawser again", r)
	c.mu.Unlock()
	kill()
}
