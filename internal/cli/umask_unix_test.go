//go:build unix

package cli_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"golang.org/x/sys/unix"
)

// withUmask does something under a umask, and returns how many files there are
// below the folder of the test. Nothing else of the process may make files then.
func withUmask(t *testing.T, mask int, do func()) int {
	t.Helper()
	old := unix.Umask(mask)
	defer unix.Umask(old)
	do()
	n := 0
	_ = fs.WalkDir(os.DirFS(filepath.Dir(t.TempDir())), ".", func(_ string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			n++
		}
		return nil
	})
	return n
}
