package review

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// rules is the house rules of the tests: no grace, 8 s for a late press.
func rules() *house.House {
	return &house.House{
		HandoverBase: 10 * time.Second, HandoverPlate: 5 * time.Second, BetweenHeats: 3 * time.Minute, BetweenParts: 3 * time.Minute,
		WarmUp: 5 * time.Minute, CountIn: 10 * time.Second, CountInAlone: 20 * time.Second, CountBack: 5 * time.Second,
		Late: "sit out", LatePress: 8 * time.Second, DoublePress: 2 * time.Second, DoubleTap: time.Second,
		UnlikelyLow: 60 * measure.Percent, UnlikelyHigh: 160 * measure.Percent, LighterEvery: 4,
	}
}

// played runs lines of "TIME NAME", "TIME hold" and the like through the engine
// and reads the run a good while after the last.
func played(t *testing.T, spec session.Part, script string) Report {
	t.Helper()
	spec.CountIn = 10 * time.Second
	plan := boathouse(spec, pile("4x20", "4x5")...)
	plan.House = rules()
	for i := range plan.Parts[0].Places {
		spot := &plan.Parts[0].Places[i].Spots[0]
		spot.Tare, spot.Ends, spot.Stack, spot.Moves, spot.Expect = 27*kilo, 1, []string{"20 kg", "20 kg"}, 67*kilo, 30*time.Second
	}
	st := floor.New()
	st.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: plan}})
	give := func(c floor.Command, at time.Duration) {
		events, err := floor.Decide(st, c, at)
		if err != nil {
			t.Fatalf("%v at %v: %v", c, at, err)
		}
		for _, e := range events {
			st.Apply(e)
		}
	}
	give(floor.Go{}, 0)
	zero := st.First()
	last := zero
	for line := range strings.Lines(script) {
		f := strings.Fields(line)
		if len(f) < 2 {
			continue
		}
		var minutes, s float64
		if _, err := fmt.Sscanf(f[0], "%f:%f", &minutes, &s); err != nil {
			t.Fatal(err)
		}
		last = zero + secs(60*minutes+s)
		switch f[1] {
		case "hold":
			give(floor.Hold{}, last)
		case "again":
			give(floor.Again{}, last)
		case "resume":
			give(floor.Resume{}, last)
		case "stop":
			give(floor.StopNow{Who: f[2]}, last)
		case "go":
			give(floor.GoOn{Who: f[2]}, last)
		case "done":
			give(floor.DoneNow{Who: f[2]}, last)
		case "effort":
			give(floor.Effort{Who: f[2], Effort: 7}, last)
		default:
			give(floor.Press{Who: f[1]}, last)
		}
	}
	for _, e := range floor.Advance(st, last+time.Hour) {
		st.Apply(e)
	}
	r := Make(st, last+time.Hour)
	r.SetNext(Facts{Plan: st.Plan()})
	return r
}

// TestMake plays a whole class. Its answers were worked out apart from this
// program, with exact fractions.
func TestMake(t *testing.T) {
	t.Parallel()
	r := played(t, session.Part{Format: session.Every, Every: time.Minute, Rounds: 12, Late: session.SitOut, Stations: []session.Station{{Movement: "forward drag"}}}, `
		0:38.4 Eskil
		0:41.7 Maren
		1:36.2 Eskil
		2:05.8 Maren
		2:39.2 Eskil
		3:37.3 Eskil
		3:37.8 Maren
		4:38.8 Eskil
		4:40.7 Maren
		5:36.8 Eskil
		6:39.6 Eskil
		7:02.8 Maren
		7:40.4 Eskil
		8:37.6 Eskil
		8:41.4 Maren
		9:15 Maren
		9:18 hold
		9:32 again
		10:14 Eskil
		10:16.9 Maren
		11:16.7 Maren
		12:17.8 Maren
		13:00 effort Maren`)
	if r.Ends != secs(757) {
		t.Errorf("Ends = %v, want 757 s", r.Ends)
	}
	starts := []string{}
	for _, at := range r.Parts[0].Starts {
		starts = append(starts, fmt.Sprint(at.Seconds()))
	}
	if got, want := strings.Join(starts, " "), "0 60 120 180 240 300 360 420 480 577 637 697"; got != want {
		t.Errorf("Starts = %s, want %s", got, want)
	}
	maren := &r.Parts[0].Athletes[0]
	if want := (Counts{InTime: 7, Late: 2, SatOut: 2, NoPress: 1}); maren.Counts != want {
		t.Errorf("Counts = %+v, want %+v", maren.Counts, want)
	}
	if !near(maren.Share(), 57.027778, 1e-6) {
		t.Errorf("Share = %v, want 57.027778", maren.Share())
	}
	if got := say(maren.Next); got != "down 62 kg: 2 late" {
		t.Errorf("Next = %q, want down to 62 kg: 35 kg can be had, 33.3 kg cannot", got)
	}
	if told := r.Told["Maren"]; told.Effort == nil || *told.Effort != 7 {
		t.Errorf("Told = %+v, want effort 7", told)
	}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(b), "effort_") || strings.Contains(string(b), "pain") {
		t.Error("JSON carries what stands in the private log")
	}
}

