package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

// A day of a class of sixteen, looked at every ten seconds: the last start is where it has to
// be, nothing is kept but what happened, and a look takes no memory, then as at first.
//
//nolint:paralleltest // it counts allocations
func TestADayLeavesNothingBehind(t *testing.T) {
	for _, part := range []session.Part{
		{Format: session.Every, Every: 4 * time.Minute, Rounds: 360, Late: session.NoteIt},
		{Format: session.Amrap, Cap: 24 * time.Hour},
		{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 400},
	} {
		r := begin(t, sixteen(part))
		var moments []Moment
		begins := 0
		for at := time.Duration(0); at < 24*time.Hour; at += 10 * time.Second {
			moments = r.s.Due(moments[:0], r.zero+at-10*time.Second, r.zero+at)
			for _, m := range moments {
				if m.Kind == Begin {
					begins++
				}
			}
			if f := r.s.Face(r.zero + at); part.Format == session.Every && f.Left != 4*time.Minute-at%(4*time.Minute) {
				t.Fatalf("at %v %v are left", at, f.Left)
			}
		}
		if want := max(1, part.Rounds); part.Format != session.Ratio && begins != want {
			t.Errorf("%s: %d starts, want %d", part.Format, begins, want)
		}
		if len(r.s.log) != 2 { // opened, started
			t.Errorf("%s: %d events are kept, want 2", part.Format, len(r.s.log))
		}
		for _, at := range []time.Duration{time.Hour, 23 * time.Hour} {
			n := testing.AllocsPerRun(100, func() {
				moments = r.s.Due(moments[:0], r.zero+at, r.zero+at+time.Second)
				r.s.Face(r.zero + at)
			})
			if n != 0 {
				t.Errorf("%s: a look at %v takes %v allocations", part.Format, at, n)
			}
		}
	}
}
