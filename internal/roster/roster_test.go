package roster_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/coachfile"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/roster"
)

func TestParse(t *testing.T) {
	t.Parallel()
	r, err := roster.Parse("roster.toml", []byte(`
[[athlete]]
name = "Maren"
key = "m"
body_mass = "68 kg"
[[athlete.best]]
movement = "sled row"
load = "120 kg"
distance = "20 m"
layout = "2×10 m"
surface = "turf"
sled = "A"
date = 2026-10-05
how = "tested"
[[athlete.best]]
movement = "forward drag"
distance = "20 m"
how = "two pulls"
pulls = [{ load = "60 kg", time = "12.5 s" }, { load = "90 kg", time = "0:18" }]
[[athlete.best]]
movement = "deadlift"
load = "100 kg"
reps = 5
formula = "brzycki"
how = "reps"
[[athlete]]
name = "Mona"
newcomer = true
`))
	want := &roster.Roster{Path: "roster.toml", Athletes: []roster.Athlete{
		{Name: "Maren", Key: "m", BodyMass: 68 * measure.Kilogram, Bests: []roster.Best{
			{
				Movement: "sled row", Load: 120 * measure.Kilogram, Distance: 20 * measure.Metre, Layout: "2 x 10 m",
				Surface: "turf", Sled: "A", Date: time.Date(2026, 10, 5, 0, 0, 0, 0, time.UTC), How: roster.Tested,
			},
			{Movement: "forward drag", Distance: 20 * measure.Metre, How: roster.TwoPulls, Pulls: []roster.TimedPull{
				{Load: 60 * measure.Kilogram, Time: 12500 * time.Millisecond}, {Load: 90 * measure.Kilogram, Time: 18 * time.Second},
			}},
			{Movement: "deadlift", Load: 100 * measure.Kilogram, Reps: 5, Formula: "brzycki", How: roster.FromReps},
		}},
		{Name: "Mona", Key: "o", Newcomer: true},
	}}
	if err != nil || !reflect.DeepEqual(r, want) {
		t.Errorf("Parse = %+v, %v, want %+v", r, err, want)
	}
	if r.Find("Mona") != &r.Athletes[1] || r.Find("mona") != nil {
		t.Error("Find finds the wrong ones")
	}
}

func TestDeal(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ names, want string }{
		{"Maren:m Eskil: Mette:", "m e t"},
		{"Bo: Bob: Obb:", "b o a"},
		{"Åse: Øye:", "s y"},
		{"李: 李四:", "a b"},
		{"Ada: Dag:a", "d a"},
	} {
		var people []roster.Athlete
		for field := range strings.FieldsSeq(test.names) {
			name, key, _ := strings.Cut(field, ":")
			people = append(people, roster.Athlete{Name: name, Key: key})
		}
		roster.Deal(people)
		var keys []string
		for _, a := range people {
			keys = append(keys, a.Key)
		}
		if got := strings.Join(keys, " "); got != test.want {
			t.Errorf("Deal(%s) = %s, want %s", test.names, got, test.want)
		}
	}
	crowd := make([]roster.Athlete, 30)
	roster.Deal(crowd)
	seen := map[string]int{}
	for _, a := range crowd {
		seen[a.Key]++
	}
	if seen[""] != 4 || len(seen) != 27 {
		t.Errorf("30 people hold %v, want 26 letters and 4 without", seen)
	}
}

