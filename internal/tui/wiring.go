package tui

import (
	"sync"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/sound"
)

// Book is a writer of the logbook as a [Keeper]. The writer belongs to whoever
// appends; how it goes can be asked from anywhere, also while a sync takes long.
type Book struct {
	w *logbook.Writer

	mu    sync.Mutex
	state logbook.State
}

// NewBook returns a Keeper on w.
func NewBook(w *logbook.Writer) *Book { return &Book{w: w, state: w.State()} }

// Append hands events to the writer.
func (b *Book) Append(events []floor.Stamped) error {
	err := b.w.Append(events...)
	b.mu.Lock()
	defer b.mu.Unlock()
	b.state = b.w.State()
	return err
}

// Trouble says what the wall should know of the log, "" while all is well.
func (b *Book) Trouble() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch {
	case b.state.Trouble != nil:
		return itoa(b.state.Waiting) + " not on the disk yet: make room, keep this running"
	case b.state.Renewed > 0:
		return "log goes on in a new file"
	}
	return ""
}

// Voice is the sound as [Cues].
type Voice struct{ *sound.Player }

// Trouble says how the sound stands where it is not on.
func (v Voice) Trouble() string {
	if s := v.Status(); s.State == sound.Lost {
		return s.State.String()
	}
	return ""
}
