package tui

import (
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

// ear is sound that keeps what was heard: a moment is heard when room time reaches
// it while it is still true.
type ear struct {
	clock *Clock
	mu    sync.Mutex
	next  []floor.Moment
	heard []floor.Moment
}

// listen hears what has come due, and takes up what is true from now on.
func (e *ear) listen(next []floor.Moment, until time.Duration) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, m := range e.next {
		if m.At <= until && !slices.Contains(e.heard, m) {
			e.heard = append(e.heard, m)
		}
	}
	e.next = slices.Clone(next)
}

func (e *ear) Schedule(moments []floor.Moment) { e.listen(moments, e.clock.Now()) }
func (e *ear) Hold(at time.Duration)           { e.listen(nil, at) }
func (e *ear) ClockJumped()                    {}
func (e *ear) Speak([]cue.Said)                {}
func (e *ear) Trouble() string                 { return "" }

// TestHour runs the whole program through 48 rounds of 1:15, sixty minutes of the
// class, and stops its clock twenty times for an odd while. Every round must be
// heard at its very instant, start + (k−1)·T + holds, and so must every bell that
// sets the clock going again, with no error at all; the screen must turn between
// 20 ms before a round and 10 ms after: a frame around it.
func TestHour(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("an hour of screens takes seconds")
	}
	const rounds, every = 48, 75 * time.Second
	part := everyPart()
	part.Rounds = rounds
	synctest.Test(t, func(t *testing.T) {
		w := world(part, 4, 4, &notebook{slow: 4 * time.Millisecond})
		sound := &ear{clock: w.Clock}
		w.Cues = sound
		want := make([]time.Duration, 0, rounds)
		play(t, w, 80, 24, func(s *stage) {
			s.keys("enter", "enter", "enter")
			start := w.Clock.Now() + ten // of round 1, moved on by every hold
			s.keys("space")
			to := func(at time.Duration) { s.wait(at - w.Clock.Now()) }
			holds := 0
			for k := range rounds {
				if k > 0 {
					to(start - 20*time.Millisecond)
					s.wantDigits("0:01")
				}
				want = append(want, start)
				to(start + 10*time.Millisecond)
				s.wantDigits("1:15")
				start += every
				if k%12 < 5 { // five rounds of every twelve are stopped, early and late
					to(start - every + time.Duration(k)*1511*time.Millisecond + 37*time.Millisecond)
					at := w.Clock.Now()
					s.keys("space")
					s.want("clock stopped")
					s.wait(7301*time.Millisecond + time.Duration(k)*973*time.Millisecond)
					on := w.Clock.Now() + w.House.CountBack
					s.keys("space")
					start += on - at
					want = append(want, on) // the bell that sets the clock going again
					holds++
				}
			}
			to(start + time.Second)
			if holds != 20 {
				t.Errorf("the clock was stopped %d times, want 20", holds)
			}
		})
		var got []time.Duration
		for _, m := range sound.heard {
			if m.Kind == floor.Begin {
				got = append(got, m.At)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("rounds were heard at\n%v, want\n%v", got, want)
		}
	})
}
