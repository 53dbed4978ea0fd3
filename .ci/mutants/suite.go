package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const (
	awake  = "HAWSER_MUTANT"         // the number of the mutant that a run has to bear
	passed = "HAWSER_MUTANTS_PASSED" // the file that says which mutants a run has passed
	quick  = 100 * time.Millisecond  // tests below this are run together
)

// suite is the tests of a package, in a binary that has its mutants in it.
type suite struct {
	binary, folder string
	flags          []string
	tests          []test // quick ones first
}

// test is one test, how long it takes without a mutant, and which mutants it passes.
type test struct {
	name   string
	takes  time.Duration
	passes []byte // by the number of the mutant; 1: passed
}

// suite compiles the tests of a folder, over the package with its mutants in it, and runs
// each by itself.
func (p *pack) suite(work, folder string, short bool) (*suite, error) {
	binary := filepath.Join(work, filepath.Base(folder)+".test")
	if err := p.compile(work, folder, binary); err != nil {
		return nil, err
	}
	s := &suite{binary: binary, folder: folder}
	if short {
		s.flags = append(s.flags, "-test.short")
	}
	// Property tests find the same cases each time, and write none of them down.
	if property := []string{"-rapid.nofailfile", "-rapid.seed=1"}; exec.Command(binary, append(property, "-test.list=^$")...).Run() == nil {
		s.flags = append(s.flags, property...)
	}
	out, err := s.command(context.Background(), "-test.list=.").Output()
	if err != nil {
		return nil, fmt.Errorf("list the tests: %w", err)
	}
	for _, name := range strings.Fields(string(out)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		t := test{name: name}
		memory := filepath.Join(work, "passed")
		if err := os.WriteFile(memory, make([]byte, len(p.mutants)+1), 0o600); err != nil {
			return nil, err
		}
		began := time.Now()
		if out, err := s.run(time.Minute, []string{name}, passed+"="+memory); err != nil {
			return nil, fmt.Errorf("%s fails without a mutant: %w\n%s", name, err, out)
		}
		t.takes = time.Since(began)
		if t.passes, err = os.ReadFile(memory); err != nil {
			return nil, err
		}
		if slices.Contains(t.passes, 1) {
			s.tests = append(s.tests, t)
		}
	}
	slices.SortStableFunc(s.tests, func(a, b test) int { return int(a.takes - b.takes) })
	return s, nil
}

// survives reports whether no test notices a mutant.
func (s *suite) survives(mutant int) bool {
	var together []string
	var slow []test
	takes := time.Duration(0)
	for _, t := range s.tests {
		switch {
		case t.passes[mutant+1] == 0:
		case t.takes < quick:
			together = append(together, t.name)
			takes += t.takes
		default:
			slow = append(slow, t)
		}
	}
	woken := fmt.Sprintf("%s=%d", awake, mutant+1)
	if len(together) > 0 {
		if _, err := s.run(takes, together, woken); err != nil {
			return false
		}
	}
	for _, t := range slow {
		if _, err := s.run(t.takes, []string{t.name}, woken); err != nil {
			return false
		}
	}
	return true
}

// comesBy reports whether a test passes a mutant.
func (s *suite) comesBy(mutant int) bool {
	return slices.ContainsFunc(s.tests, func(t test) bool { return t.passes[mutant+1] == 1 })
}

// run runs some of the tests, which take so long without a mutant. Five times that is too
// much, by the processor's time first, since the machine may be busy; so are 3 GB of memory.
func (s *suite) run(takes time.Duration, tests []string, environment string) ([]byte, error) {
	patience := 30*time.Second + 10*takes
	ctx, stop := context.WithTimeout(context.Background(), patience+5*time.Second)
	defer stop()
	cmd := s.command(ctx, "-test.failfast", "-test.timeout="+patience.String(), "-test.run=^("+strings.Join(tests, "|")+")$")
	cmd.Env = append(os.Environ(), environment, fmt.Sprintf("LIMIT=%d", 2+int(5*takes.Seconds())))
	out, err := cmd.CombinedOutput()
	if errors.Is(err, exec.ErrWaitDelay) {
		err = nil // a process that a test has left holds the pipe
	}
	return out, err
}

func (s *suite) command(ctx context.Context, args ...string) *exec.Cmd {
	const limited = `ulimit -v 3000000; ulimit -t "${LIMIT:-600}"; exec "$@"`
	args = append([]string{"-c", limited, "sh", s.binary}, append(args, s.flags...)...)
	cmd := exec.CommandContext(ctx, "sh", args...)
	cmd.Dir, cmd.WaitDelay = s.folder, time.Second
	return cmd
}
