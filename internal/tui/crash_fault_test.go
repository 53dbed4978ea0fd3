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
	if strings.HasSuffix(where, "of Maren") {
		b.where = "Update"
		b.crash = func() { panic(fmt.Sprintf("%s has no place", crew[0])) }
	}
	w := world(everyPart(), 4, 4, &b.notebook)
	w.Cues = b
	w.Open = func(p *floor.Plan) (*Log, error) {
		return &Log{Keeper: b, Past: []floor.Stamped{{N: 1, E: floor.Opened{Plan: p}}}}, nil
	}
	w.Session, w.Yes, w.Here = w.Sessions[0], true, crew[:4]
	err := Run(w, Look{Profile: colorprofile.ANSI}, os.Stdin, os.Stdout)
	broken, ok := errors.AsType[*BrokenError](err)
	if !ok {
		t.Fatalf("it ended with %v, want BrokenError", err)
	}
	fmt.Printf("REPORT %q\n", broken.Report)
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
				out := brokenIn(t, where)
				if !bytes.Contains(out, []byte("\x1b[?1049l")) || !bytes.Contains(out, []byte("\x1b[?25h")) {
					t.Fatalf("the screen was not left:\n%q", out)
				}
				screen, report, found := bytes.Cut(out, []byte("REPORT"))
				if !found || !bytes.Contains(report, []byte("goroutine")) || !bytes.Contains(report, []byte("crash_fault_test.go")) {
					t.Fatalf("the report does not say where: %s", report)
				}
				if bytes.Contains(screen, []byte("goroutine")) || bytes.Contains(screen, []byte("Caught panic")) {
					t.Fatalf("there is a stack trace on the terminal:\n%q", screen)
				}
				for _, name := range crew[:4] {
					if bytes.Contains(report, []byte(name)) {
						t.Fatalf("%s stands in the report: %s", name, report)
					}
				}
			}
		})
	}
	t.Logf("%d times each", trials)
}

// brokenIn runs the program that breaks on a terminal, presses go and a letter, and
// returns all it wrote.
func brokenIn(t *testing.T, where string) []byte {
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
			for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
				mu.Lock()
				all := bytes.Contains(out.Bytes(), []byte("PASS")) // its last word: what is in the terminal is read
				mu.Unlock()
				if all {
					break
				}
			}
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				t.Errorf("it ended with %v:\n%q", err, out.Bytes())
			}
			if before != after {
				t.Errorf("stty -g says %s, before it %s", after, before)
			}
			return bytes.Clone(out.Bytes())
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
		ended := make(chan struct{}, 2)
		c := &crash{end: func() { ended <- struct{}{} }}
		for range 2 {
			done := make(chan struct{})
			go func() {
				defer close(done)
				defer func() { c.rescue(recover()) }()
				var none map[string]int
				none["Maren"] = 1 //nolint:staticcheck // it must panic
			}()
			<-done
			<-ended
		}
		broken, ok := errors.AsType[*BrokenError](c.broken())
		if !ok || !strings.Contains(broken.Report, "assignment to entry in nil map") || strings.Contains(broken.Report, "Maren") {
			t.Fatalf("broken = %+v", broken)
		}
	}
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
