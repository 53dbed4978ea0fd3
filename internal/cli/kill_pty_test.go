//go:build pty && unix

package cli_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/measure"
)

// tries is how often a suite tries: many with HAWSER_LONG=1, which .ci/faults sets.
func tries(few, many int) int {
	if os.Getenv("HAWSER_LONG") != "" {
		return many
	}
	return few
}

// spent reports whether the time that a test was given is as good as over: a long
// count then ends with what it has reached.
func spent(t *testing.T) bool {
	end, ok := t.Deadline()
	return ok && time.Until(end) < time.Minute
}

// talk is a program on a terminal that this test holds open itself, so that it can
// be asked how it stands after the program has gone.
type talk struct {
	t             *testing.T
	cmd           *exec.Cmd
	master, slave *os.File
	before        string // stty -g
	began         time.Time
	ended         chan error

	deaf sync.Mutex // held while nothing is to be read from the terminal

	mu  sync.Mutex
	out bytes.Buffer
}

// converse starts hawser on a terminal of 100 × 30.
func converse(t *testing.T, args ...string) *talk {
	t.Helper()
	return converseWith(t, "hawser", args...)
}

// converseWith is converse with another build of the program.
func converseWith(t *testing.T, program string, args ...string) *talk {
	t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	c := &talk{t: t, cmd: exec.Command(program, args...), master: master, slave: slave, began: time.Now(), ended: make(chan error, 1)}
	c.before = c.stty()
	c.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LC_ALL=C.UTF-8", "NO_COLOR=")
	c.cmd.Stdin, c.cmd.Stdout, c.cmd.Stderr = slave, slave, slave
	c.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := errors.Join(pty.Setsize(master, &pty.Winsize{Rows: 30, Cols: 100}), c.cmd.Start()); err != nil {
		t.Fatal(err)
	}
	go func() {
		buf := make([]byte, 64<<10)
		for {
			c.deaf.Lock()
			n, err := master.Read(buf)
			c.deaf.Unlock()
			c.mu.Lock()
			c.out.Write(buf[:n])
			c.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	go func() { c.ended <- c.cmd.Wait() }()
	return c
}

func (c *talk) said() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.out.String()
}

// hears waits until the program has said a text.
func (c *talk) hears(text string) {
	c.t.Helper()
	for end := time.Now().Add(time.Minute); !strings.Contains(c.said(), text); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			c.t.Fatalf("it never said %q but %q", text, c.said())
		}
	}
}

// until waits until the log of the class is like that.
func (c *talk) until(home string, is func([]floor.Stamped) bool) {
	c.t.Helper()
	if !c.comes(home, time.Minute, is) {
		c.never(home)
	}
}

// strikes strikes keys, again and again where they do not come through, until the log is like
// that. Keys that a slow program reads in one go can mean another key.
func (c *talk) strikes(home string, is func([]floor.Stamped) bool, keys ...string) {
	c.t.Helper()
	for range 10 {
		for _, key := range keys {
			time.Sleep(500 * time.Millisecond)
			c.says(key)
		}
		if c.comes(home, 6*time.Second, is) {
			return
		}
	}
	c.never(home)
}

// comes reports whether the log comes to be like that within a time.
func (c *talk) comes(home string, d time.Duration, is func([]floor.Stamped) bool) bool {
	c.t.Helper()
	for end := time.Now().Add(d); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if log := newestLog(c.t, home); log != nil && is(log.Events) {
			return true
		}
	}
	return false
}

func (c *talk) never(home string) {
	c.t.Helper()
	events := newestLog(c.t, home).Events
	c.t.Fatalf("the log never came to be as it should: %+v\n%q", events[max(0, len(events)-5):], c.said()[max(0, len(c.said())-3000):])
}

func (c *talk) says(text string) {
	c.t.Helper()
	if _, err := c.master.WriteString(text); err != nil {
		c.t.Fatal(err)
	}
}

// stty is how the terminal stands, to the byte.
func (c *talk) stty() string {
	c.t.Helper()
	cmd := exec.Command("stty", "-g")
	cmd.Stdin = c.slave
	out, err := cmd.Output()
	if err != nil {
		c.t.Skipf("SKIPPED: no stty here: %v", err)
	}
	return string(out)
}

// over waits for the end and returns it; where that does not come, the program is
// made to say what it is doing.
func (c *talk) over() error {
	c.t.Helper()
	select {
	case err := <-c.ended:
		time.Sleep(20 * time.Millisecond) // the rest of what it said is read
		return err
	case <-time.After(time.Minute):
		_ = c.cmd.Process.Signal(syscall.SIGQUIT)
		time.Sleep(2 * time.Second)
		_ = c.cmd.Process.Kill()
		c.t.Fatalf("it has not ended after a minute:\n%s", c.said())
		return nil
	}
}

func (c *talk) close() {
	_ = c.cmd.Process.Kill()
	c.master.Close()
	c.slave.Close()
}

// The lines of line mode that say that something is kept.
var (
	keptPress = regexp.MustCompile(`(Maren|Eskil|Iben): round (\d+), `)
	keptOther = regexp.MustCompile(`(undone|clock stopped|the clock runs in|part 1 starts in)`)
	timeOf    = regexp.MustCompile(`(GO in )?(\d+:\d\d(?::\d\d)?)  type go and Enter`)
)

