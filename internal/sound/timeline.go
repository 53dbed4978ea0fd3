package sound

import (
	"cmp"
	"slices"
	"sync"
	"time"

	"github.com/gopxl/beep/v2"

	"hawser/internal/cue"
)

const (
	// Rate is the sample rate of everything here.
	Rate beep.SampleRate = 48000
	// Buffer is how much sound a device is asked to hold. Less and a busy
	// machine runs dry; more and a cue can be withdrawn less late.
	Buffer = 50 * time.Millisecond
	// MaxLate is how late a cue may still be played. Later it would mislead.
	MaxLate = 150 * time.Millisecond

	remember = 10 * time.Second // how long a played cue is not played again
	hush     = 0.001            // −60 dB: what keeps a wireless speaker awake
)

// Cue is samples to be heard from room time At on. Name and At tell it from
// every other.
type Cue struct {
	At   time.Duration
	Name cue.Name
	PCM  [][2]float64 // at Rate; not changed by anyone
}

func (c Cue) is(d Cue) bool { return c.At == d.At && c.Name == d.Name }

// Timeline is an endless stream with cues in it, each at its room time as far as
// the device or its pulls tell. It may be called from any goroutine.
type Timeline struct {
	clock   func() time.Duration // room time; called while the device waits, so quick
	onPanic func(any)

	mu       sync.Mutex
	queue    []Cue // not yet begun, in order of time
	begun    []Cue // lately begun or dropped
	voices   [][][2]float64
	pulled   int   // samples handed out
	phase    phase // by the pulls
	told     phase // by what the device says; not known where it says nothing
	latency  time.Duration
	lastPull time.Time
	noise    uint32
}

// NewTimeline returns a Timeline on a clock of room time, which must be steady
// and safe to call from any goroutine. A panic in a pull ends that pull in
// silence and is given to onPanic.
func NewTimeline(clock func() time.Duration, onPanic func(any)) *Timeline {
	const slip = Buffer * 6 / 10
	return &Timeline{clock: clock, onPanic: onPanic, phase: phase{slip: slip}, told: phase{slip: slip}, noise: 1}
}

// Schedule makes cues all that is to come from room time from on: what is queued
// there and not among them is withdrawn, what was queued or played already is
// not queued again, and what is queued before from stays.
func (t *Timeline) Schedule(from time.Duration, cues ...Cue) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.queue = slices.DeleteFunc(t.queue, func(c Cue) bool {
		return c.At >= from && !slices.ContainsFunc(cues, c.is)
	})
	for _, c := range cues {
		if !slices.ContainsFunc(t.queue, c.is) && !slices.ContainsFunc(t.begun, c.is) {
			t.queue = append(t.queue, c)
		}
	}
	slices.SortStableFunc(t.queue, func(a, b Cue) int { return cmp.Compare(a.At, b.At) })
	t.dropLate(t.clock())
}

// CancelAfter withdraws every cue from room time at on. What sounds rings out.
func (t *Timeline) CancelAfter(at time.Duration) { t.Schedule(at) }

// Silence withdraws every cue and cuts off what sounds.
func (t *Timeline) Silence() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.queue, t.voices = nil, nil
}

// PlayNow plays samples with the next pull, or never where a lost device has
// stopped to pull: they must not pile up for its return.
func (t *Timeline) PlayNow(pcm [][2]float64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if !t.lastPull.IsZero() && time.Since(t.lastPull) > silence {
		return
	}
	t.voices = append(t.voices, pcm)
}

// SetLatency says how long after its time by the pulls, or by what the device says,
// a sample is heard.
func (t *Timeline) SetLatency(d time.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.latency = d
}

// ResetPhase forgets the pulls so far and what the device said: after a device was
// opened, and after the room clock jumped.
func (t *Timeline) ResetPhase() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.phase.reset()
	t.told.reset()
}

// LastPull returns when samples were last pulled, the zero time before the first.
func (t *Timeline) LastPull() time.Time {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.lastPull
}

