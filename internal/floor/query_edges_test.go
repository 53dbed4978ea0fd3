package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

// TestQueriesJustOutside: nothing is answered of a part or a person that there is not, of no plan,
// and before GO.
func TestQueriesJustOutside(t *testing.T) {
	t.Parallel()
	ready := New()
	ready.Apply(Stamped{N: 1, E: Opened{Plan: one(everyMinute(3), "Ada Bo", "A A")}})
	begun := begin(t, one(everyMinute(3), "Ada Bo", "A A")).s
	for name, s := range map[string]*State{"no plan": New(), "before GO": ready, "begun": begun} {
		for _, at := range [][2]int{{-1, 0}, {0, 0}, {1, 0}, {1, -1}, {1, 2}, {1, 3}, {2, 0}, {3, 0}} {
			asks := name == "begun" && at == [2]int{1, 0}
			if got := s.Rounds(at[0], at[1], time.Minute); (len(got) > 0) != asks {
				t.Errorf("%s: part %d, person %d: rounds %+v", name, at[0], at[1], got)
			}
			if got := s.BareFirst(at[0], at[1], time.Minute); got != nil {
				t.Errorf("%s: part %d, person %d: offered %+v", name, at[0], at[1], got)
			}
			if got := s.Tiles(nil, at[0], time.Minute); (len(got) > 0) != (name != "no plan" && at[0] == 1) {
				t.Errorf("%s: part %d: tiles %+v", name, at[0], got)
			}
			if got := s.Starts(at[0], time.Minute); len(got) > 0 && (name != "begun" || at[0] != 1) {
				t.Errorf("%s: part %d starts at %v", name, at[0], got)
			}
		}
		if got := s.Fit(time.Minute); got == nil == (name == "begun") {
			t.Errorf("%s: the fit check says %v", name, got)
		}
	}
}

// TestRoundsAtTheInstant: how a round stands at the very instant at which it ends, the part is
// ended, or whoever pulls leaves.
func TestRoundsAtTheInstant(t *testing.T) {
	t.Parallel()
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 3}
	alone := session.Part{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 3}
	for _, c := range []struct {
		says  string
		part  session.Part
		do    []asked
		at    string
		round int
		state RoundState
		count int // of rounds by then
	}{
		{"no press, at the next start", everyMinute(3), nil, "1:00", 1, Open, 2},
		{"no press, just before T more is over", everyMinute(3), nil, "1:59.999", 1, Open, 2},
		{"no press, T after the next start", everyMinute(3), nil, "2:00", 1, NoPress, 3},
		{"left at the next start", everyMinute(3), []asked{{"1:00", Leave{"Ada"}}}, "2:30", 1, NoPress, 3},
		{"left just before it", everyMinute(3), []asked{{"0:59.999", Leave{"Ada"}}}, "2:30", 1, LeftRound, 3},
		{"the part is ended at a start", everyMinute(3), []asked{{"1:00", Skip{}}}, "1:30", 1, Open, 1},
		{"the part is ended after it", everyMinute(3), []asked{{"1:00.001", Skip{}}}, "1:30", 1, Open, 2},
		{"a bout, just before its end", bouts, nil, "0:19.999", 1, Open, 1},
		{"a bout, at its end", bouts, nil, "0:20", 1, Done, 1},
		{"left at the end of a bout", bouts, []asked{{"0:20", Leave{"Ada"}}}, "1:10", 1, Done, 2},
		{"left just before it", bouts, []asked{{"0:19.999", Leave{"Ada"}}}, "1:10", 1, LeftRound, 2},
		{"left, at that instant", alone, []asked{{"0:20", Leave{"Ada"}}}, "0:20", 1, LeftRound, 1},
		{"a split of no time", everyMinute(3), []asked{{"0:00", Press{"Ada"}}}, "0:10", 1, InTime, 1},
	} {
		r := begin(t, one(c.part, "Ada Bo", "A B"))
		for _, a := range c.do {
			if err := r.do(clockOf(t, a.at), a.c); err != nil {
				t.Logf("%s: %v", c.says, err)
			}
		}
		rounds := r.s.Rounds(1, 0, r.zero+clockOf(t, c.at))
		if len(rounds) != c.count || len(rounds) >= c.round && rounds[c.round-1].State != c.state {
			t.Errorf("%s: %+v, want %d rounds, the %d. %s", c.says, rounds, c.count, c.round, c.state)
		}
	}
}

