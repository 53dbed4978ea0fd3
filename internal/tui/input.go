package tui

import (
	"bytes"
	"os"
	"sync"
	"time"
)

// stamps remembers when bytes were read from the keyboard, so that a press bears
// the instant of the key and not that of the screen that was being drawn.
type stamps struct {
	mu   sync.Mutex
	read []stamp
}

type stamp struct {
	at   time.Time
	char byte
}

// remembered is how many bytes are kept: as many as a terminal holds.
const remembered = 4096

// push takes what was read at once. Escape sequences are arrows, the mouse and
// answers of the terminal: none is a press, and their letters must not pass for one.
func (s *stamps) push(at time.Time, chars []byte) {
	if bytes.IndexByte(chars, 0x1b) >= 0 {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, c := range chars {
		s.read = append(s.read, stamp{at, c})
	}
	if n := len(s.read) - remembered; n > 0 {
		s.read = s.read[n:]
	}
}

// of returns when the key with that text was read: the oldest byte that is the
// same, now where there is none or it is more than a second old.
func (s *stamps) of(text string, now time.Time) time.Time {
	if s == nil || len(text) != 1 {
		return now
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, st := range s.read {
		if st.char == text[0] {
			s.read = s.read[i+1:]
			if now.Sub(st.at) > time.Second {
				return now
			}
			return st.at
		}
	}
	return now
}

// keyboard is the terminal's input with stamps. It is the file itself otherwise,
// so that raw mode and a clean end keep working.
type keyboard struct {
	*os.File
	stamps *stamps
}

// Read reads and stamps.
func (k keyboard) Read(p []byte) (int, error) {
	n, err := k.File.Read(p)
	k.stamps.push(time.Now(), p[:n])
	return n, err //nolint:wrapcheck // the caller compares it with io.EOF
}
