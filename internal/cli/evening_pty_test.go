//go:build pty && unix

package cli_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
)

// line is a row of the README's table of keys: what is typed, how many keys that
// is said to be, and what the screen says then.
type line struct {
	step  string
	types []string
	keys  int
	then  string
}

// evening reads the table behind <!-- keys --> in the README.
func evening(t *testing.T, page string) []line {
	t.Helper()
	_, table, ok := strings.Cut(page, "<!-- keys -->\n")
	if !ok {
		t.Fatal("the README has no table of keys")
	}
	table, _, _ = strings.Cut(table, "\n\n")
	quoted := regexp.MustCompile("`([^`]+)`")
	var lines []line
	for _, row := range strings.Split(table, "\n")[2:] { // below the head and its rule
		cells := strings.Split(strings.Trim(row, "|"), "|")
		if len(cells) != 4 {
			t.Fatalf("a row of four cells: %q", row)
		}
		l := line{step: strings.TrimSpace(cells[0]), then: strings.TrimSpace(cells[3])}
		for _, m := range quoted.FindAllStringSubmatch(cells[1], -1) {
			l.types = append(l.types, m[1])
		}
		l.keys, _ = strconv.Atoi(strings.TrimSpace(cells[2]))
		lines = append(lines, l)
	}
	return lines
}

// sent is what a terminal sends for a key that has a name on it.
var sent = map[string]string{
	"Enter": enter, "Space": space, "Backspace": backspace, "Up": up, "Down": down, "Left": left, "Right": right,
	"Esc": "\x1b", "Tab": "\t", "Ctrl-S": "\x13", "F9": "\x1b[20~",
}

// TestPtyEvening types what the README prints, and nothing else: a home, three
// people and a sled, a session, a class of it on a clock that goes ten times as fast,
// its splits and a day of the week. No editor is used: the files that stand there then
// are the forms' own.
func TestPtyEvening(t *testing.T) {
	page := read(t, os.DirFS("../.."), "README.md")
	lines := evening(t, page)
	speedUp(t)
	began := time.Now()
	t.Chdir(t.TempDir())
	t.Setenv("HAWSER_HOME", "")
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("EDITOR", "/bin/false")
	var c *terminal
	typed, step, keys, all := "", "", 0, 0
	pages := map[string]string{} // what stands on the terminal at the end of a command
	said := map[string]string{}  // the time of each press, as the wall says it
	told := func() {
		if step != "" {
			t.Logf("%-20s %3d keys", step, keys)
		}
		all, keys = all+keys, 0
	}
	for _, l := range lines {
		if l.step != "" {
			told()
			step = l.step
		}
		n := 0
		for _, text := range l.types {
			if command, ok := strings.CutPrefix(text, "$ "); ok {
				words := strings.Fields(command)
				if words[0] != "hawser" {
					t.Fatalf("%q is no command of ours", command)
				}
				if c != nil {
					c.wait() // whoever types a command has left the program before it
					pages[typed] = c.text()
				}
				typed = command
				c = beginAt(t, 80, 24, words[1:]...)
				n += len(command) + 1
				continue
			}
			n += c.typed(text)
		}
		if n != l.keys {
			t.Errorf("%s %q takes %d keys, the README says %d", l.step, l.types, n, l.keys)
		}
		keys += n
		if l.then != "" {
			c.seeOrPast(l.then)
			if m := regexp.MustCompile(`(\w+): round 1, (\S+)`).FindStringSubmatch(c.text()); m != nil {
				said[m[1]] = m[2]
			}
		}
	}
	told()
	t.Logf("%-20s %3d keys", "in all", all)
	if said := strconv.Itoa(all) + " keys in all"; !strings.Contains(page, said) {
		t.Errorf("the README does not say %q", said)
	}
	c.wait()

	var people struct{ Athlete []struct{ Name string } }
	if _, err := toml.DecodeFile(filepath.Join("my-class", "roster.toml"), &people); err != nil || len(people.Athlete) != 3 {
		t.Errorf("another parser reads %+v, %v; want three people", people, err)
	}
	for _, who := range people.Athlete {
		wants(t, pages["hawser splits --home my-class"], ` `+who.Name+` +1 full round\.\s+work \d+\.\d %\s+1: `+said[who.Name]+`\s[^.]*next time: same, bare on A moves 25 kg`)
	}
	wants(t, hawserSays(t, "week", "--home", "my-class"), `(?s)Mon \d+ \w+ press .*fits  first-try: .*Maren +load [1-9]`)
	inStep(t, time.Since(began))
	hawserSays(t, "check", "my-class")
}

// hawserSays runs a command that has to work and returns what it prints.
func hawserSays(t *testing.T, args ...string) string {
	t.Helper()
	out, err := exec.Command("hawser", args...).CombinedOutput()
	if err != nil {
		t.Errorf("hawser %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

// wants holds a page to a pattern.
func wants(t *testing.T, page, pattern string) {
	t.Helper()
	if !regexp.MustCompile(pattern).MatchString(page) {
		t.Errorf("want %s in:\n%s", pattern, page)
	}
}

// inStep reads the one log that the evening wrote: the time of the room and that of the
// day go by together, and faster than the evening took.
func inStep(t *testing.T, took time.Duration) {
	t.Helper()
	logs, err := filepath.Glob(filepath.Join("my-class", "log", "*", "*.jsonl"))
	logs = slices.DeleteFunc(logs, func(name string) bool { return strings.HasSuffix(name, ".private.jsonl") })
	if err != nil || len(logs) != 1 {
		t.Fatalf("logs %v, %v; want one", logs, err)
	}
	src, err := os.ReadFile(logs[0])
	if err != nil {
		t.Fatal(err)
	}
	var first, last struct {
		T  int64
		At time.Time
	}
	for i, line := range bytes.Split(bytes.TrimSpace(src), []byte("\n")) {
		before := last
		if err := json.Unmarshal(line, &last); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
		if i == 0 {
			first, before = last, last
		}
		room, day := time.Duration(last.T-first.T)*time.Millisecond, last.At.Sub(first.At)
		if last.T < before.T || (room-day).Abs() > 100*time.Millisecond {
			t.Errorf("%v in the room, %v of the day: %s", room, day, line)
		}
	}
	room := time.Duration(last.T-first.T) * time.Millisecond
	t.Logf("%v of a class in an evening of %v", room.Round(time.Second), took.Round(time.Second))
	if room < took {
		t.Error("that clock is not faster than the one on the wall")
	}
}

// typed strikes a key by its name, or types a text, and returns how many keys that was.
func (c *terminal) typed(text string) int {
	c.t.Helper()
	keys := strings.Split(text, "")
	if seq, ok := sent[text]; ok {
		keys = []string{seq}
	}
	for i, key := range keys {
		if i == 0 {
			time.Sleep(50 * time.Millisecond) // half a second of the program: no held key
		}
		if _, err := c.pty.Write([]byte(key)); err != nil {
			c.t.Fatal(err)
		}
	}
	return len(keys)
}

// seeOrPast waits for a text; where that ends in some seconds of a clock, which are
// soon over, for more of them too.
func (c *terminal) seeOrPast(text string) {
	c.t.Helper()
	before, digit, ok := strings.Cut(text, "0:0")
	if !ok {
		c.see(text)
		return
	}
	past := regexp.MustCompile(regexp.QuoteMeta(before) + `0:(0[` + digit + `-9]|[1-5]\d)`)
	c.until("shows "+text+" or more", past.MatchString)
}
