package tui

import (
	"sync"
	"time"
)

// Clock is room time: the time since a run was opened, from the machine's
// monotonic clock. On some systems that one stands while a laptop sleeps; how long
// it stood is told by the time since the machine was started, and added when it is
// noticed. The time of day has no say: setting it moves nothing. Safe for any
// goroutine.
type Clock struct {
	mu    sync.Mutex
	boot  func(mono time.Duration) time.Duration
	zero  time.Time     // room time was 0 here, by the monotonic clock
	apart time.Duration // of both clocks when they were compared last
	ahead time.Duration // slept so far
}

// asleep is how much the time since the start must have run ahead before it counts as sleep.
const asleep = time.Second

// NewClock returns a clock that reads elapsed now.
func NewClock(elapsed time.Duration) *Clock { return newClock(elapsed, sinceStart) }

// newClock is NewClock with a clock that runs on in sleep. That is given the time
// since this one's zero by the monotonic clock, and may count from anywhere.
func newClock(elapsed time.Duration, boot func(mono time.Duration) time.Duration) *Clock {
	c := &Clock{boot: boot}
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
	mono := time.Since(zero)
	c.zero, c.apart, c.ahead = zero, c.boot(mono)-mono, 0
}

// Slept returns how long the machine slept since the last call, 0 for not at all,
// and counts it in. now is time.Now().
func (c *Clock) Slept(now time.Time) time.Duration {
	c.mu.Lock()
	defer c.mu.Unlock()
	mono := now.Sub(c.zero)
	apart := c.boot(mono) - mono
	gap := apart - c.apart
	c.apart = apart
	if gap <= asleep {
		return 0
	}
	c.ahead += gap
	return gap
}

// Opened returns the time of day at which room time was 0, by the time of day as it
// is set now.
func (c *Clock) Opened() time.Time {
	now := time.Now()
	return now.Round(0).Add(-c.At(now))
}
