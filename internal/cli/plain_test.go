package cli_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"hawser/internal/coachfile"
)

// What the suites of hostile text look for, and the control that it would be seen.

// obeyed reports the first thing in an output that is no plain text.
func obeyed(out string) (rune, bool) {
	for i, r := range out {
		_, size := utf8.DecodeRuneInString(out[i:])
		bad := r == utf8.RuneError && size == 1
		bad = bad || unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) && !strings.ContainsRune("\n\r\u200c\u200d", r)
		bad = bad || r == '\r' && !strings.HasPrefix(out[i:], "\r\n")
		if bad {
			return r, true
		}
	}
	return 0, false
}

// formula is the first cell that a spreadsheet would run. In RFC 4180 rows text is
// quoted, and stands behind an apostrophe where it begins like a formula.
func formula(sheet string) string {
	for row := range strings.SplitSeq(sheet, "\r\n") {
		for i, cell := range strings.Split(row, `"`) {
			quoted := i%2 == 1
			if quoted && cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) && !strings.HasPrefix(row[strings.Index(row, cell)-1:], `""`) {
				return cell
			}
		}
	}
	return ""
}

// outside is what was made beside the home.
func outside(t *testing.T, home string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(home))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if _, err := strconv.Atoi(e.Name()); err != nil { // the folders of this test have numbers
			names = append(names, e.Name())
		}
	}
	return names
}

// open is what in a home others than its owner may look at.
func open(t *testing.T, home string) map[string]fs.FileMode {
	t.Helper()
	found := map[string]fs.FileMode{}
	err := filepath.WalkDir(home, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		if mode := info.Mode().Perm(); mode&0o077 != 0 || e.IsDir() && mode != 0o700 || !e.IsDir() && mode != 0o600 {
			found[path] = info.Mode()
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// TestHostileControl: each text that the cleaner changes is found out where it gets past it,
// and so is a formula, a file beside the home, and one that others may read.
func TestHostileControl(t *testing.T) {
	t.Parallel()
	for _, text := range hostile(t) {
		if _, bad := obeyed("Eskil: " + text + " pulls\n"); !bad && coachfile.Clean(text) != text && !strings.Contains(text, "\n") {
			t.Errorf("%q is said to be plain: the suite cannot see", text)
		}
	}
	for _, cell := range []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1"} {
		if formula("n,name\r\n1,\""+cell+"\"\r\n") == "" || formula("n,name\r\n1,\"'"+cell+"\"\r\n") != "" {
			t.Errorf("the cell %q is not told from one behind an apostrophe: the suite cannot see", cell)
		}
	}
	folder := t.TempDir()
	home := filepath.Join(folder, "home")
	if err := os.Mkdir(home, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, "x"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if len(outside(t, home)) != 1 { // "home" is no number
		t.Error("what stands outside is not found: the suite cannot see")
	}
	if os.PathSeparator == '\\' {
		return // Windows has other rights
	}
	for path, mode := range map[string]fs.FileMode{"x": 0o640, ".": 0o750} {
		if err := os.Chmod(filepath.Join(home, path), mode); err != nil {
			t.Fatal(err)
		}
	}
	if got := open(t, home); len(got) != 2 {
		t.Errorf("of a folder and a file that others may read, %v is found: the suite cannot see", got)
	}
}
