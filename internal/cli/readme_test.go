package cli_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hawser/internal/house"
	"hawser/sessions"
)

// A fenced block of README.md or DEVELOPERS.md is one of:
//
//	sh                  commands, each of which must work
//	console             commands behind "$ ", each followed by what it prints;
//	                    "# exit status 3" behind one is what it must end with
//	<!-- picture F -->  the golden F of internal/tui/testdata
//	<!-- demo F -->     the file F of the demo home
//	<!-- log F -->      some lines of the log F of internal/logbook/testdata
//	<!-- write F -->    a file that the commands after it use
//	<!-- rules -->      house.toml with every rule at its value
//
// Output may be cut by a line that is "…" alone. With -update all but what is
// written is made anew, and a cut block keeps its first and last lines.
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
	case "log":
		return held(body, read(t, os.DirFS("../logbook/testdata"), file))
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
	var out strings.Builder
	for line := range strings.Lines(body) {
		command, ok := strings.CutPrefix(line, "$ ")
		switch {
		case lang == "sh":
			run(t, dir, line)
			out.WriteString(line)
		case lang == "console" && ok:
			out.WriteString(line + run(t, dir, command))
		case lang != "console":
			out.WriteString(line)
		}
	}
	return out.String()
}

// held is the lines of some that stand in all.
func held(some, all string) string {
	var kept strings.Builder
	for line := range strings.Lines(some) {
		if strings.Contains(all, line) {
			kept.WriteString(line)
		}
	}
	return kept.String()
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
// its own, and returns its data, or what it says where there are none. What
// builds or tests the project is run by .ci/run: this is one of its tests.
func run(t *testing.T, dir, line string) string {
	t.Helper()
	line, wants, _ := strings.Cut(strings.TrimSpace(line), "# exit status ")
	want, _ := strconv.Atoi(wants) // nothing behind it: 0
	words := strings.Fields(strings.Replace(line, "go run ./cmd/hawser", "hawser", 1))
	switch words[0] {
	case "hawser":
	case "go", "bash":
		if len(words) < 2 || words[1] != "test" && read(t, os.DirFS("../.."), words[1]) == "" {
			t.Errorf("%s: not known", line)
		}
		return ""
	default:
		t.Errorf("%s: not a command of this project", line)
		return ""
	}
	cmd := exec.Command(words[0], words[1:]...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "HAWSER_HOME=", "XDG_DATA_HOME="+filepath.Join(dir, "data"), "TZ=UTC", "NO_COLOR=1")
	var data, talk strings.Builder
	cmd.Stdout, cmd.Stderr = &data, &talk
	got := 0
	if err := cmd.Run(); err != nil {
		ended, ok := errors.AsType[*exec.ExitError](err)
		if !ok {
			t.Fatalf("%s: %v", line, err)
		}
		got = ended.ExitCode()
	}
	if got != want {
		t.Errorf("%s: exit status %d, want %d\n%s", line, got, want, talk.String())
	}
	if data.Len() == 0 {
		return talk.String()
	}
	return strings.ReplaceAll(data.String(), "\r\n", "\n")
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

// TestCommandsInProse: a command that a page names in a sentence is one, with its
// flags, and a file that it names is there.
func TestCommandsInProse(t *testing.T) {
	t.Parallel()
	command := regexp.MustCompile("`hawser ([a-z]+)([^`]*)`")
	named := regexp.MustCompile("`([\\w./-]+\\.(?:go|yml|keys|jsonl))`")
	for _, name := range []string{"README.md", "DEVELOPERS.md"} {
		page := block.ReplaceAllString(read(t, os.DirFS("../.."), name), "")
		for _, m := range command.FindAllStringSubmatch(page, -1) {
			args := []string{m[1], "--help"}
			if m[1] == "help" {
				args = append([]string{"help"}, strings.Fields(m[2])...)
			}
			help, _ := hawser(t, "../../sessions/boathouse", args...)
			if m[1] != "help" && !strings.Contains(help, "hawser "+m[1]) {
				t.Errorf("%s: %s is no command:\n%s", name, m[0], help)
			}
			for _, flag := range regexp.MustCompile(`--[a-z-]+`).FindAllString(m[2], -1) {
				if !strings.Contains(help, flag) {
					t.Errorf("%s: %s has no %s:\n%s", name, m[0], flag, help)
				}
			}
		}
		for _, m := range named.FindAllStringSubmatch(page, -1) {
			there := slices.ContainsFunc([]string{"../../", "../", "../*/"}, func(from string) bool {
				files, _ := filepath.Glob(from + m[1]) // the pattern is good
				return len(files) > 0
			})
			if !there {
				t.Errorf("%s names %s, which is not there", name, m[1])
			}
		}
	}
}

// TestPagesNameNoMachine: what a stranger reads names no folder of the machine it
// was written on.
func TestPagesNameNoMachine(t *testing.T) {
	t.Parallel()
	local := regexp.MustCompile(`/(tmp|work|root|home|Users)/|\bproxy\.|localhost|127\.0\.0\.1`)
	for _, name := range []string{"README.md", "DEVELOPERS.md"} {
		if found := local.FindString(read(t, os.DirFS("../.."), name)); found != "" {
			t.Errorf("%s holds %q", name, found)
		}
	}
}

// TestMapIsWhole: DEVELOPERS.md names every package and every step of .ci/run.
func TestMapIsWhole(t *testing.T) {
	t.Parallel()
	page := read(t, os.DirFS("../.."), "DEVELOPERS.md")
	steps := regexp.MustCompile(`(?m)^step_(\w+)\(`).FindAllStringSubmatch(read(t, os.DirFS("../.."), ".ci/run"), -1)
	var names []string
	for _, step := range steps {
		names = append(names, step[1])
	}
	packages, err := filepath.Glob("../*/*.go")
	if err != nil || len(packages) == 0 || len(names) == 0 {
		t.Fatalf("%d Go files, %d steps, %v", len(packages), len(names), err)
	}
	for _, file := range packages {
		if name := filepath.Base(filepath.Dir(file)); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if !regexp.MustCompile("(?m)^\\|.*`" + name + "`.*\\|").MatchString(page) {
			t.Errorf("DEVELOPERS.md has no row for %s", name)
		}
	}
}

// TestEverySuiteHasItsControl: each row of the faults in DEVELOPERS.md names tests that are there,
// and a control among them.
func TestEverySuiteHasItsControl(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../*/*_test.go")
	if err != nil {
		t.Fatal(err)
	}
	var code strings.Builder
	for _, file := range files {
		code.WriteString(read(t, os.DirFS(".."), strings.TrimPrefix(filepath.ToSlash(file), "../")))
	}
	_, table, found := strings.Cut(read(t, os.DirFS("../.."), "DEVELOPERS.md"), "| its control |")
	rows, _, ends := strings.Cut(table, "\n\n")
	if !found || !ends || strings.Count(rows, "\n") < 25 {
		t.Fatal("DEVELOPERS.md has no table of the faults")
	}
	name := regexp.MustCompile("`(Test\\w+)`")
	for _, row := range strings.Split(rows, "\n")[2:] {
		cells := strings.Split(row, "|")
		if !strings.Contains(cells[3], "Control`") {
			t.Errorf("no control in the row %s", row)
		}
		for _, m := range name.FindAllStringSubmatch(row, -1) {
			if !strings.Contains(code.String(), "\nfunc "+m[1]+"(t *testing.T) {") {
				t.Errorf("there is no %s", m[1])
			}
		}
	}
}