// TestTilesAtTheInstant: how somebody stands at the very instant at which they start, are done, or
// are warm.
func TestTilesAtTheInstant(t *testing.T) {
	t.Parallel()
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 3}
	most := session.Part{Format: session.Amrap, Cap: 2 * time.Minute}
	sets := session.Part{Format: session.Sets, Sets: 3, Rest: time.Minute}
	ratio := session.Part{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 3}
	for _, c := range []struct {
		says  string
		part  session.Part
		on    string
		do    []asked
		at    time.Duration
		who   int
		state TileState
		due   time.Duration
	}{
		{"before the start", everyMinute(3), "A B", nil, -time.Millisecond, 0, TileReady, 0},
		{"at the start", everyMinute(3), "A B", nil, 0, 0, TileWork, None},
		{"before the own start", everyMinute(3), "A A", nil, 39999 * time.Millisecond, 1, TileReady, 40 * time.Second},
		{"at the own start", everyMinute(3), "A A", nil, 40 * time.Second, 1, TileWork, None},
		{"before the end of a bout", bouts, "A B", nil, 19999 * time.Millisecond, 0, TileWork, None},
		{"at the end of a bout", bouts, "A B", nil, 20 * time.Second, 0, TileDone, time.Minute},
		{"at the end of the last bout", bouts, "A B", nil, 140 * time.Second, 0, TileOver, None},
		{"before most rounds", most, "A B", nil, -time.Millisecond, 0, TileReady, 0},
		{"most rounds", most, "A B", nil, 0, 0, TileWork, None},
		{"at the end of most rounds", most, "A B", nil, 2 * time.Minute, 0, TileOver, None},
		{"before the rest is over", sets, "A B", []asked{{"0:10", Press{"Ada"}}, {"0:30", Press{"Ada"}}}, 89999 * time.Millisecond, 0, TileRest, 90 * time.Second},
		{"when the rest is over", sets, "A B", []asked{{"0:10", Press{"Ada"}}, {"0:30", Press{"Ada"}}}, 90 * time.Second, 0, TileReady, 90 * time.Second},
		{"not warm yet", most, "A -", []asked{{"0:10", Arrive{Who: "Bo", WarmUp: time.Minute}}}, 69999 * time.Millisecond, 1, TileReady, 70 * time.Second},
		{"warm", most, "A -", []asked{{"0:10", Arrive{Who: "Bo", WarmUp: time.Minute}}}, 70 * time.Second, 1, TileWork, None},
		{"left", everyMinute(3), "A B", []asked{{"0:10", Leave{"Ada"}}}, 10 * time.Second, 0, TileLeft, None},
		{"before the rest of a ratio is over", ratio, "A B", []asked{{"0:30", Press{"Ada"}}}, 59999 * time.Millisecond, 0, TileRest, time.Minute},
		{"in round 2 of a ratio", ratio, "A B", []asked{{"0:30", Press{"Ada"}}}, time.Minute, 0, TileWork, None},
	} {
		r := begin(t, one(c.part, "Ada Bo", c.on))
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		tile := r.s.Tiles(nil, 1, r.zero+c.at)[c.who]
		if due := tile.Due; due != None {
			tile.Due -= r.zero
		}
		if tile.State != c.state || tile.Due != c.due {
			t.Errorf("%s: %+v, want state %d, due %v", c.says, tile, c.state, c.due)
		}
	}
}
