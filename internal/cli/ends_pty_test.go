//go:build pty && unix

package cli_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestPtyEnds ends live runs from outside, at any instant from the first screen on,
// also while devices open and close: each time the program ends, the terminal is as
// it was to the byte, and the log is whole.
func TestPtyEnds(t *testing.T) {
	each := tries(3, 20)
	for name, end := range map[string]func(c *talk){
		"SIGHUP":  func(c *talk) { c.signal(syscall.SIGHUP) },
		"SIGTERM": func(c *talk) { c.signal(syscall.SIGTERM) },
		"SIGINT":  func(c *talk) { c.signal(syscall.SIGINT) },
		"SIGTSTP, Ctrl-C": func(c *talk) {
			c.signal(syscall.SIGTSTP)
			time.Sleep(50 * time.Millisecond)
			c.says("\x03\x03")
		},
		"two at once": func(c *talk) { c.signal(syscall.SIGTERM); c.signal(syscall.SIGHUP) },
		"one while it ends": func(c *talk) {
			c.signal(syscall.SIGTERM)
			c.hears("\x1b[?1049l")
			_ = c.cmd.Process.Signal(syscall.SIGHUP) // it may be gone already
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			home := boathouse(t)
			for i := range each {
				r := rand.New(rand.NewPCG(9, uint64(i)))
				args := []string{"run", "quick-ropes", "--home", home}
				if i%2 == 0 {
					args = append(args, "--quiet")
				}
				c := converse(t, args...)
				c.hears("\x1b[?1049h") // the other screen
				if i%3 > 0 {
					c.says("*")
					time.Sleep(time.Duration(r.IntN(300)) * time.Millisecond)
					c.says("\r\r  me") // the board, the class, GO, presses
				}
				time.Sleep(time.Duration(r.IntN(700)) * time.Millisecond)
				end(c)
				c.gone(i)
				c.close()
				if log := newestLog(t, home); log != nil && log.Err() != nil {
					t.Errorf("trial %d: the log is damaged: %v", i, log.Err())
				}
			}
		})
	}
	t.Logf("%d times each", each)
}

func (c *talk) signal(s syscall.Signal) {
	c.t.Helper()
	if err := c.cmd.Process.Signal(s); err != nil && !errors.Is(err, os.ErrProcessDone) {
		c.t.Fatal(err)
	}
}

// TestPtyEndsControl: a program that is killed puts nothing right, nor does one that leaves at once
// when its terminal is hung up, and that is seen: in how it ended or by stty, and on the screen.
func TestPtyEndsControl(t *testing.T) {
	hasty := broken(t, "../tui/signals_unix.go", "p.Quit()", "os.Exit(1)", "")
	for _, end := range []struct {
		program string
		by      syscall.Signal
	}{{"hawser", syscall.SIGKILL}, {hasty, syscall.SIGHUP}} {
		c := converseWith(t, end.program, "run", "quick-ropes", "--home", boathouse(t), "--quiet")
		c.hears("\x1b[?1049h")
		c.signal(end.by)
		err := c.inOrder(c.over())
		if err == nil {
			t.Errorf("after %v nothing was put right, and it is said to have ended in order: the suite cannot see", end.by)
		}
		t.Logf("%v: %v", end.by, err)
		if c.stty() == c.before || leftScreen(c.said()) {
			t.Errorf("after %v the terminal, or the screen, that was left as in the class is said to be right: the suite cannot see", end.by)
		}
		c.close()
	}
}

// gone wants the program to have ended in order and left the terminal as it was.
func (c *talk) gone(trial int) {
	c.t.Helper()
	if err := c.inOrder(c.over()); err != nil {
		c.t.Errorf("trial %d: %v", trial, err)
	}
}

