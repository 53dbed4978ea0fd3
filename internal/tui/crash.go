package tui

import (
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"time"

	tea "charm.land/bubbletea/v2"
)

// BrokenError is a fault of this program that ended the screens. The terminal is as
// it was, and the class is kept. Report is for whoever mends the program: where it
// broke, and no word of a class in it.
type BrokenError struct{ Report string }

func (e *BrokenError) Error() string {
	return "something broke in the program; the class is kept up to the last press: start hawser again"
}

// Broken is the error of a panic with that value; called while it is under way.
func Broken(r any) *BrokenError {
	return &BrokenError{Report: what(r) + "\n\n" + string(debug.Stack())}
}

// crash keeps what went wrong first until the terminal is back.
type crash struct {
	end func() // ends the program in order; it does not wait for that

	mu   sync.Mutex
	said *BrokenError
}

// rescue takes the value of recover and ends the program, so that the terminal is
// put back. It is deferred through a closure wherever something can break.
func (c *crash) rescue(r any) {
	if r == nil {
		return
	}
	c.mu.Lock()
	if c.said == nil {
		c.said = Broken(r)
	}
	c.mu.Unlock()
	c.end()
}

func (c *crash) broken() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.said == nil {
		return nil
	}
	return c.said
}

// what names a panic without what may stand in it: only the runtime's own words
// are sure to hold no name.
func what(r any) string {
	if err, ok := r.(error); ok {
		if own, ok := errors.AsType[runtime.Error](err); ok {
			return own.Error()
		}
	}
	return fmt.Sprintf("a panic with a %T", r)
}

// guarded is the model with every call of the library into it watched, commands
// too: the library itself would print a stack trace over the screen.
type guarded struct {
	*Model

	crash *crash
	first *opening
}

// settled is that the program has started, which it does on every core. From then on
// one draws: a second one would be woken for each look of the renderer, only to find
// nothing to do. That is a third of what a class costs.
type settled struct{}

// Init starts the model, once it is whole.
func (g guarded) Init() tea.Cmd {
	defer func() { g.crash.rescue(recover()) }()
	if !g.first.wait() {
		return tea.Quit
	}
	return tea.Batch(g.watch(g.Model.Init()), tea.Tick(time.Second, func(time.Time) tea.Msg { return settled{} }))
}

// Update hands a message on.
func (g guarded) Update(msg tea.Msg) (next tea.Model, cmd tea.Cmd) {
	defer func() { g.crash.rescue(recover()) }()
	if _, ok := msg.(settled); ok {
		runtime.GOMAXPROCS(1)
		return g, nil
	}
	next = g // also where it breaks
	if !g.first.ok {
		return next, nil
	}
	_, cmd = g.Model.Update(msg)
	return next, g.watch(cmd)
}

// View draws the model; nothing where that cannot be drawn.
func (g guarded) View() (v tea.View) {
	defer func() { g.crash.rescue(recover()) }()
	if !g.first.ok {
		return v
	}
	v.AltScreen = true
	return g.Model.View()
}

// watch returns a command that ends the program where it breaks.
func (g guarded) watch(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() tea.Msg {
		defer func() { g.crash.rescue(recover()) }()
		msg := cmd()
		if batch, ok := msg.(tea.BatchMsg); ok {
			for i := range batch {
				batch[i] = g.watch(batch[i])
			}
		}
		return msg
	}
}
