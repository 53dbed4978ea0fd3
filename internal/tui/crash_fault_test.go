//go:build unix

package tui

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/colorprofile"
	"github.com/creack/pty"

	"hawser/internal/floor"
)

// breaking makes the test binary the program of TestBrokenTerminal: it breaks there.
const breaking = "TUI_BREAKS_IN"

// breaker is a world in which one thing breaks, when it is asked for the nth time.
type breaker struct {
	notebook

	silence

	where string
	mu    sync.Mutex
	left  int
	crash func()
}

func (b *breaker) at(where string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.where != where {
		return
	}
	if b.left--; b.left < 0 {
		b.crash()
	}
}

func (b *breaker) Append(events []floor.Stamped) error {
	b.at("a command")
	return b.notebook.Append(events)
}

func (b *breaker) Schedule([]floor.Moment) { b.at("Update") }

// Trouble is asked by every drawing of the wall, of the log and of the sound.
func (b *breaker) Trouble() string { b.at("View"); return "" }

// TestBreaks is the program that breaks, when TestBrokenTerminal starts it.
func TestBreaks(t *testing.T) {
	t.Parallel()
	where := os.Getenv(breaking)
	if where == "" {
		t.Skip("started by TestBrokenTerminal")
	}
	b := &breaker{where: where, left: 1}
	b.crash = func() {
		var nobody []floor.Person
		_ = nobody[b.left+7].Name // the runtime's own words
	}
	switch where {
	case "Update of Maren":
		b.where = "Update"
		b.crash = func() { panic(fmt.Sprintf("%s has no place", crew[0])) }
	case "killed":
		b.where = "Update"
		b.crash = func() { _ = syscall.Kill(os.Getpid(), syscall.SIGKILL) }
	}
	w := world(everyPart(), 4, 4, &b.notebook)
	w.Cues = b
	w.Open = func(p *floor.Plan) (*Log, error) {
		return &Log{Keeper: b, Past: []floor.Stamped{{N: 1, E: floor.Opened{Plan: p}}}}, nil
	}
	w.Session, w.Yes, w.Here = w.Sessions[0], true, crew[:4]
	err := Run(func() (*World, error) {
		if where == "opening" {
			b.crash()
		}
		return w, nil
	}, Look{Profile: colorprofile.ANSI}, os.Stdin, os.Stdout)
	broken, ok := errors.AsType[*BrokenError](err)
	if !ok {
		t.Fatalf("it ended with %v, want BrokenError", err)
	}
	fmt.Printf("REPORT %q\n", broken.Report)
}

// fallen is a program that has broken on a terminal.
type fallen struct {
	out           []byte // all it wrote
	before, after string // what stty -g says
	err           error
}

// TestBrokenTerminal breaks Update, View and commands, and wants the terminal as it
// was to the byte, no stack trace on it, and a report without names.
func TestBrokenTerminal(t *testing.T) {
	t.Parallel()
	trials := count(2, 20)
	for _, where := range []string{"Update", "View", "a command", "Update of Maren"} {
		t.Run(where, func(t *testing.T) {
			t.Parallel()
			for range trials {
				f := breakIn(t, where)
				if err := errors.Join(f.err, f.restored(), f.reported()); err != nil {
					t.Fatalf("%v:\n%q", err, f.out)
				}
			}
		})
	}
	t.Logf("%d times each", trials)
}

// TestBrokenOpening breaks what makes the world: nothing is written to the terminal, and
// that is as it was.
func TestBrokenOpening(t *testing.T) {
	t.Parallel()
	f := breakIn(t, "opening")
	if err := errors.Join(f.err, f.reported()); err != nil || f.before != f.after || bytes.ContainsRune(f.out, '\x1b') {
		t.Errorf("%v; stty -g says %s, before it %s, and there is on the terminal:\n%q", err, f.after, f.before, f.out)
	}
}

// TestBrokenTerminalControl: a terminal that is left as the screens had it, and a report
// that names somebody or stands on the screen, are found out.
func TestBrokenTerminalControl(t *testing.T) {
	t.Parallel()
	killed := breakIn(t, "killed") // as if nothing had been put right
	if killed.after == killed.before || killed.restored() == nil {
		t.Errorf("a program that puts nothing right is said to have put all right: the suite cannot see:\n%q", killed.out)
	}
	const left, trace = "\x1b[?1049l\x1b[?25h", `goroutine 1 in crash_fault_test.go:7`
	for what, f := range map[string]fallen{
		"whose cursor is hidden":        {out: []byte("\x1b[?1049l")},
		"whose screen is the other one": {out: []byte("\x1b[?25h")},
		"with other settings":           {out: []byte(left), before: "6d02", after: "6902"},
	} {
		if f.restored() == nil {
			t.Errorf("a terminal %s is said to be as it was: the suite cannot see", what)
		}
	}
	for what, out := range map[string]string{
		"with a name in it": left + "REPORT " + trace + " of " + crew[0],
		"on the screen":     trace + left + "REPORT " + trace,
		"without a place":   left + "REPORT goroutine 1",
		"that is not there": left,
	} {
		if (fallen{out: []byte(out)}).reported() == nil {
			t.Errorf("a report %s is said to be right: the suite cannot see", what)
		}
	}
}

