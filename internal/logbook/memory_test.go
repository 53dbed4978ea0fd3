package logbook

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"path"
	"slices"
	"strings"
	"syscall"
	"time"
)

// memory is a file system in memory that can fail and lose its power. What a file
// holds and what a folder names are kept twice: as a program sees them, and as they
// would be after a power cut, which Sync and SyncFolder bring up to date.
type memory struct {
	folders map[string]*node       // by full name; "." is there
	ops     int                    // operations so far that a fault can hit
	fault   func(op op) error      // asked before each, nil for none
	room    int64                  // bytes left on the disk; negative: no limit
	full    bool                   // it is to be full for a while: no file is given up for that
	ticks   int64                  // a clock for ModTime
	resync  []string               // files on which Sync was called after it had failed
	noSync  func(name string) bool // the control: this Sync does nothing, and says yes
}

// op is an operation that a fault can hit.
type op struct {
	n    int // from 1
	kind string
	name string
}

// node is a folder.
type node struct {
	names, kept map[string]*data // a nil data is a folder
}

// data is a file.
type data struct {
	bytes, kept []byte
	time        int64
	changed     int64
	failed      bool // a sync failed
}

func newMemory() *memory {
	return &memory{folders: map[string]*node{".": newNode()}, room: -1}
}

func newNode() *node { return &node{names: map[string]*data{}, kept: map[string]*data{}} }

func (m *memory) hit(kind, name string) error {
	m.ops++
	if m.fault == nil {
		return nil
	}
	if err := m.fault(op{m.ops, kind, name}); err != nil {
		return &fs.PathError{Op: kind, Path: name, Err: err}
	}
	return nil
}

