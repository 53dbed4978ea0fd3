//go:build unix

package tui

import (
	"os"
	"os/signal"
	"syscall"

	tea "charm.land/bubbletea/v2"
)

// watchSignals ends the program in order when its terminal goes away, and keeps
// it from being stopped in the middle of a class. SIGTERM and SIGINT are Bubble
// Tea's. The returned function ends the watch.
func watchSignals(p *tea.Program, rescue func()) func() {
	signal.Ignore(syscall.SIGTSTP)
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGHUP)
	go func() {
		defer rescue()
		for range c {
			p.Quit()
		}
	}()
	return func() {
		signal.Stop(c)
		close(c)
		signal.Reset(syscall.SIGTSTP)
	}
}
