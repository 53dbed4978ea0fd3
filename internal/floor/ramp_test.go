package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestRampJump: 20 kg after 15 s over 30 m, 10 kg after 25 s, else 5 kg; at most 20, 10 and 5 % of
// the guess, at least a step. Times are in whole seconds, and scale with the distance.
func TestRampJump(t *testing.T) {
	t.Parallel()
	const thirty = 30 * measure.Metre
	for _, c := range []struct {
		t           time.Duration
		d           measure.Distance
		guess, want measure.Mass
	}{
		{15*time.Second + 499*time.Millisecond, thirty, 0, 20 * kg},
		{15*time.Second + 500*time.Millisecond, thirty, 0, 10 * kg},
		{25*time.Second + 499*time.Millisecond, thirty, 0, 10 * kg},
		{25*time.Second + 500*time.Millisecond, thirty, 0, 5 * kg},
		{10 * time.Second, 20 * measure.Metre, 0, 20 * kg}, // 15 s over 30 m
		{11 * time.Second, 20 * measure.Metre, 0, 10 * kg},
		{30 * time.Second, 60 * measure.Metre, 0, 20 * kg},
		{15 * time.Second, 0, 0, 20 * kg}, // not by distance
		{20 * time.Second, 0, 0, 10 * kg},
		{10 * time.Second, thirty, 60 * kg, 12 * kg},
		{10 * time.Second, thirty, 100 * kg, 20 * kg},
		{10 * time.Second, thirty, 200 * kg, 20 * kg},
		{20 * time.Second, thirty, 60 * kg, 6 * kg},
		{40 * time.Second, thirty, 60 * kg, 3 * kg},
		{40 * time.Second, thirty, 20 * kg, 5 * kg / 2},
	} {
		if got := rampJump(c.t, c.d, c.guess, 5*kg/2); got != c.want {
			t.Errorf("after %v over %v with a guess of %v: %v more, want %v", c.t, c.d, c.guess, got, c.want)
		}
	}
}

// TestRampEnds: with the eighth attempt, or the second miss.
func TestRampEnds(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Ramp}, "Ada Bo", "A B"))
	at := 10 * time.Second
	for n := range 8 {
		r.at(at, Press{"Ada"})
		r.at(at+40*time.Second, Press{"Ada"})
		if tile := r.s.Tiles(nil, 1, r.zero+at+50*time.Second)[0]; (tile.State == TileOver) != (n == 7) {
			t.Errorf("after attempt %d her tile is %d", n+1, tile.State)
		}
		at += 4 * time.Minute
	}
	if err := r.do(at, Press{"Ada"}); err == nil {
		t.Error("a ninth attempt was begun")
	}
}

// TestRampGuess: the first load is a share of the guess, by the house; without one there is no
// guess to cap a jump by.
func TestRampGuess(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		share measure.Share
		want  measure.Mass
	}{{50 * measure.Percent, 134 * kg}, {100 * measure.Percent, 67 * kg}, {0, 0}} {
		p := one(session.Part{Format: session.Ramp}, "Ada", "A")
		p.House.RampStart = c.share
		r := begin(t, p)
		if got := r.s.guess(&r.s.parts[0].tracks[0].Spots[0]); got != c.want {
			t.Errorf("67 kg as %d millionths of a guess: %v, want %v", c.share, got, c.want)
		}
	}
}

// TestRampKeepsWhatTheCoachSet: where the coach has set the next load, the tool proposes none.
func TestRampKeepsWhatTheCoachSet(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Ramp}, "Ada", "A"))
	if sp, ok := r.s.Propose(0, 0); ok || sp.Moves != 67*kg {
		t.Errorf("before the first attempt it proposes %v, %v", sp.Moves, ok)
	}
	r.must("0:10", Press{"Ada"})
	r.must("0:40", Press{"Ada"})
	if sp, ok := r.s.Propose(0, 0); !ok || sp.Moves != 72*kg {
		t.Errorf("after 30 s it proposes %v, %v, want 72 kg", sp.Moves, ok)
	}
	r.must("1:00", StepLoad{Who: "Ada"})
	if sp, ok := r.s.Propose(0, 0); ok || sp.Moves != 64500*measure.Gram {
		t.Errorf("where the coach took a step down it proposes %v, %v", sp.Moves, ok)
	}
	r.must("4:00", Press{"Ada"})
	if e, ok := r.log[len(r.log)-1].E.(Pressed); !ok || e.Round != 2 || r.s.Rounds(1, 0, r.zero+4*time.Minute)[1].Moves != 64500*measure.Gram {
		t.Errorf("the attempt begins with %+v", r.log[len(r.log)-2:])
	}
}

// TestRampAtTheTop: where no heavier load can be made, none is proposed.
func TestRampAtTheTop(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Ramp}, "Ada", "A")
	p.Kit.Plates = p.Kit.Plates[:1]
	p.Kit.Plates[0].Count = 2 // both are on her sled
	r := begin(t, p)
	r.must("0:10", Press{"Ada"})
	r.must("0:20", Press{"Ada"})
	if sp, ok := r.s.Propose(0, 0); ok {
		t.Errorf("%+v is proposed, and no plate is left", sp)
	}
}

// TestRampOfLargePlates: where the jump is less than the next load there is, that one is proposed.
func TestRampOfLargePlates(t *testing.T) {
	t.Parallel()
	p := one(session.Part{Format: session.Ramp}, "Ada", "A")
	p.Kit.Plates = p.Kit.Plates[:1] // of 20 kg
	r := begin(t, p)
	r.must("0:10", Press{"Ada"})
	r.must("0:50", Press{"Ada"}) // 40 s: 5 kg more
	if sp, ok := r.s.Propose(0, 0); !ok || sp.Moves != 87*kg {
		t.Errorf("%v kg is proposed, %v, want 87", sp.Moves.KG(), ok)
	}
}
