package tui

import (
	"time"

	"golang.org/x/sys/unix"
)

// sinceStart is the time since the machine was started, its sleep included: on this
// system that is the monotonic clock of the C library, and not the one Go has.
func sinceStart(mono time.Duration) time.Duration { return reading(unix.CLOCK_MONOTONIC_RAW, mono) }
