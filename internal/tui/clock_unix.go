//go:build linux || darwin

package tui

import (
	"time"

	"golang.org/x/sys/unix"
)

// reading reads a clock of the system; without it nobody sleeps.
func reading(clock int32, mono time.Duration) time.Duration {
	var at unix.Timespec
	if unix.ClockGettime(clock, &at) != nil {
		return mono
	}
	return time.Duration(at.Nano())
}
