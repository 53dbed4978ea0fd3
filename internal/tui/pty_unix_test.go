//go:build unix

package tui

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/colorprofile"
	"github.com/creack/pty"
)

// TestOnTerminal is the program of TestTerminalIsPutBack, when that starts it.
func TestOnTerminal(t *testing.T) {
	t.Parallel()
	if os.Getenv("TUI_ON_TERMINAL") == "" {
		t.Skip("started by TestTerminalIsPutBack")
	}
	w := world(everyPart(), 4, 4, &notebook{})
	if err := Run(func() (*World, error) { return w, nil }, Look{Profile: colorprofile.ANSI}, os.Stdin, os.Stdout); err != nil && !errors.Is(err, ErrInterrupted) {
		t.Fatal(err)
	}
	os.Exit(0) // before the test is failed for the library's race, see below
}

// TestTerminalIsPutBack runs the screens on a real terminal and ends them from
// outside: each time the screen is left and the cursor is shown again.
func TestTerminalIsPutBack(t *testing.T) {
	t.Parallel()
	for name, end := range map[string]func(p *os.Process, f *os.File) error{
		"closed terminal": func(p *os.Process, _ *os.File) error { return p.Signal(syscall.SIGHUP) },
		"terminated":      func(p *os.Process, _ *os.File) error { return p.Signal(syscall.SIGTERM) },
		"Ctrl-C":          func(_ *os.Process, f *os.File) error { _, err := f.WriteString("\x03"); return err },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			cmd := exec.CommandContext(t.Context(), os.Args[0], "-test.run=^TestOnTerminal$") //nolint:gosec // this very test binary
			// Under the race detector the library's key reader is seen to read on while
			// it is closed, as the program ends; that is not what this test is about.
			cmd.Env = append(os.Environ(), "TUI_ON_TERMINAL=1", "TERM=xterm-256color", "GORACE=exitcode=0 log_path=/dev/null")
			f, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
			if err != nil {
				t.Skipf("no terminal to be had: %v", err)
			}
			defer f.Close()
			late := time.AfterFunc(20*time.Second, func() { _ = cmd.Process.Kill() })
			defer late.Stop()
			var out bytes.Buffer
			buf, asked := make([]byte, 4096), false
			for {
				n, err := f.Read(buf)
				out.Write(buf[:n])
				if !asked && bytes.Contains(out.Bytes(), []byte("Slack water")) {
					asked = true
					if err := end(cmd.Process, f); err != nil {
						t.Fatal(err)
					}
				}
				if err != nil {
					break // the terminal's other side is closed
				}
			}
			if err := cmd.Wait(); err != nil {
				t.Errorf("it ended with %v:\n%q", err, out.String())
			}
			for _, want := range []string{"\x1b[?1049l", "\x1b[?25h"} {
				if !bytes.Contains(out.Bytes(), []byte(want)) {
					t.Errorf("the terminal was left without %q:\n%q", want, out.String())
				}
			}
		})
	}
}
