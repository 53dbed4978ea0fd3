package cli_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"hawser/internal/cli"
)

var update = flag.Bool("update", false, "write what the program prints into the scripts and goldens")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"hawser": func() { os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the program as a shell does, one file a behaviour.
func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Setup: func(env *testscript.Env) error {
			env.Setenv("HAWSER_HOME", "")
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/data")
			env.Setenv("TZ", "UTC")
			env.Values[running{}] = new(exec.Cmd)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"status":    status,
			"json":      readJSON,
			"during":    during,
			"interrupt": interrupt,
		},
	})
}

// status runs a command and wants that exit status: status 3 hawser check bad.toml.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command…")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		ended, ok := errors.AsType[*exec.ExitError](err)
		if !ok {
			ts.Fatalf("%s: %v", args[1], err)
		}
		got = ended.ExitCode()
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit status %d, want %s", got, args[0])
	}
}

// running is the key of the command that a script has left running.
type running struct{}

// during leaves a command running for the ones below it, from when it says a word:
// during 'Space GO' hawser run heavy.
func during(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: during word command…")
	}
	cmd := ts.Value(running{}).(*exec.Cmd)
	*cmd = *exec.Command(args[1], args[2:]...)
	cmd.Dir = ts.MkAbs(".")
	for _, name := range []string{"PATH", "HOME", "HAWSER_HOME", "XDG_DATA_HOME", "TZ"} {
		cmd.Env = append(cmd.Env, name+"="+ts.Getenv(name))
	}
	said, err := cmd.StdoutPipe()
	ts.Check(err)
	cmd.Stderr = cmd.Stdout
	_, err = cmd.StdinPipe() // it stays open, as a coach's terminal does
	ts.Check(err)
	ts.Check(cmd.Start())
	ts.Defer(func() { _ = cmd.Process.Kill() }) // it may have ended already
	all := ""
	for buf := make([]byte, 4096); !strings.Contains(all, args[0]); {
		n, err := said.Read(buf)
		all += string(buf[:n])
		if err != nil {
			ts.Fatalf("it ends without %q: %s", args[0], all)
		}
	}
	go io.Copy(io.Discard, said) //nolint:errcheck // until it ends
}

// interrupt ends what is running as Ctrl-C does and wants that exit status.
func interrupt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: interrupt N")
	}
	cmd := ts.Value(running{}).(*exec.Cmd)
	ts.Check(cmd.Process.Signal(os.Interrupt))
	ended, err := cmd.Process.Wait()
	ts.Check(err)
	if got := strconv.Itoa(ended.ExitCode()); got != args[0] {
		ts.Fatalf("exit status %s, want %s", got, args[0])
	}
}

// readJSON looks into the last output: json loads.0.moves_kg 107. A part of the
// path that is no number picks the element of a list with that name or athlete.
func readJSON(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: json path value")
	}
	var at any
	if err := json.Unmarshal([]byte(ts.ReadFile("stdout")), &at); err != nil {
		ts.Fatalf("the output is no JSON: %v", err)
	}
	for step := range strings.SplitSeq(args[0], ".") {
		next, err := into(at, step)
		if err != nil {
			ts.Fatalf("%s: %v", args[0], err)
		}
		at = next
	}
	got, err := json.Marshal(at)
	if err != nil {
		ts.Fatalf("%v", err)
	}
	if text, ok := at.(string); ok {
		got = []byte(text)
	}
	if (string(got) == args[1]) == neg {
		ts.Fatalf("%s is %s, want %s", args[0], got, args[1])
	}
}

func into(at any, step string) (any, error) {
	switch at := at.(type) {
	case map[string]any:
		if value, ok := at[step]; ok {
			return value, nil
		}
	case []any:
		if i, err := strconv.Atoi(step); err == nil && i < len(at) {
			return at[i], nil
		}
		for _, element := range at {
			if m, ok := element.(map[string]any); ok && (m["name"] == step || m["athlete"] == step) {
				return m, nil
			}
		}
	}
	return nil, fmt.Errorf("there is no %s", step)
}
