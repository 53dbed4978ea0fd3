package review

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"

	"pgregory.net/rapid"
)

func secs(s float64) time.Duration {
	return time.Duration(math.Round(s*1000)) * time.Millisecond
}

// round returns a round that began at that second and took so many.
func round(k int, at, work float64, state floor.RoundState) floor.Round {
	r := floor.Round{
		Round: k, Station: 1, Movement: "forward drag", On: "A", Moves: 67 * measure.Kilogram,
		Starts: secs(at), Work: floor.None, Margin: floor.None, Ends: floor.None, Due: floor.None,
		Waited: floor.None, Rest: floor.None, State: state,
	}
	if work > 0 {
		r.Work, r.Ends = secs(work), secs(at+work)
	}
	return r
}

func rounds(state floor.RoundState, works ...float64) []floor.Round {
	var all []floor.Round
	for i, w := range works {
		all = append(all, round(i+1, float64(i)*100, w, state))
	}
	return all
}

// plain is a session clock that was never stopped.
func plain(from, to time.Duration) time.Duration { return to - from }

// near is equality of numbers that were printed with so many digits.
func near(got *float64, want, tolerance float64) bool {
	return got != nil && math.Abs(*got-want) <= tolerance
}

// TestEvery is a messy class: two late rounds, the start after each sat out, one
// round nobody pressed. The shares were worked out apart, with exact fractions.
func TestEvery(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.Every, Every: time.Minute, Rounds: 12}
	list := []floor.Round{
		round(1, 0, 41.7, floor.InTime), round(2, 60, 65.8, floor.LateRound), round(3, 120, 0, floor.SatOut),
		round(4, 180, 37.8, floor.InTime), round(5, 240, 40.7, floor.InTime), round(6, 300, 0, floor.NoPress),
		round(7, 360, 62.8, floor.LateRound), round(8, 420, 0, floor.SatOut), round(9, 480, 41.4, floor.InTime),
		round(10, 577, 39.9, floor.InTime), round(11, 637, 39.7, floor.InTime), round(12, 697, 40.8, floor.InTime),
	}
	a := new(room).read(&spec, list, []time.Duration{0}, secs(757), plain)
	if want := (Counts{InTime: 7, Late: 2, SatOut: 2, NoPress: 1}); a.Counts != want {
		t.Errorf("Counts = %+v, want %+v", a.Counts, want)
	}
	if a.Work != secs(410.6) {
		t.Errorf("Work = %v, want 410.6 s", a.Work)
	}
	if got := a.Share(); !near(got, 57.027778, 1e-6) {
		t.Errorf("Share() = %v, want 57.027778", *got)
	}
	p := Part{Spec: spec}
	if got, want := p.Score(&a, measure.Style{}), "7 in time, 2 late, 2 sat out"; got != want {
		t.Errorf("Score() = %q, want %q", got, want)
	}
}

// TestRatio has two on one sled; the fades were worked out apart.
func TestRatio(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.Ratio, Rounds: 4}
	for _, tt := range []struct {
		works []float64
		work  float64
		fade  float64
	}{
		{[]float64{31, 33, 34, 36}, 134, 16.129032},
		{[]float64{27, 27, 29, 30}, 113, 11.111111},
	} {
		a := new(room).read(&spec, rounds(floor.Done, tt.works...), []time.Duration{0}, secs(370), plain)
		if a.Work != secs(tt.work) || !near(a.Fade, tt.fade, 1e-6) {
			t.Errorf("read(%v) = %v, fade %v, want %v s, %v", tt.works, a.Work, *a.Fade, tt.work, tt.fade)
		}
	}
}

func TestLongPull(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.LongPull, StopCap: time.Minute, Stations: []session.Station{{Distance: 300 * measure.Metre}}}
	r := round(1, 0, 540, floor.Done)
	r.Stops = []floor.Span{{From: secs(95), To: secs(117)}, {From: secs(240), To: secs(271)}, {From: secs(390), To: secs(456)}}
	a := new(room).read(&spec, []floor.Round{r}, []time.Duration{0}, secs(540), plain)
	want := Pull{
		Elapsed: secs(540), Moving: secs(421), Stopped: secs(119), Longest: secs(66), Stops: 3, LongStops: 1,
		Distance: 300 * measure.Metre, All: 300 * measure.Metre, Finished: true,
	}
	if *a.Pull != want {
		t.Errorf("pull = %+v, want %+v", *a.Pull, want)
	}
	if got := a.Pull.Pace(a.Pull.Moving); !near(got, 140.333333, 1e-6) {
		t.Errorf("Pace = %v, want 140.333333", *got)
	}
}

