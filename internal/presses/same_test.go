package presses_test

import (
	"fmt"
	"io/fs"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/presses"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/sessions"
)

// demo is the plan of one of the demo home's sessions.
func demo(t *testing.T, file string, here []string) *floor.Plan {
	t.Helper()
	read := func(name string) []byte {
		src, err := fs.ReadFile(sessions.Home(), name)
		if err != nil {
			t.Fatal(err)
		}
		return src
	}
	s, err := session.Parse(file, read(file))
	if err != nil {
		t.Fatal(err)
	}
	r, err := roster.Parse("roster.toml", read("roster.toml"))
	if err != nil {
		t.Fatal(err)
	}
	k, err := kit.Parse("kit.toml", read("kit.toml"))
	if err != nil {
		t.Fatal(err)
	}
	h := house.Default()
	b := lanes.Make(lanes.Input{Session: s, Roster: r, Kit: k, House: h, Here: here})
	return floor.MakePlan(b, r, k, h, here)
}

// verbs is a line of each kind, names that fit anyone.
var verbs = []string{
	"m", "e", "t", "k", "1", "2", "3", "hold", "resume", "resume", "again", "undo", "arrive Tove warm-up 1:00",
	"arrive Kasper", "leave Eskil", "drop Maren 10%", "by-hand Maren 1 0:39", "no-time Eskil 1", "stop Maren", "go Maren",
	"done Maren", "off Eskil", "miss Maren", "partial Maren 10 m", "effort Maren 7", "pain Eskil 3 knee", "load Maren +5 kg",
	"strike Maren 1 helped", "give Maren 1 Eskil", "swap Eskil backward drag", "out A", "back A", "guest Ask",
	"longer 1:00", "shorter 0:30", "every 1:30", "metres 12 m", "skip",
}

// seen is all that anyone can see of a run at a time.
func seen(s *floor.State, now time.Duration) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%+v\n", s.Face(now))
	for part := range s.Plan().Parts {
		for i := range s.Plan().People {
			fmt.Fprintf(&b, "%+v\n", s.Rounds(part+1, i, now))
		}
		for _, tile := range s.Tiles(nil, part+1, now) {
			tile.Next, tile.More = nil, nil // they are pointers
			fmt.Fprintf(&b, "%+v\n", tile)
		}
	}
	return b.String()
}

// A class rehearsed from a file, run live with the clock ticking in between, replayed from
// its events, and taken up again in the middle is one and the same.
func TestFourWaysAreTheSame(t *testing.T) {
	t.Parallel()
	files, err := fs.Glob(sessions.Home(), "sessions/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	plans := map[string]*floor.Plan{}
	for _, file := range files {
		plans[file] = demo(t, file, []string{"Maren", "Eskil", "Iben", "Runa"})
	}
	rapid.Check(t, func(t *rapid.T) {
		opened := floor.Opened{Plan: plans[rapid.SampledFrom(files).Draw(t, "session")]}
		var text strings.Builder
		at := time.Duration(0)
		for range rapid.IntRange(1, 40).Draw(t, "lines") {
			at += time.Duration(rapid.IntRange(2, 900).Draw(t, "gap")) * 100 * time.Millisecond // slower than a held key
			verb := rapid.SampledFrom(verbs).Draw(t, "verb")
			if verb == "guest Ask" && strings.Contains(text.String(), verb) {
				verb = "m" // a name is taken once
			}
			fmt.Fprintf(&text, "%d:%04.1f %s\n", int(at.Minutes()), (at % time.Minute).Seconds(), verb)
		}
		cast := presses.Cast{Sleds: []string{"A", "B", "C"}}
		for _, p := range opened.Plan.People {
			cast.People = append(cast.People, p.Name)
		}
		lines, err := presses.Parse("class", []byte(text.String()), cast)
		if err != nil {
			t.Fatalf("%v in\n%s", err, text.String())
		}
		rehearsed := presses.Play(opened, lines)
		want := seen(rehearsed.State, rehearsed.Now)

		live, log := floor.New(), []floor.Stamped(nil)
		keep := func(events []floor.Stamped) {
			for _, e := range events {
				live.Apply(e)
			}
			log = append(log, events...)
		}
		keep([]floor.Stamped{{N: 1, E: opened}})
		events, _ := floor.Decide(live, floor.Go{}, 0)
		keep(events)
		first, now := live.First(), time.Duration(0)
		for _, line := range lines {
			for now < first+line.At {
				now = min(first+line.At, now+time.Duration(rapid.IntRange(1, 90).Draw(t, "tick"))*time.Second)
				keep(floor.Advance(live, now))
			}
			if c := commandOf(line, live.Plan()); c != nil {
				events, _ := floor.Decide(live, c, now)
				keep(events)
			}
		}
		keep(floor.Advance(live, rehearsed.Now))
		if !reflect.DeepEqual(log, rehearsed.Events) {
			t.Fatalf("live\n%+v\nrehearsed\n%+v", log, rehearsed.Events)
		}
		cut := rapid.IntRange(1, len(log)).Draw(t, "cut")
		again := floor.New()
		for i, e := range log {
			if again.Apply(e); i == cut {
				seen(again, e.T) // a look while it is taken up changes nothing
			}
		}
		for name, s := range map[string]*floor.State{"live": live, "replayed": again} {
			if got := seen(s, rehearsed.Now); got != want {
				t.Fatalf("%s\n%s\nrehearsed\n%s", name, got, want)
			}
		}
	})
}

// commandOf is what the keyboard of a run makes of a line, nil for a key nobody has.
func commandOf(line presses.Line, plan *floor.Plan) floor.Command {
	if line.Key == 0 {
		return line.Command
	}
	if n := int(line.Key - '1'); n >= 0 && n < len(plan.Kit.Sleds) {
		return floor.PressSled{On: plan.Kit.Sleds[n].Name}
	}
	for _, p := range plan.People {
		if p.Key == string(line.Key) {
			return floor.Press{Who: p.Name}
		}
	}
	return nil
}
