//go:build pty && unix

package cli_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/cli"
	"hawser/sessions"
)

// quickRopes is a class for an impatient test, long enough for a guest to warm up.
const quickRopes = `title = "Quick ropes"
aim = "conditioning"
[[part]]
format = "every"
every = "6 s"
rounds = 99
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
	up        = "\x1b[A"
	down      = "\x1b[B"
	right     = "\x1b[C"
	left      = "\x1b[D"
	f5        = "\x1b[15~"
	ctrlC     = "\x03"
)

// TestPtyMess plays a messy class from the keyboard, on the made-up crew. After each
// key the countdown must stand on the screen to be read, and no stack trace. Then it
// leaves, takes the class up again and finds in the splits what was typed for one; the
// press of the other was given away.
func TestPtyMess(t *testing.T) {
	home := boathouse(t)
	began := time.Now()
	c := beginAt(t, 120, 40, "run", "quick-ropes", "--home", home, "--quiet")
	c.see("Who is here")
	t.Logf("from exec to the first screen: %v", time.Since(began).Round(time.Millisecond))
	for _, key := range []string{"m", "e", "i"} {
		c.press(key)
	}
	c.see("3 here")
	c.press(enter)
	c.see("The board")
	c.press(enter)
	c.see("Which way out?")
	c.press(enter)
	c.see("Space GO")
	c.press(space)
	c.see("pulls 0:0")
	c.play(nil)

	for _, part := range []struct {
		keys []string
		want string
	}{
		{[]string{right, right, right, enter, "2"}, "Tove is here"}, // the latecomer, warm
		{[]string{up, enter, "5"}, "Guest 1 is here"},
		{[]string{right, down, right, enter, "5"}, "Iben has stopped"},
		{[]string{"4", "2"}, "pain noted"},      // 4 of 10, in the knee
		{[]string{up, enter, "/"}, "goes to C"}, // Eskil's sled is broken
		{[]string{f5}, "again in"},
		{nil, "pulls 0:01"},
		{[]string{"e"}, "Eskil: round"},
		{[]string{left, "+"}, "Maren: 67.8 kg"},
		{[]string{enter, "2", "0", ":", "0", "2", enter}, "0:02.0 by hand"}, // nobody pressed for Maren
		{[]string{right, right, "+"}, "Tove:"},
		{[]string{backspace}, "undone"},
		{[]string{up, enter, "7"}, "goes to B"}, // which is whole again
		{[]string{right, right, enter, "0"}, "forward drag from round"},
		{[]string{enter, "4", "1"}, "not counted: cut short"},
		{[]string{enter, "T"}, "given to Tove"}, // the press in an earlier round was hers
		{[]string{space}, "clock stopped"},
		{[]string{ctrlC}, "once more within 3 s"},
	} {
		c.play(part.keys)
		c.see(part.want)
	}
	c.press(ctrlC)
	c.left()

	c = beginAt(t, 120, 40, "run", "quick-ropes", "--home", home, "--quiet")
	c.see("A class was interrupted")
	c.press(enter)
	c.see("Space go on") // a stopped clock stays stopped
	c.play([]string{space})
	c.see("pulls")
	c.play([]string{ctrlC})
	c.press(ctrlC)
	c.left()

	rounds := splitsOf(t, home)
	for name, byHand := range map[string]bool{"Maren": true} {
		if !slices.ContainsFunc(rounds[name], func(r split) bool { return r.Work > 0 && r.ByHand == byHand }) {
			t.Errorf("%s's rounds are %+v, want one with a time, by hand: %v", name, rounds[name], byHand)
		}
	}
}

// boathouse is a home with the made-up crew and the quick class, and a house that
// counts in for one second.
func boathouse(t *testing.T) string {
	t.Helper()
	home := t.TempDir()
	if err := os.CopyFS(home, sessions.Home()); err != nil {
		t.Fatal(err)
	}
	cli.WriteFiles(t, home, map[string]string{"sessions/quick-ropes.toml": quickRopes, "house.toml": `count_back = "1 s"`})
	return home
}

// TestPtyWide counts what a class writes to a large terminal.
func TestPtyWide(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes five seconds")
	}
	c := beginAt(t, 200, 60, "run", "slack-water", "--home", t.TempDir(), "--quiet", "--yes")
	c.see("Space GO")
	c.press(space)
	c.see("starts in")
	before := c.written()
	time.Sleep(5 * time.Second)
	t.Logf("written to a terminal of 200 x 60: %d bytes a second", (c.written()-before)/5)
	c.press(ctrlC)
	c.press(ctrlC)
	c.left()
}

// play strikes keys, and after each wants large digits that can be read.
func (c *terminal) play(keys []string) {
	c.t.Helper()
	for _, key := range append([]string{""}, keys...) {
		if key != "" {
			c.press(key)
		}
		c.until("counts down after "+key, func(s string) bool { return countdown.MatchString(largeDigits(s)) })
		for _, trace := range []string{"goroutine ", "panic:", "runtime error"} {
			if strings.Contains(c.text(), trace) {
				c.t.Errorf("%q on the screen after %q", trace, key)
			}
		}
	}
}

// left wants the program to have ended by Ctrl-C and the terminal as it was.
func (c *terminal) left() {
	c.t.Helper()
	if got := c.wait(); got != 130 {
		c.t.Errorf("exit status after Ctrl-C twice is %d, want 130", got)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.screen.IsAltScreen() {
		c.t.Error("the alternate screen was not left")
	}
}

func (c *terminal) written() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.bytes
}

// split is a round as the splits tell it.
type split struct {
	Work   float64 `json:"work_s"`
	ByHand bool    `json:"by_hand"`
}

// splitsOf returns the rounds of everyone in the last class of the home.
func splitsOf(t *testing.T, home string) map[string][]split {
	t.Helper()
	out, err := exec.Command("hawser", "splits", "--home", home, "--json").Output()
	if err != nil {
		t.Fatalf("splits: %v", err)
	}
	var report struct {
		Parts []struct {
			Athletes []struct {
				Name   string
				Rounds []split
			}
		}
	}
	if err := json.Unmarshal(out, &report); err != nil {
		t.Fatal(err)
	}
	rounds := map[string][]split{}
	for _, a := range report.Parts[0].Athletes {
		rounds[a.Name] = a.Rounds
	}
	return rounds
}
