package tui

import (
	"bytes"
	"os"
	"strconv"
	"strings"
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
// answers of the terminal: none is a press, and their letters must not pass for one,
// but for the keys of a terminal that reports all of them as sequences.
func (s *stamps) push(at time.Time, chars []byte) {
	if bytes.IndexByte(chars, 0x1b) >= 0 {
		chars = reported(chars)
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

// reported is what the keys typed that were pressed in a chunk of sequences of the
// form ESC [ code:shifted ; modifiers:event ; text u. Only ASCII can be a press.
func reported(chunk []byte) []byte {
	var typed []byte
	for seq := range bytes.SplitSeq(chunk, []byte("\x1b[")) {
		body, _, ok := bytes.Cut(seq, []byte("u"))
		if !ok {
			continue
		}
		fields := strings.Split(string(body), ";")
		char, _, _ := strings.Cut(fields[0], ":")
		if len(fields) > 2 {
			char = fields[2]
		}
		event := "1"
		if len(fields) > 1 {
			if _, e, told := strings.Cut(fields[1], ":"); told {
				event = e
			}
		}
		if n, err := strconv.Atoi(char); err == nil && event == "1" && n < 0x80 {
			typed = append(typed, byte(n))
		}
	}
	return typed
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
