//go:build pty && linux

package cli_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/creack/pty"

	"hawser/internal/floor"
)

// onScreen starts a class on the screen and goes to its first round.
func onScreen(t *testing.T, program string) (*talk, string) {
	t.Helper()
	home := boathouse(t)
	c := converseWith(t, program, "run", "quick-ropes", "--home", home, "--quiet", "--yes", "--who", "Maren,Eskil,Iben")
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
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", c.cmd.Process.Pid))
	if err != nil {
		c.t.Fatal(err)
	}
	var size, resident int
	if _, err := fmt.Sscan(string(text), &size, &resident); err != nil {
		c.t.Fatal(err)
	}
	return resident * os.Getpagesize()
}

// growth is how much more memory a storm may leave: what a collector has not come
// to yet.
const growth = 32 << 20

// grown is how a program says that it has taken more memory than a storm may leave.
func grown(before, after int) error {
	if after > before+growth {
		return fmt.Errorf("%d MiB once the storm was on, %d after it", before>>20, after>>20)
	}
	return nil
}

// TestPtyMemoryControl: a program that keeps something of each key, or of each size that its terminal
// has had, is found out.
func TestPtyMemoryControl(t *testing.T) {
	for what, leak := range map[string]struct {
		piece string
		bytes int // of each
		storm func(t *testing.T, program string, trials int) error
		tries int
	}{
		"keys":  {"case tea.KeyPressMsg:", 8 << 10, typedAt, 2},
		"sizes": {"case tea.WindowSizeMsg:", 1 << 20, resized, 200},
	} {
		t.Run(what, func(t *testing.T) {
			program := broken(t, "../tui/model.go", leak.piece, fmt.Sprintf("%s leak(%d)", leak.piece, leak.bytes), `
var leaked [][]byte

func leak(n int) {
	leaked = append(leaked, make([]byte, n))
	for i := range n {
		leaked[len(leaked)-1][i] = 1
	}
}`)
			err := leak.storm(t, program, leak.tries)
			if err == nil {
				t.Error("a program that grows is said not to: the suite cannot see")
			}
			t.Logf("a program that grows: %v", err)
		})
	}
}

// TestPtyResizes makes the terminal another size 2,000 times, from 1 × 1 to 500 ×
// 200, while a class is on.
func TestPtyResizes(t *testing.T) {
	trials := tries(200, 2000)
	if err := resized(t, "hawser", trials); err != nil {
		t.Error(err)
	}
	t.Logf("%d sizes", trials)
}

// resized is one class on a terminal that has so many sizes.
func resized(t *testing.T, program string, trials int) error {
	t.Helper()
	c, home := onScreen(t, program)
	r := rand.New(rand.NewPCG(11, 11))
	size := func(w, h int) {
		if err := pty.Setsize(c.master, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil {
			t.Fatal(err)
		}
	}
	size(500, 200)
	time.Sleep(500 * time.Millisecond)
	before := 0
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
	after := c.memory()
	c.ends(home, 0)
	return grown(before, after)
}

// TestPtyKeys types 10,000 keys a second for a while: the class goes on, whoever
// presses afterwards has the right time, and the memory is what it was.
func TestPtyKeys(t *testing.T) {
	trials := tries(2, 60)
	if err := typedAt(t, "hawser", trials); err != nil {
		t.Error(err)
	}
	t.Logf("%d keys", 10_000*trials)
}

// typedAt is one class that is typed at for so many seconds.
func typedAt(t *testing.T, program string, trials int) error {
	t.Helper()
	c, home := onScreen(t, program)
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
	after := c.memory()
	c.ends(home, 0)
	return grown(before, after)
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
				if err := stalled(t, "hawser", stall); err != nil {
					t.Error(err)
				}
			})
		}
	})
	t.Logf("%d terminals stalled for %v", done.Load(), stall)
}

// TestPtyStalledControl: a program that writes to its terminal from where it takes its keys stands
// with it, and is found out.
func TestPtyStalledControl(t *testing.T) {
	program := broken(t, "../tui/tui.go", "tea.WithOutput(screen)", "tea.WithOutput(out)", "")
	err := stalled(t, program, 3*time.Second)
	if err == nil {
		t.Error("a program that stands is said to go on: the suite cannot see")
	}
	t.Logf("a program that stands: %v", err)
}

// stalled is one class whose terminal stands for a while; keys are typed all the while.
func stalled(t *testing.T, program string, stall time.Duration) error {
	t.Helper()
	c, home := onScreen(t, program)
	opened, _ := newestLog(t, home).Opened()
	c.deaf.Lock()
	end := time.Now().Add(stall)
	for range 8 { // a whole new screen each: more than a terminal holds
		c.says("\t")
		time.Sleep(125 * time.Millisecond)
	}
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
	c.deaf.Unlock()
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
