//go:build pty && unix

package cli_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// fastGo is what is written otherwise in Go's package time: it asks the clock of
// testdata/fast, and its timers, which the machine runs, are shorter.
var fastGo = map[string][]string{
	"time.go":  {":= runtimeNow()", ":= fastNow()", "runtimeNano()-startNano,", "fastNano()-startNano,"},
	"sleep.go": {"+ int64(d)\n", "+ int64(d)/rate\n"},
	"tick.go":  {"when(d), int64(d)", "when(d), int64(d)/rate"},
}

// speedUp puts a program before the usual one that is the same to the last line but for
// Go's own clock: whatever it waits for and whatever it writes down goes ten times as
// fast. So no class in it, and no option, is there for the sake of a test.
func speedUp(t *testing.T) {
	t.Helper()
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	there := filepath.Join(strings.TrimSpace(string(out)), "src", "time")
	added, err := filepath.Abs("testdata/fast/fast.go")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	var overlay struct{ Replace map[string]string }
	overlay.Replace = map[string]string{filepath.Join(there, "fast.go"): added}
	for name, words := range fastGo {
		text := read(t, os.DirFS(there), name)
		for i := 0; i < len(words); i += 2 {
			if !strings.Contains(text, words[i]) {
				t.Fatalf("Go's time/%s has no %q any more: find what reads the clock there now", name, words[i])
			}
		}
		overlay.Replace[filepath.Join(there, name)] = filepath.Join(dir, name)
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.NewReplacer(words...).Replace(text)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	list, err := json.Marshal(overlay)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "overlay.json"), list, 0o600); err != nil {
		t.Fatal(err)
	}
	build := exec.Command("go", "build", "-overlay", filepath.Join(dir, "overlay.json"), "-o", filepath.Join(dir, "bin", "hawser"), "hawser/cmd/hawser")
	if said, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	t.Setenv("PATH", filepath.Join(dir, "bin")+string(filepath.ListSeparator)+os.Getenv("PATH"))
	t.Setenv("TOGETHER_NS", strconv.FormatInt(time.Now().UnixNano(), 10))
}
