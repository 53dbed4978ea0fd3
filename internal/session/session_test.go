package session_test

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/roster"
	"hawser/internal/session"
)

func TestParseAsk(t *testing.T) {
	t.Parallel()
	kg, pct := measure.Kilogram, measure.Percent
	for _, test := range []struct {
		in   string
		want session.Ask
	}{
		{"60 kg", session.Ask{Basis: session.Plain, Mass: 60 * kg}},
		{"0 kg", session.Ask{Basis: session.Plain}},
		{"45 lb", session.Ask{Basis: session.Plain, Mass: 45 * measure.Pound}},
		{"44 kg each hand", session.Ask{Basis: session.EachHand, Mass: 44 * kg}},
		{"88 kg  both", session.Ask{Basis: session.BothHands, Mass: 88 * kg}},
		{"60% max", session.Ask{Basis: session.OfMax, Share: 60 * pct}},
		{"62.5 % max", session.Ask{Basis: session.OfMax, Share: 625_000}},
		{"50% body mass", session.Ask{Basis: session.OfBody, Share: 50 * pct}},
		{"50% body mass total", session.Ask{Basis: session.OfBodyTotal, Share: 50 * pct}},
		{"70% 1RM", session.Ask{Basis: session.Of1RM, Share: 70 * pct}},
		{"heaviest", session.Ask{Basis: session.Heaviest}},
	} {
		if got, err := session.ParseAsk(test.in); err != nil || got != test.want {
			t.Errorf("ParseAsk(%q) = %+v, %v, want %+v", test.in, got, err, test.want)
		}
	}
	for _, in := range []string{"", "60", "-5 kg", "0% max", "NaN% max", "2000% max", "60%", "60% of max", "0 kg each hand", "heavy", "60% max total", "\x1b[0m"} {
		if got, err := session.ParseAsk(in); err == nil {
			t.Errorf("ParseAsk(%q) = %+v, want an error", in, got)
		}
	}
}

func TestParse(t *testing.T) {
	t.Parallel()
	s, err := session.Parse("home/sessions/evening.toml", []byte(`
aim = "strength"
[[part]]
format = "sets"
rest = "2:00"
[[part.station]]
movement = "sled row"
distance = "20 m"
load = ["60% max", "70% max", "80% max", "85% max"]
on = "A"
[[part]]
format = "ratio"
rest = "1.5 x work"
rounds = 4
[[part.station]]
movement = "forward drag"
distance = "20 m"
times = 4
[[part.lane]]
on = "A"
who = ["Maren", "Eskil"]
[[part]]
format = "intervals"
work = "30 s"
rest = "0:00"
rounds = 6
[[part.station]]
movement = "forward drag"
[[part]]
format = "long pull"
[[part.station]]
movement = "forward drag"
distance = "100 m"
[[part]]
format = "ramp"
[[part.station]]
movement = "deadlift"
`))
	pct := measure.Percent
	want := &session.Session{
		Path: "home/sessions/evening.toml", Name: "evening", Title: "evening", Aim: session.Strength,
		Parts: []session.Part{
			{
				Format: session.Sets, Rest: 2 * time.Minute, Sets: 4, PressAt: "round", Allocate: "best",
				Stations: []session.Station{{
					Movement: "sled row", Distance: 20 * measure.Metre, Times: 1, On: []string{"A"},
					Loads: []session.Ask{
						{Basis: session.OfMax, Share: 60 * pct},
						{Basis: session.OfMax, Share: 70 * pct},
						{Basis: session.OfMax, Share: 80 * pct},
						{Basis: session.OfMax, Share: 85 * pct},
					},
				}},
			},
			{
				Format: session.Ratio, RestFactor: 150 * pct, Rounds: 4, PressAt: "round", Allocate: "best",
				Stations: []session.Station{{Movement: "forward drag", Distance: 20 * measure.Metre, Times: 4}},
				Lanes:    []session.LanePin{{On: "A", Who: []string{"Maren", "Eskil"}}},
			},
			{
				Format: session.Intervals, Work: 30 * time.Second, Rounds: 6, PressAt: "round", Allocate: "best",
				Stations: []session.Station{{Movement: "forward drag", Time: 30 * time.Second, Times: 1}},
			},
			{
				Format: session.LongPull, StopCap: time.Minute, PressAt: "round", Allocate: "best",
				Stations: []session.Station{{Movement: "forward drag", Distance: 100 * measure.Metre, Times: 1}},
			},
			{
				Format: session.Ramp, PressAt: "round", Allocate: "best",
				Stations: []session.Station{{Movement: "deadlift", Reps: 1, Times: 1}},
			},
		},
	}
	if err != nil || !reflect.DeepEqual(s, want) {
		t.Errorf("Parse = %+v, %v, want %+v", s, err, want)
	}
}

