package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestOwnStartOnASharedSled: whoever comes after another starts when that one should be done, later
// where they were, and not for one who has left; a split typed by hand takes a late press back.
func TestOwnStartOnASharedSled(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says  string
		do    []asked
		round int
		want  string
	}{
		{"as planned: 30 s, and 10 s for the handover", nil, 1, "0:40"},
		{"after a press that came early", []asked{{"0:20", Press{"Ada"}}}, 1, "0:40"},
		{"after one that came late", []asked{{"0:45", Press{"Ada"}}}, 1, "0:55"},
		{"after one that came late, and pressed at that very start", []asked{{"0:45", Press{"Ada"}}, {"0:55", Press{"Bo"}}}, 1, "0:55"},
		{"after one that was typed instead", []asked{{"0:45", Press{"Ada"}}, {"0:50", ByHand{Who: "Ada", Round: 1, Work: 20 * time.Second}}}, 1, "0:40"},
		{"in the next round as planned", []asked{{"0:45", Press{"Ada"}}}, 2, "1:40"},
		{"she left at that start", []asked{{"1:00", Leave{"Ada"}}}, 2, "1:00"},
		{"she left just after it", []asked{{"1:00.001", Leave{"Ada"}}}, 2, "1:40"},
	} {
		r := begin(t, one(everyMinute(3), "Ada Bo", "A A"))
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		rounds := r.s.Rounds(1, 1, r.zero+2*time.Minute)
		if got := rounds[c.round-1].Starts - r.zero; got != clockOf(t, c.want) {
			t.Errorf("%s: Bo starts at %v, want %s", c.says, got, c.want)
		}
	}
}

// TestGraceForBeingLate: so much over the time is in time still.
func TestGraceForBeingLate(t *testing.T) {
	t.Parallel()
	for at, want := range map[string]RoundState{"1:03": InTime, "1:03.001": LateRound} {
		p := one(everyMinute(3), "Ada", "A")
		p.House.LateGrace = 3 * time.Second
		r := begin(t, p)
		r.must(at, Press{"Ada"})
		if got := r.s.Rounds(1, 0, r.zero+90*time.Second)[0]; got.State != want {
			t.Errorf("pressed at %s: %s, want %s", at, got.State, want)
		}
	}
}

// TestStationsInTurn: people go from station to station, those of the second side one ahead.
func TestStationsInTurn(t *testing.T) {
	t.Parallel()
	part := everyMinute(6)
	part.Stations = make([]session.Station, 3)
	p := one(part, "Ada Bo", "A B")
	p.Parts[0].Places[1].Side = 1
	r := begin(t, p)
	for i, want := range [][]int{{1, 2, 3, 1, 2, 3}, {2, 3, 1, 2, 3, 1}} {
		var got []int
		for _, x := range r.s.Rounds(1, i, r.zero+10*time.Minute) {
			got = append(got, x.Station)
		}
		if !slices.Equal(got, want) {
			t.Errorf("person %d is at %v, want %v", i, got, want)
		}
	}
}

// TestNothingBeforeTheHeat: whoever is in a later heat has no round and no start before that.
func TestNothingBeforeTheHeat(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		r := begin(t, inTwoHeats(part))
		if got := r.s.Rounds(1, 1, r.zero+20*time.Second); len(got) > 0 {
			t.Errorf("%s: Bo has %+v before his heat", part.Format, got)
		}
		tile := r.s.Tiles(nil, 1, r.zero+20*time.Second)[1]
		if tile.State != TileIdle || tile.Due != None || tile.Heat != 2 {
			t.Errorf("%s: Bo, in heat 2, is %+v", part.Format, tile)
		}
		_ = r.do(20*time.Second, Press{"Bo"})
		if _, pressed := r.log[len(r.log)-1].E.(Pressed); pressed {
			t.Errorf("%s: a press of Bo's counts before his heat", part.Format)
		}
	}
}

// TestReadyForTheNextPart: between two parts everybody sees when they start: on their own in a part
// by the minute, the first of each sled where lanes have their own clock, and when they are warm.
func TestReadyForTheNextPart(t *testing.T) {
	t.Parallel()
	ratio := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}
	for _, c := range []struct {
		next session.Part
		on   string
		do   []asked
		bo   TileState
		due  time.Duration
	}{
		{everyMinute(3), "A B", nil, TileReady, 4 * time.Minute},
		{everyMinute(3), "A A", nil, TileReady, 4*time.Minute + 40*time.Second},
		{ratio, "A B", nil, TileReady, 4 * time.Minute},
		{ratio, "A A", nil, TileIdle, None},
		{ratio, "A -", []asked{{"1:10", Arrive{Who: "Bo", WarmUp: 4 * time.Minute}}}, TileReady, 5*time.Minute + 10*time.Second},
		{everyMinute(3), "A -", []asked{{"1:10", Arrive{Who: "Bo", WarmUp: 4 * time.Minute}}}, TileReady, 6 * time.Minute},
	} {
		r := begin(t, twoParts(everyMinute(1), c.next, c.on))
		r.must("1:05", Sleep{})
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		tile := r.s.Tiles(nil, 2, r.zero+90*time.Second)[1]
		if tile.Due != None {
			tile.Due -= r.zero
		}
		if tile.State != c.bo || tile.Due != c.due {
			t.Errorf("%s on %s: Bo is %+v, want state %d, due %v", c.next.Format, c.on, tile, c.bo, c.due)
		}
	}
}

