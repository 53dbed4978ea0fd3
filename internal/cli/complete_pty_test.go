//go:build pty && unix

package cli_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"hawser/internal/cli"
)

const bashLibrary = "/usr/share/bash-completion/bash_completion"

// TestPtyCompletes types into each shell that there is, with the completion it is
// given, and Tab: sessions, people, people behind --who, and runs.
func TestPtyCompletes(t *testing.T) {
	t.Parallel()
	home := filepath.Join(t.TempDir(), "home")
	presses := filepath.Join(t.TempDir(), "one.txt")
	if err := os.WriteFile(presses, []byte("0:20 a\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"init", home},
		{"rehearse", "every-two", "--home", home, "--presses", presses, "--keep", "--at", "2026-11-18T18:00"},
	} {
		if out, err := exec.Command("hawser", args...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
		cli.WriteFiles(t, home, map[string]string{"kit.toml": threeSleds, "roster.toml": threePeople})
	}
	for _, shell := range []struct {
		name, load, comma string
		args              []string
	}{
		{"bash", "source " + bashLibrary + "; source <(hawser completion bash)", `\,`, []string{"--norc", "--noprofile", "-i"}},
		{"zsh", "autoload -U compinit; compinit -u -D; source <(hawser completion zsh)", ",", []string{"-f", "-i"}},
		{"fish", "hawser completion fish | source", ",", []string{"--no-config", "-i"}},
		{"pwsh", "hawser completion powershell | Out-String | Invoke-Expression", ",", []string{"-NoProfile", "-NoLogo"}},
	} {
		t.Run(shell.name, func(t *testing.T) {
			t.Parallel()
			path, err := exec.LookPath(shell.name)
			if err != nil {
				t.Skip(err)
			}
			if _, err := os.Stat(bashLibrary); err != nil && shell.name == "bash" {
				t.Skip(err) // bash completes commands with the help of its own library
			}
			cmd := exec.Command(path, shell.args...)
			cmd.Dir, cmd.Env = t.TempDir(), append(os.Environ(), "HAWSER_HOME="+home)
			c := start(t, 120, 40, cmd)
			c.press("hawser --version\r")
			c.see("version")
			c.press(shell.load + "\r")
			c.press("clear\r")
			c.gone("version")
			for _, line := range []struct{ typed, want string }{
				{"hawser board eve", "hawser board every-two"},
				{"hawser history Ann", "hawser history Anneke"},
				{"hawser board every-two --who Bram,An", "--who Bram" + shell.comma + "Anneke"},
				{"hawser splits 0", "hawser splits 01"},
				{"hawser schema ros", "hawser schema roster"},
			} {
				c.press(line.typed + "\t")
				c.see(line.want)
				c.press("\x15") // the line away
			}
			c.press("exit\r")
		})
	}
}
