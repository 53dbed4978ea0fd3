// Package coachfile reads the coach's TOML files, whatever is in them: it says
// every fault of a file at once, each with its place, what is wrong and what to
// write, and it cleans text that came from outside.
//
// Contract: [Read] takes bytes and a name to show. A file over its limit is
// refused unread; any other is read or refused in time linear in its size, which
// is why the tree is built here and go-toml only splits the text (its own decoder
// takes time quadratic in the keys of one table). A caller asks the tables for
// the keys it knows; [File.Err] then names every key that nobody asked for, with
// the nearest one that was.
//
//	file, top := coachfile.Read("kit.toml", data, coachfile.Limit)
//	kit.Step = coachfile.Get(top, "step", measure.ParseMass)
//	for _, t := range top.Tables("sled") {
//		t.Need("name", `name = "A"`)
//		…
//	}
//	return kit, file.Err()
//
// A program that changes a file adds to its bytes ([Insert]), so that comments
// and order stay.
package coachfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Sizes above which a file is refused unread, in bytes.
const (
	Limit       = 64 << 10
	RosterLimit = 1 << 20
)

// most is how many faults of one file are said; a file with more is not a
// coach's file with slips in it.
const most = 50

// Fault is one thing that is wrong in a file. Line and Col count from 1, Col in
// characters; 0 where the fault has no place.
type Fault struct {
	File      string
	Line, Col int
	What      string // what is wrong
	Write     string // what to write or do instead; "" where What says it
}

func (f Fault) Error() string {
	place := f.File
	if f.Line > 0 {
		place = fmt.Sprintf("%s:%d:%d", f.File, f.Line, f.Col)
	}
	if f.Write == "" {
		return place + ": " + f.What
	}
	return place + ": " + f.What + "; " + f.Write
}

// Faults is every fault of one file, in the order of their places.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, fault := range f {
		lines[i] = fault.Error()
	}
	return strings.Join(lines, "\n")
}

// File is a file that is being read; its faults gather until Err.
type File struct {
	name   string
	starts []int // offset of each line
	data   []byte
	tables []*Table
	faults Faults
	more   int  // faults beyond most
	broken bool // part of it could not be read, so that a missing key may stand there
}

// Err returns every fault so far and every key that nobody asked for, or nil.
func (f *File) Err() error {
	for _, t := range f.tables {
		t.unasked()
	}
	if len(f.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(f.faults, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
	})
	if f.more > 0 {
		f.faults = append(f.faults, Fault{File: f.name, What: fmt.Sprintf("and %d more faults", f.more), Write: "mend these first"})
	}
	return f.faults
}

func (f *File) fault(offset int, what, write string) {
	if len(f.faults) == most {
		f.more++
		return
	}
	line, col := f.place(offset)
	f.faults = append(f.faults, Fault{f.name, line, col, what, write})
}

// place returns line and column of a byte.
func (f *File) place(offset int) (line, col int) {
	i, found := slices.BinarySearch(f.starts, offset)
	if !found {
		i--
	}
	return i + 1, len([]rune(string(f.data[f.starts[i]:offset]))) + 1
}
