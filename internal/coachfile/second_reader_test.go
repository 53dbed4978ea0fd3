package coachfile_test

import (
	"bytes"
	"reflect"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"pgregory.net/rapid"

	"hawser/internal/coachfile"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/internal/week"
)

// oddly is a name that a careless writer of TOML breaks on.
func oddly() *rapid.Generator[string] {
	piece := rapid.SampledFrom([]string{`"`, `\`, `\u0041`, `\"`, "'", "'''", "#", "[x]", "=", ",", "{}", "Ø", "नमस्\u200dते", "𝄞", "x\u0302", "a", " b", "1", "."})
	return rapid.Custom(func(t *rapid.T) string {
		name := "n"
		for range rapid.IntRange(0, 5).Draw(t, "pieces") {
			name += piece.Draw(t, "piece")
		}
		return name
	})
}

// alike has another TOML library read a file, write what it read in its own way,
// and wants us to read the same from both. It returns what we read.
func alike[T any](t *rapid.T, data []byte, parse func(string, []byte) (T, error)) T {
	t.Helper()
	ours, err := parse("f.toml", data)
	if err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	var tree map[string]any
	if _, err := toml.Decode(string(data), &tree); err != nil {
		t.Fatalf("the other library: %v in\n%s", err, data)
	}
	var again bytes.Buffer
	if err := toml.NewEncoder(&again).Encode(tree); err != nil {
		t.Fatal(err)
	}
	theirs, err := parse("f.toml", again.Bytes())
	if err != nil || !reflect.DeepEqual(ours, theirs) {
		t.Fatalf("%v; of\n%s\nwe read %+v, from the other library's\n%s\n%+v", err, data, ours, again.Bytes(), theirs)
	}
	return ours
}

// Whatever is written, a second reader of TOML reads as ours does: fresh files and
// files that were added to, with names that need care.
func TestASecondReader(t *testing.T) {
	t.Parallel()
	date := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(oddly(), 4, 4, rapid.ID).Draw(t, "names")
		must := func(data []byte, err error) []byte {
			if err != nil {
				t.Fatalf("%q: %v", names, err)
			}
			return data
		}

		people := must(roster.AddAthlete("f.toml", []byte("# a comment\n"), roster.Athlete{Name: names[0], Key: "m", BodyMass: 68 * measure.Kilogram, Newcomer: true}))
		people = must(roster.AddAthlete("f.toml", people, roster.Athlete{Name: names[1] + "x"}))
		people = must(roster.AddBest("f.toml", people, names[0], roster.Best{
			Movement: "sled row", Distance: 20 * measure.Metre, Layout: "2 x 10 m", Surface: names[2], Sled: names[3], Date: date, How: roster.TwoPulls,
			Pulls: []roster.TimedPull{{Load: 80 * measure.Kilogram, Time: 12_400 * time.Millisecond}, {Load: 45 * measure.Pound, Time: 9 * time.Second}},
		}))
		r := alike(t, people, roster.Parse)
		if len(r.Athletes) != 2 || len(r.Athletes[0].Bests) != 1 {
			t.Fatalf("%+v", r)
		}
		alike(t, roster.Write(r), roster.Parse)
		alike(t, must(roster.Remove("f.toml", people, r.Athletes[0].Name)), roster.Parse)

		k := &kit.Kit{
			Step: 5 * measure.Pound, Strip: kit.Strip{Length: 25 * measure.Metre, Surface: names[0], Lanes: 3},
			Bars: []kit.Bar{{Name: names[1], Kind: "trap bar", Tare: 25 * measure.Kilogram, Count: 1}},
			Surfaces: []kit.Surface{{Name: names[2], PullHere: 40 * measure.Kilogram, PullOn: map[string]measure.Mass{
				names[0]: 28 * measure.Kilogram, names[3]: 30 * measure.Kilogram,
			}}},
		}
		floor := must(kit.AddSled("f.toml", kit.Write(k), kit.Sled{Name: names[3], Tare: 27 * measure.Kilogram, Posts: 2}))
		floor = must(kit.AddPlates("f.toml", floor, kit.Plates{Mass: 45 * measure.Pound, Count: 4}))
		floor = must(kit.AddPlates("f.toml", floor, kit.Plates{Mass: 45 * measure.Pound, Count: 2}))
		if got := alike(t, floor, kit.Parse); got.Plates[0].Count != 6 {
			t.Fatalf("%+v", got)
		}

		rules := house.Default()
		rules.Emergency, rules.Address = names[0], names[1]
		alike(t, house.Write(rules), house.Parse)

		every := session.Part{
			Title: names[0], Format: session.Every, Every: 75 * time.Second, Rounds: 8, PressAt: "round", Allocate: "best", Sides: [][]string{{names[0], names[1]}, {names[2]}},
			Stations: []session.Station{
				{Movement: "sled row", Distance: 20 * measure.Metre, Times: 2, On: names[:2], Loads: []session.Ask{{Basis: session.OfMax, Share: 55 * measure.Percent}}},
				{Movement: "deadlift", Reps: 5},
			},
			Lanes: []session.LanePin{{On: names[3], Who: names[:2]}},
		}
		alike(t, session.Write(&session.Session{Title: names[1], Aim: session.Conditioning, Parts: []session.Part{every}}), session.Parse)

		days := must(week.AddDay("f.toml", week.Write(&week.File{BlockStarts: date}), week.Day{
			Weekday: time.Monday, Main: []string{"press", "pull"}, At: 18 * time.Hour, Pull: names[:2],
		}))
		alike(t, days, week.Parse)

		var next []byte
		for _, who := range names[:3] {
			next = must(session.Accept("f.toml", next, session.Accepted{
				Athlete: who, Session: names[3], Part: 1, Station: 2, Movement: "sled row", Load: 72 * measure.Kilogram, Date: date,
			}))
		}
		next = must(session.Accept("f.toml", next, session.Accepted{Session: names[3], Part: 1, Rounds: 5, Week: date.AddDate(0, 0, 5), Date: date}))
		who := alike(t, next, session.ParseAccepted)[0].Athlete
		next = must(session.Reject("f.toml", next, func(a *session.Accepted) bool { return a.Athlete == who }))
		if got := alike(t, next, session.ParseAccepted); len(got) != 3 || coachfile.CheckText(got[0].Athlete) != nil {
			t.Fatalf("%+v", got)
		}
	})
}
