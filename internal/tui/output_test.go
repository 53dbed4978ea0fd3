package tui

import (
	"os"
	"strings"
	"testing"
	"time"
)

// TestDisplayNeverBlocks writes far more than a pipe holds to one that nobody
// reads, then reads it and finds all of it.
func TestDisplayNeverBlocks(t *testing.T) {
	t.Parallel()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	d := newDisplay(w, func() {})
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
