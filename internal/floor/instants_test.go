package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

// TestAtTheInstant: what a press is taken for just at a boundary, and a thousandth of a second
// to either side of it. as is "ROUND", or what is said against it.
func TestAtTheInstant(t *testing.T) {
	t.Parallel()
	two := everyMinute(2)
	long := session.Part{Format: session.LongPull, StopCap: time.Minute}
	sets := session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}
	amrap := session.Part{Format: session.Amrap, Cap: 2 * time.Minute}
	for _, c := range []struct {
		says  string
		part  session.Part
		on    string
		first []asked
		at    string
		do    Command
		round int // of the press that is kept; 0: refused
	}{
		{"before GO", two, "A B", nil, "0:-0.001", Press{"Ada"}, 0},
		{"at GO", two, "A B", nil, "0:00", Press{"Ada"}, 1},
		{"a late press, to the last", two, "A B", nil, "1:07.999", Press{"Ada"}, 1},
		{"8 s after the start it is for the round that runs", two, "A B", nil, "1:08", Press{"Ada"}, 2},
		{"T after the end", two, "A B", []asked{{"0:30", Press{"Ada"}}}, "3:00", Press{"Ada"}, 2},
		{"more than T after the end", two, "A B", []asked{{"0:30", Press{"Ada"}}}, "3:00.001", Press{"Ada"}, 0},
		{"two on a sled: before the own start", everyMinute(2), "A A", nil, "0:39.999", Press{"Bo"}, 0},
		{"two on a sled: at the own start", everyMinute(2), "A A", nil, "0:40", Press{"Bo"}, 1},
		{"twice within two seconds", two, "A B", []asked{{"0:58.5", Press{"Ada"}}}, "1:00.499", Press{"Ada"}, 0},
		{"two seconds on", two, "A B", []asked{{"0:58.5", Press{"Ada"}}}, "1:00.5", Press{"Ada"}, 2},
		{"most rounds: at the end", amrap, "A B", nil, "2:00", Press{"Ada"}, 1},
		{"most rounds: after it", amrap, "A B", nil, "2:00.001", Press{"Ada"}, 0},
		{"most rounds: warm just now", amrap, "A -", []asked{{"0:10", Arrive{Who: "Bo", WarmUp: 30 * time.Second}}}, "0:40", Press{"Bo"}, 1},
		{"most rounds: not yet", amrap, "A -", []asked{{"0:10", Arrive{Who: "Bo", WarmUp: 30 * time.Second}}}, "0:39.999", Press{"Bo"}, 0},
		{"sets: the rest is over", sets, "A B", []asked{{"0:10", Press{"Ada"}}, {"0:20", Press{"Ada"}}}, "1:20", Press{"Ada"}, 2},
		{"sets: it is not", sets, "A B", []asked{{"0:10", Press{"Ada"}}, {"0:20", Press{"Ada"}}}, "1:19.999", Press{"Ada"}, 0},
		{"sets: in the instant of a stop", sets, "A B", []asked{{"0:10", Hold{}}}, "0:10", Press{"Ada"}, 0},
		{"sets: when the clock runs again", sets, "A B", []asked{{"0:10", Hold{}}, {"0:20", Resume{}}}, "0:25", Press{"Ada"}, 1},
		{"a long pull: at once", long, "A B", nil, "0:00", StopNow{"Ada"}, 1},
	} {
		r := begin(t, one(c.part, "Ada Bo", c.on))
		for _, a := range c.first {
			r.must(a.at, a.c)
		}
		n := len(r.log)
		at := clockOf(t, c.at)
		if c.at == "0:-0.001" {
			at = -time.Millisecond
		}
		err := r.do(at, c.do)
		round := 0
		for _, e := range r.log[n:] {
			if p, ok := e.E.(Pressed); ok {
				round = p.Round
			}
		}
		if round != c.round {
			t.Errorf("%s, at %s: round %d (%v), want %d", c.says, c.at, round, err, c.round)
		}
	}
}

// TestSplitTooShort: a press soon after the start is for the round before where a split of it
// would be under 60 % of the median of two earlier ones, and only then.
func TestSplitTooShort(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says   string
		splits []int // of rounds 1, 2, …; the next is forgotten
		after  time.Duration
		late   bool
	}{
		{"58 % of it", []int{40, 40}, 23200 * time.Millisecond, true},
		{"60 % of it", []int{40, 40}, 24 * time.Second, false},
		{"one split is none", []int{40}, 12 * time.Second, false},
		{"of 20 and 60 it is 40", []int{20, 60}, 23 * time.Second, true},
		{"the round that is pressed counts not itself", []int{30, 50, 40}, 23 * time.Second, true},
	} {
		r := begin(t, one(everyMinute(8), "Ada", "A"))
		for k, split := range c.splits {
			r.at(time.Duration(k)*time.Minute+time.Duration(split)*time.Second, Press{"Ada"})
		}
		k := len(c.splits) + 1
		r.at(time.Duration(k)*time.Minute+c.after, Press{"Ada"})
		want := k + 1
		if c.late {
			want = k
		}
		if e, ok := firstPress(r.log[len(c.splits)+2:]); !ok || e.Round != want {
			t.Errorf("%s: %+v, want round %d", c.says, e, want)
		}
	}
}

func firstPress(events []Stamped) (Pressed, bool) {
	for _, e := range events {
		if p, ok := e.E.(Pressed); ok {
			return p, true
		}
	}
	return Pressed{}, false
}