func TestCheck(t *testing.T) {
	t.Parallel()
	s, err := session.Parse("s.toml", []byte(`
aim = "conditioning"
[[part]]
format = "every"
every = "1:00"
rounds = 4
sides = [["Maren", "Eskli"], ["Tove"]]
[[part.station]]
movement = "sled row"
distance = "20 m"
on = ["A", "trap bar"]
[[part.station]]
movement = "trap bar deadlift"
reps = 5
on = "trap bra"
[[part.lane]]
on = "D"
who = ["Maren"]
[[part]]
format = "for time"
waves = [["Maren", "Eskil"]]
[[part.station]]
movement = "hand over hand pull"
distance = "10 m"
on = ["A", "rope"]
`))
	if err != nil {
		t.Fatal(err)
	}
	r := &roster.Roster{Athletes: []roster.Athlete{{Name: "Maren"}, {Name: "Eskil"}}}
	k := &kit.Kit{
		Sleds: []kit.Sled{{Name: "A"}}, Bars: []kit.Bar{{Name: "trap bar"}},
		Handles: []kit.Handles{{Name: "handles"}}, Ropes: []kit.Rope{{Name: "rope"}},
	}
	const want = `s.toml: part 1: sides: "Eskli" is not in roster.toml; did you mean "Eskil"?
s.toml: part 1: sides: "Tove" is not in roster.toml; add it there, or leave it out here
s.toml: part 1: lane: "D" is not in kit.toml; did you mean "A"?
s.toml: part 1, station 1: on: "trap bar" is not for a sled row; name a sled
s.toml: part 1, station 2: on: "trap bra" is not in kit.toml; did you mean "trap bar"?
s.toml: part 2: waves: there are more people in one (2) than sleds (1); write shorter waves: one person a sled, in the order of kit.toml`
	if got := session.Check(s, r, k).Error(); got != want {
		t.Errorf("Check =\n%s\nwant\n%s", got, want)
	}
	s.Parts = nil
	if faults := session.Check(s, r, k); faults != nil {
		t.Errorf("Check of nothing = %v, want none", faults)
	}
}

