//go:build pty && linux

package cli_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"hawser/internal/floor"
)

// onScreen starts a class on the screen and goes to its first round.
func onScreen(t *testing.T) (*talk, string) {
	t.Helper()
	home := boathouse(t)
	c := converse(t, "run", "quick-ropes", "--home", home, "--quiet", "--yes", "--who", "Maren,Eskil,Iben")
	c.hears("\x1b[?1049h")
	c.hears("GO")
	time.Sleep(300 * time.Millisecond)
	c.says(" ")
	c.until(home, func(events []floor.Stamped) bool { return len(events) > 1 })
	return c, home
}

// ends wants the class to be left in order, with a whole log.
func (c *talk) ends(home string, trial int) {
	c.t.Helper()
	c.says("\x03\x03")
	c.gone(trial)
	c.close()
	if err := newestLog(c.t, home).Err(); err != nil {
		c.t.Errorf("trial %d: %v", trial, err)
	}
}

// memory is how much of the machine's memory the program has.
func (c *talk) memory() int {
	c.t.Helper()
	return memoryOf(c.t, c.cmd.Process.Pid)
}

func memoryOf(t *testing.T, pid int) int {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", pid))
	if err != nil {
		t.Fatal(err)
	}
	var size, resident int
	if _, err := fmt.Sscan(string(text), &size, &resident); err != nil {
		t.Fatal(err)
	}
	return resident * os.Getpagesize()
}

// growth is how much more memory a storm may leave: what a collector has not come
// to yet.
const growth = 32 << 20

// TestPtyMemoryControl: what this process takes more is seen.
func TestPtyMemoryControl(t *testing.T) {
	before := memoryOf(t, os.Getpid())
	more := bytes.Repeat([]byte{1}, 2*growth)
	if after := memoryOf(t, os.Getpid()); after <= before+growth {
		t.Errorf("%d MiB before, and with %d more %d: the suite cannot see", before>>20, len(more)>>20, after>>20)
	}
	runtime.KeepAlive(more)
}

// TestPtyResizes makes the terminal another size 2,000 times, from 1 × 1 to 500 ×
// 200, while a class is on.
func TestPtyResizes(t *testing.T) {
	c, home := onScreen(t)
	r := rand.New(rand.NewPCG(11, 11))
	size := func(w, h int) {
		if err := pty.Setsize(c.master, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
			t.Fatal(err)
		}
	}
	size(500, 200)
	time.Sleep(500 * time.Millisecond)
	before := 0
	trials := tries(200, 2000)
	for i := range trials {
		if i == trials/4 { // a storm takes its room once
			before = c.memory()
		}
		size(1+r.IntN(500), 1+r.IntN(200))
		if i%10 == 0 {
			c.says([]string{"m", "\t", "?", "e", "\x1b[B", "\r", "\x1b"}[r.IntN(7)])
		}
		time.Sleep(time.Duration(r.IntN(8)) * time.Millisecond)
	}
	size(1, 1)
	size(100, 30)
	time.Sleep(300 * time.Millisecond)
	if after := c.memory(); after > before+growth {
		t.Errorf("%d MiB after a quarter of the storm, %d after it", before>>20, after>>20)
	}
	c.ends(home, 0)
	t.Logf("%d sizes", trials)
}

// TestPtyKeys types 10,000 keys a second for a while: the class goes on, whoever
// presses afterwards has the right time, and the memory is what it was.
func TestPtyKeys(t *testing.T) {
	trials := tries(1, 60)
	c, home := onScreen(t)
	opened, _ := newestLog(t, home).Opened()
	r := rand.New(rand.NewPCG(12, 12))
	before := 0
	for i := range trials {
		for range 100 { // a hundred keys every hundredth of a second
			keys := make([]byte, 100)
			for k := range keys {
				keys[k] = "meixyz123?\t"[r.IntN(11)]
			}
			c.says(string(keys))
			time.Sleep(10 * time.Millisecond)
		}
		sent, n := time.Since(opened.Wall), len(newestLog(t, home).Events)
		stopped := func(events []floor.Stamped) bool {
			return slices.ContainsFunc(events[n:], func(e floor.Stamped) bool {
				_, is := e.E.(floor.Held)
				return is && within(e.T, sent, time.Since(opened.Wall))
			})
		}
		c.strikes(home, stopped, "\x1b", " ")
		runs := func(events []floor.Stamped) bool {
			_, is := events[len(events)-1].E.(floor.Resumed)
			return is
		}
		c.strikes(home, runs, " ")
		if i == 0 {
			before = c.memory()
		}
	}
	if after := c.memory(); after > before+growth {
		t.Errorf("%d MiB after the first second of it, %d in the end", before>>20, after>>20)
	}
	c.ends(home, 0)
	t.Logf("%d keys", 10_000*trials)
}

// TestPtyStalled has a terminal that takes no character for ten seconds, as over a
// dead line: presses are kept all the while, each at its own time.
func TestPtyStalled(t *testing.T) {
	trials := tries(1, 500)
	stall := time.Duration(tries(4, 10)) * time.Second
	slots := make(chan struct{}, 25)
	var done atomic.Int32
	t.Run("all", func(t *testing.T) {
		for i := range trials {
			t.Run(fmt.Sprint(i), func(t *testing.T) {
				t.Parallel()
				slots <- struct{}{}
				defer func() { <-slots }()
				if spent(t) {
					return
				}
				done.Add(1)
				err := stalled(t, stall, func(c *talk) (ends func()) {
					c.deaf.Lock()
					return c.deaf.Unlock
				})
				if err != nil {
					t.Error(err)
				}
			})
		}
	})
	t.Logf("%d terminals stalled for %v", done.Load(), stall)
}

// TestPtyStalledControl: a program that stands with its terminal is found out.
func TestPtyStalledControl(t *testing.T) {
	err := stalled(t, 3*time.Second, func(c *talk) (ends func()) {
		c.signal(syscall.SIGSTOP)
		return func() { c.signal(syscall.SIGCONT) }
	})
	if err == nil {
		t.Error("a program that stands is said to go on: the suite cannot see")
	}
	t.Logf("a program that stands: %v", err)
}

// stalled is one class in which something stands for a while; keys are typed all the while.
func stalled(t *testing.T, stall time.Duration, begin func(c *talk) (ends func())) error {
	t.Helper()
	c, home := onScreen(t)
	opened, _ := newestLog(t, home).Opened()
	goesOn := begin(c)
	end := time.Now().Add(stall)
	c.says(strings.Repeat("\t", 60)) // a whole new screen each: more than a terminal holds
	time.Sleep(time.Second)
	var sent []time.Duration
	for time.Now().Before(end.Add(-time.Second)) {
		n := len(newestLog(t, home).Events)
		sent = append(sent, time.Since(opened.Wall))
		c.says(" ") // stop, go on
		c.comes(home, time.Until(end), func(events []floor.Stamped) bool { return len(events) > n })
		time.Sleep(1300 * time.Millisecond) // the count-in is over
	}
	time.Sleep(time.Until(end))
	var kept []time.Duration
	for _, e := range newestLog(t, home).Events {
		switch e.E.(type) {
		case floor.Held, floor.Resumed:
			kept = append(kept, e.T)
		}
	}
	goesOn()
	c.ends(home, 0)
	if len(kept) != len(sent) {
		return fmt.Errorf("%d keys while it stood, %d kept", len(sent), len(kept))
	}
	for i := range kept {
		if kept[i] < sent[i]-slack || i+1 < len(sent) && kept[i] > sent[i+1] {
			return fmt.Errorf("a key of %v was kept at %v", sent[i], kept[i])
		}
	}
	return nil
}
