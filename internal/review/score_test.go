package review

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestScores has one part of every format, with what its score says and the JSON
// fields that only it has.
func TestScores(t *testing.T) {
	t.Parallel()
	drag := []session.Station{{Movement: "forward drag", Distance: 60 * measure.Metre}}
	metres := rounds(floor.Done, 30, 30, 30)
	metres[0].Metres, metres[1].Metres = 12*measure.Metre, 13500*measure.Metre/1000
	reps := rounds(floor.Done, 30, 30)
	reps[0].Reps, reps[1].Reps = 14, 12
	waited := rounds(floor.Done, 31, 33)
	waited[1].Waited = 14 * time.Second
	ramp := rounds(floor.Good, 14, 20, 31)
	ramp[1].Moves, ramp[2].Moves, ramp[2].State = 87*kilo, 107*kilo, floor.Missed
	capped := rounds(floor.Capped, 120)
	capped[0].Metres = 22 * measure.Metre
	stopped := rounds(floor.Done, 300)
	stopped[0].Stops = []floor.Span{{From: secs(60), To: secs(90)}}
	short := rounds(floor.LeftRound, 200)
	short[0].Metres, short[0].Work, short[0].Ends = 40*measure.Metre, floor.None, floor.None
	short[0].Legs = []time.Duration{secs(70), secs(115)}
	part := func(f session.Format) session.Part {
		return session.Part{Format: f, Cap: 5 * time.Minute, Work: 30 * time.Second, Rest: 30 * time.Second, StopCap: time.Minute, Stations: drag}
	}
	for _, tt := range []struct {
		spec session.Part
		list []floor.Round
		want string
		json string
	}{
		{part(session.Intervals), metres, "12 m, 13.5 m, ?", `"work_share_pct":60`},
		{part(session.Intervals), reps, "14 reps, 12 reps", `"reps":14`},
		{part(session.Intervals), rounds(floor.Done, 30), "1 bout", `"work_share_pct":100`},
		{part(session.Ratio), waited, "2 rounds, 1:04 work, 0:14 waited", `"waited_s":14`},
		{part(session.Sets), rounds(floor.Done, 20, 21), "2 sets: 0:20.0, 0:21.0", `"fade_pct":5`},
		{part(session.Sets), with(rounds(floor.Done, 20, 21), 2, floor.Missed), "1 set: 0:20.0, 1 missed", `"missed":1`},
		{part(session.LongPull), stopped, "5:00, moving 4:30, 1 stop, longest 0:30", `"pace_moving_s_per_100m":450,"pace_elapsed_s_per_100m":500`},
		{part(session.LongPull), short, "1:55, moving 1:55, 0 stops, not finished", `"moving_s":115`},
		{part(session.LongPull), nil, "not begun", `"stops":null`},
		{part(session.ForTime), rounds(floor.Done, 100), "1:40.0", `"elapsed_s":100`},
		{part(session.ForTime), capped, "cap, 38 m left", `"left_m":38`},
		{part(session.ForTime), nil, "not finished", `"left_m":null`},
		{part(session.Ramp), ramp, "87 kg", `"best_kg":87`},
		{part(session.Ramp), ramp[2:], "no good attempt", `"best_kg":null`},
		{part(session.Amrap), rounds(floor.Done, 60, 62), "2 full rounds", `"full_rounds":2,"partial_m":null`},
	} {
		a := new(room).read(&tt.spec, tt.list, []time.Duration{0}, secs(120), plain)
		p := Part{Number: 1, Spec: tt.spec, Athletes: []Athlete{a}}
		if got := p.Score(&a, measure.Style{}); got != tt.want {
			t.Errorf("Score of %s = %q, want %q", tt.spec.Format, got, tt.want)
		}
		b, err := json.Marshal(Report{Parts: []Part{p}})
		if err != nil || !strings.Contains(string(b), tt.json) {
			t.Errorf("JSON of %s, %s: %v, want %s in %s", tt.spec.Format, tt.want, err, tt.json, b)
		}
	}
}

func TestInWords(t *testing.T) {
	t.Parallel()
	one := round(1, 0, 41.24, floor.InTime)
	odd := round(2, 60, 80, floor.LateRound)
	odd.ByHand, odd.Unlikely = true, true
	for _, tt := range []struct {
		round floor.Round
		want  string
	}{
		{one, "0:41.2"},
		{odd, "1:20.0, late, by hand, unlikely"},
		{round(3, 0, 0, floor.SatOut), "sat out"},
		{round(4, 0, 40, floor.StruckOut), "not counted"},
		{round(5, 0, 31, floor.Missed), "0:31.0, missed"},
	} {
		if got := InWords(&tt.round, measure.Style{}); got != tt.want {
			t.Errorf("InWords(%s) = %q, want %q", tt.round.State, got, tt.want)
		}
	}
	r := Report{Parts: []Part{{Spec: session.Part{Format: session.Every}, Athletes: []Athlete{{}}}}}
	if got, want := r.Headline(measure.Style{}), "Nobody slowed down."; got != want {
		t.Errorf("Headline = %q, want %q", got, want)
	}
}

// TestHeavierPull is the load half of the long pull's rule: metres first, then load,
// never above half of the max.
func TestHeavierPull(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.LongPull, Stations: []session.Station{{Distance: 800 * measure.Metre}}}
	for _, tt := range []struct {
		max  measure.Mass
		pain int
		want string
	}{
		{200 * kilo, 0, "up: all metres, no stops"},
		{120 * kilo, 0, "same: all metres, no stops; more would be above 50 % of max"},
		{0, 0, "same: all metres, no stops; no max is known, and a long pull stays under half of it"},
		{200 * kilo, 1, "same: pain 1"},
	} {
		a := new(room).read(&spec, rounds(floor.Done, 900), []time.Duration{0}, secs(900), plain)
		c := compare{spec: &spec, a: &a, told: Told{Pain: tt.pain}, max: tt.max}
		if n := c.next(); say(n) != tt.want {
			t.Errorf("max %v: next = %q, want %q", tt.max, say(n), tt.want)
		}
	}
}
