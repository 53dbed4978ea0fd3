//go:build !windows

package logbook

import (
	"os"
	"syscall"
	"testing"
)

func umask(mask int) int { return syscall.Umask(mask) }

func stopProcess(t *testing.T, p *os.Process) {
	t.Helper()
	if err := p.Signal(syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
}

func makePipe(t *testing.T, name string) {
	t.Helper()
	if err := syscall.Mkfifo(name, 0o600); err != nil {
		t.Fatal(err)
	}
}
