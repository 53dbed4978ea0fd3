// Command mutants breaks a package in one small place after the other and tells
// which of these mutants its own tests do not notice:
//
//	go run ./.ci/mutants [-sample 150] [-short] internal/logbook [internal/load …]
//
// All mutants of a package are compiled into one test binary, each asleep behind a
// number; the environment wakes one. So a mutant costs a run of the tests
// and no compiler, and all there are can be tried. What is changed: comparisons
// (their boundary and their sense), and/or, conditions, arithmetic, counting, and
// whole statements left out. Constants, panics and generated text stay as they are.
package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/format"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

const awake = "HAWSER_MUTANT" // the number of the mutant that a run has to bear

func main() {
	sample := flag.Int("sample", 0, "try so many of the mutants, chosen at random but always the same; 0: all")
	short := flag.Bool("short", false, "run the short tests")
	flag.Parse()
	failed := false
	for _, folder := range flag.Args() {
		if err := try(folder, *sample, *short); err != nil {
			fmt.Fprintf(os.Stderr, "%s: %v\n", folder, err)
			failed = true
		}
	}
	if failed || flag.NArg() == 0 {
		os.Exit(1)
	}
}

// enough is the share of mutants that the tests of a package have to kill, in percent.
const enough = 90

// try runs the tests of a package once a mutant, and prints the mutants that live.
func try(folder string, sample int, short bool) error {
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	p, err := load(folder)
	if err != nil {
		return err
	}
	binary, err := p.build(work)
	if err != nil {
		return err
	}
	flags := quiet(binary)
	if short {
		flags = append(flags, "-test.short")
	}
	began := time.Now()
	if out, err := run(binary, folder, 0, 10*time.Minute, flags); err != nil {
		return fmt.Errorf("the tests fail without a mutant: %w\n%s", err, out)
	}
	patience := 5*time.Since(began) + 5*time.Second
	chosen := rand.New(rand.NewPCG(1, 1)).Perm(len(p.mutants))
	if sample > 0 {
		chosen = chosen[:min(sample, len(chosen))]
	}
	var group sync.WaitGroup
	var alive atomic.Int32
	next := make(chan int)
	for range runtime.NumCPU() {
		group.Go(func() {
			for i := range next {
				if _, err := run(binary, folder, i+1, patience, flags); err == nil {
					fmt.Println(p.mutants[i])
					alive.Add(1)
				}
			}
		})
	}
	for _, i := range chosen {
		next <- i
	}
	close(next)
	group.Wait()
	killed := len(chosen) - int(alive.Load())
	fmt.Printf("%s: %d of %d mutants tried, %d killed, %.1f %%, in %v\n", folder, len(chosen), len(p.mutants),
		killed, 100*float64(killed)/float64(len(chosen)), time.Since(began).Round(time.Second))
	if 100*killed < enough*len(chosen) {
		return fmt.Errorf("fewer than %d %% are killed", enough)
	}
	return nil
}

// run runs the tests with one mutant awake. A mutant that hangs or takes all
// the memory has been noticed.
func run(binary, folder string, mutant int, patience time.Duration, flags []string) ([]byte, error) {
	ctx, stop := context.WithTimeout(context.Background(), patience+5*time.Second)
	defer stop()
	args := []string{"-c", `ulimit -v 8000000; exec "$@"`, "sh", binary, "-test.failfast", "-test.timeout=" + patience.String()}
	cmd := exec.CommandContext(ctx, "sh", append(args, flags...)...)
	cmd.Dir, cmd.WaitDelay = folder, time.Second
	cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%d", awake, mutant))
	return cmd.CombinedOutput()
}

// quiet keeps property tests from writing down every case that a mutant fails.
func quiet(binary string) []string {
	const flag = "-rapid.nofailfile"
	if exec.Command(binary, "-test.list=^$", flag).Run() != nil {
		return nil // this package has none
	}
	return []string{flag}
}

// pack is a package with its mutants in it.
type pack struct {
	folder  string
	set     *token.FileSet
	files   map[string]*ast.File
	info    *types.Info
	mutants []string
}

// load parses and checks a package and puts the mutants in.
func load(folder string) (*pack, error) {
	p := &pack{folder: folder, set: token.NewFileSet(), files: map[string]*ast.File{}, info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}}
	out, err := exec.Command("go", "list", "-f", `{{range .GoFiles}}{{.}}{{"\n"}}{{end}}`, "./"+folder).Output()
	if err != nil {
		return nil, fmt.Errorf("list its files: %w", err)
	}
	var all []*ast.File
	for _, name := range strings.Fields(string(out)) {
		f, err := parser.ParseFile(p.set, filepath.Join(folder, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		p.files[filepath.Join(folder, name)] = f
		all = append(all, f)
	}
	if len(all) == 0 {
		return nil, errors.New("there is no Go file")
	}
	known, err := exports(folder)
	if err != nil {
		return nil, err
	}
	conf := types.Config{Importer: importer.ForCompiler(p.set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(known[path]) })}
	if _, err := conf.Check(folder, p.set, all, p.info); err != nil {
		return nil, err
	}
	for _, f := range all {
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Body != nil {
				p.block(fn.Body.List)
			}
		}
	}
	return p, nil
}

// exports gives the compiled interface of all that a package imports.
func exports(folder string) (map[string]string, error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-f", "{{.ImportPath}} {{.Export}}", "./"+folder).Output()
	if err != nil {
		return nil, fmt.Errorf("compile what it imports: %w", err)
	}
	known := map[string]string{}
	for s := bufio.NewScanner(bytes.NewReader(out)); s.Scan(); {
		path, file, _ := strings.Cut(s.Text(), " ")
		known[path] = file
	}
	return known, nil
}

// build compiles the test binary with all mutants in it.
func (p *pack) build(work string) (string, error) {
	overlay := []string{}
	write := func(at, text string) error {
		place, err := filepath.Abs(at)
		if err != nil {
			return err
		}
		file := filepath.Join(work, filepath.Base(at))
		overlay = append(overlay, fmt.Sprintf("%q: %q", place, file))
		return os.WriteFile(file, []byte(text), 0o600)
	}
	name := ""
	for at, f := range p.files {
		var b strings.Builder
		if err := format.Node(&b, p.set, f); err != nil {
			return "", err
		}
		if err := write(at, b.String()); err != nil {
			return "", err
		}
		name = f.Name.Name
	}
	if err := write(filepath.Join(p.folder, "mutants_awake.go"), fmt.Sprintf(sleeper, name, awake)); err != nil {
		return "", err
	}
	list, binary := filepath.Join(work, "overlay.json"), filepath.Join(work, "tests")
	if err := os.WriteFile(list, []byte(`{"Replace": {`+strings.Join(overlay, ",")+`}}`), 0o600); err != nil {
		return "", err
	}
	if out, err := exec.Command("go", "test", "-c", "-vet=off", "-overlay", list, "-o", binary, "./"+p.folder).CombinedOutput(); err != nil {
		return "", fmt.Errorf("compile the mutants: %w\n%s", err, out)
	}
	return binary, nil
}

// sleeper goes into the package: which mutant is awake, and the choice by it.
const sleeper = `package %s

import (
	"os"
	"strconv"
)

var mutantAwake, _ = strconv.Atoi(os.Getenv(%q))

func mutantOr[T any](n int, is, else_ T) T {
	if mutantAwake == n {
		return else_
	}
	return is
}
`