func TestResolve(t *testing.T) {
	t.Parallel()
	r, err := roster.Parse("roster.toml", []byte("[[athlete]]\nname = \"Bo\"\n"+
		"[[athlete.best]]\nmovement = \"sled row\"\nload = \"80 kg\"\ncounted = \"plates only\"\nsled = \"A\"\n"+
		"[[athlete.best]]\nmovement = \"sled row\"\nload = \"80 kg\"\ncounted = \"plates only\"\nsled = \"D\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	k := &kit.Kit{Sleds: []kit.Sled{{Name: "A", Tare: 27 * measure.Kilogram}}}
	faults := roster.Resolve(r, k)
	const want = `roster.toml: Bo's sled row counts plates only, on sled "D", which the kit does not have; name a sled of kit.toml, or write the total`
	if faults.Error() != want {
		t.Errorf("Resolve = %v, want %s", faults, want)
	}
	bests := r.Athletes[0].Bests
	if len(bests) != 1 || bests[0].Load != 107*measure.Kilogram || bests[0].Counted != roster.Total {
		t.Errorf("after Resolve: %+v, want one total of 107 kg", bests)
	}
	if again := roster.Resolve(r, k); again != nil || r.Athletes[0].Bests[0].Load != 107*measure.Kilogram {
		t.Errorf("a second Resolve changed %+v, %v", r.Athletes[0].Bests, again)
	}
}

// anyRoster draws a roster as Parse gives it.
func anyRoster(t *rapid.T) *roster.Roster {
	mass := rapid.Custom(func(t *rapid.T) measure.Mass {
		return measure.Mass(rapid.Int64Range(1, int64(measure.MaxMass)).Draw(t, "µg"))
	})
	r := &roster.Roster{Path: "roster.toml"}
	for i := range rapid.IntRange(0, 5).Draw(t, "people") {
		a := roster.Athlete{Name: fmt.Sprintf("Person \"%d\" Å", i), Key: string(rune('a' + i)), Newcomer: i%2 == 0}
		if rapid.Bool().Draw(t, "weighed") {
			a.BodyMass = mass.Draw(t, "body mass")
		}
		for range rapid.IntRange(0, 3).Draw(t, "bests") {
			b := roster.Best{
				Movement: rapid.SampledFrom(movement.Names()).Draw(t, "movement"),
				Load:     mass.Draw(t, "load"),
				Layout:   rapid.SampledFrom([]string{"", "straight", "2 x 15 m"}).Draw(t, "layout"),
				Distance: measure.Distance(rapid.Int64Range(1, int64(measure.MaxDistance)).Draw(t, "µm")),
				Sled:     "A", How: rapid.SampledFrom([]string{roster.Tested, roster.Noted, roster.FromReps, roster.TwoPulls}).Draw(t, "how"),
			}
			switch b.How {
			case roster.FromReps:
				b.Reps, b.Formula = rapid.IntRange(1, 20).Draw(t, "reps"), rapid.SampledFrom(roster.Formulas()).Draw(t, "formula")
			case roster.TwoPulls:
				b.Load, b.Counted = 0, roster.PlatesOnly
				b.Pulls = []roster.TimedPull{{Load: measure.Kilogram, Time: time.Millisecond}, {Load: 2 * measure.Kilogram, Time: time.Minute}}
			case roster.Tested:
				b.Date = time.Date(2026, 1, rapid.IntRange(1, 31).Draw(t, "day"), 0, 0, 0, 0, time.UTC)
			}
			a.Bests = append(a.Bests, b)
		}
		r.Athletes = append(r.Athletes, a)
	}
	return r
}

// A roster that is written reads back the same, and so does one grown piece by piece.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := anyRoster(t)
		back, err := roster.Parse("roster.toml", roster.Write(r))
		if err != nil || !reflect.DeepEqual(back, r) {
			t.Fatalf("Parse(Write(r)) = %+v, %v, want %+v", back, err, r)
		}
		grown := []byte("# ours\n")
		for _, a := range r.Athletes {
			bests := a.Bests
			a.Bests = nil
			if grown, err = roster.AddAthlete("roster.toml", grown, a); err != nil {
				t.Fatal(err)
			}
			for _, b := range bests {
				if grown, err = roster.AddBest("roster.toml", grown, a.Name, b); err != nil {
					t.Fatal(err)
				}
			}
		}
		if back, err = roster.Parse("roster.toml", grown); err != nil || !reflect.DeepEqual(back, r) {
			t.Fatalf("grown to %+v, %v, want %+v", back, err, r)
		}
	})
}