// TestClocksOfTheClass: GO, stop, go on, again, skip, longer and end are refused where they mean
// nothing, in words.
func TestClocksOfTheClass(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(1), "Ada Bo", "A B")
	p.Parts = append(p.Parts, p.Parts[0])
	before := New()
	before.Apply(Stamped{N: 1, E: Opened{Plan: p}})
	for _, c := range []struct {
		do   Command
		word string // "" where it is kept
	}{
		{Hold{}, "no clock runs"},
		{Resume{}, "the clock runs"},
		{Again{}, "no round runs"},
		{Skip{}, "no part runs"},
		{Longer{time.Minute}, "no part runs"},
		{Go{}, ""},
		{End{}, ""},
		{Undo{}, "nothing to undo"},
	} {
		if _, err := Decide(before, c.do, time.Second); (err == nil) != (c.word == "") || err != nil && err.Error() != c.word {
			t.Errorf("before GO %T: %v, want %q", c.do, err, c.word)
		}
	}
	for _, c := range []struct {
		at   string
		do   Command
		word string
	}{
		{"0:30", Go{}, "the part still runs"},
		{"0:30", Resume{}, "the clock runs"},
		{"1:30", Again{}, "no round runs"},
		{"1:30", Skip{}, "no part runs"},
		{"1:30", Longer{time.Minute}, "no part runs"},
		{"1:30", Hold{}, ""},
		{"1:30", Go{}, ""},
		{"1:30", End{}, ""},
	} {
		r := begin(t, p)
		err := r.do(clockOf(t, c.at), c.do)
		if (err == nil) != (c.word == "") || err != nil && err.Error() != c.word {
			t.Errorf("%T at %s: %v, want %q", c.do, c.at, err, c.word)
		}
	}
	r := begin(t, p)
	r.must("1:30", Hold{})
	r.refused("1:40", Go{}, "the clock is stopped")
	ended := begin(t, p)
	ended.must("0:30", End{})
	for _, c := range []Command{Hold{}, Resume{}, Again{}, Skip{}, Longer{time.Minute}, Go{}, End{}} {
		if err := ended.do(time.Minute, c); err == nil {
			t.Errorf("%T after the end was kept", c)
		}
	}
	if n := len(ended.log); ended.log[n-2].E != (PartEnded{Part: 1}) || ended.log[n-1].E != (Ended{}) {
		t.Errorf("an early end is kept as %+v", ended.log[n-2:])
	}
	between := begin(t, p)
	between.must("1:30", End{})
	if n := len(between.log); between.log[n-1].E != (Ended{}) || between.log[n-2].E != (PartEnded{Part: 1}) || between.log[n-2].T != between.zero+time.Minute {
		t.Errorf("an end between parts is kept as %+v", between.log[n-2:])
	}
}

// TestRoundsInATime: time is added in whole rounds, a part of one counts as one, either way.
func TestRoundsInATime(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		by, each time.Duration
		want     int
	}{
		{0, time.Minute, 0},
		{1, time.Minute, 1},
		{time.Minute, time.Minute, 1},
		{time.Minute + 1, time.Minute, 2},
		{-1, time.Minute, -1},
		{-time.Minute, time.Minute, -1},
		{-time.Minute - 1, time.Minute, -2},
		{time.Hour, 0, 0},
		{time.Hour, -1, 0},
	} {
		if got := roundsIn(c.by, c.each); got != c.want {
			t.Errorf("%v in rounds of %v = %d, want %d", c.by, c.each, got, c.want)
		}
	}
}

// TestGuestsGetAFreeLetter: of their own name, else of the alphabet, else none.
func TestGuestsGetAFreeLetter(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(30), "Ada Bo", "A B"))
	for _, c := range []struct{ name, key string }{
		{"Zaz", "z"}, {"Aza", "c"}, {"Öde", "d"}, {"42 Éric", "r"}, {"B-A", "e"},
	} {
		r.at(10*time.Second, Guest{Who: c.name})
		people := r.s.Plan().People
		if got := people[len(people)-1].Key; got != c.key {
			t.Errorf("%s gets %q, want %q", c.name, got, c.key)
		}
	}
	for n := range 22 {
		r.at(20*time.Second, Guest{Who: "guest " + string(rune('A'+n))})
	}
	people := r.s.Plan().People
	keys := map[string]int{}
	for _, p := range people {
		keys[p.Key]++
	}
	if keys[""] != len(people)-26 || len(keys) != 27 {
		t.Errorf("%d people have %d letters, %d of them none", len(people), len(keys)-1, keys[""])
	}
	r.refused("0:30", Guest{Who: " Ada "}, "on the list already")
	r.refused("0:30", Guest{Who: "  "}, "needs a name")
}

// TestMomentsComeInOrder: by time, and at one time in the order in which they win.
func TestMomentsComeInOrder(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		p := one(part, "Ada Bo Cleo Dag", "A B A B")
		p.Parts = append(p.Parts, p.Parts[0])
		r := begin(t, p)
		_ = r.do(10*time.Second, Press{"Ada"})
		_ = r.do(14*time.Second, Press{"Bo"})
		all := r.s.Due(nil, -time.Minute, r.zero+10*time.Minute)
		for i := 1; i < len(all); i++ {
			if a, b := all[i-1], all[i]; a.At > b.At || a.At == b.At && a.Kind > b.Kind {
				t.Errorf("%s: %+v is told before %+v", part.Format, a, b)
			}
		}
		if len(all) < 4 {
			t.Errorf("%s: %d moments in ten minutes", part.Format, len(all))
		}
	}
	if got := New().Due(nil, 0, time.Hour); got != nil {
		t.Errorf("before anything was opened %+v is due", got)
	}
	waiting := New()
	waiting.Apply(Stamped{N: 1, E: Opened{Plan: one(everyMinute(1), "Ada", "A")}})
	if got := waiting.Due(nil, 0, time.Hour); got != nil {
		t.Errorf("before GO %+v is due", got)
	}
}
