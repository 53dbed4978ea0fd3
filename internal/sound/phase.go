package sound

import "time"

const (
	// phaseWindow is how far back pulls are looked at: long enough for one of
	// them to have been on time, short enough to follow a device whose clock is
	// a little fast or slow (0.6 ms at 300 parts in a million).
	phaseWindow = 2 * time.Second
	// slipAfter is how long every pull must have been late before it is taken
	// that the device itself has lost time.
	slipAfter = 150 * time.Millisecond
	// settled is after how many pulls the estimate is good to a millisecond.
	settled = 50
)

// phase estimates from late and uneven pulls when a device's first sample was
// due. A pull can be late but never early, so the earliest of a window is right.
//
// Some devices that ran dry are late from then on, and for good. So when all pulls
// have been later than the estimate by more than slip for slipAfter, the estimate
// starts again from those. A line laid under the pulls of a longer time would follow
// a fast or slow device better and was no better: device clocks wander.
type phase struct {
	slip time.Duration

	pulls     int
	seen      []sight       // offsets rising, times rising; the first is the estimate
	lateSince time.Duration // of the first of an unbroken row of late pulls
	late      *time.Duration
}

// sight is one pull: when it came, and when the first sample was due if this
// pull was on time.
type sight struct{ at, zero time.Duration }

// observe takes in a pull at a time, of a device that has played as much sound so
// far. The first pull after a start fills an empty buffer and tells nothing.
func (p *phase) observe(at, played time.Duration) {
	p.pulls++
	if p.pulls == 1 {
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
