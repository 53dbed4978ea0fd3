package tui

import (
	"sync"
	"time"
)

// Clock is room time: the time since a run was opened, from the machine's
// monotonic clock. That one stands while a laptop sleeps; the wall clock does
// not, and the difference is added when it is noticed. Safe for any goroutine.
type Clock struct {
	mu    sync.Mutex
	zero  time.Time // room time was 0 here, by the monotonic clock
	wall  time.Time // both clocks were compared here
	mono  time.Time
	ahead time.Duration // slept so far
}

// asleep is how much the wall clock must have run ahead before it counts as sleep.
const asleep = time.Second

// NewClock returns a clock that reads elapsed now.
func NewClock(elapsed time.Duration) *Clock {
	c := new(Clock)
	c.Restart(time.Now().Add(-elapsed))
	return c
}

// Now returns the room time.
func (c *Clock) Now() time.Duration { return c.At(time.Now()) }

// At returns the room time of an instant.
func (c *Clock) At(t time.Time) time.Duration {
	c.mu.Lock()
	defer c.mu.Unlock()
	return t.Sub(c.zero) + c.ahead
}

// Restart makes the clock read the time since zero, which has a monotonic reading.
func (c *Clock) Restart(zero time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	now := time.Now()
	c.zero, c.wall, c.mono, c.ahead = zero, now.Round(0), now, 0
}

// Slept returns how long the machine slept since the last call, 0 for not at all,
// and counts it in. now is time.Now().
func (c *Clock) Slept(now time.Time) time.Duration {
	c.mu.Lock()
	defer c.mu.Unlock()
	ran := now.Sub(c.mono)
	gap := now.Round(0).Sub(c.wall) - ran
	c.wall, c.mono = now.Round(0), now
	if gap <= asleep {
		return 0
	}
	c.ahead += gap
	return gap
}

// Opened returns the time of day at which room time was 0.
func (c *Clock) Opened() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.zero.Add(-c.ahead).Round(0)
}
