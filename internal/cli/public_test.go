package cli_test

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hawser/internal/cli"
)

// TestPublicPageKeepsBodiesOut prints the page for the wall of every session of
// the demo home: no percentage of anything stands on it, no max and no body; all its
// cautions have to.
func TestPublicPageKeepsBodiesOut(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a board of every demo session")
	}
	home := "../../sessions/boathouse"
	files, err := filepath.Glob(home + "/sessions/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("sessions of the demo home: %v, %v", files, err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		_, cautions, _ := strings.Cut(keepsOut(t, home, name), "\nCautions. ")
		holds(t, "board "+name+" --public", cautions, cautionsOf(t, file))
	}
}

// keepsOut prints one public page and looks for what must not stand on it.
func keepsOut(t *testing.T, home, name string, secrets ...string) string {
	t.Helper()
	out, _ := hawser(t, home, "board", name, "--public")
	if !strings.Contains(out, "PART 1") {
		t.Errorf("board %s --public has no part:\n%s", name, out)
	}
	if found := private.FindString(out); found != "" {
		t.Errorf("board %s --public says %q:\n%s", name, found, out)
	}
	for _, secret := range secrets {
		if strings.Contains(out, secret) {
			t.Errorf("board %s --public says %s:\n%s", name, secret, out)
		}
	}
	return out
}

var private = regexp.MustCompile(`(?i)%|\bmax\b|body mass|1RM`)

// TestPublicPageOfEstimates: a max by two pulls, one by repetitions, one that today's
// load is over, one tested elsewhere, a load by body mass and one that was accepted
// each bring a note for the coach; the public page has none of their figures.
func TestPublicPageOfEstimates(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	cli.WriteFiles(t, home, map[string]string{
		"kit.toml": "[strip]\nlength = \"25 m\"\nsurface = \"rubber\"\n[[sled]]\nname = \"A\"\ntare = \"27 kg\"\n[[sled]]\nname = \"B\"\ntare = \"31 kg\"\n" +
			"[[plates]]\nmass = \"20 kg\"\ncount = 12\n[[plates]]\nmass = \"5 kg\"\ncount = 12\n[[surface]]\nname = \"rubber\"\npull_here = \"40 kg\"\npull_on = { turf = \"28 kg\" }\n",
		"roster.toml": `[[athlete]]
name = "Ada"
body_mass = "83.7 kg"
[[athlete.best]]
movement = "forward drag"
distance = "20 m"
surface = "rubber"
date = 2026-10-05
how = "two pulls"
pulls = [ { load = "61.3 kg", time = "9.3 s" }, { load = "101.3 kg", time = "14.9 s" } ]
[[athlete]]
name = "Bo"
body_mass = "71.9 kg"
[[athlete.best]]
movement = "forward drag"
load = "131.3 kg"
distance = "20 m"
surface = "turf"
sled = "B"
date = 2026-10-05
how = "tested"
[[athlete]]
name = "Cy"
body_mass = "66.1 kg"
newcomer = true
[[athlete.best]]
movement = "forward drag"
load = "51.7 kg"
distance = "30 m"
layout = "2 x 15 m"
surface = "rubber"
date = 2026-10-05
how = "tested"
`,
		"next.toml": "[[next]]\nathlete = \"Bo\"\nsession = \"shares\"\nmovement = \"forward drag\"\nload = \"96 kg\"\ndate = 2026-11-18\n",
		"sessions/shares.toml": "title = \"Shares\"\naim = \"strength\"\n[[part]]\nformat = \"every\"\nevery = \"0:30\"\nrounds = 4\n" +
			"[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = \"60% max\"\nexpect = \"20 s\"\n",
		"sessions/bodies.toml": "title = \"Bodies\"\naim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"3:00\"\nrounds = 4\n" +
			"[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = \"75% body mass\"\nexpect = \"20 s\"\n",
	})
	for name, notes := range map[string][]string{
		"shares": {" % max est\n", "only estimated", "was accepted on 2026-11-18", "turf", "for strength"},
		"bodies": {"of the max", "turf"},
	} {
		coach, _ := hawser(t, home, "board", name)
		for _, note := range notes {
			if !strings.Contains(coach, note) {
				t.Errorf("the coach's page of %s lacks %q:\n%s", name, note, coach)
			}
		}
		page := keepsOut(t, home, name, "83.7", "71.9", "66.1", "131.3", "51.7", "61.3", "101.3", "91.9", "accepted", "tested")
		if name == "shares" && !strings.Contains(page, " est\n") {
			t.Errorf("the public page hides that a load is estimated:\n%s", page)
		}
	}
}

// TestOnePage: sixteen people at three stations go on one sheet of 66 lines in 80
// columns, each with a stack beside the name, for the coach and for the wall.
func TestOnePage(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	var roster, kit strings.Builder
	names := strings.Fields("Maren Eskil Tove Halvard Iben Runa Sander Ylva Kasper Njord Astrid Frode Liv Peder Signe Birk")
	for i, name := range names {
		fmt.Fprintf(&roster, "[[athlete]]\nname = %q\nbody_mass = \"%d kg\"\n[[athlete.best]]\nmovement = \"sled row\"\nload = \"%d kg\"\ndistance = \"20 m\"\n", name, 60+3*i, 100+7*i)
	}
	kit.WriteString("step = \"2.5 kg\"\n[strip]\nlength = \"25 m\"\nsurface = \"turf\"\n")
	for i, tare := range []int{27, 34, 30, 41} {
		fmt.Fprintf(&kit, "[[sled]]\nname = \"%c\"\ntare = \"%d kg\"\n", 'A'+i, tare)
	}
	kit.WriteString("[[handles]]\nname = \"farmers handles\"\ntare = \"9 kg\"\ncount = 2\n")
	for i, p := range []string{"20 kg", "10 kg", "5 kg", "2.5 kg"} {
		fmt.Fprintf(&kit, "[[plates]]\nmass = %q\ncount = %d\n", p, 14-2*i)
	}
	const station = "[[part.station]]\nmovement = %q\ndistance = \"20 m\"\nload = %q\nexpect = \"20 s\"\n"
	class := "title = \"Three quays\"\naim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"3:00\"\nrounds = 9\n" +
		fmt.Sprintf(station, "forward drag", "50% body mass") + fmt.Sprintf(station, "sled row", "55% max") + fmt.Sprintf(station, "handles carry", "29 kg each hand")
	cli.WriteFiles(t, home, map[string]string{"kit.toml": kit.String(), "roster.toml": roster.String(), "quays.toml": class})
	for _, args := range [][]string{nil, {"--public"}} {
		page, _ := hawser(t, home, append([]string{"board", filepath.Join(home, "quays.toml")}, args...)...)
		if n := strings.Count(page, "\n"); n > 66 {
			t.Errorf("board %v has %d lines, want 66 at most:\n%s", args, n, page)
		}
		for line := range strings.SplitSeq(page, "\n") {
			if len(line) > 80 {
				t.Errorf("board %v has a line of %d columns: %s", args, len(line), line)
			}
		}
		for _, name := range names {
			if n := len(regexp.MustCompile(`\) `+name+` +[0-9+x.]+ kg `).FindAllString(page, -1)); n != 3 {
				t.Errorf("board %v has %s with a stack %d times, want 3", args, name, n)
			}
		}
	}
}
