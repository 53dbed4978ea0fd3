package tui

import (
	"os"
	"sync"
	"time"
)

// display is the terminal's output, written by a goroutine of its own: a terminal
// that stops taking characters, as over a dead line, must not stop the clock or
// the keys. It is the file itself otherwise.
type display struct {
	*os.File
	frames chan []byte
	done   chan struct{}
	once   sync.Once
}

// waiting is how many frames may wait; a terminal that is this far behind is gone.
const waiting = 4096

// newDisplay starts the writer. rescue is deferred in it.
func newDisplay(f *os.File, rescue func()) *display {
	d := &display{File: f, frames: make(chan []byte, waiting), done: make(chan struct{})}
	go func() {
		defer rescue()
		defer close(d.done)
		for b := range d.frames {
			if _, err := f.Write(b); err != nil {
				return
			}
		}
	}()
	return d
}

// Write hands p on. It says that all was written: whether that is true comes out
// too late to be of use to a renderer.
func (d *display) Write(p []byte) (int, error) {
	select {
	case <-d.done: // it broke, or the terminal is gone: what puts that right is worth a try
		_, _ = d.File.Write(p)
	case d.frames <- append([]byte(nil), p...):
	}
	return len(p), nil
}

// drain waits until all is written, for at most a second: the last bytes put the
// terminal back as it was.
func (d *display) drain() {
	d.once.Do(func() { close(d.frames) })
	select {
	case <-d.done:
	case <-time.After(time.Second):
	}
}
