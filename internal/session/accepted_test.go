package session_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// accepted draws a load that a coach may accept.
func accepted(t *rapid.T) session.Accepted {
	name := rapid.SampledFrom([]string{"Maren", "Jo Ann", `Kå"re\`, "Ýlva"})
	return session.Accepted{
		Athlete: name.Draw(t, "athlete"), Session: rapid.SampledFrom([]string{"slack-water", "ebb tide"}).Draw(t, "session"),
		Part: rapid.IntRange(1, 3).Draw(t, "part"), Station: rapid.IntRange(1, 2).Draw(t, "station"),
		Movement: movement.All()[rapid.IntRange(0, len(movement.All())-1).Draw(t, "movement")].Name,
		Load:     measure.Mass(rapid.Int64Range(1, int64(500*measure.Kilogram)).Draw(t, "load")),
		Date:     time.Date(2026, 1, 1+rapid.IntRange(0, 400).Draw(t, "day"), 0, 0, 0, 0, time.UTC),
	}
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
	} {
		_, err := session.ParseAccepted("next.toml", []byte(strings.Replace(whole, test.from, test.to, 1)))
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("with %q: %v, want %q in it", test.to, err, test.want)
		}
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
