package sound

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"go.uber.org/goleak"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

// The test binary stands in for a voice when it is started with this set.
const fakeVoice = "HAWSER_FAKE_VOICE"

func TestMain(m *testing.M) {
	if file := os.Getenv(fakeVoice); file != "" {
		frames := 24000
		if len(os.Args[1]) < len("Maren, A") {
			frames /= 2
		}
		if os.WriteFile(file, wave(24000, frames), 0o600) != nil {
			os.Exit(1)
		}
		os.Exit(0)
	}
	goleak.VerifyTestMain(m)
}

// fakeDevice pulls 10 ms blocks until it is broken or closed.
type fakeDevice struct {
	fatal error // what err says once broken

	mu     sync.Mutex
	fails  error // what open says
	broken bool
	opened int

	stop context.CancelFunc
	done chan struct{}
}

// be makes the device one that opens with that error, and now works or is broken.
func (f *fakeDevice) be(fails error, broken bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.fails, f.broken = fails, broken
}

func (f *fakeDevice) opens() int {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.opened
}

func (f *fakeDevice) isBroken() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.broken
}

func (f *fakeDevice) open(_ context.Context, t *Timeline) (sink, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.opened++
	if f.fails != nil {
		return nil, f.fails
	}
	ctx, stop := context.WithCancel(context.Background())
	f.stop, f.done = stop, make(chan struct{})
	go func() {
		defer close(f.done)
		p := make([][2]float64, 480)
		for ctx.Err() == nil {
			if !f.isBroken() {
				t.Stream(p)
			}
			time.Sleep(10 * time.Millisecond)
		}
	}()
	return f, nil
}

func (f *fakeDevice) latency() time.Duration { return 20 * time.Millisecond }
func (f *fakeDevice) close()                 { f.stop(); <-f.done }
func (f *fakeDevice) err() error {
	if f.isBroken() {
		return f.fatal
	}
	return nil
}

// stage is a tender at work in a bubble of false time.
type stage struct {
	tender
	told atomic.Pointer[Status]
	stop context.CancelFunc
	done chan struct{}
}

func perform(extra time.Duration, devices ...device) *stage {
	start := time.Now()
	s := &stage{done: make(chan struct{})}
	s.timeline = NewTimeline(func() time.Duration { return time.Since(start) }, nil)
	s.devices, s.extra = devices, func() time.Duration { return extra }
	s.nobody = make([][2]float64, Rate.N(look))
	var ctx context.Context
	ctx, s.stop = context.WithCancel(context.Background())
	go func() {
		defer close(s.done)
		s.run(ctx, func(now Status) { s.told.Store(&now) })
	}()
	return s
}

// later lets a second go by and returns how the sound stands then.
func (s *stage) later() Status {
	time.Sleep(time.Second)
	synctest.Wait()
	return *s.told.Load()
}

func (s *stage) end() { s.stop(); <-s.done }

var errNoCard = errors.New("no card")

func TestNoDevice(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		server, card := &fakeDevice{fails: errNoCard}, &fakeDevice{fails: errNoCard}
		s := perform(0, device{server.open, true}, device{card.open, false})
		defer s.end()
		if got, want := s.later(), (Status{Off, "no sound device found", "no card"}); got != want {
			t.Errorf("status = %+v, want %+v", got, want)
		}
		if card.opens() != 1 || server.opens() < 2 {
			t.Errorf("opened the card %d times and the server %d, want once and again", card.opens(), server.opens())
		}
		if time.Since(s.timeline.LastPull()) > look {
			t.Error("nothing pulls the timeline")
		}
		server.be(nil, false)
		if got := s.later(); got.State != On {
			t.Errorf("status once there is a server = %+v, want %v", got, On)
		}
	})
}

func TestQuiet(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		s := perform(0)
		defer s.end()
		if got, want := s.later(), (Status{State: Off, Why: "not wanted"}); got != want {
			t.Errorf("status = %+v, want %+v", got, want)
		}
	})
}

