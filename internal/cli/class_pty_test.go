//go:build pty && unix

package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
"time"
)

// quickRopes is a class for an impatient test.
const quickRopes = `title = "Quick ropes"
aim = "conditioning"
[[part]]
format = "every"
every = "6 s"
rounds = 20
late = "note"
count_in = "1 s"
[[part.station]]
movement = "sled row"
distance = "10 m"
load = "40 kg"
expect = "2 s"
`

// Keys as a terminal sends them.
const (
	enter     = "\r"
	space     = " "
	backspace = "\x7f"
	escape    = "\x1b"
	again = "\x1b[15~"
	left = "\x1b[D"
	up        = "\x1b[A"
	down      = "\x1b[B"
	right     = "\x1b[C"
	ctrlC     = "\x03"
)

// TestPtyMess plays a messy class from the keyboard, on the made-up crew: a
// latecomer, a guest, an injury, a sled that breaks, a load changed, a forgotten
// press. After each key the countdown must stand there to be read.
func TestPtyMess(t *testing.T) {
	home := t.TempDir()
	file := filepath.Join(home, "quick-ropes.toml")
	if err := os.WriteFile(file, []byte(quickRopes), 0o600); err != nil {
		t.Fatal(err)
	}
	c := beginAt(t, 120, 40, "run", file, "--home", home, "--quiet")
	c.see("Who is here")
	for _, key := range []string{"m", "e", "i"} {
		c.press(key)
	}
	c.see("3 here")
	c.press(enter)
	c.see("The board")
	c.press(enter)
	c.see("Space GO")
	for _, s := range []struct{ key, want string }{
		{space, ""}, {"m", ""}, {right, ""}, {right, ""}, {right, ""}, {enter, ""}, {"2", ""},
		{up, ""}, {enter, ""}, {"5", ""}, {"i", ""},
		{right, ""}, {down, ""}, {right, ""}, {enter, ""}, {"9", ""}, {"4", ""}, {enter, ""}, {enter, ""}, {"8", ""},
		{up, ""}, {enter, ""}, {"/", ""}, {again, ""}, {left, ""}, {"+", ""},
		{enter, ""}, {"2", ""}, {"0", ""},{":", ""},{"0", ""},{"2", ""},{enter,""},
		{right,""},{right, ""}, {enter, ""}, {"2", ""}, {"0", ""},{":", ""},{"0", ""},{"2", ""},{enter,""},
		{backspace, ""}, {up, ""}, {enter, ""}, {"7", ""}, {space, ""}, {space, ""},{ctrlC,""},
	} {
		c.press(s.key)
		time.Sleep(100*time.Millisecond)
		c.counts(s.key)
		l:=strings.Split(c.text(),"\n")
		t.Logf("%q: %q\n%s\n", s.key, largeDigits(c.text()), strings.Join(l[24:],"\n"))
	}
	c.press(ctrlC)
	t.Log(c.wait())
}

// counts wants large digits that can be read, and nothing of a stack trace.
func (c *terminal) counts(after string) {
	c.t.Helper()
	c.until("counts down after "+after, func(s string) bool { return countdown.MatchString(largeDigits(s)) })
	for _, trace := range []string{"goroutine ", "panic:", "runtime error"} {
		if strings.Contains(c.text(), trace) {
			c.t.Errorf("%q on the screen after %q", trace, after)
		}
	}
}
