// Package internal_test holds the import order: a package imports only those
// that stand above it.
package internal_test

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// order lists every package from the ground up. Those on one line may import
// each other one way.
var order = [][]string{
	{"measure"},
	{"movement"},
	{"coachfile"},
	{"roster", "kit", "house", "session"},
	{"aim"},
	{"load"},
	{"lanes"},
	{"floor"},
	{"presses"},
	{"logbook"},
	{"review"},
	{"pages"},
	{"history"},
	{"week"},
	{"schema"},
	{"cue"},
	{"sound", "awake", "glpsol"},
	{"tui"},
	{"cli"},
}

// impure is where the world begins: files, clocks, the terminal, the sound device.
var impure = []string{"logbook", "pages", "history", "sound", "awake", "glpsol", "tui", "cli"}

// world is what a pure package must not import.
var world = []string{
	"os", "net", "io/fs", "syscall", "sync", "math/rand", "runtime", "log",
	"charm.land", "github.com/charmbracelet", "github.com/gopxl/beep", "github.com/ebitengine",
	"golang.org/x/sys", "github.com/adrg/xdg", "github.com/google/renameio", "github.com/gofrs/flock",
}

func TestImportsPointUp(t *testing.T) {
	t.Parallel()
	rank := map[string]int{}
	for r, line := range order {
		for _, name := range line {
			rank[name] = r
		}
	}
	for name, files := range packages(t) {
		mine, ok := rank[name]
		if !ok {
			t.Errorf("internal/%s stands nowhere in the order", name)
			continue
		}
		for _, path := range imports(t, files) {
			other, ours := strings.CutPrefix(path, "hawser/internal/")
			if ours && rank[other] > mine {
				t.Errorf("internal/%s imports %s, which stands below it", name, other)
			}
			if path == "hawser/cmd/hawser" {
				t.Errorf("internal/%s imports the main package", name)
			}
		}
	}
}

func TestPurePackagesTouchNothing(t *testing.T) {
	t.Parallel()
	for name, files := range packages(t) {
		if slices.Contains(impure, name) {
			continue
		}
		for _, path := range imports(t, files) {
			for _, banned := range world {
				if path == banned || strings.HasPrefix(path, banned+"/") {
					t.Errorf("internal/%s imports %s; a pure package touches no clock, file, terminal or sound", name, path)
				}
			}
		}
	}
}

// TestOneFileDrivesTheDevice: everything else hands samples on.
func TestOneFileDrivesTheDevice(t *testing.T) {
	t.Parallel()
	var found []string
	for _, files := range packages(t) {
		for _, file := range files {
			if slices.ContainsFunc(imports(t, []string{file}), func(path string) bool {
				return strings.HasPrefix(path, "github.com/ebitengine/oto/")
			}) {
				found = append(found, file)
			}
		}
	}
	if len(found) > 1 {
		t.Errorf("the audio device is imported by %v, want one file", found)
	}
}

// packages returns the Go files of each package under internal, tests left out.
func packages(t *testing.T) map[string][]string {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	found := map[string][]string{}
	for _, entry := range entries {
		files, err := filepath.Glob(filepath.Join(entry.Name(), "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		files = slices.DeleteFunc(files, func(name string) bool { return strings.HasSuffix(name, "_test.go") })
		if len(files) > 0 {
			found[entry.Name()] = files
		}
	}
	return found
}

// imports returns what those files import.
func imports(t *testing.T, files []string) []string {
	t.Helper()
	var paths []string
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			paths = append(paths, path)
		}
	}
	return paths
}
