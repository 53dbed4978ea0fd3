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

// TestPtyEndsControl: a program that is killed puts nothing right, and that is seen: in how it
// ended, by stty, and on the screen.
func TestPtyEndsControl(t *testing.T) {
	c := converse(t, "run", "quick-ropes", "--home", boathouse(t), "--quiet")
	defer c.close()
	c.hears("\x1b[?1049h")
	c.signal(syscall.SIGKILL)
	end := c.over()
	if leftScreen(c.said()) {
		t.Error("a screen that was not left is said to be: the suite cannot see")
	}
	if c.inOrder(end) == nil {
		t.Error("a program that was killed is said to have ended in order: the suite cannot see")
	}
	if c.inOrder(nil) == nil {
		t.Error("a terminal that is left as it was in the class is said to be right: the suite cannot see")
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
		done += stopped(t, r, min(200, trials-done)) // a class lasts ten minutes
	}
	t.Logf("stopped %d times", trials)
}

// stopped is one class that is stopped so often, and typed at when it goes on.
func stopped(t *testing.T, r *rand.Rand, trials int) int {
	t.Helper()
	home := boathouse(t)
	c := converse(t, "run", "quick-ropes", "--home", home, "--plain", "--quiet", "--who", "Maren,Eskil")
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
			t.Fatalf("trial %d: typed at %v of room time, kept at %v", i, sent, kept)
		}
	}
	return trials
}

// within reports whether what was typed at a room time bears that: no earlier, but for what a
// stamp may be off, and no later than it was seen in the log.
func within(kept, typed, seen time.Duration) bool {
	return kept >= typed-slack && kept <= seen+slack
}

// slack is how far the wall clock of a log's first line may be from its room time.
const slack = 50 * time.Millisecond

// TestPtyStoppedControl: a stamp of a clock that stood while the program was stopped, or that
// made up for it twice, is found out.
func TestPtyStoppedControl(t *testing.T) {
	const typed, seen, stop = 10 * time.Second, 10*time.Second + 20*time.Millisecond, 100 * time.Millisecond // the shortest there is
	if within(typed-stop, typed, seen) || within(seen+stop, typed, seen) || !within(typed, typed, seen) {
		t.Error("what a clock makes of a stop is not told from the time of the key: the suite cannot see")
	}
}
