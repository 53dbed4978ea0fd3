package sound

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

// TestClassNeverWaitsForSound: a device that is not there, goes, comes back or is
// blocked, in any order, three hundred times: what the class calls returns at once.
func TestClassNeverWaitsForSound(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		if err := troubled(func(_ *fakeDevice, play func()) { play() }); err != nil {
			t.Error(err)
		}
	})
}

// TestClassNeverWaitsControl: a class that waits until the device takes its sound is found out.
func TestClassNeverWaitsControl(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		err := troubled(func(dev *fakeDevice, play func()) {
			for range 100 {
				if !dev.isBroken() {
					break
				}
				time.Sleep(10 * time.Millisecond)
			}
			play()
		})
		if err == nil {
			t.Error("a class that waits for its device is said not to: the suite cannot see")
		}
		t.Logf("a class that waits for its device: %v", err)
	})
}

// troubled is a class on a device in trouble; cue plays what the class has to say.
func troubled(cues func(dev *fakeDevice, play func())) error {
	r := rand.New(rand.NewPCG(13, 13))
	dev := &fakeDevice{fatal: errNoCard}
	s := perform(0, device{dev.open, true})
	defer s.end()
	p := &Player{timeline: s.timeline, bank: map[cue.Name][][2]float64{cue.Go: make([][2]float64, 4800)}}
	start := time.Now()
	lost, on := 0, 0
	for range 300 {
		switch r.IntN(4) {
		case 0:
			dev.be(errNoCard, true) // gone
		case 1:
			dev.be(nil, true) // there, and takes no sound
		default:
			dev.be(nil, false)
		}
		time.Sleep(time.Duration(r.IntN(2000)) * time.Millisecond)
		before := time.Now()
		now := time.Since(start)
		cues(dev, func() {
			p.Schedule([]floor.Moment{{At: now + time.Second, Kind: floor.Begin, Person: -1}})
			p.Hold(now + time.Second)
			p.PlayNow(cue.Go)
			p.ClockJumped()
		})
		if waited := time.Since(before); waited > 0 {
			return fmt.Errorf("the class waited %v for sound", waited)
		}
		switch s.told.Load().State {
		case On:
			on++
		case Lost:
			lost++
		case Off:
		}
	}
	if on == 0 || lost == 0 {
		return fmt.Errorf("the sound was on %d times and lost %d, want both", on, lost)
	}
	dev.be(nil, false)
	s.later()
	if got := s.later(); got.State != On {
		return fmt.Errorf("in the end the sound is %v, want %v", got, On)
	}
	return nil
}

// TestPanicInThePull: a panic in the callback of the device is handed on, and the
// device gets silence and goes on pulling.
func TestPanicInThePull(t *testing.T) {
	t.Parallel()
	for range 20 {
		if err := pullBroken(func(t *Timeline, p [][2]float64) (int, bool) { return t.Stream(p) }); err != nil {
			t.Fatal(err)
		}
	}
}

// TestPanicInThePullControl: a callback that swallows a panic, and one that stops the device, are
// found out.
func TestPanicInThePullControl(t *testing.T) {
	t.Parallel()
	for what, stream := range map[string]func(t *Timeline, p [][2]float64) (int, bool){
		"says nothing": func(t *Timeline, p [][2]float64) (int, bool) { t.onPanic = func(any) {}; return t.Stream(p) },
		"ends":         func(t *Timeline, p [][2]float64) (int, bool) { n, _ := t.Stream(p); return n, false },
	} {
		if pullBroken(stream) == nil {
			t.Errorf("a callback that %s is said to be right: the suite cannot see", what)
		}
	}
}

// pullBroken pulls a block while the clock of the class is broken, and one when it is not.
func pullBroken(stream func(t *Timeline, p [][2]float64) (int, bool)) error {
	caught, broken := 0, true
	timeline := NewTimeline(func() time.Duration {
		if broken {
			panic("the clock of Maren's class")
		}
		return 0
	}, func(any) { caught++ })
	p := make([][2]float64, 480)
	for range 2 {
		if n, ok := stream(timeline, p); n != len(p) || !ok || caught != 1 {
			return fmt.Errorf("stream = %d, %v with %d panics handed on, want a whole block and one; broken: %v", n, ok, caught, broken)
		}
		broken = false
	}
	return nil
}
