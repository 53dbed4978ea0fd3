package cli

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/tui"
)

// ownHome is a fresh home of a coach.
func ownHome(t *testing.T, units string) (*shell, *home) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "own")
	if err := writeHome(dir, units); err != nil {
		t.Fatal(err)
	}
	s := &shell{talk: io.Discard, folder: dir}
	h, err := s.open("")
	if err != nil {
		t.Fatal(err)
	}
	return s, h
}

func source(t *testing.T, h *home, file string) string {
	t.Helper()
	src, err := os.ReadFile(filepath.Join(h.path, filepath.FromSlash(file)))
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// A form's change keeps what an editor wrote a moment ago, keeps the file as it
// was, and hands back the home as it now is.
func TestChange(t *testing.T) {
	t.Parallel()
	s, h := ownHome(t, "kg")
	edited := source(t, h, "roster.toml") + "\n# written in an editor while the form was open\n"
	if err := os.WriteFile(filepath.Join(h.path, "roster.toml"), []byte(edited), 0o600); err != nil {
		t.Fatal(err)
	}
	w, err := s.change(h, tui.Change{File: "roster.toml", Edit: func(src []byte) ([]byte, error) {
		return roster.AddAthlete("roster.toml", src, roster.Athlete{Name: "Maren"})
	}})
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Roster.Athletes) != 1 || w.Change == nil || w.Board == nil || !strings.Contains(w.Notice, "no sled") {
		t.Errorf("the home has %v, says %q", w.Roster.Athletes, w.Notice)
	}
	if got, want := source(t, h, "roster.toml"), edited+"\n[[athlete]]\nname = \"Maren\"\n"; got != want {
		t.Errorf("roster.toml is\n%s\nwant\n%s", got, want)
	}
	if got := source(t, h, "roster.toml.old"); got != edited {
		t.Errorf("roster.toml.old is\n%s", got)
	}
	info, err := os.Stat(filepath.Join(h.path, "roster.toml"))
	if err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("roster.toml is %v, %v; want nobody else to read it", info.Mode(), err)
	}
}

// A new file is never written over one that is there, nor is a file touched when
// the edit does not hold.
func TestChangeKeepsWhatIsThere(t *testing.T) {
	t.Parallel()
	s, h := ownHome(t, "kg")
	before := source(t, h, "sessions/every-two.toml")
	put := func([]byte) ([]byte, error) { return []byte("title = \"x\"\n"), nil }
	if _, err := s.change(h, tui.Change{File: "sessions/every-two.toml", New: true, Edit: put}); err == nil || !strings.Contains(err.Error(), "write another name") {
		t.Errorf("over a session that is there: %v", err)
	}
	if got := source(t, h, "sessions/every-two.toml"); got != before {
		t.Errorf("the session is now\n%s", got)
	}
	broken := errors.New("broken")
	if _, err := s.change(h, tui.Change{File: "kit.toml", Edit: func([]byte) ([]byte, error) { return nil, broken }}); !errors.Is(err, broken) {
		t.Errorf("an edit that fails gives %v", err)
	}
	if _, err := os.Stat(filepath.Join(h.path, "kit.toml.old")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("kit.toml.old: %v", err)
	}
}

// The examples of a fresh home are comments; with the # taken away they hold.
func TestFirstHomeTeaches(t *testing.T) {
	t.Parallel()
	comment := regexp.MustCompile(`(?m)^# `)
	for _, units := range []string{"kg", "lb"} {
		_, h := ownHome(t, units)
		examples := func(file string) []byte {
			head, body, _ := strings.Cut(source(t, h, file), "\n\n")
			if !strings.HasPrefix(head, "#") {
				t.Errorf("%s begins with no word on what it is", file)
			}
			return []byte(comment.ReplaceAllString(body, ""))
		}
		r, err := roster.Parse("roster.toml", examples("roster.toml"))
		if err != nil || len(r.Athletes) != 1 || len(r.Athletes[0].Bests) != 1 {
			t.Errorf("%s: the roster's examples read as %+v, %v", units, r, err)
		}
		k, err := kit.Parse("kit.toml", examples("kit.toml"))
		if err != nil || len(k.Sleds) != 1 || len(k.Plates) != 2 || len(k.Bars) != 1 || len(k.Handles) != 1 || len(k.Ropes) != 1 {
			t.Errorf("%s: the kit's examples read as %+v, %v", units, k, err)
		}
		if len(h.roster.Athletes) != 0 || len(h.kit.Sleds) != 0 || len(h.sessions()) != 3 {
			t.Errorf("%s: a fresh home has %d people, %d sleds, sessions %v", units, len(h.roster.Athletes), len(h.kit.Sleds), h.sessions())
		}
	}
}
