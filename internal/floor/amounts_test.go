package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestWhichBoutAnAmountIsFor: an amount with no number, typed while a bout runs, is for the one
// before as long as that has none; after that for the one that runs.
func TestWhichBoutAnAmountIsFor(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 4}
	metres := func(n int) Amount { return Amount{Who: "Ada", Metres: measure.Distance(n) * measure.Metre} }
	reps := func(n int) Amount { return Amount{Who: "Ada", Reps: n} }
	for _, c := range []struct {
		says  string
		first []asked
		at    string
		do    Amount
		round int
	}{
		{"in the first bout", nil, "0:10", metres(20), 1},
		{"in the rest after it", nil, "0:30", metres(20), 1},
		{"in the second, the first has none", nil, "1:10", metres(20), 1},
		{"in the second, the first has metres", []asked{{"0:30", metres(20)}}, "1:10", metres(21), 2},
		{"in the second, the first has reps", []asked{{"0:30", reps(9)}}, "1:10", reps(8), 2},
		{"in the second, which has metres, to correct it", []asked{{"1:05", Amount{Who: "Ada", Round: 2, Metres: measure.Metre}}}, "1:10", metres(21), 2},
		{"in the second, which has reps, to correct it", []asked{{"1:05", Amount{Who: "Ada", Round: 2, Reps: 3}}}, "1:10", metres(21), 2},
		{"just when the second is over", nil, "1:20", metres(21), 2},
		{"a hair before", nil, "1:19.999", metres(21), 1},
		{"in the third", nil, "2:10", metres(21), 2},
	} {
		r := begin(t, one(part, "Ada Bo", "A B"))
		for _, a := range c.first {
			r.must(a.at, a.c)
		}
		r.must(c.at, c.do)
		if e, ok := r.log[len(r.log)-1].E.(Partial); !ok || e.Round != c.round {
			t.Errorf("%s: %+v, want it for bout %d", c.says, r.log[len(r.log)-1].E, c.round)
		}
	}
	r := begin(t, one(everyMinute(3), "Ada Bo", "A B"))
	r.must("1:10", metres(20))
	if e, ok := r.log[len(r.log)-1].E.(Partial); !ok || e.Round != 2 {
		t.Errorf("in rounds by the minute an amount is for the round that runs, not %+v", r.log[len(r.log)-1].E)
	}
	r.refused("1:20", Amount{Who: "Ada", Round: maxRound + 1, Reps: 1}, "begun nothing")
	r.must("1:30", Amount{Who: "Ada", Round: maxRound, Reps: 1})
	before := begin(t, one(session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "Ada Bo", "A B"))
	before.refused("0:10", metres(20), "begun nothing")
}
