package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestDueIsInOrder: whatever a class is, what is heard comes in order of time, and at one instant in
// that of the kinds; a count is whole seconds before something begins.
func TestDueIsInOrder(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		r := begin(t, one(part, "Ada Bo Cleo", "A A B"))
		for _, at := range []time.Duration{20, 25, 50, 70, 75, 110} {
			_ = r.do(at*time.Second, Press{"Ada"})
			_ = r.do(at*time.Second+time.Second, Press{"Cleo"})
		}
		all := r.s.Due(nil, -1, r.zero+10*time.Minute)
		if len(all) == 0 {
			t.Errorf("%s: nothing is heard", part.Format)
		}
		if !slices.IsSortedFunc(all, func(a, b Moment) int {
			if a.At != b.At {
				return int(a.At - b.At)
			}
			return int(a.Kind) - int(b.Kind)
		}) {
			t.Errorf("%s: out of order: %+v", part.Format, all)
		}
		for _, m := range all {
			if m.Kind == CountDown && m.At%time.Second != 0 {
				t.Errorf("%s: %d to go at %v, want a whole second", part.Format, m.Count, m.At)
			}
			if capped := part.Cap > 0 || part.Work > 0; m.Kind == TenLeft && !capped {
				t.Errorf("%s: ten seconds are left at %v, of what?", part.Format, m.At)
			}
		}
	}
}

// TestDueAtTheEdge: three seconds before a start are heard by whoever asks up to that instant, nothing
// of a part after its end, and of a stop nothing where none is too long.
func TestDueAtTheEdge(t *testing.T) {
	t.Parallel()
	long := session.Part{Format: session.LongPull}
	short := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3, Cap: 40 * time.Second} // round 2 from 0:10
	for _, c := range []struct {
		says     string
		part     session.Part
		do       []asked
		from, to string
		want     []Kind
	}{
		{"up to three seconds before", everyMinute(3), nil, "0:56", "0:57", []Kind{CountDown}},
		{"up to just before that", everyMinute(3), nil, "0:56", "0:56.9", nil},
		{"from that on", everyMinute(3), nil, "0:57", "0:57.5", nil},
		{"ended at that instant", everyMinute(3), []asked{{"1:00", Skip{}}}, "1:00", "1:59", nil},
		{"any stop", long, []asked{{"0:20", StopNow{"Ada"}}}, "0:05", "2:00", nil},
		{"a round that is done is not warned of", short, []asked{{"0:05", Press{"Ada"}}}, "0:11", "0:35", nil},
		{"the one that runs is", short, []asked{{"0:05", Press{"Ada"}}}, "0:35", "0:45", []Kind{TenLeft}},
	} {
		r := begin(t, one(c.part, "Ada", "A"))
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		var got []Kind
		for _, m := range r.s.Due(nil, r.zero+clockOf(t, c.from), r.zero+clockOf(t, c.to)) {
			got = append(got, m.Kind)
		}
		if c.says == "ended at that instant" { // the end of the run is the next thing
			got = slices.DeleteFunc(got, func(k Kind) bool { return k == AllDone || k == PartEnds })
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v is heard, want %v", c.says, got, c.want)
		}
	}
}

// TestDueOfTwoKindsAtOnce: where the count to a start falls on the end of a bout, the count comes first.
func TestDueOfTwoKindsAtOnce(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 3 * time.Second, Rounds: 2}, "Ada", "A"))
	got := r.s.Due(nil, r.zero+19*time.Second, r.zero+20*time.Second)
	if len(got) != 2 || got[0].Kind != CountDown || got[0].Count != 3 || got[1].Kind != RestBegins {
		t.Errorf("at the end of the bout %+v, want 3 to go and the rest", got)
	}
}