// anySession draws a session as Parse gives it.
func anySession(t *rapid.T) *session.Session {
	clock := rapid.Custom(func(t *rapid.T) time.Duration {
		return time.Duration(rapid.Int64Range(1, measure.MaxClock.Milliseconds()).Draw(t, "ms")) * time.Millisecond
	})
	names := [][]string{{"Maren", "Eskil"}, {`Jo "Ann"`}}
	s := &session.Session{Path: "x.toml", Name: "x", Title: "Slack water", Aim: session.Endurance}
	for range rapid.IntRange(1, 3).Draw(t, "parts") {
		if f := rapid.SampledFrom(append(session.Breaks(), "")).Draw(t, "break"); f != "" {
			s.Parts = append(s.Parts, session.Part{Format: f, Time: clock.Draw(t, "time"), PressAt: "round", Allocate: "best", Title: "Hips"})
		}
		p := session.Part{Format: rapid.SampledFrom(session.Formats()).Draw(t, "format"), PressAt: "round", Allocate: rapid.SampledFrom([]string{"best", "in order"}).Draw(t, "allocate")}
		switch p.Format {
		case session.Every:
			p.Every, p.Rounds, p.Late, p.Sides = clock.Draw(t, "every"), 8, session.DropLoad, names[:1]
		case session.Amrap:
			p.Cap, p.PressAt = clock.Draw(t, "cap"), rapid.SampledFrom([]string{"round", "station"}).Draw(t, "press")
		case session.Intervals:
			p.Work, p.Rest, p.Rounds = clock.Draw(t, "work"), clock.Draw(t, "rest"), 6
		case session.Ratio:
			p.RestFactor, p.Rounds = measure.Share(100*rapid.Int64Range(1, int64(measure.MaxShare)/100).Draw(t, "factor")), 3
		case session.Sets:
			p.Sets, p.Rest, p.RestCeiling = 4, time.Minute, time.Hour
		case session.LongPull:
			p.StopCap = clock.Draw(t, "stop cap")
		case session.ForTime:
			p.Cap, p.Waves, p.WaveEvery = clock.Draw(t, "cap"), names, clock.Draw(t, "wave every")
		case session.Ramp:
			p.Rest = clock.Draw(t, "rest")
		case session.WarmUp, session.Break: // drawn above
		}
		st := session.Station{Movement: rapid.SampledFrom(movement.Names()).Draw(t, "movement"), Times: 1, Expect: clock.Draw(t, "expect")}
		switch rapid.IntRange(0, 2).Draw(t, "amount") {
		case 0:
			st.Distance, st.Times = measure.Distance(rapid.Int64Range(1, int64(measure.MaxDistance)).Draw(t, "µm")), 3
		case 1:
			st.Reps = 5
		case 2:
			st.Time = clock.Draw(t, "time")
		}
		share := measure.Share(rapid.Int64Range(1, int64(measure.MaxShare)).Draw(t, "share"))
		mass := measure.Mass(rapid.Int64Range(1, int64(measure.MaxMass)).Draw(t, "mass"))
		st.Loads = []session.Ask{rapid.SampledFrom([]session.Ask{
			{Basis: session.Plain, Mass: mass},
			{Basis: session.EachHand, Mass: mass},
			{Basis: session.BothHands, Mass: mass},
			{Basis: session.OfMax, Share: share},
			{Basis: session.OfBody, Share: share},
			{Basis: session.OfBodyTotal, Share: share},
			{Basis: session.Of1RM, Share: share},
			{Basis: session.Heaviest},
		}).Draw(t, "load")}
		p.Stations = append(p.Stations, st)
		p.Lanes = []session.LanePin{{On: "A", Who: names[0]}}
		s.Parts = append(s.Parts, p)
	}
	return s
}

// A session that is written reads back the same, from its file and from a log.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := anySession(t)
		back, err := session.Parse("x.toml", session.Write(s))
		if err != nil || !reflect.DeepEqual(back, s) {
			t.Fatalf("Parse(Write(s)) = %+v, %v, want %+v\n%s", back, err, s, session.Write(s))
		}
		line, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var logged session.Session
		if err := json.Unmarshal(line, &logged); err != nil || !reflect.DeepEqual(&logged, s) {
			t.Fatalf("through JSON %+v, %v, want %+v", logged, err, s)
		}
	})
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("aim=\"strength\"\n[[part]]\nformat=\"ratio\"\nrest=\"2 x work\"\nrounds=3\n[[part.station]]\nmovement=\"sled row\"\nreps=5\nload=[\"60% max\"]"))
	f.Add([]byte("aim=\"endurance\"\n[[part]]\nformat=\"intervals\"\nwork=\"30 s\"\nrest=\"0 s\"\nrounds=3\nsides=[[\"A\"]]\n[[part.station]]\nmovement=\"sled row\"\non=[]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := session.Parse("x.toml", data)
		if err != nil {
			return
		}
		if back, err := session.Parse("x.toml", session.Write(s)); err != nil || !reflect.DeepEqual(back, s) {
			t.Errorf("Parse(Write(s)) = %+v, %v, want %+v", back, err, s)
		}
	})
}
