package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

// mostRounds is most rounds in nine minutes.
func mostRounds() session.Part { return session.Part{Format: session.Amrap, Cap: 9 * time.Minute} }

// TestAmrapAfterAMove: whoever moves to another sled brings their turn with them from the round that comes: their
// presses on the sled before count for nothing on this one, and those on this one hold up the others.
func TestAmrapAfterAMove(t *testing.T) {
	t.Parallel()
	r := begin(t, one(mostRounds(), "Ada Bo Dag", "A B -"))
	tile := func(i int, at string) TileState { return r.s.Tiles(nil, 1, r.zero+clockOf(t, at))[i].State }
	r.must("0:30", Press{"Ada"})
	r.must("1:00", Press{"Bo"})
	r.must("1:05", MoveTo{Who: "Bo", On: "A"}) // from round 3 on, the second runs
	r.must("1:20", Press{"Bo"})                // on B
	r.want("Ada", 85*time.Second, `
		1 0 30 done
		2 30 - open`)
	if ada, bo := tile(0, "1:25"), tile(1, "1:25"); ada != TileWork || bo != TileWait {
		t.Errorf("after Bo's press on B the tiles are %d and %d, want Ada at work and Bo waiting", ada, bo)
	}
	r.must("1:30", Press{"Ada"})
	if ada, bo := tile(0, "1:45"), tile(1, "1:45"); ada != TileWait || bo != TileWork {
		t.Errorf("after Ada's press on A the tiles are %d and %d, want Ada waiting and Bo at work", ada, bo)
	}
	r.must("2:00", Press{"Bo"})
	r.want("Ada", 150*time.Second, `
		1 0 30 done
		2 30 60 done
		3 130 - open`) // Bo's press and the handover
	r.must("2:31", MoveTo{Who: "Bo", On: "C"}) // it is Ada's turn: from round 4 on
	r.must("2:40", PressSled{"C"})
	if e, ok := r.log[len(r.log)-1].E.(Pressed); !ok || e.Who != "Bo" {
		t.Errorf("a press on C is %+v, want Bo's", r.log[len(r.log)-1].E)
	}
}

// TestAmrapAmountBeforeAPress: an amount that is noted before a first press ends no turn.
func TestAmrapAmountBeforeAPress(t *testing.T) {
	t.Parallel()
	r := begin(t, one(mostRounds(), "Ada Bo", "A A"))
	r.must("0:20", Amount{Who: "Ada", Reps: 4})
	tiles := r.s.Tiles(nil, 1, r.zero+25*time.Second)
	if tiles[0].State != TileWork || tiles[1].State != TileWait {
		t.Errorf("the tiles are %d and %d, want Ada at work and Bo waiting", tiles[0].State, tiles[1].State)
	}
}

// TestAmrapAgainAtItsInstant: when the open rounds begin anew they begin in that instant.
func TestAmrapAgainAtItsInstant(t *testing.T) {
	t.Parallel()
	r := begin(t, one(mostRounds(), "Ada", "A"))
	r.must("0:30", Press{"Ada"})
	r.must("1:00", Again{})
	at := r.s.parts[0].again - r.zero
	for now, want := range map[time.Duration]time.Duration{at - time.Millisecond: 30 * time.Second, at: at, at + time.Second: at} {
		rounds := r.s.Rounds(1, 0, r.zero+now)
		if got := rounds[len(rounds)-1].Starts - r.zero; got != want {
			t.Errorf("at %v her open round began at %v, want %v", now, got, want)
		}
	}
}

// TestAmrapOfTheHeatBefore: what the end of a heat found open began when it did, whoever presses on that sled in
// the next heat.
func TestAmrapOfTheHeatBefore(t *testing.T) {
	t.Parallel()
	part := mostRounds()
	part.Cap = time.Minute
	r := begin(t, inTwoHeats(part))
	r.must("0:30", Press{"Ada"})
	r.must("0:50", Amount{Who: "Ada", Reps: 4})
	r.must("4:30", Press{"Bo"}) // heat 2 is from 4:00 on
	rounds := r.s.Rounds(1, 0, r.zero+280*time.Second)
	if last := rounds[len(rounds)-1]; last.State != Capped || last.Starts-r.zero != 30*time.Second {
		t.Errorf("%+v, want one from 0:30 that the end found open", last)
	}
}
