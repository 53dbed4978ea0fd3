package cli_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/sessions"
)

// TestForgetWholeHome: a person who stands everywhere in a home stands nowhere after
// forget, by one search over all of it; the splits still count, and what the program
// cannot decide is named.
func TestForgetWholeHome(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := os.CopyFS(home, sessions.Home()); err != nil {
		t.Fatal(err)
	}
	const name = "Maren"
	keep := []string{"--home", home, "--presses", filepath.Join(home, "sessions/slack-water.presses"), "--keep", "--at"}
	for _, at := range []string{"2026-11-11T18:00", "2026-11-18T18:00"} {
		runHere(t, append(append([]string{"rehearse", "slack-water"}, keep...), at)...)
	}
	log := addPrivate(t, home, name)
	runHere(t, "history", "--home", home) // makes the cache
	roster, err := os.ReadFile(filepath.Join(home, "roster.toml"))
	if err != nil {
		t.Fatal(err)
	}
	stem := strings.TrimSuffix(log, ".jsonl")
	again := filepath.Join(filepath.Dir(log), strings.Replace(filepath.Base(log), "T18", "T19", 1))
	err = errors.Join(
		os.WriteFile(filepath.Join(home, "roster.toml.old"), roster, 0o600),
		os.WriteFile(stem+".torn", []byte(`{"n":9,"who":"Mar`), 0o600),
		os.WriteFile(stem+".private.torn", []byte(`{"n":2,"who":"Maren","ef`), 0o600),
		os.WriteFile(filepath.Join(home, "sessions/hers.toml"), []byte("# for Maren\n"), 0o600),
		copyFile(again, log),
	)
	if err != nil {
		t.Fatal(err)
	}
	before := splitsIn(t, log)
	if found := namedIn(t, home, name); len(found) < 9 {
		t.Fatalf("%s is found in %v alone: the search cannot see", name, found)
	}

	status, out, talk := runHere(t, "forget", name, "--home", home)
	if status != 0 {
		t.Fatalf("forget ended with %d: %s", status, talk)
	}
	for _, want := range []string{"still there: sessions/hers.toml", "copies, backups, printed pages and shared files cannot be reached"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	for _, path := range namedIn(t, home, name) {
		if !strings.HasPrefix(path, "sessions/") || !strings.Contains(out, "still there: "+path) {
			t.Errorf("%s still stands in %s", name, path)
		}
	}
	if now := splitsIn(t, log); now != before || before == 0 {
		t.Errorf("%d splits are counted, %d were before", now, before)
	}
	if _, out, _ := runHere(t, "splits", "--home", home); strings.Contains(out, name) || !strings.Contains(out, "someone") {
		t.Errorf("the splits say:\n%s", out)
	}
}

// addPrivate adds effort, pain and a note about a person to the newest log of a home,
// and returns its path.
func addPrivate(t *testing.T, home, name string) string {
	t.Helper()
	folder, err := logbook.Open(home)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	runs, err := folder.Runs()
	if err != nil || len(runs) != 2 {
		t.Fatalf("%d runs, %v", len(runs), err)
	}
	w, found, err := folder.Resume(&runs[1])
	if err != nil {
		t.Fatal(err)
	}
	last := found.Log.Events[len(found.Log.Events)-1].T
	err = w.Append(
		floor.Stamped{T: last, E: floor.EffortGiven{Who: name, Effort: 7}},
		floor.Stamped{T: last, E: floor.PainGiven{Who: name, Pain: 3, Site: "knee"}},
		floor.Stamped{T: last, E: floor.Noted{Who: "Eskil", Text: name + "'s harness was on wrong"}})
	if err := errors.Join(err, w.Close()); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(home, filepath.FromSlash(found.Log.Path))
}

func copyFile(to, from string) error {
	data, err := os.ReadFile(from)
	return errors.Join(err, os.WriteFile(to, data, 0o600))
}

// splitsIn counts the presses of a log.
func splitsIn(t *testing.T, path string) int {
	t.Helper()
	log, err := logbook.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, e := range log.Events {
		if _, ok := e.E.(floor.Pressed); ok {
			n++
		}
	}
	return n
}

// namedIn searches a whole folder for a name, in any case, the way grep does.
func namedIn(t *testing.T, home, name string) []string {
	t.Helper()
	var found []string
	err := fs.WalkDir(os.DirFS(home), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || !e.Type().IsRegular() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(home, path))
		if bytes.Contains(bytes.ToLower(data), []byte(strings.ToLower(name))) || strings.Contains(path, name) {
			found = append(found, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