// TestGroups holds that nothing is compared across a station, a swap or a load.
func TestGroups(t *testing.T) {
	t.Parallel()
	list := rounds(floor.InTime, 30, 31, 32, 33)
	list[2].Moves, list[3].Moves = 60*measure.Kilogram, 60*measure.Kilogram
	got := new(room).groupsOf(session.Every, list)
	if len(got) != 2 || !near(got[0].Fade, 100.0/30, 1e-9) || !near(got[1].Fade, 100.0/32, 1e-9) {
		t.Errorf("groups after a drop = %+v, want one a load", got)
	}
	if f := overall(got).Fade; f != got[1].Fade {
		t.Errorf("overall fade is not that of the load pulled last")
	}
	list = rounds(floor.InTime, 30, 12, 32, 13)
	list[1].Station, list[3].Station = 2, 2
	got = new(room).groupsOf(session.Every, list)
	if g := overall(got); len(got) != 2 || g.Fade != nil || g.Spread != nil {
		t.Errorf("two stations: overall = %v, %v of %d groups, want nil, nil of 2", g.Fade, g.Spread, len(got))
	}
}

// TestIntervalsFade holds that where the clock sets the split, fade is by what was
// done in it, and that nothing typed is no fade. 20 m and then 16 m in 30 s are 1.5 s
// and 1.875 s a metre: 25 % slower. 10 and then 8 repetitions are the same.
func TestIntervalsFade(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.Intervals, Work: 30 * time.Second, Rest: 30 * time.Second, Rounds: 4}
	bouts := func(set func(r *floor.Round, k int)) Athlete {
		list := rounds(floor.Done, 30, 30, 30, 30)
		for k := range list {
			set(&list[k], k)
		}
		return new(room).read(&spec, list, []time.Duration{0}, secs(210), plain)
	}
	for _, tt := range []struct {
		name string
		a    Athlete
		want float64
		took string
	}{
		{"metres", bouts(func(r *floor.Round, k int) { r.Metres = []measure.Distance{20, 19, 17, 16}[k] * measure.Metre }), 25, "16 m"},
		{"repetitions", bouts(func(r *floor.Round, k int) { r.Reps = []int{10, 10, 9, 8}[k] }), 25, "8 reps"},
		{"one is not known", bouts(func(r *floor.Round, k int) { r.Reps = []int{10, 0, 9, 8}[k] }), 25, "8 reps"},
	} {
		if !near(tt.a.Fade, tt.want, 1e-9) {
			t.Errorf("%s: fade = %v, want %v", tt.name, tt.a.Fade, tt.want)
		}
		if _, took := tt.a.Groups[0].slowest(measure.Style{}); took != tt.took {
			t.Errorf("%s: the slowest is %q, want %q", tt.name, took, tt.took)
		}
	}
	if a := bouts(func(*floor.Round, int) {}); a.Fade != nil || a.Spread != nil || len(a.Groups[0].Splits) != 4 {
		t.Errorf("nothing typed: fade %v, spread %v of %d splits, want nil, nil of 4", a.Fade, a.Spread, len(a.Groups[0].Splits))
	}
}

func TestAmrap(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.Amrap, Cap: 10 * time.Minute, Stations: []session.Station{{Distance: 20 * measure.Metre}, {Reps: 5}}}
	open := round(4, 270, 0, floor.Open)
	open.Metres = 12 * measure.Metre
	list := []floor.Round{round(1, 0, 80, floor.Done), round(2, 80, 90, floor.Done), round(3, 170, 100, floor.Done), open}
	a := new(room).read(&spec, list, []time.Duration{0}, secs(300), plain)
	p := Part{Spec: spec}
	if got, want := p.Score(&a, measure.Style{}), "3 full rounds + 12 m"; got != want {
		t.Errorf("Score = %q, want %q", got, want)
	}
	if !near(a.Amount.Projection, 300.0/95, 1e-9) {
		t.Errorf("Projection = %v, want 300/95", a.Amount.Projection)
	}
	spec.PressAt = "station"
	a = new(room).read(&spec, list, []time.Duration{0}, secs(600), plain)
	if a.Amount.Rounds != 1 || a.Amount.Metres != 32*measure.Metre || a.Amount.Projection != nil {
		t.Errorf("press at each station: %+v, want 1 round + 32 m and no projection", a.Amount)
	}
}

