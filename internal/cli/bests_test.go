package cli

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hawser/internal/measure"
	"hawser/internal/roster"
)

// A ramp's heaviest good attempt comes to stand in the roster, once, with its tags;
// what stood there stays, comments too, and the old file is kept.
func TestRampBestsComeToTheRoster(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	const before = "# the crew\n[[athlete]]\nname = \"Ada\"\nkey = \"a\"\n[[athlete.best]]\nmovement = \"forward drag\"\nload = \"60 kg\"\nhow = \"noted\"\n"
	WriteFiles(t, dir, map[string]string{
		"roster.toml": before,
		"kit.toml":    "[strip]\nlength = \"25 m\"\nsurface = \"turf\"\n[[sled]]\nname = \"A\"\ntare = \"27 kg\"\n[[plates]]\nmass = \"10 kg\"\ncount = 12\n",
		"sessions/high.toml": "title = \"High\"\naim = \"strength\"\n[[part]]\nformat = \"ramp\"\n[[part.station]]\n" +
			"movement = \"forward drag\"\ndistance = \"30 m\"\nguess = \"120 kg\"\n",
		"presses.txt": "0:00 a\n0:12 a\n3:12 a\n3:30 a\n6:30 a\n7:00 miss Ada\n10:00 a\n10:30 miss Ada\n",
	})
	args := []string{"rehearse", "high", "--home", dir, "--presses", filepath.Join(dir, "presses.txt"), "--keep", "--at", "2026-11-18T18:00"}
	if rc := Main(args, os.Stdin, io.Discard, io.Discard); rc != Done {
		t.Fatalf("rehearse ended with %d", rc)
	}
	for again := range 2 { // a second time changes nothing
		h, err := (&shell{in: os.Stdin, talk: io.Discard, folder: dir}).open("")
		if err != nil {
			t.Fatal(err)
		}
		log, err := h.log("")
		if err != nil {
			t.Fatal(err)
		}
		added, err := h.keepBests(log)
		if err != nil {
			t.Fatal(err)
		}
		if want := []string{"Ada: forward drag 77 kg, 30 m, 2 x 15 m, turf, on A, tested 2026-11-18"}[:1-again]; !slices.Equal(added, want) {
			t.Errorf("added %q, want %q", added, want)
		}
	}
	after, err := os.ReadFile(filepath.Join(dir, "roster.toml"))
	if err != nil {
		t.Fatal(err)
	}
	// 57 kg, then 20 kg more after 12 s: 77, good; then 10 more, missed twice
	for _, want := range []string{"# the crew", `load = "60 kg"`, `load = "77 kg"`, `distance = "30 m"`, `layout = "2 x 15 m"`, `surface = "turf"`, `sled = "A"`, "date = 2026-11-18", `how = "tested"`} {
		if strings.Count(string(after), want) != 1 {
			t.Errorf("the roster holds %q %d times, want once:\n%s", want, strings.Count(string(after), want), after)
		}
	}
	old, err := os.ReadFile(filepath.Join(dir, "roster.toml.old"))
	if err != nil || string(old) != before {
		t.Errorf("roster.toml.old = %q, %v; want the file as it was", old, err)
	}
}

// TestHeavierLoadsComeToTheRoster holds that a load above all bests of its movement
// is noted, and that a lighter one, or one beside an estimate, is not.
func TestHeavierLoadsComeToTheRoster(t *testing.T) {
	t.Parallel()
	drag := func(how string, load measure.Mass) []roster.Best {
		return []roster.Best{{Movement: "forward drag", Load: load * measure.Kilogram, How: how}}
	}
	pulled := roster.Best{Movement: "forward drag", Load: 77 * measure.Kilogram, How: roster.Noted}
	for _, tt := range []struct {
		name  string
		bests []roster.Best
		best  roster.Best
		want  bool
	}{
		{"above the tested one", drag(roster.Tested, 70), pulled, true},
		{"below the tested one", drag(roster.Tested, 80), pulled, false},
		{"the same again", drag(roster.Noted, 77), pulled, false},
		{"above one of two", append(drag(roster.Tested, 70), drag(roster.Tested, 90)...), pulled, false},
		{"above an estimate", drag(roster.FromReps, 70), pulled, false},
		{"above what two pulls say", drag(roster.TwoPulls, 70), pulled, false},
		{"nothing is known", nil, pulled, false},
		{"another movement", []roster.Best{{Movement: "sled row", Load: 1}}, pulled, false},
		{"a ramp, lighter than before", drag(roster.Tested, 90), roster.Best{Movement: "forward drag", Load: 77 * measure.Kilogram, How: roster.Tested}, true},
	} {
		people := &roster.Roster{Athletes: []roster.Athlete{{Name: "Ada", Bests: tt.bests}}}
		if got := isNew(people, "Ada", &tt.best); got != tt.want {
			t.Errorf("%s: isNew = %v, want %v", tt.name, got, tt.want)
		}
	}
}
