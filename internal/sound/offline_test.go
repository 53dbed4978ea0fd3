package sound

import (
	"math"
	"time"
)

// offline is a device on a virtual clock. It pulls blocks of any size, each when
// the one before has been played, or when it fills its buffer up, or late by a
// jitter; its own clock may be fast. It keeps where sounds began and the highest
// sample, not the samples.
type offline struct {
	block  func() int           // samples of the next pull
	full   int                  // samples that fill its buffer; 0: it has none
	late   func() time.Duration // of the next pull
	ppm    float64              // how much faster than the room its samples go
	onsets []int                // the samples at which sounds began
	peak   float64

	now    time.Duration // room time, for the timeline's clock
	played int
	last   int // the last loud sample
}

const (
	loud  = 0.02                  // an onset is a sample above this
	quiet = int(Rate) * 30 / 1000 // after that many below it
)

func newOffline() *offline {
	return &offline{
		block: func() int { return 480 },
		late:  func() time.Duration { return 0 },
		last:  -quiet - 1,
	}
}

func (o *offline) clock() time.Duration { return o.now }

// heard returns the room time at which a sample is heard.
func (o *offline) heard(sample int) time.Duration {
	return time.Duration(math.Round(float64(sample) * 1e9 / (float64(Rate) * (1 + o.ppm/1e6))))
}

// run pulls until room time end, calling each with every block's time before it.
func (o *offline) run(t *Timeline, end time.Duration, each func(now time.Duration)) {
	p := make([][2]float64, 4800)
	for o.heard(o.played) < end {
		n := o.block()
		held := max(0, o.full-n)
		o.now = max(o.now, o.heard(o.played-held)+o.late())
		each(o.now)
		t.pull(p[:n], lasts(held))
		for i, s := range p[:n] {
			a := math.Abs(s[0])
			if a <= loud {
				continue
			}
			o.peak = max(o.peak, a)
			if o.played+i-o.last > quiet {
				o.onsets = append(o.onsets, o.played+i)
			}
			o.last = o.played + i
		}
		o.played += n
	}
}
