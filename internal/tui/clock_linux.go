package tui

import (
	"time"

	"golang.org/x/sys/unix"
)

// sinceStart is the time since the machine was started, its sleep included.
func sinceStart(mono time.Duration) time.Duration { return reading(unix.CLOCK_BOOTTIME, mono) }
