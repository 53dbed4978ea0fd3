package floor

import (
	"testing"
	"time"
)

// TestTileOfATurnToCome: on a sled with more people than fit into the interval the last turn of a round is still to come
// when the next round begins: the tile says when, and from that instant that it runs.
func TestTileOfATurnToCome(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada Bo Cleo", "A A A")) // Cleo starts at 1:20
	for _, c := range []struct {
		at    string
		state TileState
		due   time.Duration
		since time.Duration
	}{
		{"1:05", TileReady, 80 * time.Second, None},
		{"1:20", TileWork, None, 80 * time.Second},
	} {
		tile := r.s.Tiles(nil, 1, r.zero+clockOf(t, c.at))[2]
		for _, at := range []*time.Duration{&tile.Due, &tile.Since} {
			if *at != None {
				*at -= r.zero
			}
		}
		if tile.Round != 1 || tile.State != c.state || tile.Due != c.due || tile.Since != c.since {
			t.Errorf("at %s Cleo is in round %d, %d, due %v, since %v; want round 1, %d, %v, %v",
				c.at, tile.Round, tile.State, tile.Due, tile.Since, c.state, c.due, c.since)
		}
	}
}

// TestTileOfThePartToCome: while a part runs nobody is told when they start in the next.
func TestTileOfThePartToCome(t *testing.T) {
	t.Parallel()
	r := begin(t, twoParts(everyMinute(1), everyMinute(1), "A B"))
	if tile := r.s.Tiles(nil, 2, r.zero+20*time.Second)[0]; tile.Due != None {
		t.Errorf("in part 1 Ada is due in part 2 at %v", tile.Due)
	}
}