// TestPtyKill kills live runs at random instants, under random keys, and starts them
// again: every press that was shown as kept is in the log, and the class goes on in
// the second in which it would be, without a question.
func TestPtyKill(t *testing.T) {
	trials := tries(12, 20_000)
	presses, home := 0, ""
	for i := range trials {
		if spent(t) {
			trials = i
			break
		}
		if i%40 == 0 {
			home = boathouse(t)
		}
		presses += killOnce(t, home, rand.New(rand.NewPCG(8, uint64(i))))
		if t.Failed() {
			t.Fatalf("trial %d", i)
		}
	}
	t.Logf("killed %d live runs; %d things were shown as kept, and all are there", trials, presses)
}

// killOnce is one run: taken up again if there was one, typed at, killed. It returns
// how much was shown as kept.
func killOnce(t *testing.T, home string, r *rand.Rand) int {
	t.Helper()
	before := newestLog(t, home)
	c := converse(t, "run", "quick-ropes", "--home", home, "--plain", "--quiet", "--who", "Maren,Eskil,Iben")
	defer c.close()
	c.hears("type go and Enter")
	if before != nil {
		rightSecond(t, c, before)
	} else {
		c.says("go\n")
	}
	for end := time.Now().Add(time.Duration(r.IntN(700)) * time.Millisecond); time.Now().Before(end); {
		c.says([]string{"m", "e", "i", "m", "e", "i", "undo", "hold", "resume"}[r.IntN(9)] + "\n")
		time.Sleep(time.Duration(r.IntN(30)) * time.Millisecond)
	}
	_ = c.cmd.Process.Kill()
	_ = c.over()
	said := c.said()
	log := newestLog(t, home)
	if log == nil {
		if keptOther.MatchString(said) {
			t.Errorf("there is no log, but it said %q", said)
		}
		return 0
	}
	if err := log.Err(); err != nil {
		t.Errorf("the log is damaged: %v", err)
	}
	added := log.Events
	if before != nil {
		added = added[len(before.Events):]
	}
	shown, lost := isKept(said, added)
	for _, word := range lost {
		t.Errorf("%q was shown as kept and is not in the log", word)
	}
	return shown
}

// TestPtyKillControl: a program that keeps only when it is told the next thing what it has shown as
// kept already is found out.
func TestPtyKillControl(t *testing.T) {
	program := broken(t, "../tui/lines.go", "err := l.log.Append(events)",
		"err := l.log.Append(unkept); unkept = events", "var unkept []floor.Stamped")
	home := boathouse(t)
	c := converseWith(t, program, "run", "quick-ropes", "--home", home, "--plain", "--quiet", "--who", "Maren,Eskil,Iben")
	defer c.close()
	c.hears("type go and Enter")
	c.says("go\n")
	c.hears("part 1 starts in")
	_ = c.cmd.Process.Kill()
	_ = c.over()
	if _, lost := isKept(c.said(), newestLog(t, home).Events); len(lost) == 0 {
		t.Error("nothing is said to be lost: the suite cannot see")
	}
}

// isKept compares what a run said it kept with the events that it added to its log. It
// returns how much it said, and what of that is lost.
func isKept(said string, added []floor.Stamped) (count int, lost []string) {
	there := map[string]int{}
	for _, e := range added {
		switch x := e.E.(type) {
		case floor.Pressed:
			there[fmt.Sprintf("%s: round %d, ", x.Who, x.Round)]++
		case floor.Undone:
			there["undone"]++
		case floor.Held:
			there["clock stopped"]++
		case floor.Resumed:
			there["the clock runs in"]++
		case floor.Started:
			there["part 1 starts in"]++
		}
	}
	shown := append(keptPress.FindAllString(said, -1), keptOther.FindAllString(said, -1)...)
	for _, word := range shown {
		if there[word]--; there[word] < 0 {
			lost = append(lost, word)
		}
	}
	return len(shown), lost
}

// rightSecond checks that a run taken up again goes on in the right second.
func rightSecond(t *testing.T, c *talk, log *logbook.Log) {
	t.Helper()
	read := time.Now()
	if !strings.Contains(c.said(), "it goes on") {
		t.Errorf("it did not say that the class goes on: %q", c.said())
	}
	opened, _ := log.Opened()
	st := floor.New()
	for _, e := range log.Events {
		st.Apply(e)
	}
	first := st.First()
	said := timeOf.FindStringSubmatch(c.said())
	if said == nil || first == floor.None {
		return // it was killed before GO was kept, or before it said the time
	}
	got, err := measure.ParseClock(said[2])
	if err != nil && said[2] != "0:00" {
		t.Fatal(err)
	}
	if said[1] != "" {
		got = -got
	}
	from, to := c.began.Sub(opened.Wall)-first-time.Second, read.Sub(opened.Wall)-first+time.Second
	if got < from || got > to {
		t.Errorf("taken up at %v after GO, want %v to %v", got, from, to)
	}
}

// newestLog is the log of the class that is on in a home, nil where there is none.
func newestLog(t *testing.T, home string) *logbook.Log {
	t.Helper()
	runs, err := logbook.Runs(home)
	if err != nil {
		t.Fatal(err)
	}
	if len(runs) == 0 {
		return nil
	}
	log, err := logbook.Load(filepath.Join(home, filepath.FromSlash(runs[len(runs)-1].Path)))
	if err != nil {
		t.Fatal(err)
	}
	return log
}
