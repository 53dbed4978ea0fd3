package tui

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/review"
	"hawser/internal/session"
)

// ledger is where the loads of a test are accepted; it keeps what it was handed.
type ledger struct {
	accepted, rejected []session.Accepted
	full               error
}

// replayOf is a replay of a class that is over, with another one a week before it
// in which everybody was a second faster, and next time behind Enter.
func replayOf(t *testing.T, l *ledger) *Replay {
	t.Helper()
	events := func(r *run, wall time.Time) []floor.Stamped {
		return append([]floor.Stamped{{N: 1, E: floor.Opened{Wall: wall, Plan: r.st.Plan()}}}, r.kept...)
	}
	wall := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	over, before := finished(t), begin(t, class(everyPart(), 4, 4))
	for k := range 8 {
		for i := range 4 {
			before.do(time.Duration(k)*75*time.Second+29*time.Second+time.Duration(i)*3*time.Second, floor.Press{Who: crew[i]})
		}
	}
	before.to(12 * time.Minute)
	return NewReplay(Replayed{
		Events: events(over, wall), Before: events(before, wall.AddDate(0, 0, -7)),
		Next: func() (*Coming, error) {
			report := review.Make(over.st, 12*time.Minute)
			report.SetNext(review.Facts{Plan: over.st.Plan(), NextDay: wall})
			return &Coming{
				Plan: over.st.Plan(), Report: &report,
				Accept: func(a session.Accepted) error { l.accepted = append(l.accepted, a); return l.full },
				Reject: func(a session.Accepted) error { l.rejected = append(l.rejected, a); return l.full },
			}, nil
		},
	})
}

// playScript strikes the keys of a script on m, one a line; "screen NAME" holds what
// stands there to a golden, "play 3s" lets a playing time line run so long.
func playScript(t *testing.T, m *Model, file string) {
	t.Helper()
	script, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var waits tea.Cmd
	for line := range strings.Lines(string(script)) {
		verb, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch verb {
		case "", "#":
		case "screen":
			golden(t, "script-"+rest, m.on.draw(m))
		case "key":
			waits = m.on.key(m, input{key: rest, text: map[bool]string{true: rest}[len(rest) == 1], at: time.Now()})
			if _, plays := m.on.(*Replay); waits != nil && (!plays || rest == "enter") {
				m.Update(waits())
			}
		case "play":
			long, err := time.ParseDuration(rest)
			if err != nil {
				t.Fatal(err)
			}
			for end := time.Now().Add(long); waits != nil && time.Now().Before(end); {
				_, waits = m.Update(waits())
			}
		default:
			t.Fatalf("%s: what is %q?", file, line)
		}
	}
}

// TestReplayScript plays testdata/replay.keys: the first screen names the largest
// fade with its person, round and load, and Enter leads to next week's stacks.
func TestReplayScript(t *testing.T) {
	t.Parallel()
	for _, size := range sizes {
		synctest.Test(t, func(t *testing.T) { // a time line that plays waits for nothing
			var l ledger
			m := modelOn(world(everyPart(), 4, 4, nil), size)
			m.on = replayOf(t, &l)
			page := strings.Join(strings.Fields(m.on.draw(m).Plain()), " ")
			if want := "Largest fade: Odd, 74.7 % slower at the end (round 8: 1:13.3) with 42 kg on the sled row."; !strings.Contains(page, want) {
				t.Errorf("the first screen at %v lacks %q:\n%s", size, want, page)
			}
			playScript(t, m, "testdata/replay.keys")
			if len(l.accepted) != 4 || len(l.rejected) != 1 || l.accepted[0].Athlete != "Maren" || l.rejected[0].Athlete != "Tuva" {
				t.Errorf("accepted %+v, rejected %+v, want Maren first and Tuva rejected", l.accepted, l.rejected)
			}
		})
	}
}

// TestNextNotWritten holds that nothing stands as accepted that was not written.
func TestNextNotWritten(t *testing.T) {
	t.Parallel()
	l := ledger{full: errors.New("the disk is full")}
	m := modelOn(world(everyPart(), 4, 4, nil), sizes[1])
	m.on = replayOf(t, &l)
	m.Update(m.on.key(m, input{key: "enter"})())
	m.Update(m.on.key(m, input{key: "enter"})())
	page := m.on.draw(m).Plain()
	if strings.Contains(page, "accepted") || !strings.Contains(page, "the disk is full") || !strings.Contains(page, "0 of 4 decided") {
		t.Errorf("a load that was not written:\n%s", page)
	}
}

