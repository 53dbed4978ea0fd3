package cli_test

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"hawser/internal/cli"
	"hawser/sessions"
)

// TestDemoClasses plays the class that lies beside each session of the made-up home,
// as its first line says. No press is refused; the page is the golden one, and the
// kept log tells the same splits as the rehearsal.
func TestDemoClasses(t *testing.T) {
	t.Parallel()
	all, err := fs.Glob(sessions.Home(), "sessions/*.toml")
	if err != nil || len(all) == 0 {
		t.Fatalf("the made-up home has the sessions %v, %v", all, err)
	}
	for _, file := range all {
		name := strings.TrimSuffix(path.Base(file), ".toml")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			src, err := fs.ReadFile(sessions.Home(), "sessions/"+name+".presses")
			if err != nil {
				t.Fatal(err)
			}
			first, _, _ := strings.Cut(string(src), "\n")
			line, ok := strings.CutPrefix(first, "# hawser ")
			if !ok {
				t.Fatalf("the first line is %q, want the command that plays the file", first)
			}
			home := t.TempDir()
			play := append(strings.Fields(line), "--keep", "--at", "2026-11-09T18:00")

			page, talk := hawser(t, home, play...)
			if strings.Contains(talk, "refused") {
				t.Error(talk)
			}
			golden(t, filepath.Join("testdata", "classes", name+".txt"), page)

			rehearsed, _ := hawser(t, home, append(play, "--json")...)
			if kept, _ := hawser(t, home, "splits", "--json"); kept != rehearsed {
				t.Errorf("the kept log tells\n%s\nwant what the rehearsal told\n%s", kept, rehearsed)
			}
		})
	}
}

// hawser runs one command that must succeed.
func hawser(t *testing.T, home string, args ...string) (out, talk string) {
	t.Helper()
	nothing, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer nothing.Close()
	var to, said bytes.Buffer
	if status := cli.Main(append(args, "--home", home), nothing, &to, &said); status != 0 {
		t.Fatalf("hawser %s: exit status %d\n%s", strings.Join(args, " "), status, &said)
	}
	return to.String(), said.String()
}

// golden compares with a file, or writes it with -update.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil { //nolint:gosec // a golden file
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant %s:\n%s", got, file, want)
	}
}