func TestAddBestKeepsTheRest(t *testing.T) {
	t.Parallel()
	const before = "# the crew\n\n# since 2019\n[[athlete]]\nname = \"Maren\" # coxswain\n\n[[athlete.best]]\nmovement = \"sled row\"\nload = \"120 kg\"\n\n# knee: go easy\n[[athlete]]\nname = \"Eskil\"\n"
	got, err := roster.AddBest("roster.toml", []byte(before), "Maren", roster.Best{Movement: "forward drag", Load: 165 * measure.Kilogram, How: roster.Tested})
	want := strings.Replace(before, "\n\n# knee", "\n\n[[athlete.best]]\nmovement = \"forward drag\"\nload = \"165 kg\"\nhow = \"tested\"\n\n# knee", 1)
	if err != nil || string(got) != want {
		t.Errorf("AddBest = %s, %v, want %s", got, err, want)
	}
	got, err = roster.Remove("roster.toml", []byte(before), "Eskil")
	want = before[:strings.Index(before, "# knee")]
	if err != nil || string(got) != want {
		t.Errorf("Remove = %s, %v, want %s", got, err, want)
	}
	for name, who := range map[string]string{"nobody": "Tove", "bests in brackets": "Runa"} {
		data := before + "[[athlete]]\nname = \"Runa\"\nbest = [{ movement = \"sled row\", load = \"90 kg\" }]\n"
		if got, err := roster.AddBest("roster.toml", []byte(data), who, roster.Best{Movement: "sled row", Load: measure.Kilogram}); err == nil {
			t.Errorf("%s: got %s, want an error", name, got)
		}
	}
}

func TestChangesThatCannotBeMade(t *testing.T) {
	t.Parallel()
	const ours, inBrackets, broken = "[[athlete]]\nname = \"Bo\"\n", "athlete = [{ name = \"Bo\" }]\n", "athlete\n"
	add := func(name string) func(string, []byte) ([]byte, error) {
		return func(file string, data []byte) ([]byte, error) {
			return roster.AddAthlete(file, data, roster.Athlete{Name: name})
		}
	}
	best := func(file string, data []byte) ([]byte, error) {
		return roster.AddBest(file, data, "Bo", roster.Best{Movement: "sled push"})
	}
	remove := func(file string, data []byte) ([]byte, error) { return roster.Remove(file, data, "Bo") }
	for _, test := range []struct {
		name, data string
		change     func(string, []byte) ([]byte, error)
	}{
		{"a name that is taken", ours, add("Bo")},
		{"people in brackets", inBrackets, add("Tove")},
		{"a broken file", broken, add("Tove")},
		{"a best of no movement", ours, best},
		{"a best in brackets", inBrackets, best},
		{"a best in a broken file", broken, best},
		{"one out of brackets", inBrackets, remove},
		{"one out of a broken file", broken, remove},
	} {
		if got, err := test.change("roster.toml", []byte(test.data)); err == nil || got != nil {
			t.Errorf("%s: got %s, %v, want an error alone", test.name, got, err)
		}
	}
	if got, err := roster.Remove("roster.toml", []byte(ours), "Tove"); err != nil || string(got) != ours {
		t.Errorf("Remove of nobody = %s, %v, want the file as it was", got, err)
	}
}

// A gym's whole roster, as large as the limit lets it be, is read.
func TestLargeRoster(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	people := 0
	for b.Len() < coachfile.RosterLimit-100 {
		fmt.Fprintf(&b, "[[athlete]]\nname = \"Person %d\"\n[[athlete.best]]\nmovement = \"sled row\"\nload = \"90 kg\"\n", people)
		people++
	}
	r, err := roster.Parse("roster.toml", []byte(b.String()))
	if err != nil || len(r.Athletes) != people {
		t.Errorf("Parse reads %v, want %d people", err, people)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("[[athlete]]\nname=\"Bo\"\nkey=\"b\"\n[[athlete.best]]\nmovement=\"sled row\"\nload=\"9 kg\"\nlayout=\"2 x 15 m\""))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := roster.Parse("roster.toml", data)
		if err != nil {
			return
		}
		if back, err := roster.Parse("roster.toml", roster.Write(r)); err != nil || !reflect.DeepEqual(back, r) {
			t.Errorf("Parse(Write(r)) = %+v, %v, want %+v", back, err, r)
		}
	})
}
