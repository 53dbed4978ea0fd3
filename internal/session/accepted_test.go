package session_test

import (
	"cmp"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// accepted draws what a coach may accept: a load, metres, an interval or rounds.
func accepted(t *rapid.T) session.Accepted {
	day := func(what string) time.Time {
		return time.Date(2026, 1, 1+rapid.IntRange(0, 400).Draw(t, what), 0, 0, 0, 0, time.UTC)
	}
	what := rapid.IntRange(0, 3).Draw(t, "what")
	if what >= 2 {
		a := session.Accepted{
			Session: rapid.SampledFrom([]string{"slack-water", "ebb tide"}).Draw(t, "session"), Part: rapid.IntRange(1, 3).Draw(t, "part"), Date: day("day"),
		}
		if what == 2 {
			a.Every = time.Duration(rapid.IntRange(1, 3600).Draw(t, "every")) * time.Second
		} else {
			a.Rounds, a.Week = rapid.IntRange(1, 500).Draw(t, "rounds"), day("week")
		}
		return a
	}
	name := rapid.SampledFrom([]string{"Maren", "Jo Ann", `Kå"re\`, "Ýlva"})
	a := session.Accepted{
		Athlete: name.Draw(t, "athlete"), Session: rapid.SampledFrom([]string{"slack-water", "ebb tide"}).Draw(t, "session"),
		Part: rapid.IntRange(1, 3).Draw(t, "part"), Station: rapid.IntRange(1, 2).Draw(t, "station"),
		Movement: movement.All()[rapid.IntRange(0, len(movement.All())-1).Draw(t, "movement")].Name,
		Date:     day("day"),
	}
	if what == 0 {
		a.Load = measure.Mass(rapid.Int64Range(1, int64(500*measure.Kilogram)).Draw(t, "load"))
	} else {
		a.Distance = measure.Distance(rapid.Int64Range(1, int64(800*measure.Metre)).Draw(t, "metres"))
	}
	return a
}

// TestAccept holds that next.toml says what was accepted, the newest at each place
// and nothing else, to the microgram, however often it was written.
func TestAccept(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var src []byte
		var want []session.Accepted
		for range rapid.IntRange(1, 8).Draw(t, "how many") {
			a := accepted(t)
			if rapid.IntRange(0, 4).Draw(t, "rejected") == 0 {
				want = slices.DeleteFunc(want, func(b session.Accepted) bool { return a.SamePlace(&b) })
				got, err := session.Reject("next.toml", src, a.SamePlace)
				if err != nil {
					t.Fatal(err)
				}
				src = got
				continue
			}
			got, err := session.Accept("next.toml", src, a)
			if err != nil {
				t.Fatal(err)
			}
			src = got
			want = append(slices.DeleteFunc(want, func(b session.Accepted) bool { return a.SamePlace(&b) }), a)
		}
		slices.SortStableFunc(want, func(a, b session.Accepted) int { // those of one person come first
			return cmp.Compare(min(a.Station, 1), min(b.Station, 1)) * -1
		})
		got, err := session.ParseAccepted("next.toml", src)
		if err != nil || !slices.Equal(got, want) {
			t.Fatalf("next.toml says %+v, %v, want %+v\n%s", got, err, want, src)
		}
	})
}

// TestAcceptKeepsComments holds that what the coach wrote stays, byte by byte.
func TestAcceptKeepsComments(t *testing.T) {
	t.Parallel()
	const mine = `# mine

# after the holidays
[[next]]
athlete = "Tove"
session = "slack-water"
movement = "sled row"
load = "52.5 kg" # sled and all
date = 2026-11-18

# for Maren
[[next]]
athlete = "Maren"
session = "slack-water"
movement = "sled row"
load = "66 kg"
date = 2026-11-18
`
	a := session.Accepted{
		Athlete: "Maren", Session: "slack-water", Part: 1, Station: 1, Movement: "sled row",
		Load: 70 * measure.Kilogram, Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
	}
	got, err := session.Accept("next.toml", []byte(mine), a)
	want := mine[:strings.Index(mine, "\n# for Maren")] + `
[[next]]
athlete = "Maren"
session = "slack-water"
part = 1
station = 1
movement = "sled row"
load = "70 kg"
date = 2026-11-25
`
	if err != nil || string(got) != want {
		t.Errorf("Accept = %v\n%s\nwant\n%s", err, got, want)
	}
}

func TestParseAcceptedFaults(t *testing.T) {
	t.Parallel()
	const whole = "[[next]]\nathlete = \"Maren\"\nsession = \"slack-water\"\nmovement = \"sled row\"\nload = \"70 kg\"\ndate = 2026-11-25\n"
	for _, test := range []struct{ from, to, want string }{
		{`movement = "sled row"`, `movement = "sled roww"`, `next.toml:4:12: "sled roww" is not a movement`},
		{`load = "70 kg"`, `load = "0 kg"`, `"0 kg" is nothing`},
		{`load = "70 kg"`, `load = "60% max"`, "next.toml:5:8: load: "},
		{"date = 2026-11-25\n", "", `next.toml:1:3: "date" is missing`},
		{"date", "dat", `"dat" is not a key here; write "date"`},
		{"session", "part = 0\nsession", "part is not a whole number that fits"},
		{`load = "70 kg"` + "\n", "", `next.toml:1:3: one of load and distance is accepted at a time; write load = "72 kg" or distance = "240 m"`},
		{`load = "70 kg"`, "load = \"70 kg\"\ndistance = \"200 m\"", "one of load and distance is accepted at a time"},
		{`load = "70 kg"`, `distance = "0 m"`, `"0 m" is nothing`},
		{whole, "[[class]]\nsession = \"a\"\nrounds = 4\ndate = 2026-11-25\n", `"week" is missing`},
		{whole, "[[class]]\nsession = \"a\"\ndate = 2026-11-25\n", "one of every and rounds is accepted at a time"},
	} {
		_, err := session.ParseAccepted("next.toml", []byte(strings.Replace(whole, test.from, test.to, 1)))
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("with %q: %v, want %q in it", test.to, err, test.want)
		}
	}
}

// TestWith: what was accepted for a class goes for its session and part alone, rounds
// for their week alone, and the session itself stays as it is written.
func TestWith(t *testing.T) {
	t.Parallel()
	s := &session.Session{Name: "slack-water", Parts: []session.Part{
		{Format: session.Every, Every: time.Minute, Rounds: 8}, {Format: session.Sets, Sets: 5}, {Format: session.LongPull},
	}}
	week := time.Date(2026, 11, 23, 0, 0, 0, 0, time.UTC)
	all := []session.Accepted{
		{Session: "slack-water", Part: 1, Every: 75 * time.Second},
		{Session: "slack-water", Part: 1, Rounds: 5, Week: week},
		{Session: "slack-water", Part: 2, Rounds: 3, Week: week},
		{Session: "slack-water", Part: 3, Every: time.Minute},
		{Session: "slack-water", Part: 4, Rounds: 2, Week: week},
		{Session: "ebb-tide", Part: 1, Every: time.Hour},
		{Session: "slack-water", Part: 1, Athlete: "Maren", Load: measure.Kilogram},
	}
	for _, tt := range []struct {
		day                 time.Time
		every               time.Duration
		rounds, sets, taken int
	}{
		{week, 75 * time.Second, 5, 3, 3},
		{week.AddDate(0, 0, 6), 75 * time.Second, 5, 3, 3},
		{week.AddDate(0, 0, 7), 75 * time.Second, 8, 5, 1},
		{week.AddDate(0, 0, -1), 75 * time.Second, 8, 5, 1},
	} {
		got, taken := s.With(session.Standing(all, tt.day))
		if got.Parts[0].Every != tt.every || got.Parts[0].Rounds != tt.rounds || got.Parts[1].Sets != tt.sets || got.Parts[2].Every != 0 || len(taken) != tt.taken {
			t.Errorf("on %s: %+v, %d taken, want %+v", tt.day.Format(time.DateOnly), got.Parts, len(taken), tt)
		}
	}
	if s.Parts[0].Every != time.Minute || s.Parts[1].Sets != 5 {
		t.Errorf("the session was changed: %+v", s.Parts)
	}
}

func FuzzParseAccepted(f *testing.F) {
	f.Add([]byte("[[next]]\nathlete = \"Maren\"\nsession = \"slack-water\"\nmovement = \"sled row\"\nload = \"70 kg\"\ndate = 2026-11-25\n"))
	f.Add([]byte("next = [{ athlete = \"Maren\" }]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		all, err := session.ParseAccepted("next.toml", data)
		if err != nil {
			return
		}
		none, err := session.Reject("next.toml", data, func(*session.Accepted) bool { return true })
		if err != nil {
			return // written in brackets: the coach's to change
		}
		if left, err := session.ParseAccepted("next.toml", none); err != nil || len(left) > 0 {
			t.Errorf("of %d, %d are left after all were taken out: %v", len(all), len(left), err)
		}
	})
}
