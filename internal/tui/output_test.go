package tui

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"pgregory.net/rapid"
)

// pipe stands for a terminal: w is written to.
func pipe(t *testing.T) (r, w *os.File) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	return r, w
}

// TestDisplayNeverBlocks writes far more than a pipe holds to one that nobody
// reads, then reads it and finds all of it.
func TestDisplayNeverBlocks(t *testing.T) {
	t.Parallel()
	r, w := pipe(t)
	d := newDisplay(w, func() {})
	d.show(true)
	frame := []byte(strings.Repeat("x", 4096))
	start := time.Now()
	const frames = 64 // a pipe holds 16 of them
	for range frames {
		if n, err := d.Write(frame); n != len(frame) || err != nil {
			t.Fatalf("Write = %d, %v", n, err)
		}
	}
	if took := time.Since(start); took > time.Second {
		t.Errorf("writing to a stalled terminal took %v", took)
	}
	read := make(chan int)
	go func() {
		total := 0
		buf := make([]byte, 1<<16)
		for total < frames*len(frame) {
			n, err := r.Read(buf)
			if err != nil {
				break
			}
			total += n
		}
		read <- total
	}()
	d.drain()
	if got := <-read; got != frames*len(frame) {
		t.Errorf("%d bytes came out, want %d", got, frames*len(frame))
	}
}

// What is left out changes nothing on the screen, and is left out.
func TestKeepColours(t *testing.T) {
	t.Parallel()
	const green, bold, plain = "\x1b[38;2;51;196;154;48;2;11;14;17m", "\x1b[1m", "\x1b[m"
	tests := []struct{ name, frame, want string }{
		{"the same again", plain + green + "a" + plain + "\x1b[2;5H" + green + "b" + plain, plain + green + "a\x1b[2;5Hb" + plain},
		{"not known what was on", green + "a" + plain + "\x1b[2;5H" + green + "b", green + "a" + plain + "\x1b[2;5H" + green + "b"},
		{"another colour", plain + green + "a" + plain + "\x1b[2;5H" + bold + "b", plain + green + "a" + plain + "\x1b[2;5H" + bold + "b"},
		{"less than before", plain + green + bold + "a" + plain + "\x1b[2;5H" + green + "b", plain + green + bold + "a" + plain + "\x1b[2;5H" + green + "b"},
		{"text between", plain + green + "a" + plain + " \x1b[2;5H" + green + "b", plain + green + "a" + plain + " \x1b[2;5H" + green + "b"},
		{"keys and titles", "\x1b[>4;2m\x1b]0;hawser\x07\x1b", "\x1b[>4;2m\x1b]0;hawser\x07\x1b"},
	}
	for _, tt := range tests {
		if got := string(keepColours([]byte(tt.frame))); got != tt.want {
			t.Errorf("%s: keepColours(%q) = %q, want %q", tt.name, tt.frame, got, tt.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		piece := rapid.SampledFrom([]string{plain, plain, green, green, bold, "\x1b[2;3H", "\x1b[4;1H", "ab", " ", "\x1b[3X", "\x1b[K", "█▀"})
		frame := strings.Join(rapid.SliceOfN(piece, 0, 40).Draw(t, "frame"), "")
		screen := func(frame []byte) string {
			em := vt.NewEmulator(12, 5)
			defer em.Close()
			_, _ = em.Write(append([]byte(bold), frame...))
			return em.Render()
		}
		if got, want := screen(keepColours([]byte(frame))), screen([]byte(frame)); got != want {
			t.Errorf("%q shows %q, want %q", frame, got, want)
		}
	})
}
