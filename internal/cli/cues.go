package cli

import (
	"context"
	"sync"
	"time"

	"hawser/internal/awake"
	"hawser/internal/cue"
	"hawser/internal/floor"
	"hawser/internal/sound"
	"hawser/internal/tui"
)

// cues is the sound of a run. Devices may take half a second to answer, so they are
// opened beside the first screen, and nothing waits for them; the laptop is asked
// to stay awake there too. Safe for any goroutine.
type cues struct {
	mu      sync.Mutex
	player  *sound.Player // nil until the devices have answered
	why     string        // what the screen should say of the sound
	done    chan struct{}
	leave   chan struct{}
	release func()
}

// firstScreen is how long the first screen has the machine for itself.
const firstScreen = 100 * time.Millisecond

func openCues(ctx context.Context, clock *tui.Clock, o sound.Options) *cues {
	c := &cues{done: make(chan struct{}), leave: make(chan struct{}), release: func() {}}
	go func() {
		defer close(c.done)
		defer func() {
			if recover() != nil { // a class runs without sound rather than not at all
				c.mu.Lock()
				c.why = "no sound: it could not be opened"
				c.mu.Unlock()
			}
		}()
		select {
		case <-time.After(firstScreen):
		case <-c.leave:
			return
		}
		player, warnings := sound.NewPlayer(ctx, clock.Now, o)
		release, err := awake.Keep()
		c.mu.Lock()
		defer c.mu.Unlock()
		c.player = player
		if len(warnings) > 0 {
			c.why = warnings[0].Error()
		}
		if err == nil {
			c.release = release
		}
	}()
	return c
}

// open returns the player, nil while there is none.
func (c *cues) open() *sound.Player {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.player
}

// Schedule implements [tui.Cues].
func (c *cues) Schedule(moments []floor.Moment) {
	if p := c.open(); p != nil {
		p.Schedule(moments)
	}
}

// Speak implements [tui.Cues].
func (c *cues) Speak(words []cue.Said) {
	if p := c.open(); p != nil {
		p.Speak(words)
	}
}

// Hold implements [tui.Cues].
func (c *cues) Hold(at time.Duration) {
	if p := c.open(); p != nil {
		p.Hold(at)
	}
}

// ClockJumped implements [tui.Cues].
func (c *cues) ClockJumped() {
	if p := c.open(); p != nil {
		p.ClockJumped()
	}
}

// Trouble implements [tui.Cues].
func (c *cues) Trouble() string {
	p := c.open()
	if p == nil {
		return c.why
	}
	if said := (tui.Voice{Player: p}).Trouble(); said != "" {
		return said
	}
	return c.why
}

// close gives the devices back. One that does not answer must not keep a coach from
// leaving: what it holds ends with the program.
func (c *cues) close() {
	close(c.leave)
	given := make(chan struct{})
	go func() {
		defer close(given)
		defer func() { _ = recover() }() // the class is over and kept
		<-c.done
		if p := c.open(); p != nil {
			p.Close()
		}
		c.release()
	}()
	select {
	case <-given:
	case <-time.After(2 * time.Second):
	}
}
