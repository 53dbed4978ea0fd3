package sound

import "time"

const (
	// phaseWindow is how far back sights are looked at: long enough for one of
	// them to have been on time, short enough to follow a device whose clock is
	// a little fast or slow (0.6 ms at 300 parts in a million).
	phaseWindow = 2 * time.Second
	// slipAfter is how long every sight must have been late before it is taken
	// that the device itself has lost time.
	slipAfter = 150 * time.Millisecond
)

// phase estimates when a device's first sample was due, from the times of its pulls
// or from what it says of itself. Both can be late but never early, so the earliest
// of a window is right.
//
// Some devices that ran dry are late from then on, and for good. So when all sights
// have been later than the estimate by more than slip for slipAfter, the estimate
// starts again from those.
type phase struct {
	slip time.Duration

	count     int
	seen      []sight       // offsets rising, times rising; the first is the estimate
	lateSince time.Duration // of the first of an unbroken row of late ones
	late      *time.Duration
}

// sight is one look at the device: when it was, and when the first sample was due if
// it was on time.
type sight struct{ at, zero time.Duration }

// observe takes in that a device has played so much sound by a time. The first sight
// after a start tells nothing: that pull fills an empty buffer.
func (p *phase) observe(at, played time.Duration) {
	p.count++
	if p.count == 1 {
		return
	}
	zero := at - played
	if p.slipped(at, zero) {
		zero = *p.late
		p.seen, p.late = p.seen[:0], nil
	}
	for len(p.seen) > 0 && p.seen[len(p.seen)-1].zero >= zero {
		p.seen = p.seen[:len(p.seen)-1]
	}
	p.seen = append(p.seen, sight{at, zero})
	old := 0
	for p.seen[old].at < at-phaseWindow {
		old++
	}
	p.seen = append(p.seen[:0], p.seen[old:]...)
}

// slipped reports whether the device has lost time for good; then p.late is the
// earliest offset since.
func (p *phase) slipped(at, zero time.Duration) bool {
	if len(p.seen) == 0 || zero <= p.seen[0].zero+p.slip {
		p.late = nil
		return false
	}
	if p.late == nil {
		p.late, p.lateSince = &zero, at
	}
	*p.late = min(*p.late, zero)
	return at-p.lateSince >= slipAfter
}

// zero returns when the first sample was due, and whether that is known.
func (p *phase) zero() (time.Duration, bool) {
	if len(p.seen) == 0 {
		return 0, false
	}
	return p.seen[0].zero, true
}

// reset forgets everything, for a device that starts anew.
func (p *phase) reset() { *p = phase{slip: p.slip, seen: p.seen[:0]} }