// restored wants the terminal as it was to the byte.
func (f fallen) restored() error {
	switch {
	case f.before != f.after:
		return fmt.Errorf("stty -g says %s, before it %s", f.after, f.before)
	case !bytes.Contains(f.out, []byte("\x1b[?1049l")) || !bytes.Contains(f.out, []byte("\x1b[?25h")):
		return errors.New("the screen was not left")
	}
	return nil
}

// reported wants a report that says where, without a name, and none of it on the screen.
func (f fallen) reported() error {
	screen, report, found := bytes.Cut(f.out, []byte("REPORT"))
	switch {
	case !found || !bytes.Contains(report, []byte("goroutine")) || !bytes.Contains(report, []byte("crash_fault_test.go")):
		return errors.New("the report does not say where")
	case bytes.Contains(screen, []byte("goroutine")) || bytes.Contains(screen, []byte("Caught panic")):
		return errors.New("there is a stack trace on the terminal")
	}
	for _, name := range crew[:4] {
		if bytes.Contains(report, []byte(name)) {
			return fmt.Errorf("%s stands in the report", name)
		}
	}
	return nil
}

// breakIn runs the program that breaks on a terminal, and presses go and letters until it
// has ended.
func breakIn(t *testing.T, where string) fallen {
	t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		t.Skipf("no terminal to be had: %v", err)
	}
	defer master.Close()
	defer slave.Close()
	before := settings(t, slave)
	cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^TestBreaks$") //nolint:gosec // this very test binary
	cmd.Env = append(os.Environ(), breaking+"="+where, "TERM=xterm-256color", "GORACE=exitcode=0 log_path=/dev/null")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := errors.Join(pty.Setsize(master, &pty.Winsize{Rows: 24, Cols: 80}), cmd.Start()); err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	var out bytes.Buffer
	go func() {
		buf := make([]byte, 4096)
		for {
			n, err := master.Read(buf)
			mu.Lock()
			out.Write(buf[:n])
			mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	late := time.After(2 * time.Minute)
	for keys := 0; ; keys++ {
		_, _ = master.WriteString([]string{" ", "m", "e"}[keys%3]) // it may have ended
		select {
		case err := <-ended:
			after := settings(t, slave)
			for end := time.Now().Add(10 * time.Second); err == nil && time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
				mu.Lock()
				all := bytes.Contains(out.Bytes(), []byte("PASS")) // its last word: what is in the terminal is read
				mu.Unlock()
				if all {
					break
				}
			}
			mu.Lock()
			defer mu.Unlock()
			return fallen{bytes.Clone(out.Bytes()), before, after, err}
		case <-late:
			_ = cmd.Process.Kill()
			t.Fatalf("it does not end:\n%q", out.Bytes())
		case <-time.After(150 * time.Millisecond):
		}
	}
}

// settings is what stty -g says of a terminal.
func settings(t *testing.T, f *os.File) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), "stty", "-g")
	cmd.Stdin = f
	out, err := cmd.Output()
	if err != nil {
		t.Skipf("no stty here: %v", err)
	}
	return string(out)
}

// TestOwnGoroutine breaks in a goroutine of our own: it is one error, and the end of
// the program is asked for.
func TestOwnGoroutine(t *testing.T) {
	t.Parallel()
	for range count(20, 20) {
		if err := breakBeside((*crash).rescue); err != nil {
			t.Fatal(err)
		}
	}
}

// TestOwnGoroutineControl: a rescue that swallows what broke, and one that hands on what
// somebody is called, are found out.
func TestOwnGoroutineControl(t *testing.T) {
	t.Parallel()
	for what, rescue := range map[string]func(c *crash, r any){
		"says nothing": func(*crash, any) {},
		"does not end": func(c *crash, r any) { c.said = Broken(r) },
		"names Maren":  func(c *crash, r any) { c.rescue(r); c.said.Report += "Maren" },
	} {
		if breakBeside(rescue) == nil {
			t.Errorf("a rescue that %s is said to be right: the suite cannot see", what)
		}
	}
}

// breakBeside breaks in a goroutine, twice.
func breakBeside(rescue func(c *crash, r any)) error {
	ended := 0
	c := &crash{end: func() { ended++ }}
	for range 2 {
		done := make(chan struct{})
		go func() {
			defer close(done)
			defer func() { rescue(c, recover()) }()
			var none map[string]int
			none["Maren"] = 1 //nolint:staticcheck // it must panic
		}()
		<-done
	}
	broken, ok := errors.AsType[*BrokenError](c.broken())
	if !ok || ended != 2 || !strings.Contains(broken.Report, "assignment to entry in nil map") || strings.Contains(broken.Report, "Maren") {
		return errors.Join(fmt.Errorf("%d times the end was asked for", ended), c.broken())
	}
	return nil
}

// TestDisplayOutlivesItsWriter: where the goroutine that writes is gone, the bytes
// that put the terminal right are written all the same.
func TestDisplayOutlivesItsWriter(t *testing.T) {
	t.Parallel()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	d := &display{File: w, frames: make(chan []byte), done: make(chan struct{})}
	close(d.done)
	if _, err := d.Write([]byte("\x1b[?1049l")); err != nil {
		t.Fatal(err)
	}
	w.Close()
	var got bytes.Buffer
	if _, err := got.ReadFrom(r); err != nil || got.String() != "\x1b[?1049l" {
		t.Errorf("%q was written, %v", got.String(), err)
	}
}
