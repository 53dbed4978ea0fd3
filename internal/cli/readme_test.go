package cli_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hawser/internal/house"
	"hawser/sessions"
)

// A fenced block of README.md or DEVELOPERS.md is one of:
//
//	console           commands behind "$ ", each followed by what it prints
//	<!-- picture F -->  the golden screen F of internal/tui
//	<!-- demo F -->     the file F of the demo home
//	<!-- write F -->    a file that the commands after it use
//	<!-- rules -->      house.toml with every rule at its value
//
// Output may be cut by a line that is "…" alone. With -update all but what is
// written is made anew, and a cut block keeps its first lines.
var block = regexp.MustCompile("(?ms)^(?:<!-- (\\w+) ?(\\S*) -->\n)?```(\\w*)\n(.*?)^```$")

// TestReadme runs every command of the README in its order and holds every
// picture and every file in it to the real ones.
func TestReadme(t *testing.T) {
	t.Parallel()
	testPage(t, "../../README.md")
}

// TestDevelopers does the same for DEVELOPERS.md.
func TestDevelopers(t *testing.T) {
	t.Parallel()
	testPage(t, "../../DEVELOPERS.md")
}

func testPage(t *testing.T, name string) {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	var made bytes.Buffer
	end := 0
	for _, at := range block.FindAllSubmatchIndex(src, -1) {
		part := func(n int) string { return string(src[max(at[2*n], 0):max(at[2*n+1], 0)]) }
		body := part(4)
		want := cutTo(truth(t, dir, part(1), part(2), part(3), body), body)
		if want != body && !*update {
			t.Errorf("%s is not true any more; look, then run: go test ./internal/cli -update\nhas:\n%s\nwant:\n%s", filepath.Base(name), body, want)
		}
		made.Write(src[end:at[8]])
		made.WriteString(want)
		end = at[9]
	}
	made.Write(src[end:])
	if *update && !bytes.Equal(made.Bytes(), src) {
		if err := os.WriteFile(name, made.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// truth is what a block should hold.
func truth(t *testing.T, dir, kind, file, lang, body string) string {
	t.Helper()
	switch kind {
	case "picture":
		return read(t, os.DirFS("../tui/testdata"), file)
	case "demo":
		return read(t, sessions.Home(), file)
	case "rules":
		return string(house.Write(house.Default()))
	case "write":
		if err := os.WriteFile(filepath.Join(dir, file), []byte(body), 0o600); err != nil {
			t.Fatal(err)
		}
		return body
	}
	if lang != "console" {
		return body
	}
	var out strings.Builder
	for line := range strings.SplitSeq(body, "\n") {
		if command, ok := strings.CutPrefix(line, "$ "); ok {
			fmt.Fprintf(&out, "%s\n%s", line, run(t, dir, command))
		}
	}
	return out.String()
}

func read(t *testing.T, files fs.FS, name string) string {
	t.Helper()
	src, err := fs.ReadFile(files, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// run runs a command line of the page, with nothing to answer it and a home of
// its own, and returns its data, or what it says where there are none.
func run(t *testing.T, dir, command string) string {
	t.Helper()
	words := strings.Fields(command)
	cmd := exec.Command(words[0], words[1:]...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "HAWSER_HOME=", "XDG_DATA_HOME="+filepath.Join(dir, "data"), "TZ=UTC", "NO_COLOR=1")
	var data, talk strings.Builder
	cmd.Stdout, cmd.Stderr = &data, &talk
	if err := cmd.Run(); err != nil && data.Len()+talk.Len() == 0 {
		t.Errorf("%s: %v", command, err)
	}
	if data.Len() == 0 {
		return talk.String()
	}
	return data.String()
}

// cutTo cuts what is true where the page has cut it.
func cutTo(want, body string) string {
	wants, lines := strings.Split(want, "\n"), strings.Split(body, "\n")
	for i, line := range lines {
		if line != "…" || i > len(wants) {
			continue
		}
		rest := lines[i+1:]
		if len(rest) > len(wants)-i {
			return want
		}
		return strings.Join(append(append(append([]string{}, wants[:i]...), "…"), wants[len(wants)-len(rest):]...), "\n")
	}
	return want
}
