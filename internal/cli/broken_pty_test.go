//go:build pty && unix

package cli_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// broken builds the program with a piece of its code, which has to be there once, put otherwise, and
// with what that needs at the end of the file.
func broken(t *testing.T, file, piece, otherwise, needs string) (program string) {
	t.Helper()
	file, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	code, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(code), piece); n != 1 {
		t.Fatalf("%s has %q %d times, want once", file, piece, n)
	}
	dir := t.TempDir()
	instead, overlay := filepath.Join(dir, filepath.Base(file)), filepath.Join(dir, "overlay.json")
	list, err := json.Marshal(map[string]any{"Replace": map[string]string{file: instead}})
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{instead: strings.Replace(string(code), piece, otherwise, 1) + needs, overlay: string(list)} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	program = filepath.Join(dir, "hawser")
	if out, err := exec.Command("go", "build", "-overlay", overlay, "-o", program, "hawser/cmd/hawser").CombinedOutput(); err != nil {
		t.Fatalf("build the program with %q: %v\n%s", otherwise, err, out)
	}
	return program
}
