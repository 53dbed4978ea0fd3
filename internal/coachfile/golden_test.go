package coachfile_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/session"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Each file of testdata holds bad files of one kind, each followed by what is said
// of it: every fault, its place and what to write.
func TestBadFiles(t *testing.T) {
	t.Parallel()
	for kind, parse := range map[string]func(name string, data []byte) error{
		"house":   func(name string, data []byte) error { _, err := house.Parse(name, data); return err },
		"kit":     func(name string, data []byte) error { _, err := kit.Parse(name, data); return err },
		"roster":  func(name string, data []byte) error { _, err := roster.Parse(name, data); return err },
		"session": func(name string, data []byte) error { _, err := session.Parse(name, data); return err },
	} {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			golden := filepath.Join("testdata", kind+".txtar")
			archive, err := txtar.ParseFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			said := &txtar.Archive{Comment: archive.Comment}
			for _, file := range archive.Files {
				name, isFile := strings.CutSuffix(file.Name, ".toml")
				if !isFile {
					continue
				}
				var faults string
				if err := parse(file.Name, file.Data); err == nil {
					t.Errorf("%s reads without a fault", file.Name)
				} else {
					faults = err.Error() + "\n"
				}
				said.Files = append(said.Files, file, txtar.File{Name: name + ".faults", Data: []byte(faults)})
			}
			got := txtar.Format(said)
			if *update {
				write(t, golden, got)
			} else if want := txtar.Format(archive); !bytes.Equal(got, want) {
				t.Errorf("faults =\n%s\nwant\n%s\n(go test ./internal/coachfile -update rewrites them)", got, want)
			}
		})
	}
}

func write(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
}
