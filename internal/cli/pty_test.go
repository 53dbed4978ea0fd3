//go:build pty && unix

package cli_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"hawser/internal/cli"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// The class of this test: rounds long enough for the slowest machine, and a
// count-in short enough for an impatient coach.
const threeRounds = `title = "Three rounds"
aim = "conditioning"
[[part]]
format = "every"
every = "2:30"
rounds = 3
count_in = "1 s"
[[part.station]]
movement = "forward drag"
distance = "20 m"
load = "20 kg"
`

const threeSleds = `[strip]
length = "20 m"
surface = "turf"
[[sled]]
name = "A"
tare = "25 kg"
[[sled]]
name = "B"
tare = "25 kg"
[[sled]]
name = "C"
tare = "25 kg"
[[plates]]
mass = "20 kg"
count = 3
`

const threePeople = `[[athlete]]
name = "Anneke"
[[athlete]]
name = "Bram"
[[athlete]]
name = "Odile"
`

// TestPtyClass runs the real program on a real pty as a coach would: who is here,
// the board, GO, a press, undo, a hold. Then it is killed, and offered back.
func TestPtyClass(t *testing.T) {
	home := filepath.Join(t.TempDir(), "home")
	if out, err := exec.Command("hawser", "init", home).CombinedOutput(); err != nil {
		t.Fatalf("init: %v\n%s", err, out)
	}
	cli.WriteFiles(t, home, map[string]string{"sessions/two.toml": threeRounds, "kit.toml": threeSleds, "roster.toml": threePeople})

	class := begin(t, "run", "two", "--home", home, "--quiet")
	class.see("Who is here")
	class.press("*")
	class.see("3 here")
	class.press("\r")
	class.see("The board")
	class.press("\r")
	class.see("Space GO")
	class.press(" ")
	class.see("round 1 of 3")
	class.press("a")
	class.see("done")
	class.press("\x7f") // undo
	class.see("undone")
	class.press(" ")
	class.see("clock stopped")
	class.press(" ")
	class.gone("clock stopped")
	class.press("b")
	class.see("done")
	class.kill()

	// Every press that was shown as kept is there, and the class goes on.
	class = begin(t, "run", "two", "--home", home, "--quiet")
	class.see("A class was interrupted")
	class.press("\r")
	class.see("of 3")
	class.see("done")
	class.press("\x03")
	class.press("\x03")
	if got := class.wait(); got != 130 {
		t.Errorf("exit status after Ctrl-C twice is %d, want 130", got)
	}

	var report struct {
		Parts []struct {
			Athletes []struct {
				Name   string
				InTime int `json:"in_time"`
			}
		}
	}
	out, err := exec.Command("hawser", "splits", "--home", home, "--json").Output()
	if err != nil {
		t.Fatalf("splits: %v", err)
	}
	if err := json.Unmarshal(out, &report); err != nil {
		t.Fatal(err)
	}
	in := map[string]int{}
	for _, a := range report.Parts[0].Athletes {
		in[a.Name] = a.InTime
	}
	if in["Bram"] != 1 || in["Anneke"] != 0 {
		t.Errorf("in time are %v, want Bram's round alone: Anneke's was undone", in)
	}
}

// terminal is a program on a pty, its screen read through an emulator.
type terminal struct {
	t    *testing.T
	cmd  *exec.Cmd
	pty  *os.File
	done chan error

	mu     sync.Mutex
	screen *vt.Emulator
	bytes  int // written to it
}

func begin(t *testing.T, args ...string) *terminal {
	t.Helper()
	return beginAt(t, 100, 30, args...)
}

// beginAt is begin on a terminal of w × h.
func beginAt(t *testing.T, w, h int, args ...string) *terminal {
	t.Helper()
	return start(t, w, h, exec.Command("hawser", args...))
}

// start puts any program on a terminal of w × h.
func start(t *testing.T, w, h int, cmd *exec.Cmd) *terminal {
	t.Helper()
	cmd.Env = append(cmd.Environ(), "TERM=xterm-256color", "LC_ALL=C.UTF-8", "NO_COLOR=")
	file, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)})
	if err != nil {
		t.Fatal(err)
	}
	c := &terminal{t: t, cmd: cmd, pty: file, done: make(chan error, 1), screen: vt.NewEmulator(w, h)}
	answers := make(chan struct{})
	go func() { // what the emulator answers to the program's questions
		defer close(answers)
		buf := make([]byte, 1024)
		for {
			n, err := c.screen.Read(buf)
			if err != nil {
				return
			}
			if _, err := file.Write(buf[:n]); err != nil {
				return
			}
		}
	}()
	go func() {
		buf := make([]byte, 64<<10)
		for {
			n, err := file.Read(buf)
			c.mu.Lock()
			c.bytes += n
			c.screen.Write(buf[:n]) //nolint:errcheck // it takes everything
			c.mu.Unlock()
			if err != nil {
				c.done <- cmd.Wait()
				return
			}
		}
	}()
	t.Cleanup(func() {
		cmd.Process.Kill() //nolint:errcheck // it may have ended already
		file.Close()
	})
	return c
}

func (c *terminal) text() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.screen.String()
}

// until waits for a screen; how long it takes proves nothing, that it comes does.
func (c *terminal) until(what string, is func(string) bool) {
	c.t.Helper()
	for end := time.Now().Add(time.Minute); ; time.Sleep(20 * time.Millisecond) {
		screen := c.text()
		if is(screen) {
			return
		}
		if time.Now().After(end) {
			c.t.Fatalf("the screen never %s:\n%s", what, screen)
		}
	}
}

func (c *terminal) see(text string) {
	c.t.Helper()
	c.until("shows "+text, func(s string) bool { return strings.Contains(s, text) })
}

func (c *terminal) gone(text string) {
	c.t.Helper()
	c.until("drops "+text, func(s string) bool { return !strings.Contains(s, text) })
}

// press types like a person: repeats that come faster count as a held key.
func (c *terminal) press(keys string) {
	c.t.Helper()
	time.Sleep(200 * time.Millisecond)
	if _, err := c.pty.Write([]byte(keys)); err != nil {
		c.t.Fatal(err)
	}
}

func (c *terminal) kill() {
	c.t.Helper()
	if err := c.cmd.Process.Signal(syscall.SIGKILL); err != nil {
		c.t.Fatal(err)
	}
	<-c.done
}

// wait returns the exit status.
func (c *terminal) wait() int {
	c.t.Helper()
	select {
	case err := <-c.done:
		if ended, ok := errors.AsType[*exec.ExitError](err); ok {
			return ended.ExitCode()
		}
		return 0
	case <-time.After(time.Minute):
		c.t.Fatalf("the program does not end:\n%s", bytes.TrimSpace([]byte(c.text())))
		return -1
	}
}
