package cli

import (
	"os"
	"path/filepath"
	"testing"
)

// WriteFiles writes files of a home by their names in it, for the tests of both packages.
func WriteFiles(t *testing.T, home string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(home, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
