package tui

import (
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

// TestBeats holds that a flash is on from each beat on, that they come no faster
// than three a second, and that the keys say how late the speaker is.
func TestBeats(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		ears := &silence{}
		set := time.Duration(-1)
		b := &Beats{Clock: NewClock(0), Cues: ears, Later: func(d time.Duration) { set = d }}
		var flashes []time.Duration
		was := -1
		for range 100 {
			cmd := b.arm()
			beat, _ := lit(b.Clock.Now() + lead)
			if beat >= 0 && beat != was {
				flashes = append(flashes, b.Clock.Now()+lead)
			}
			was = beat
			cmd()
		}
		for i, at := range flashes[1:] {
			if at-flashes[i] < time.Second/3 {
				t.Errorf("two flashes %v apart: more than three a second", at-flashes[i])
			}
			if want := beatAt(i + 1); max(at-want, want-at) > time.Millisecond {
				t.Errorf("flash %d is on at %v, want %v", i+1, at, want)
			}
		}
		if len(flashes) < 40 {
			t.Errorf("%d flashes in a hundred changes", len(flashes))
		}
		for _, key := range []string{"right", "right", "left", "right"} {
			b.key(nil, input{key: key})
		}
		if set != 20*time.Millisecond {
			t.Errorf("the speaker is %v late, want 20ms", set)
		}
		if b.key(nil, input{key: "enter"}); !b.Kept {
			t.Error("Enter does not keep it")
		}
	})
}

// TestBeatsAreHeard holds that every beat is handed to the sound before its time.
func TestBeatsAreHeard(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		heard := &beatEar{at: map[time.Duration]bool{}}
		b := &Beats{Clock: NewClock(0), Cues: heard, Later: func(time.Duration) {}}
		for range 60 {
			b.arm()()
			heard.now = b.Clock.Now()
		}
		for n := 1; beatAt(n) < b.Clock.Now(); n++ {
			if !heard.at[beatAt(n)] {
				t.Errorf("beat %d at %v was not asked for in time", n, beatAt(n))
			}
		}
	})
}

// beatEar keeps what it was asked to play before its time.
type beatEar struct {
	silence
	now time.Duration
	at  map[time.Duration]bool
}

func (e *beatEar) Schedule(moments []floor.Moment) {
	for _, c := range cue.Pick(nil, moments) {
		e.at[c.At] = e.at[c.At] || c.At > e.now
	}
}