// TestSummarize: a latecomer's class is shorter, an effort becomes a session load,
// and somebody who never came was not here for every round.
func TestSummarize(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.Every, Every: time.Minute, Rounds: 4, Late: session.SitOut, CountIn: 10 * time.Second, Stations: []session.Station{{Movement: "forward drag", Distance: 20 * measure.Metre}}}
	plan := boathouse(spec, pile("4x20")...)
	plan.House, plan.Kit.Strip.Surface = rules(), "turf"
	plan.Parts[0].Stations[0].Legs, plan.Parts[0].Stations[0].Leg = 2, 10*measure.Metre
	for i := range plan.Parts[0].Places {
		plan.Parts[0].Places[i].Spots[0].Moves = 67 * kilo
	}
	plan.People = append(plan.People, floor.Person{Name: "Tove"})
	plan.Parts[0].Places = append(plan.Parts[0].Places, floor.Place{Spots: []floor.Spot{{}}})
	st := floor.New()
	st.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: plan}})
	give := func(c floor.Command, at time.Duration) {
		events, err := floor.Decide(st, c, at)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range events {
			st.Apply(e)
		}
	}
	give(floor.Go{}, 0)
	for k := range 4 {
		give(floor.Press{Who: "Maren"}, st.First()+time.Duration(k)*time.Minute+30*time.Second)
	}
	give(floor.Effort{Who: "Maren", Effort: 7}, st.First()+250*time.Second)
	give(floor.Pain{Who: "Eskil", Pain: 2, Site: "knee"}, st.First()+251*time.Second)
	for _, e := range floor.Advance(st, st.First()+time.Hour) {
		st.Apply(e)
	}
	s := new(Reader).Summarize(st, "run", time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC), st.First()+time.Hour)
	if len(s.Lines) != 1 || len(s.Efforts) != 1 || s.Efforts[0] != (Effort{"Maren", 7, 4}) {
		t.Fatalf("Summarize = %+v, want Maren's line and 7 for 4 minutes", s)
	}
	if l := s.Lines[0]; l.Layout != "2 x 10 m" || l.Surface != "turf" || l.Splits.Len() != 4 || l.Typical() != 30*time.Second || l.Share != 50 || l.Fade != 0 {
		t.Errorf("line = %+v", l)
	}
	r := Make(st, st.First()+time.Hour)
	if tove := r.Parts[0].Athletes[2]; tove.NotHere != 4 || tove.Length != 0 {
		t.Errorf("Tove = %+v, want not here for 4 rounds", tove.Counts)
	}
	if r.Told["Eskil"].Site != "knee" || r.Minutes("nobody") != 0 {
		t.Errorf("Told = %+v", r.Told)
	}
	if r := Make(floor.New(), 0); len(r.Parts) != 0 || r.Ends != floor.None {
		t.Errorf("Make before anything = %+v", r)
	}
}

// TestHoldInsideAStop: a stopped clock is part of neither the pull nor the stop.
func TestHoldInsideAStop(t *testing.T) {
	t.Parallel()
	spec := session.Part{Format: session.LongPull, StopCap: time.Minute, Stations: []session.Station{{Movement: "forward drag", Distance: 300 * measure.Metre}}}
	r := played(t, spec, `
		1:00 stop Maren
		1:10 hold
		2:10 resume
		2:25 go Maren
		5:15 done Maren`)
	p := r.Parts[0].Athletes[0].Pull
	// 60 s of work, a stop of 10 + 10 s around 65 s of stopped clock (5 s count-in), 170 s of work.
	if p == nil || p.Moving != secs(230) || p.Longest != secs(20) || p.LongStops != 0 || p.Elapsed != secs(250) {
		t.Errorf("Pull = %+v, want 250 s, of it 230 s moving and one stop of 20 s", p)
	}
}
