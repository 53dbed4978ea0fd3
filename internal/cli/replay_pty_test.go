//go:build pty && unix

package cli_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestPtyReplay goes the whole way from the splits to the next class: the replay
// names the largest fade with no key pressed, Enter leads to next week's stacks,
// Enter accepts one, and the board of the next class has it.
func TestPtyReplay(t *testing.T) {
	home := filepath.Join(t.TempDir(), "home")
	hawser := func(args ...string) string {
		out, err := exec.Command("hawser", append(args, "--home", home)...).Output()
		if err != nil {
			t.Fatalf("hawser %s: %v", strings.Join(args, " "), err)
		}
		return string(out)
	}
	hawser("rehearse", "slack-water", "--presses", "slack-water.presses", "--keep", "--at", "2026-11-11T18:00")
	replay := begin(t, "replay", "--home", home)
	replay.see("Largest fade: Eskil, 38.8 % slower at the end (round 7: 1:01.0) with 82.3 kg")
	replay.press("\r")
	replay.see("Next time: Slack water")
	replay.see("0 of 9 decided")
	replay.press("\r")
	replay.see("1 of 9 decided")
	replay.press("q")
	if code := replay.wait(); code != 0 {
		t.Errorf("it left with status %d, want 0", code)
	}
	if board := hawser("board", "slack-water", "--who", "Maren"); !strings.Contains(board, "kg in all was accepted on ") {
		t.Errorf("the next board does not have the accepted load:\n%s", board)
	}
}