func TestLostAndFound(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		again bool
		fatal error
		want  State // after the device works again
	}{
		{"a server that goes silent is opened again", true, nil, On},
		{"a server that is gone is opened again", true, errNoCard, On},
		{"a card that goes silent may come back by itself", false, nil, On},
		{"a card that is gone stays gone", false, errNoCard, Lost},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			synctest.Test(t, func(t *testing.T) {
				dev := &fakeDevice{fatal: tt.fatal}
				s := perform(0, device{dev.open, tt.again})
				defer s.end()
				if got := s.later(); got.State != On {
					t.Fatalf("status = %+v, want %v", got, On)
				}
				dev.be(errNoCard, true)
				if got := s.later(); got.State != Lost || got.Why == "" {
					t.Errorf("status of a broken device = %+v, want %v and why", got, Lost)
				}
				opened := dev.opens()
				dev.be(nil, false)
				if got := s.later(); got.State != tt.want {
					t.Errorf("status after = %+v, want %v", got, tt.want)
				}
				if tt.again && dev.opens() == opened || !tt.again && dev.opens() != 1 {
					t.Errorf("opened %d times, and %d while broken", dev.opens(), opened)
				}
			})
		})
	}
}

// A cue is heard at its time: the device's latency and the user's are known.
func TestLatencyIsTakenOff(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		s := perform(100*time.Millisecond, device{(&fakeDevice{}).open, true})
		defer s.end()
		s.later()
		s.timeline.mu.Lock()
		defer s.timeline.mu.Unlock()
		if got, want := s.timeline.latency, 120*time.Millisecond; got != want {
			t.Errorf("latency = %v, want %v", got, want)
		}
	})
}

func TestPlayer(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		start := time.Now()
		p, warnings := NewPlayer(t.Context(), func() time.Duration { return time.Since(start) }, Options{Quiet: true})
		defer p.Close()
		if len(warnings) > 0 || p.Status().State != Off {
			t.Errorf("NewPlayer: %v, %+v, want no warnings and %v", warnings, p.Status(), Off)
		}
		p.PlayNow(cue.Go)
		p.Schedule([]floor.Moment{{At: 500 * time.Millisecond, Kind: floor.Begin, Person: -1}})
		p.Hold(400 * time.Millisecond)
		if n := p.timeline.sounds(); n > 1 {
			t.Errorf("%d sounds after a hold, want the one that was played at once, at most", n)
		}
		p.Schedule([]floor.Moment{{At: 500 * time.Millisecond, Kind: floor.Begin, Person: -1}})
		p.timeline.Silence()
		if n := p.timeline.sounds(); n != 0 {
			t.Errorf("%d sounds after silence, want 0", n)
		}
	})
}

func TestPanicOfTheTenderIsHandedOn(t *testing.T) {
	t.Parallel()
	caught := make(chan any, 1)
	p := &Player{options: Options{OnPanic: func(r any) { caught <- r }}}
	p.work.Go(func() {
		defer p.rescue()
		panic("tender")
	})
	if got := <-caught; got != "tender" {
		t.Errorf("handed on %v, want tender", got)
	}
}

// speaker is a Player without devices whose voice takes a second for each phrase, half
// of one for a name.
func speaker(t *testing.T, clock func() time.Duration) *Player {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	p := deaf(t, clock)
	p.ctx = t.Context()
	p.phrases, p.spoken = map[string][][2]float64{}, map[time.Duration]sentence{}
	p.voice = func(ctx context.Context, text, file string) *exec.Cmd {
		cmd := exec.CommandContext(ctx, self, text)
		cmd.Env = append(os.Environ(), fakeVoice+"="+file)
		return cmd
	}
	return p
}

