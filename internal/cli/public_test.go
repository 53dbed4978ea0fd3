package cli_test

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestPublicPageKeepsBodiesOut prints the page for the wall of every session of
// the demo home. Shares of time may stand there, no share of a body or a max; all
// its cautions have to.
func TestPublicPageKeepsBodiesOut(t *testing.T) {
	t.Parallel()
	home := "../../sessions/boathouse"
	files, err := filepath.Glob(home + "/sessions/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("sessions of the demo home: %v, %v", files, err)
	}
	shares := regexp.MustCompile(`[0-9.]+ % (idle|work|of the work)`)
	private := regexp.MustCompile(`(?i)%|\bmax\b|body mass|1RM`)
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		out, _ := hawser(t, home, "board", name, "--public")
		if !strings.Contains(out, "PART 1") {
			t.Errorf("board %s --public has no part:\n%s", name, out)
		}
		if found := private.FindString(shares.ReplaceAllString(out, "")); found != "" {
			t.Errorf("board %s --public says %q:\n%s", name, found, out)
		}
		_, cautions, _ := strings.Cut(out, "\nCautions. ")
		holds(t, "board "+name+" --public", cautions, cautionsOf(t, file))
	}
}
