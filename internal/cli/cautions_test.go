package cli_test

import (
	"os"
	"strings"
	"testing"

	"hawser/internal/movement"
	"hawser/internal/session"
)

// cautionsOf are those that a board of the session has to have: of its movements, and
// of every class. Kasper of the crew is a newcomer.
func cautionsOf(t *testing.T, file string) []string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	s, err := session.Parse(file, data)
	if err != nil {
		t.Fatal(err)
	}
	want := movement.General()
	for _, p := range s.Parts {
		for _, st := range p.Stations {
			m, _ := movement.Find(st.Movement)
			want = append(want, m.Cautions...)
		}
	}
	return want
}

// TestCautionsStandOnTheBoard is for the coach's own; the public ones are held to
// theirs where they are dealt.
func TestCautionsStandOnTheBoard(t *testing.T) {
	t.Parallel()
	home := "../../sessions/boathouse"
	out, _ := hawser(t, home, "board", "fog-signal")
	_, cautions, _ := strings.Cut(out, "\nCautions. ")
	holds(t, "board fog-signal", cautions, cautionsOf(t, home+"/sessions/fog-signal.toml"))
}

// TestCautionsStandInHelp: the page of the movements has all there are.
func TestCautionsStandInHelp(t *testing.T) {
	t.Parallel()
	out, _ := hawser(t, "../../sessions/boathouse", "help", "movements")
	want := movement.General()
	for _, m := range movement.All() {
		want = append(append(append(want, m.Cautions...), m.Tires...), m.StandsIn...)
	}
	holds(t, "help movements", out, want)
	for line := range strings.Lines(out) {
		if len([]rune(line)) > 81 {
			t.Errorf("a line of help movements is longer than 80 columns: %q", line)
		}
	}
}

// TestCautionsStandInTheReadme: a stranger reads them before the program is there.
func TestCautionsStandInTheReadme(t *testing.T) {
	t.Parallel()
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, cautions, _ := strings.Cut(string(page), "\n## Cautions\n")
	cautions, _, _ = strings.Cut(cautions, "\n## ")
	holds(t, "the README", cautions, []string{
		"not medical advice", "A qualified coach, local rules and licensed practice decide",
		"strap, knot and hook before the first heavy pull", "Nobody stands behind a backward puller", "in one direction", "clear lane",
		"foot block", "on the flat only, with a driver on the brake", "Stop at pain, a slip or dizziness", "Chest pain or a faint: call for help",
		"In heat", "A newcomer does half", "Under 18, pregnant, or with a heart or blood pressure history: cleared", "above 100 % of a max",
		"never raises a load by itself", "never starts somebody again who was stopped", "never hides that a number is estimated, typed, or from another surface",
	})
}

// holds wants every text on a page, wherever its lines break.
func holds(t *testing.T, page, text string, want []string) {
	t.Helper()
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	for _, w := range want {
		if !strings.Contains(text, strings.ToLower(w)) {
			t.Errorf("%s lacks %q:\n%s", page, w, text)
		}
	}
}