// TestLatecomerSeesTheirStart: on the tile, down to the last round there is.
func TestLatecomerSeesTheirStart(t *testing.T) {
	t.Parallel()
	for warm, want := range map[time.Duration]time.Duration{
		50 * time.Second: time.Minute, 110 * time.Second: 2 * time.Minute, 120 * time.Second: None,
	} {
		r := begin(t, one(everyMinute(3), "Ada Bo", "A -"))
		r.must("0:10", Arrive{Who: "Bo", WarmUp: warm})
		tile := r.s.Tiles(nil, 1, r.zero+20*time.Second)[1]
		if tile.Due != None {
			tile.Due -= r.zero
		}
		if tile.State != TileReady || tile.Due != want {
			t.Errorf("warm after %v: %+v, want due %v", warm, tile, want)
		}
	}
}

// TestCapWaitsForTheHold: in a stop that lasts nobody's time runs out.
func TestCapWaitsForTheHold(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.ForTime, Cap: time.Minute}, "Ada", "A"))
	r.must("0:30", Hold{})
	for at, want := range map[string]RoundState{"0:40": Open, "1:00": Open, "9:00": Open} {
		if got := r.s.Rounds(1, 0, r.zero+clockOf(t, at)); len(got) != 1 || got[0].State != want {
			t.Errorf("at %s: %+v, want %s", at, got, want)
		}
	}
	r.must("9:05", Resume{}) // the clock runs from 9:10 on
	for at, want := range map[string]RoundState{"9:39.999": Open, "9:40": Capped} {
		if got := r.s.Rounds(1, 0, r.zero+clockOf(t, at)); len(got) != 1 || got[0].State != want {
			t.Errorf("after the stop, at %s: %+v, want %s", at, got, want)
		}
	}
}

// TestPlatesBetweenTwoInRatio: the handover is to the stack of the round that comes: Bo's is 20 kg
// lighter from his second on, so that one plate is moved, and back.
func TestPlatesBetweenTwoInRatio(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}, "Ada Bo", "A A"))
	r.must("0:30", Press{"Ada"})                    // Bo from 0:40
	r.must("0:50", Change{Who: "Bo", By: -20 * kg}) // his second
	r.must("1:00", Press{"Bo"})                     // Ada from 1:10
	r.must("1:40", Press{"Ada"})
	r.must("2:15", Press{"Bo"})
	if got := r.s.Rounds(1, 1, r.zero+3*time.Minute)[1].Starts - r.zero; got != 115*time.Second {
		t.Errorf("Bo's second starts at %v, want 1:40, 10 s and 5 s for a plate", got)
	}
	if got := r.s.Rounds(1, 0, r.zero+3*time.Minute)[2].Starts - r.zero; got != 150*time.Second {
		t.Errorf("Ada's third starts at %v, want 2:15, 10 s and 5 s for a plate", got)
	}
}

// TestSameOrderOnASled: who comes when another has left may have the order of somebody who is there; the list
// says then who goes first.
func TestSameOrderOnASled(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(4), "Ada Bo Cleo Dag Eva Fay Gil", "A A - B B C C"))
	r.must("0:05", Leave{"Ada"})
	r.must("0:10", Arrive{Who: "Cleo", WarmUp: 50 * time.Second}) // on A, where one is left
	for i, want := range map[int]time.Duration{1: time.Minute, 2: 100 * time.Second} {
		rounds := r.s.Rounds(1, i, r.zero+110*time.Second)
		if got := rounds[1].Starts - r.zero; rounds[1].On != "A" || got != want {
			t.Errorf("person %d starts round 2 on %s at %v, want on A at %v", i, rounds[1].On, got, want)
		}
	}
}

// TestTypedForARoundSatOut: a split that the coach types for a round that was sat out is that of a round done; and
// in intervals nobody sits out, however long a bout is said to have taken.
func TestTypedForARoundSatOut(t *testing.T) {
	t.Parallel()
	part := everyMinute(4)
	part.Late = session.SitOut
	r := begin(t, one(part, "Ada", "A"))
	r.must("1:06", Press{"Ada"}) // late: round 2 is sat out
	if got := r.s.Tiles(nil, 1, r.zero+80*time.Second)[0].State; got != TileSatOut {
		t.Errorf("her tile is %d, want that she sits out", got)
	}
	r.must("1:30", ByHand{Who: "Ada", Round: 2, Work: 20 * time.Second})
	if got := r.s.Tiles(nil, 1, r.zero+100*time.Second)[0].State; got != TileDone {
		t.Errorf("her tile is %d, want done", got)
	}
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 10 * time.Second, Rounds: 3}
	r = begin(t, one(bouts, "Ada", "A"))
	r.must("0:25", ByHand{Who: "Ada", Round: 1, Work: 45 * time.Second})
	if got := r.s.Tiles(nil, 1, r.zero+35*time.Second)[0].State; got != TileWork {
		t.Errorf("in the second bout her tile is %d, want work", got)
	}
}
