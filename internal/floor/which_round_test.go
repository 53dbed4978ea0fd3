package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestWhichRoundAChangeIsFor: a change of load begins with the first round that has not begun
// for that person; a correction with no number is of the last that has.
func TestWhichRoundAChangeIsFor(t *testing.T) {
	t.Parallel()
	two := everyMinute(3)
	two.Every = 2 * time.Minute
	amrap := session.Part{Format: session.Amrap, Cap: 9 * time.Minute}
	sets := session.Part{Format: session.Sets, Sets: 3, Rest: 10 * time.Second}
	ratio := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: time.Minute, Rounds: 3}
	for _, c := range []struct {
		says  string
		part  session.Part
		on    string // of Ada and Bo
		first []asked
		at    string
		who   string
		next  int // the round that a load is changed from
		last  int // the round that a strike with no number is of; 0: refused
	}{
		{"in the first round", two, "A B", nil, "0:20", "Ada", 2, 1},
		{"at GO", two, "A B", nil, "0:00", "Ada", 2, 1},
		{"in the second", two, "A B", nil, "2:20", "Ada", 3, 2},
		{"just as it begins", two, "A B", nil, "2:00", "Ada", 3, 2},
		{"in the last", two, "A B", nil, "4:20", "Ada", 4, 3},
		{"two on a sled: before the own start", two, "A A", nil, "0:20", "Bo", 1, 1},
		{"at it", two, "A A", nil, "0:40", "Bo", 2, 1},
		{"before the second own start", two, "A A", nil, "2:20", "Bo", 2, 1},
		{"at that", two, "A A", nil, "2:40", "Bo", 3, 2},
		{"the first of them", two, "A A", nil, "2:20", "Ada", 3, 2},
		{"before the last own start", two, "A A", nil, "4:39", "Bo", 3, 2},
		{"in the count-in of a round that begins again", two, "A B", []asked{{"2:20", Again{}}}, "2:22", "Ada", 3, 1},
		{"when it has begun", two, "A B", []asked{{"2:20", Again{}}}, "2:25", "Ada", 3, 2},
		{"in the count-in of the first that begins again", two, "A B", []asked{{"0:20", Again{}}}, "0:22", "Ada", 2, 0},
		{"bouts", bouts, "A A", nil, "0:10", "Ada", 2, 1},
		{"bouts: before the own one", bouts, "A A", nil, "0:10", "Bo", 1, 1},
		{"bouts: in the rest", bouts, "A A", nil, "1:00", "Ada", 2, 1},
		{"most rounds: the one whose turn it is", amrap, "A A", nil, "0:20", "Ada", 2, 1},
		{"most rounds: the other", amrap, "A A", nil, "0:20", "Bo", 1, 1},
		{"most rounds: after a round", amrap, "A A", []asked{{"0:20", Press{"Ada"}}}, "0:30", "Ada", 2, 2},
		{"most rounds: then the other", amrap, "A A", []asked{{"0:20", Press{"Ada"}}}, "0:50", "Bo", 2, 1},
		{"sets: before the first", sets, "A B", nil, "0:10", "Ada", 1, 0},
		{"sets: in it", sets, "A B", []asked{{"0:10", Press{"Ada"}}}, "0:15", "Ada", 2, 1},
		{"sets: after it", sets, "A B", []asked{{"0:10", Press{"Ada"}}, {"0:20", Press{"Ada"}}}, "0:25", "Ada", 2, 1},
		{"sets: in the second", sets, "A B", []asked{{"0:10", Press{"Ada"}}, {"0:20", Press{"Ada"}}, {"0:30", Press{"Ada"}}}, "0:35", "Ada", 3, 2},
		{"one's own pace: who waits for the sled", ratio, "A A", nil, "0:10", "Bo", 1, 0},
		{"one's own pace: who pulls", ratio, "A A", nil, "0:10", "Ada", 2, 1},
		{"one's own pace: the clock has begun it", ratio, "A A", []asked{{"0:10", Press{"Ada"}}}, "0:25", "Bo", 2, 1},
		{"one's own pace: it has not yet", ratio, "A A", []asked{{"0:10", Press{"Ada"}}}, "0:19", "Bo", 1, 0},
	} {
		r := begin(t, one(c.part, "Ada Bo", c.on))
		for _, a := range c.first {
			r.must(a.at, a.c)
		}
		at := clockOf(t, c.at)
		r.at(at, StepLoad{Who: c.who})
		if e, ok := r.log[len(r.log)-1].E.(LoadChanged); !ok || e.Round != c.next {
			t.Errorf("%s: a step down is %+v, want it from round %d", c.says, r.log[len(r.log)-1].E, c.next)
		}
		n := len(r.log)
		err := r.do(at, Strike{Who: c.who})
		got := 0
		if len(r.log) > n {
			got = r.log[n].E.(Struck).Round
		}
		if got != c.last || (err == nil) != (c.last > 0) {
			t.Errorf("%s: struck is round %d (%v), want %d", c.says, got, err, c.last)
		}
	}
	later := begin(t, ScenePlan(t, []session.Part{everyMinute(2)}, []string{"Ada=A", "Bo=B/2"}))
	later.must("0:20", StepLoad{Who: "Bo"})
	if e := later.log[len(later.log)-1].E.(LoadChanged); e.Round != 1 {
		t.Errorf("in a later heat a step is %+v, want it from round 1", e)
	}
	later.refused("0:20", Strike{Who: "Bo"}, "has not begun")
}

// TestRampRoundAndPressAs: an attempt that is pressed is good, a set is done.
func TestRampRoundAndPressAs(t *testing.T) {
	t.Parallel()
	for format, as := range map[session.Format]string{session.Ramp: asGood, session.Sets: asDone} {
		r := begin(t, one(session.Part{Format: format, Sets: 2, Rest: time.Minute}, "Ada", "A"))
		r.must("0:10", Press{"Ada"})
		r.must("0:20", Press{"Ada"})
		if e, ok := r.log[len(r.log)-1].E.(Pressed); !ok || e.As != as {
			t.Errorf("%s: the second press is %+v, want %s", format, r.log[len(r.log)-1].E, as)
		}
	}
}