func (m *memory) at(name string) (*node, string, error) {
	n := m.folders[path.Dir(name)]
	if n == nil {
		return nil, "", &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return n, path.Base(name), nil
}

func (m *memory) find(name string) (*data, error) {
	n, base, err := m.at(name)
	if err != nil {
		return nil, err
	}
	d, ok := n.names[base]
	if !ok || d == nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return d, nil
}

func (m *memory) Create(name string) (file, error) {
	if err := m.hit("create", name); err != nil {
		return nil, err
	}
	n, base, err := m.at(name)
	if err != nil {
		return nil, err
	}
	if _, ok := n.names[base]; ok {
		return nil, &fs.PathError{Op: "create", Path: name, Err: fs.ErrExist}
	}
	d := &data{}
	n.names[base] = d
	return &memoryFile{m, name, d}, nil
}

func (m *memory) Append(name string) (file, error) {
	if err := m.hit("open", name); err != nil {
		return nil, err
	}
	d, err := m.find(name)
	if err != nil {
		return nil, err
	}
	return &memoryFile{m, name, d}, nil
}

func (m *memory) Open(name string) (io.ReadCloser, error) {
	d, err := m.find(name)
	if err != nil {
		return nil, err
	}
	return io.NopCloser(bytes.NewReader(d.bytes)), nil
}

func (m *memory) List(folder, run string) ([]item, error) {
	n := m.folders[folder]
	if n == nil {
		return nil, &fs.PathError{Op: "list", Path: folder, Err: fs.ErrNotExist}
	}
	var items []item
	for _, name := range slices.Sorted(maps.Keys(n.names)) {
		one := item{name: name, mode: fs.ModeDir}
		if d := n.names[name]; d != nil {
			one = item{name: name, size: int64(len(d.bytes)), modified: time.Unix(d.time, 0).UnixNano(), changed: d.changed}
		}
		if strings.Contains(name, run) {
			items = append(items, one)
		}
	}
	return items, nil
}

func (m *memory) Folder(name string) error {
	if err := m.hit("mkdir", name); err != nil {
		return err
	}
	if m.folders[name] != nil {
		return nil
	}
	n, base, err := m.at(name)
	if err != nil {
		return err
	}
	n.names[base] = nil
	m.folders[name] = newNode()
	return nil
}

func (m *memory) SyncFolder(name string) error {
	if err := m.hit("sync folder", name); err != nil {
		return err
	}
	n := m.folders[name]
	if n == nil {
		return &fs.PathError{Op: "sync folder", Path: name, Err: fs.ErrNotExist}
	}
	if m.noSync == nil || !m.noSync(name) {
		n.kept = maps.Clone(n.names)
	}
	return nil
}

func (m *memory) Rename(from, to string) error {
	if err := m.hit("rename", to); err != nil {
		return err
	}
	d, err := m.find(from)
	if err != nil {
		return err
	}
	a, was, _ := m.at(from)
	b, is, err := m.at(to)
	if err != nil {
		return err
	}
	delete(a.names, was)
	b.names[is] = d
	return nil
}

func (m *memory) Remove(name string) error {
	if err := m.hit("remove", name); err != nil {
		return err
	}
	if _, err := m.find(name); err != nil {
		return err
	}
	n, base, _ := m.at(name)
	delete(n.names, base)
	return nil
}

// powerCut returns what is left after the power went: of all that was not synced,
// any part, as r has it. Whole pages of a file can be there, zeros or old.
func (m *memory) powerCut(r *rand.Rand) *memory {
	left := newMemory()
	for name := range m.folders {
		left.folders[name] = newNode()
	}
	copies := map[*data]*data{}
	for name, n := range m.folders {
		into := left.folders[name]
		for _, base := range slices.Sorted(maps.Keys(merged(n.kept, n.names))) {
			was, had := n.kept[base]
			is, has := n.names[base]
			if had != has || was != is {
				if r.IntN(2) == 0 {
					was, had = is, has
				}
			}
			if had {
				into.names[base] = m.survives(was, copies, r)
			}
		}
		into.kept = maps.Clone(into.names)
	}
	for name := range left.folders { // a folder whose name is lost takes all in it along
		if !left.reached(name) {
			delete(left.folders, name)
		}
	}
	return left
}

func merged(a, b map[string]*data) map[string]*data {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

func (m *memory) reached(name string) bool {
	if name == "." {
		return true
	}
	n, base, err := m.at(name)
	if err != nil {
		return false
	}
	_, ok := n.names[base]
	return ok && m.reached(path.Dir(name))
}

// survives returns what is left of a file: what was synced, and of the rest a
// random piece of its length, with random holes of zeros in it.
func (m *memory) survives(d *data, copies map[*data]*data, r *rand.Rand) *data {
	if d == nil {
		return nil
	}
	if c := copies[d]; c != nil {
		return c
	}
	left := bytes.Clone(d.kept)
	switch {
	case bytes.HasPrefix(d.bytes, d.kept):
		rest := bytes.Clone(d.bytes[len(d.kept):])
		rest = rest[:r.IntN(len(rest)+1)]
		if len(rest) > 0 && r.IntN(2) == 0 {
			from := r.IntN(len(rest))
			clear(rest[from : from+r.IntN(len(rest)-from+1)])
		}
		left = append(left, rest...)
	case r.IntN(2) == 0:
		left = bytes.Clone(d.bytes)
	}
	c := &data{bytes: left, kept: bytes.Clone(left), time: d.time}
	copies[d] = c
	return c
}

type memoryFile struct {
	m    *memory
	name string
	d    *data
}

var errShort = errors.New("short write")

// Write honours a full disk the way a real one does: with a part of the bytes.
func (f *memoryFile) Write(b []byte) (int, error) {
	err := f.m.hit("write", f.name)
	n := len(b)
	switch {
	case errors.Is(err, errShort):
		n, err = len(b)/2, nil
	case err != nil:
		n = len(b) / 3
	case f.m.room >= 0 && int64(n) > f.m.room:
		n, err = int(f.m.room), &fs.PathError{Op: "write", Path: f.name, Err: syscall.ENOSPC}
	}
	if f.m.room >= 0 {
		f.m.room -= int64(n)
	}
	f.d.bytes = append(f.d.bytes, b[:n]...)
	f.m.ticks++
	f.d.time = f.m.ticks
	return n, err
}

func (f *memoryFile) Truncate(size int64) error {
	if err := f.m.hit("truncate", f.name); err != nil {
		return err
	}
	if f.m.room >= 0 {
		f.m.room += int64(len(f.d.bytes)) - size
	}
	f.d.bytes = bytes.Clone(f.d.bytes[:size])
	return nil
}

func (f *memoryFile) Sync() error {
	if f.d.failed {
		f.m.resync = append(f.m.resync, f.name)
	}
	if err := f.m.hit("sync", f.name); err != nil {
		f.d.failed = true
		return err
	}
	if f.m.noSync == nil || !f.m.noSync(f.name) {
		f.d.kept = bytes.Clone(f.d.bytes)
	}
	return nil
}

func (f *memoryFile) Close() error { return f.m.hit("close", f.name) }

func (f *memoryFile) Gone() bool {
	d, err := f.m.find(f.name)
	return err != nil || d != f.d
}

// isLog reports whether a name is a public log.
func isLog(name string) bool {
	return strings.HasSuffix(name, publicEnd) && !strings.HasSuffix(name, privateEnd)
}
