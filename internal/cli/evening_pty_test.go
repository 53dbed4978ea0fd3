//go:build pty && unix

package cli_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
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
// people and a sled, a session, a class of it on the real clock, its splits and a
// day of the week. No editor is used: the files that stand there then are the
// forms' own.
func TestPtyEvening(t *testing.T) {
	page := read(t, os.DirFS("../.."), "README.md")
	lines := evening(t, page)
	t.Chdir(t.TempDir())
	t.Setenv("HAWSER_HOME", "")
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("EDITOR", "/bin/false")
	var c *terminal
	step, keys, all := "", 0, 0
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
				}
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
			c.within(90*time.Second, l.then)
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
	rounds := splitsOf(t, "my-class")
	for _, name := range []string{"Maren", "Eskil", "Tove"} {
		if len(rounds[name]) == 0 || rounds[name][0].Work <= 0 {
			t.Errorf("%s's rounds are %+v, want one with a time", name, rounds[name])
		}
	}
	if out, err := exec.Command("hawser", "check", "my-class").CombinedOutput(); err != nil {
		t.Errorf("hawser check: %v\n%s", err, out)
	}
}

// typed strikes a key by its name, or types a text, and returns how many keys that was.
func (c *terminal) typed(text string) int {
	c.t.Helper()
	if seq, ok := sent[text]; ok {
		c.press(seq)
		return 1
	}
	n := 0
	for _, r := range text {
		time.Sleep(30 * time.Millisecond)
		if n == 0 {
			time.Sleep(170 * time.Millisecond) // as after any key with a name
		}
		if _, err := c.pty.Write([]byte(string(r))); err != nil {
			c.t.Fatal(err)
		}
		n++
	}
	return n
}

// within waits for a text as long as the class may take.
func (c *terminal) within(d time.Duration, text string) {
	c.t.Helper()
	for end := time.Now().Add(d - 20*time.Second); time.Now().Before(end) && !strings.Contains(c.text(), text); {
		time.Sleep(50 * time.Millisecond)
	}
	c.see(text)
}