// TestDueOfASkipInTheInstantOfAStart: a part that is skipped in the very instant in which the clock goes on
// has had its start; one that was skipped before has none.
func TestDueOfASkipInTheInstantOfAStart(t *testing.T) {
	t.Parallel()
	for at, want := range map[string]bool{"0:35": true, "0:34.999": false} {
		r := begin(t, one(everyMinute(3), "Ada", "A"))
		r.must("0:20", Hold{})
		r.must("0:30", Resume{}) // the clock goes on at 0:35
		r.must(at, Skip{})
		got := slices.ContainsFunc(r.s.Due(nil, r.zero+34*time.Second, r.zero+36*time.Second), func(m Moment) bool { return m.Kind == Begin })
		if got != want {
			t.Errorf("skipped at %s: a start is heard: %v, want %v", at, got, want)
		}
	}
}

// TestDueOfWhoHasLeft: the own start on a shared sled is that of whoever is in the round.
func TestDueOfWhoHasLeft(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says string
		do   []asked
		want int
	}{
		{"both are here", nil, 1},
		{"Bo has left", []asked{{"0:50", Leave{"Bo"}}}, 0},
	} {
		r := begin(t, one(everyMinute(3), "Ada Bo", "A A"))
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		own := 0
		for _, m := range r.s.Due(nil, r.zero+time.Minute, r.zero+119*time.Second) {
			if m.Kind == OwnBegin {
				own++
			}
		}
		if own != c.want {
			t.Errorf("%s: %d own starts in round 2, want %d", c.says, own, c.want)
		}
	}
}

// TestEndAsItStands: when a class will end, with heats to come, once all are through, and where
// nobody can know.
func TestEndAsItStands(t *testing.T) {
	t.Parallel()
	race := session.Part{Format: session.ForTime, Cap: time.Minute, CountIn: 10 * time.Second}
	endless := session.Part{Format: session.ForTime, CountIn: 10 * time.Second}
	sets := session.Part{Format: session.Sets, Sets: 1, Rest: time.Minute, CountIn: 10 * time.Second}
	three := []string{"Ada=A", "Bo=A/2", "Cleo=A/3"}
	for _, c := range []struct {
		says   string
		part   session.Part
		people []string
		do     []asked
		at     string
		want   time.Duration
	}{
		{"in the second of three heats", everyMinute(2), three, nil, "5:30", 12 * time.Minute},
		{"in the third", everyMinute(2), three, nil, "10:30", 12 * time.Minute},
		{"the second of three races", race, three, nil, "4:10", 9 * time.Minute},
		{"no cap", endless, three, nil, "0:10", None},
		{"no cap, and one heat", endless, []string{"Ada=A"}, nil, "0:10", None},
		{"sets", sets, []string{"Ada=A"}, nil, "0:10", None},
		{"all sets are done", sets, []string{"Ada=A"}, []asked{{"0:10", Press{"Ada"}}, {"0:40", Press{"Ada"}}}, "0:40", 40 * time.Second},
	} {
		r := begin(t, ScenePlan(t, []session.Part{c.part}, c.people))
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		if len(c.do) == 0 {
			_ = r.do(clockOf(t, c.at), Sleep{})
		}
		got := r.s.End(r.zero + clockOf(t, c.at))
		if got != None {
			got -= r.zero
		}
		if got != c.want {
			t.Errorf("%s: it ends at %v, want %v", c.says, got, c.want)
		}
	}
}

// TestFaceAtTheInstant: the wall in the last bout of a shared sled, and at the very press that
// ends a part.
func TestFaceAtTheInstant(t *testing.T) {
	t.Parallel()
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 2, CountIn: 10 * time.Second}
	r := begin(t, one(bouts, "Ada Bo", "A A"))
	if f := r.s.Face(r.zero + 70*time.Second); f.Phase != Working || f.Left != 10*time.Second || f.Next != r.zero+80*time.Second {
		t.Errorf("in the last bout the wall says %+v, want 10 s left", f)
	}
	r = begin(t, one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}, "Ada", "A"))
	r.must("0:30", Press{"Ada"})
	if f := r.s.Face(r.zero + 30*time.Second); f.Phase != Over {
		t.Errorf("at the last press the wall says %+v, want over", f)
	}
}
