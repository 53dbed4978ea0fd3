package tui

import (
	"bytes"
	"os"
	"regexp"
	"sync"
	"time"
)

// display is the terminal's output, written by a goroutine of its own: a terminal
// that stops taking characters, as over a dead line, must not stop the clock or
// the keys. It is the file itself otherwise.
type display struct {
	*os.File
	frames chan []byte
	shown  chan bool // whether frames are to be written; none is before that is known
	done   chan struct{}
	once   sync.Once
}

// waiting is how many frames may wait; a terminal that is this far behind is gone.
const waiting = 4096

// newDisplay starts the writer. rescue is deferred in it.
func newDisplay(f *os.File, rescue func()) *display {
	d := &display{File: f, frames: make(chan []byte, waiting), shown: make(chan bool, 1), done: make(chan struct{})}
	go func() {
		defer rescue()
		defer close(d.done)
		shown := <-d.shown
		for b := range d.frames {
			if !shown {
				continue
			}
			if _, err := f.Write(b); err != nil {
				return
			}
		}
	}()
	return d
}

// show says whether what is written is shown or thrown away. The first word counts.
func (d *display) show(yes bool) {
	select {
	case d.shown <- yes:
	default:
	}
}

// Write hands p on. It says that all was written: whether that is true comes out
// too late to be of use to a renderer.
func (d *display) Write(p []byte) (int, error) {
	select {
	case <-d.done: // it broke, or the terminal is gone: what puts that right is worth a try
		_, _ = d.File.Write(p)
	case d.frames <- keepColours(p):
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

// Escape sequences of a frame: any with numbers alone, and colours that are put off
// before the cursor goes elsewhere and on again behind it.
var (
	sequence = regexp.MustCompile(`^\x1b\[[0-9;]*[A-Za-z]`)
	offAndOn = regexp.MustCompile(`^\x1b\[m(\x1b\[[0-9;]*H)(\x1b\[[0-9;]+m)`)
)

// keepColours returns a frame without what only puts off colours and puts the same
// on again: the renderer does so for each row, which is a third of what a second of
// the large digits sends. A terminal keeps its colours where the cursor goes.
func keepColours(frame []byte) []byte {
	kept := make([]byte, 0, len(frame))
	on := []byte("as the frame before left them") // what put the colours on since they were off
	for {
		at := bytes.IndexByte(frame, '\x1b')
		if at < 0 {
			return append(kept, frame...)
		}
		kept, frame = append(kept, frame[:at]...), frame[at:]
		n := max(1, len(sequence.Find(frame)))
		if string(frame[:n]) == "\x1b[m" {
			again := offAndOn.FindSubmatch(frame)
			if again != nil && bytes.Equal(again[2], on) {
				kept, frame = append(kept, again[1]...), frame[len(again[0]):]
				continue
			}
			on = on[:0]
		} else if frame[n-1] == 'm' {
			on = append(on, frame[:n]...)
		}
		kept, frame = append(kept, frame[:n]...), frame[n:]
	}
}
