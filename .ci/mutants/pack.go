package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"go/ast"
	"go/format"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// pack is a package with its mutants in it.
type pack struct {
	folder   string
	set      *token.FileSet
	files    map[string]*ast.File
	info     *types.Info
	function string // the one that is being changed
	mutants  []mutant
}

// has reports whether a mutant of that name is in the package.
func (p *pack) has(name string) bool {
	return slices.ContainsFunc(p.mutants, func(m mutant) bool { return m.String() == name })
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
				p.function = fn.Name.Name
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

const overlay = "overlay.json" // of the go command: which file stands for which

// write puts the package with its mutants, and the overlay, into a folder.
func (p *pack) write(work string) error {
	var replaced []string
	replace := func(at, text string) error {
		place, err := filepath.Abs(at)
		if err != nil {
			return err
		}
		file := filepath.Join(work, filepath.Base(at))
		replaced = append(replaced, fmt.Sprintf("%q: %q", place, file))
		return os.WriteFile(file, []byte(text), 0o600)
	}
	name := ""
	for at, f := range p.files {
		var b strings.Builder
		if err := format.Node(&b, p.set, f); err != nil {
			return err
		}
		if err := replace(at, b.String()); err != nil {
			return err
		}
		name = f.Name.Name
	}
	if err := replace(filepath.Join(p.folder, "mutants_awake.go"), fmt.Sprintf(sleeper, name, awake, passed, len(p.mutants)+1)); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(work, overlay), []byte(`{"Replace": {`+strings.Join(replaced, ",")+`}}`), 0o600)
}

// compile makes a test binary of the tests of a folder with all mutants in it.
func (p *pack) compile(work, tests, binary string) error {
	cmd := exec.Command("go", "test", "-c", "-vet=off", "-overlay", filepath.Join(work, overlay), "-o", binary, "./"+tests)
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("compile the mutants: %w\n%s", err, out)
	}
	return nil
}

// sleeper goes into the package: which mutant is awake, and which have been passed.
// Those passed stand in a file that is shared memory, one byte a mutant, so that a test that
// kills a process of its own loses none of them.
const sleeper = `package %s

import (
	"os"
	"strconv"
	"syscall"
)

var (
	mutantAwake, _ = strconv.Atoi(os.Getenv(%q))
	mutantsPassed  = mutantMemory(os.Getenv(%q))
)

func mutantMemory(path string) []byte {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return make([]byte, %[4]d)
	}
	defer f.Close()
	all, err := syscall.Mmap(int(f.Fd()), 0, %[4]d, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_SHARED)
	if err != nil {
		panic(err)
	}
	return all
}

func mutantIs(n int) bool {
	mutantsPassed[n] = 1
	return mutantAwake == n
}

func mutantOr[T any](n int, is, other T) T {
	if mutantIs(n) {
		return other
	}
	return is
}
`
