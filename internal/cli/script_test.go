package cli_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
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
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"status": status,
			"json":   readJSON,
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
