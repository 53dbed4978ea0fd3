package cli

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A ramp's heaviest good attempt comes to stand in the roster, once, with its tags;
// what stood there stays, comments too, and the old file is kept.
func TestRampBestsComeToTheRoster(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	const before = "# the crew\n[[athlete]]\nname = \"Ada\"\nkey = \"a\"\n[[athlete.best]]\nmovement = \"forward drag\"\nload = \"60 kg\"\nhow = \"noted\"\n"
	for name, text := range map[string]string{
		"roster.toml": before,
		"kit.toml":    "[strip]\nlength = \"25 m\"\nsurface = \"turf\"\n[[sled]]\nname = \"A\"\ntare = \"27 kg\"\n[[plates]]\nmass = \"10 kg\"\ncount = 12\n",
		"sessions/high.toml": "title = \"High\"\naim = \"strength\"\n[[part]]\nformat = \"ramp\"\n[[part.station]]\n" +
			"movement = \"forward drag\"\ndistance = \"30 m\"\nguess = \"120 kg\"\n",
		"presses.txt": "0:00 a\n0:12 a\n3:12 a\n3:30 a\n6:30 a\n7:00 miss Ada\n10:00 a\n10:30 miss Ada\n",
	} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	args := []string{"rehearse", "high", "--home", dir, "--presses", filepath.Join(dir, "presses.txt"), "--keep", "--at", "2026-11-18T18:00"}
	if rc := Main(args, os.Stdin, io.Discard, io.Discard); rc != Done {
		t.Fatalf("rehearse ended with %d", rc)
	}
	for range 2 { // a second time changes nothing
		h, err := (&shell{in: os.Stdin, talk: io.Discard, folder: dir}).open("")
		if err != nil {
			t.Fatal(err)
		}
		log, err := h.log("")
		if err != nil {
			t.Fatal(err)
		}
		if err := h.keepBests(log); err != nil {
			t.Fatal(err)
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