func TestStruckAndDoneNoTime(t *testing.T) {
	t.Parallel()
	list := rounds(floor.InTime, 40, 50, 44)
	list[1].State = floor.StruckOut
	list = append(list, round(4, 300, 0, floor.DoneNoTime), round(5, 400, 0, floor.NotHere))
	a := new(room).read(&session.Part{Format: session.Every, Every: 100 * time.Second}, list, []time.Duration{0}, secs(500), plain)
	if a.InTime != 3 || a.Struck != 1 || a.NotHere != 1 || a.Work != secs(84) {
		t.Errorf("got %+v work %v, want 3 in time, 1 struck, 1 not here, 84 s", a.Counts, a.Work)
	}
	if a.Length != 400*time.Second {
		t.Errorf("Length = %v, want 400 s: rounds before arrival are taken out", a.Length)
	}
	if len(a.Groups) != 1 || len(a.Groups[0].Splits) != 2 {
		t.Errorf("Groups = %+v, want two splits", a.Groups)
	}
}

// TestFadeProperties: equal splits do not fade, a slower clock changes nothing,
// and turning the order round turns the sign.
func TestFadeProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(5, 500), 2, 40).Draw(t, "splits")
		f, s := fade(xs), spread(xs)
		if f == nil || s == nil || *s < 0 {
			t.Fatalf("fade, spread of %v = %v, %v", xs, f, s)
		}
		scaled, back := make([]float64, len(xs)), make([]float64, len(xs))
		for i, x := range xs {
			scaled[i], back[len(xs)-1-i] = 3*x, x
		}
		if !near(fade(scaled), *f, 1e-9*(1+math.Abs(*f))) || !near(spread(scaled), *s, 1e-9*(1+*s)) {
			t.Fatalf("fade or spread depends on the unit of time")
		}
		if b := *fade(back); math.Abs((1+b/100)*(1+*f/100)-1) > 1e-9 {
			t.Fatalf("fade %v, of the same splits backwards %v", *f, b)
		}
	})
	if fade([]float64{30}) != nil || spread(nil) != nil {
		t.Error("a fade or spread of fewer than two times")
	}
}

func TestMarshal(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.Every, Every: time.Minute}
	late := round(2, 60, 62, floor.LateRound)
	late.Margin = -secs(2)
	a := new(room).read(&spec, []floor.Round{round(1, 0, 40, floor.InTime), late}, []time.Duration{0}, secs(120), plain)
	a.Name = "Maren"
	r := Report{Session: "slack-water", Ends: secs(120), Parts: []Part{{Number: 1, Spec: spec, Starts: []time.Duration{0, secs(60)}, Athletes: []Athlete{a}}}}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Ends  float64 `json:"ends_s"`
		Parts []struct {
			Starts   []float64 `json:"starts_s"`
			Athletes []map[string]any
		}
	}
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	m := got.Parts[0].Athletes[0]
	for name, want := range map[string]any{
		"name": "Maren", "in_time": 1.0, "late": 1.0, "work_s": 102.0, "work_share_pct": 85.0,
		"fade_pct": 55.0, "best_kg": nil, "stops": nil, "full_rounds": nil, "next": nil, "score": "1 in time, 1 late",
	} {
		if v, ok := m[name]; !ok || v != want {
			t.Errorf("%s = %v, want %v", name, v, want)
		}
	}
	second := m["rounds"].([]any)[1].(map[string]any)
	for name, want := range map[string]any{
		"starts_s": 60.0, "work_s": 62.0, "margin_s": -2.0, "late_by_s": 2.0, "state": "late", "due_s": nil,
		"waited_s": 0.0, "rest_before_s": nil, "moves_kg": 67.0,
	} {
		if v, ok := second[name]; !ok || v != want {
			t.Errorf("rounds[1].%s = %v, want %v", name, v, want)
		}
	}
}
