//go:build !linux && !darwin

package tui

import "time"

// sinceStart is the time since the start, sleep included: Windows counts it in its
// monotonic clock already, so that there is nothing to add.
func sinceStart(mono time.Duration) time.Duration { return mono }