func TestSpeak(t *testing.T) {
	t.Parallel()
	const s = time.Second
	maren, eskil, tuva := "Maren, A. Empty.", "Eskil, B. Empty.", "Tuva, C. Empty."
	said := func(text string, before time.Duration) cue.Said {
		return cue.Said{Text: text, Brief: text[:len("Maren")], Before: before}
	}
	for _, tt := range []struct {
		name  string
		words []cue.Said
		hold  time.Duration // 0: none
		want  []time.Duration
	}{
		{"ends shortly before its time", []cue.Said{said(maren, 5*s)}, 0, []time.Duration{5*s - breath - s}},
		{"one after the other", []cue.Said{said(maren, 5*s), said(eskil, 5*s)}, 0, []time.Duration{5*s - breath - pause - 2*s, 5*s - breath - s}},
		{"in brief where all is too long", []cue.Said{said(maren, 3*s), said(eskil, 3*s), said(tuva, 3*s)}, 0, []time.Duration{3*s - breath - 2*pause - 3*s/2, 3*s - breath - pause - s, 3*s - breath - s/2}},
		{"what is too long even so is left out", []cue.Said{said(maren, 2*s), said(eskil, 2*s), said(tuva, 2*s)}, 0, []time.Duration{2*s - breath - pause - s, 2*s - breath - s/2}},
		{"all of it too long", []cue.Said{said(maren, s/2)}, 0, nil},
		{"no two at once", []cue.Said{said(maren, 4*s), said(eskil, 4*s+s/2)}, 0, []time.Duration{4*s - breath - s}},
		{"ready and no more", []cue.Said{said(maren, floor.None)}, 0, nil},
		{"a hold takes them back", []cue.Said{said(maren, 5*s)}, 2 * s, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			dev := newOffline()
			p := speaker(t, dev.clock)
			for _, w := range tt.words {
				p.Speak([]cue.Said{said(w.Text, floor.None)})
			}
			p.work.Wait() // all are ready before the first is due
			held := false
			dev.run(p.timeline, 7*s, func(now time.Duration) {
				if held = held || tt.hold > 0 && now >= tt.hold; held {
					p.Hold(now)
				} else {
					p.Speak(tt.words)
				}
				p.Schedule(nil)
			})
			var got []time.Duration
			for _, o := range dev.onsets {
				got = append(got, dev.heard(o).Round(20*time.Millisecond))
			}
			for i := range tt.want {
				tt.want[i] = tt.want[i].Round(20 * time.Millisecond)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("said at %v, want %v", got, tt.want)
			}
		})
	}
}

// TestHoldCutsAVoiceOff holds that nothing is heard a moment after a hold.
func TestHoldCutsAVoiceOff(t *testing.T) {
	t.Parallel()
	dev := newOffline()
	p := speaker(t, dev.clock)
	words := []cue.Said{{Text: "Maren, A. Empty.", Brief: "Maren, A.", Before: 3 * time.Second}}
	p.Speak(words)
	p.work.Wait()
	p.Speak(words)
	const at = 2200 * time.Millisecond // the voice speaks from 1.7 s on
	dev.run(p.timeline, 4*time.Second, func(now time.Duration) {
		if now < at {
			p.Schedule(nil)
		} else {
			p.Hold(now)
		}
	})
	if got := dev.heard(dev.last); len(dev.onsets) != 1 || got > at+20*time.Millisecond {
		t.Errorf("%d onsets, the last of it at %v, want one that ends at %v", len(dev.onsets), got, at)
	}
}

func TestNoVoice(t *testing.T) {
	t.Parallel()
	if _, err := voice(nil).say(t.Context(), "Maren"); !errors.Is(err, errNoVoice) {
		t.Errorf("say = %v, want %v", err, errNoVoice)
	}
	gone := voice(func(ctx context.Context, _, _ string) *exec.Cmd { return exec.CommandContext(ctx, "/no/such/voice") })
	if _, err := gone.say(t.Context(), "Maren"); err == nil {
		t.Error("say = nil with a voice that is not there, want an error")
	}
}

// sounds is how many sounds are heard or will be.
func (t *Timeline) sounds() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return len(t.queue) + len(t.voices)
}