// heard takes in what the device says between two pulls: at room time at it had so
// much left to be heard of what it pulled. It may say so late, but never early.
func (t *Timeline) heard(at, left time.Duration) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.told.observe(at, lasts(t.pulled)-left)
}

// zero returns when the first sample was due, and whether that is known.
func (t *Timeline) zero() (time.Duration, bool) {
	if zero, ok := t.told.zero(); ok {
		return zero, true
	}
	return t.phase.zero()
}

// Stream fills p; it never ends. It is a [beep.Streamer], for a device of which
// nothing is known.
func (t *Timeline) Stream(p [][2]float64) (n int, ok bool) { return t.pull(p, 0) }

// pull fills p for a device that has so much sound left to play before it; less than
// none where it ran dry and let the time go by.
func (t *Timeline) pull(p [][2]float64, held time.Duration) (n int, ok bool) {
	defer func() {
		if r := recover(); r != nil && t.onPanic != nil {
			t.onPanic(r)
			n, ok = len(p), true
		}
	}()
	t.mu.Lock()
	defer t.mu.Unlock()
	now := t.clock()
	t.lastPull = time.Now()
	t.phase.observe(now, lasts(t.pulled)-held)
	clear(p)
	t.voices = slices.DeleteFunc(t.voices, func(pcm [][2]float64) bool { return mix(p, pcm) == len(pcm) })
	for i, pcm := range t.voices {
		t.voices[i] = pcm[min(len(p), len(pcm)):]
	}
	t.begin(p, now)
	noise := t.noise
	for i, s := range p {
		noise = shuffle(noise)
		h := hush * (float64(noise)/(1<<31) - 1)
		p[i] = [2]float64{Limit(s[0] + h), Limit(s[1] + h)}
	}
	t.noise = noise
	t.pulled += len(p)
	return len(p), true
}

// Err returns nil: there is nothing here that can fail.
func (t *Timeline) Err() error { return nil }

// begin starts the cues that fall into the next len(p) samples.
func (t *Timeline) begin(p [][2]float64, now time.Duration) {
	t.dropLate(now)
	zero, ok := t.zero()
	if !ok {
		return
	}
	for len(t.queue) > 0 {
		c := t.queue[0]
		at := max(0, sampleAt(c.At-t.latency-zero)-t.pulled)
		if at >= len(p) {
			return
		}
		if n := mix(p[at:], c.PCM); n < len(c.PCM) {
			t.voices = append(t.voices, c.PCM[n:])
		}
		t.begun = append(t.begun, c)
		t.queue = t.queue[1:]
	}
}

// dropLate drops cues whose time is past by more than MaxLate, and forgets what
// began long ago.
func (t *Timeline) dropLate(now time.Duration) {
	for len(t.queue) > 0 && t.queue[0].At < now-MaxLate {
		t.begun = append(t.begun, t.queue[0])
		t.queue = t.queue[1:]
	}
	t.begun = slices.DeleteFunc(t.begun, func(c Cue) bool { return c.At < now-remember })
}

// shuffle returns the next of a row of numbers without order (Marsaglia's
// xorshift). They make a noise that nobody hears in a room: digital silence lets
// wireless speakers fall asleep, and the first cue would be lost.
func shuffle(x uint32) uint32 {
	x ^= x << 13
	x ^= x >> 17
	return x ^ x<<5
}

// mix adds as much of pcm to p as fits and returns how much that was.
func mix(p, pcm [][2]float64) int {
	n := min(len(p), len(pcm))
	for i, s := range pcm[:n] {
		p[i][0] += s[0]
		p[i][1] += s[1]
	}
	return n
}

// lasts returns how long n samples last, for years of them.
func lasts(n int) time.Duration {
	return time.Duration(n/int(Rate))*time.Second + time.Duration(n%int(Rate))*time.Second/time.Duration(Rate)
}

// sampleAt returns the sample nearest to a time; d is not under −1000 h.
func sampleAt(d time.Duration) int {
	const perSample = time.Second / 2
	q, r := d/time.Second, d%time.Second
	return int(q)*int(Rate) + int((r*time.Duration(Rate)+perSample)/time.Second)
}