// inOrder looks at how the program ended, and at the terminal it has left.
func (c *talk) inOrder(end error) error {
	c.t.Helper()
	if ended, ok := errors.AsType[*exec.ExitError](end); ok && !ended.Exited() {
		return fmt.Errorf("it ended with %w", end)
	}
	if after := c.stty(); after != c.before {
		return fmt.Errorf("stty -g says %s, before it %s", after, c.before)
	}
	said := c.said()
	for end := time.Now().Add(10 * time.Second); !leftScreen(said) && time.Now().Before(end); said = c.said() {
		time.Sleep(5 * time.Millisecond) // what is in the terminal still is being read
	}
	if !leftScreen(said) {
		return fmt.Errorf("the screen was not left, or the cursor is hidden:\n%q", said[max(0, len(said)-400):])
	}
	for _, trace := range []string{"goroutine ", "panic", "runtime error"} {
		if strings.Contains(said, trace) {
			return fmt.Errorf("%q on the terminal:\n%q", trace, said)
		}
	}
	return nil
}

// leftScreen reports whether the screen before the program is there again, and the cursor.
func leftScreen(said string) bool {
	return strings.LastIndex(said, "\x1b[?1049h") <= strings.LastIndex(said, "\x1b[?1049l") &&
		strings.LastIndex(said, "\x1b[?25l") <= strings.LastIndex(said, "\x1b[?25h")
}

// TestPtyStopped stops the program for a while, as a shell or a full machine does:
// it goes on in the right second, and nothing that went by is made up for.
func TestPtyStopped(t *testing.T) {
	trials := tries(4, 500)
	r := rand.New(rand.NewPCG(10, 10))
	for done := 0; done < trials; {
		if spent(t) {
			trials = done
			break
		}
		more := min(200, trials-done) // a class lasts ten minutes
		if err := stopped(t, "hawser", r, more); err != nil {
			t.Fatalf("trial %d and on: %v", done, err)
		}
		done += more
	}
	t.Logf("stopped %d times", trials)
}

// stopped is one class that is stopped so often, and typed at when it goes on.
func stopped(t *testing.T, program string, r *rand.Rand, trials int) error {
	t.Helper()
	home := boathouse(t)
	c := converseWith(t, program, "run", "quick-ropes", "--home", home, "--plain", "--quiet", "--who", "Maren,Eskil")
	defer c.close()
	c.hears("type go and Enter")
	c.says("go\n")
	c.hears("part 1 starts in")
	opened, _ := newestLog(t, home).Opened()
	for i := range trials {
		before := len(newestLog(t, home).Events)
		time.Sleep(time.Duration(r.IntN(100)) * time.Millisecond)
		c.signal(syscall.SIGSTOP)
		time.Sleep(time.Duration(100+r.IntN(1200)) * time.Millisecond)
		c.signal(syscall.SIGCONT)
		sent := time.Since(opened.Wall)
		c.says([]string{"hold", "resume"}[i%2] + "\n")
		kept := time.Duration(-1)
		c.until(home, func(events []floor.Stamped) bool {
			for _, e := range events[before:] {
				switch e.E.(type) {
				case floor.Held, floor.Resumed:
					kept = e.T
				}
			}
			return kept >= 0
		})
		if !within(kept, sent, time.Since(opened.Wall)) {
			return fmt.Errorf("stop %d: typed at %v of room time, kept at %v", i, sent, kept)
		}
	}
	return nil
}

// within reports whether what was typed at a room time bears that: no earlier, but for what a
// stamp may be off, and no later than it was seen in the log.
func within(kept, typed, seen time.Duration) bool {
	return kept >= typed-slack && kept <= seen+slack
}

// slack is how far the wall clock of a log's first line may be from its room time.
const slack = 50 * time.Millisecond

// TestPtyStoppedControl: a program whose clock does not count what goes by between two looks at it,
// beyond what a look is late in the ordinary way, is found out.
func TestPtyStoppedControl(t *testing.T) {
	program := broken(t, "../tui/clock.go", "return t.Sub(c.zero) + c.ahead",
		"c.ahead -= max(0, t.Sub(lastLook) - 400*time.Millisecond); lastLook = t; return t.Sub(c.zero) + c.ahead",
		"var lastLook = time.Now()")
	err := stopped(t, program, rand.New(rand.NewPCG(10, 10)), 8)
	if err == nil {
		t.Error("a clock that stands while the program does is said to be right: the suite cannot see")
	}
	t.Logf("a clock that stands: %v", err)
}
