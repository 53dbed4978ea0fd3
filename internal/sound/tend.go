package sound

import (
	"context"
	"errors"
	"slices"
	"time"
)

const (
	look    = 250 * time.Millisecond // how often the device is looked at
	silence = 500 * time.Millisecond // without a pull: the device is lost
	opening = 3 * time.Second        // a device that takes longer does not open
)

var (
	errQuiet  = errors.New("not wanted")
	errNone   = errors.New("no sound device found")
	errGone   = errors.New("the sound device is gone")
	errSilent = errors.New("the sound device takes no more sound")
)

// sink is an open device: it pulls a Timeline, from one goroutine.
type sink interface {
	// latency returns how long after its time by the pulls a sample is heard; 0 where
	// the device tells the timeline itself what is heard when.
	latency() time.Duration
	// err returns why the device stopped for good, nil while it runs.
	err() error
	// close ends the pulls; none is under way when it returns.
	close()
}

// device is a kind of sink. open returns once the device pulls, or why it does not.
type device struct {
	open  func(ctx context.Context, t *Timeline) (sink, error)
	again bool // may be opened again after it failed or was lost; else once in a process
}

// tender opens the first device that can be had, watches it, and opens one again
// when it was lost. While there is none it pulls the timeline itself, as a device
// that nobody hears, so that all else goes on alike.
type tender struct {
	timeline *Timeline
	devices  []device             // those that may still be opened; its own
	extra    func() time.Duration // heard later than the device says
	now      sink                 // nil: none
	again    bool                 // now may be opened again
	status   Status
	nobody   [][2]float64
}

// run tends until ctx is done and tells after each look how the sound stands.
func (d *tender) run(ctx context.Context, tell func(Status)) {
	ticker := time.NewTicker(look)
	defer ticker.Stop()
	defer func() {
		if d.now != nil {
			d.now.close()
		}
	}()
	if len(d.devices) == 0 {
		d.status.Why = errQuiet.Error()
	}
	for last := time.Now(); ; last = time.Now() {
		if d.now == nil {
			d.open(ctx)
		} else if time.Since(last) < 2*look { // else all of this machine stood still
			d.check()
		}
		tell(d.status)
		if d.now == nil {
			d.timeline.Stream(d.nobody)
		}
		select {
		case <-ctx.Done():
			return
		case <-ticker.C:
		}
	}
}

// open tries the devices in order. Those that can be opened only once in a
// process have had their turn with that: what is lost comes back as what it was,
// and not as another program's rival for the same card.
func (d *tender) open(ctx context.Context) {
	for _, dev := range d.devices {
		d.timeline.ResetPhase()
		s, err := dev.open(ctx, d.timeline)
		if err == nil {
			d.now, d.again, d.status = s, dev.again, Status{State: On}
			break
		}
		if d.status.State == Off {
			d.status.Why = errNone.Error()
		}
		d.status.Detail = err.Error()
	}
	d.devices = slices.DeleteFunc(d.devices, func(dev device) bool { return !dev.again })
}

// check looks whether the device still pulls.
func (d *tender) check() {
	err := d.now.err()
	stale := time.Since(d.timeline.LastPull()) > silence
	switch {
	case err != nil:
		d.status = Status{State: Lost, Why: errGone.Error(), Detail: err.Error()}
	case stale:
		d.status = Status{State: Lost, Why: errSilent.Error()}
	default:
		d.status = Status{State: On}
		d.timeline.SetLatency(d.now.latency() + d.extra())
	}
	if err != nil || stale && d.again {
		d.now.close()
		d.now = nil
	}
}