// TestNextForClass holds that the metres of a long pull, an interval and a lighter
// week's rounds are decided like a load, each by one key, and changed by their steps.
func TestNextForClass(t *testing.T) {
	t.Parallel()
	plan := class(everyPart(), 2, 2)
	long := plan.Parts[0]
	long.Spec = session.Part{Format: session.LongPull, Stations: long.Spec.Stations}
	plan.Parts = append(plan.Parts, long)
	report := review.Report{Parts: []review.Part{
		{Number: 1, Spec: plan.Parts[0].Spec, Athletes: []review.Athlete{
			{Name: "Maren", Next: &review.Next{Verdict: review.Down, Every: 90 * time.Second, Rounds: 5, Why: "2 late, no smaller plates to take off: every 1:30"}},
		}},
		{Number: 2, Spec: long.Spec, Athletes: []review.Athlete{{
			Name: "Maren", Rounds: []floor.Round{{Station: 1, Movement: "sled row", Distance: 200 * measure.Metre}}, Pull: &review.Pull{All: 200 * measure.Metre},
			Next: &review.Next{Verdict: review.Up, Metres: 240 * measure.Metre, Why: "all metres, no stops: more metres first"},
		}}},
	}}
	week := time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC)
	var l ledger
	coming := &Coming{
		Plan: plan, Report: &report, Week: week,
		Taken:  []session.Accepted{{Session: "slack-water", Part: 1, Rounds: 5, Week: week}},
		Accept: func(a session.Accepted) error { l.accepted = append(l.accepted, a); return nil },
		Reject: func(a session.Accepted) error { l.rejected = append(l.rejected, a); return nil },
	}
	m := modelOn(world(everyPart(), 2, 2, nil), sizes[1])
	m.on = newNextTime(coming, nil)
	golden(t, "next-class", m.on.draw(m))
	press := func(keys ...string) {
		for _, key := range keys {
			if cmd := m.on.key(m, input{key: key, text: key}); cmd != nil {
				m.Update(cmd())
			}
		}
	}
	press("enter", "+", "enter", "down", "+", "+", "-", "enter")
	want := []session.Accepted{
		{Session: "slack-water", Part: 1, Every: 90 * time.Second},
		{Session: "slack-water", Part: 1, Rounds: 6, Week: week},
		{Athlete: "Maren", Session: "slack-water", Part: 2, Station: 1, Movement: "sled row", Distance: 250 * measure.Metre},
	}
	if !slices.Equal(l.accepted, want) {
		t.Errorf("accepted %+v, want %+v", l.accepted, want)
	}
	if press("backspace"); len(l.rejected) != 1 || l.rejected[0] != want[2] {
		t.Errorf("rejected %+v, want %+v", l.rejected, want[2])
	}
}

// TestReplayRuns holds that the time line goes to any round, at any speed, forwards
// and back, and ends where the run does.
func TestReplayRuns(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		var l ledger
		r := replayOf(t, &l)
		m := modelOn(world(everyPart(), 4, 4, nil), sizes[1])
		m.on = r
		strike := func(keys ...string) (cmd tea.Cmd) {
			for _, k := range keys {
				cmd = r.key(m, input{key: k, text: map[bool]string{true: k}[len(k) == 1]})
			}
			return cmd
		}
		for _, tt := range []struct {
			keys []string
			want time.Duration // since GO
		}{
			{[]string{"1"}, 0},
			{[]string{"3"}, 150 * time.Second},
			{[]string{"9"}, 150 * time.Second}, // there is none: it stays
			{[]string{"pgdown"}, 225 * time.Second},
			{[]string{"right", "pgup"}, 225 * time.Second},
			{[]string{"left"}, 220 * time.Second},
			{[]string{"end", "pgup"}, 525 * time.Second},
			{[]string{"home"}, -ten},
		} {
			if strike(tt.keys...); r.now-ten != tt.want {
				t.Errorf("%v goes to %v after GO, want %v", tt.keys, r.now-ten, tt.want)
			}
		}
		strike("3")
		for _, tt := range []struct {
			keys  []string
			speed int
		}{{[]string{"up"}, 30}, {[]string{"down", "down", "down", "down", "down", "down"}, -2}} {
			strike(tt.keys...)
			from, at, cmd := r.now, time.Now(), strike("space")
			for time.Since(at) < 2*time.Second {
				_, cmd = m.Update(cmd())
			}
			if got, want := r.now-from, time.Duration(tt.speed)*time.Since(at); got != want || r.speed != tt.speed {
				t.Errorf("in %v at × %d the time line went %v, want %v", time.Since(at), r.speed, got, want)
			}
			strike("space")
		}
		for cmd := strike("space"); cmd != nil; { // back to the beginning
			_, cmd = m.Update(cmd())
		}
		if r.now != 0 || r.playing {
			t.Errorf("back at the beginning it stands at %v, playing %v", r.now, r.playing)
		}
	})
}

// BenchmarkReplay is one frame of a replay of a large class that plays backwards,
// the dear way: every event anew, the page and its text. 60 frames a second leave
// 16 ms for it.
func BenchmarkReplay(b *testing.B) {
	r := begin(b, class(everyPart(), 16, 4))
	for k := range 8 {
		for i := range 4 {
			r.do(time.Duration(k)*75*time.Second+30*time.Second+time.Duration(i)*3*time.Second, floor.Press{Who: crew[i]})
		}
	}
	r.to(12 * time.Minute)
	events := append([]floor.Stamped{{N: 1, E: floor.Opened{Plan: r.st.Plan()}}}, r.kept...)
	for _, size := range sizes {
		b.Run(itoa(size[0])+"x"+itoa(size[1]), func(b *testing.B) {
			m := modelOn(world(everyPart(), 16, 4, nil), size)
			replay := NewReplay(Replayed{Events: events, Before: events})
			replay.sheet, replay.loud = 1, ""
			m.on = replay
			for i := 0; b.Loop(); i++ {
				replay.seek(replay.end - time.Duration(i%600)*time.Second)
				_ = replay.draw(m).String(m.look.theme)
			}
		})
	}
}
