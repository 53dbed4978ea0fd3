package logbook

import (
	"cmp"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/oklog/ulid/v2"
)

// Run is a run in a home, by its file names alone.
type Run struct {
	ULID    string
	Path    string // of its longest file, below the home, slash-separated
	Size    int64  // of that file
	Private string // the path of the private file beside it; "" for none
	Single  bool   // there is no other file of it than these two
	Mark    uint64 // of the names, sizes and times of all its files: a cache is good while it is the same

	public, private []entry // by name
}

// entry is a file of a run.
type entry struct {
	item
	folder string // below the home
	run    string
	public bool
}

func (e *entry) path() string { return e.folder + "/" + e.name }

// Runs lists the runs of a home, the oldest first, without reading them. A home
// without logs has none.
func Runs(home string) ([]Run, error) {
	root, err := os.OpenRoot(home)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("list logs: %w", err)
	}
	defer root.Close()
	return runs(disk{root}, "")
}

// Runs lists the runs of the home, the oldest first, without reading them.
func (h *Home) Runs() ([]Run, error) { return runs(h.files, "") }

// runs lists those of a year on, which is how a folder is called. Years are listed
// side by side: ten of them are 25,000 files.
func runs(f files, from string) ([]Run, error) {
	years, err := f.List(logFolder, "")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("list logs: %w", err)
	}
	years = slices.DeleteFunc(years, func(year item) bool { return !year.mode.IsDir() || year.name < from })
	found, errs := make([][]entry, len(years)), make([]error, len(years))
	var work sync.WaitGroup
	for i, year := range years {
		work.Go(func() { found[i], errs[i] = logs(f, path.Join(logFolder, year.name), "") })
	}
	work.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return gather(slices.Concat(found...)), nil
}

// logs lists the logs in one folder by name, those of one run where one is given.
func logs(f files, folder, of string) ([]entry, error) {
	items, err := f.List(folder, of)
	if err != nil {
		return nil, fmt.Errorf("list logs: %w", err)
	}
	all := make([]entry, 0, len(items))
	for _, one := range items {
		if _, run, end := nameParts(one.name); one.mode.IsRegular() && end != "" && (of == "" || run == of) {
			all = append(all, entry{one, folder, run, end == publicEnd})
		}
	}
	return all, nil
}

// gather returns the runs that have a public file, by when they were opened. It
// orders all by run, and hands parts of it to the runs.
func gather(all []entry) []Run {
	slices.SortFunc(all, func(a, b entry) int {
		switch {
		case a.run != b.run:
			return strings.Compare(a.run, b.run)
		case a.public != b.public && a.public:
			return -1
		case a.public != b.public:
			return 1
		}
		return strings.Compare(a.name, b.name)
	})
	list := make([]Run, 0, len(all))
	for from, to := 0, 0; from < len(all); from = to {
		public := from
		for ; to < len(all) && all[to].run == all[from].run; to++ {
			if all[to].public {
				public = to + 1
			}
		}
		if public > from {
			list = append(list, newRun(all[from:public], all[public:to]))
		}
	}
	slices.SortFunc(list, func(a, b Run) int {
		return cmp.Or(strings.Compare(a.public[0].name, b.public[0].name), strings.Compare(a.ULID, b.ULID))
	})
	return list
}

// newRun is the run of those files.
func newRun(public, private []entry) Run {
	best := longest(public)
	r := Run{
		ULID: best.run, Path: best.path(), Size: best.size, Single: len(public) == 1 && len(private) <= 1,
		Mark: mark(public, private), public: public, private: private,
	}
	if len(private) > 0 {
		r.Private = longest(private).path()
	}
	return r
}

// mark is a number that is another one when a file is added, removed or changed.
// Each step is one to one, so that where one number alone is another, the mark is.
func mark(files ...[]entry) uint64 {
	h := uint64(0)
	for _, all := range files {
		for i := range all {
			one := &all[i]
			for _, n := range [...]uint64{
				uint64(crc32.Checksum([]byte(one.folder), castagnoli)), uint64(crc32.Checksum([]byte(one.name), castagnoli)),
				uint64(one.size), uint64(one.modified), uint64(one.changed),
			} {
				h = (h ^ n) * 0x100000001b3 // the prime of FNV-1a
			}
		}
	}
	return h
}

// longest is the file with the most bytes, the newest of those. Several files of a
// run repeat the same lines, so more bytes are more lines but for damage.
func longest(all []entry) *entry {
	best := &all[0]
	for i := range all[1:] {
		one := &all[i+1]
		if cmp.Or(cmp.Compare(one.size, best.size), strings.Compare(one.name, best.name)) >= 0 {
			best = one
		}
	}
	return best
}

// nameParts takes a file name apart: when it was begun, the run, and the end, which
// is "" where it is no name of this package.
func nameParts(name string) (begun time.Time, run, end string) {
	for _, end := range []string{privateEnd, publicEnd} {
		stem, ok := strings.CutSuffix(name, end)
		if !ok {
			continue
		}
		at, id, ok := strings.Cut(stem, "-")
		begun, err := time.Parse(nameLayout, at)
		if _, bad := ulid.ParseStrict(id); !ok || err != nil || bad != nil {
			return time.Time{}, "", ""
		}
		return begun, id, end
	}
	return time.Time{}, "", ""
}

// Load reads a log by its path, anywhere: the longest file of its run in that
// folder, and the private one beside it. Its Path is one that can be opened, like
// file. The log may be damaged, see [Log.Err]; the error says that it cannot be read
// at all.
func Load(file string) (*Log, error) {
	f, done, name, err := rooted(file)
	if err != nil {
		return nil, err
	}
	log, err := loadIn(f, name)
	if log != nil {
		folder := filepath.Dir(file)
		log.Path = filepath.Join(folder, log.Path)
		for _, d := range log.Damage {
			d.File = filepath.Join(folder, d.File)
		}
	}
	return log, errors.Join(err, done())
}

// loadIn reads a log of folder ".", or where the name is not one of this package,
// just that file.
func loadIn(f files, name string) (*Log, error) {
	_, id, end := nameParts(name)
	if end != publicEnd {
		return readFile(f, name)
	}
	all, err := logs(f, ".", id)
	if err != nil {
		return nil, err
	}
	if found := gather(all); len(found) == 1 {
		return load(f, &found[0])
	}
	return readFile(f, name) // says what is wrong with it
}

// Load reads a run of the home. Paths in it are below the home.
func (h *Home) Load(r *Run) (*Log, error) { return load(h.files, r) }

func load(f files, r *Run) (*Log, error) {
	log, err := readLongest(f, r.public)
	if err != nil || len(r.private) == 0 {
		return log, err
	}
	private, err := readLongest(f, r.private)
	if err != nil {
		return log, err
	}
	for _, e := range private.Events {
		e.N = 0
		log.Private = append(log.Private, e)
	}
	log.Damage = append(log.Damage, private.Damage...)
	log.Newer = log.Newer || private.Newer
	return log, nil
}

// readLongest reads the file with the most whole lines, the newest of those, and
// fills what is missing in it from the others.
func readLongest(f files, all []entry) (*Log, error) {
	var best *Log
	logs := make([]*Log, len(all))
	for i := range all {
		log, err := readFile(f, all[i].path())
		if err != nil {
			return nil, err
		}
		if logs[i] = log; best == nil || len(log.lines) >= len(best.lines) {
			best = log
		}
	}
	for _, log := range logs {
		best.fill(log)
	}
	return best, nil
}

func readFile(f files, name string) (*Log, error) {
	r, err := f.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: %w", name, ErrNoLog)
	}
	if err != nil {
		return nil, fmt.Errorf("open log: %w", err)
	}
	defer r.Close()
	return Read(name, r)
}

// Unfinished returns the newest run that was opened less than a day before now and
// did not end, so that it can be offered back; nil where there is none.
func (h *Home) Unfinished(now time.Time) (*Run, *Log, error) {
	all, err := runs(h.files, now.UTC().Add(-24*time.Hour).Format("2006"))
	if err != nil {
		return nil, nil, err
	}
	for i := len(all) - 1; i >= 0; i-- {
		run := &all[i]
		begun, _, _ := nameParts(run.public[0].name)
		if now.Sub(begun) >= 24*time.Hour {
			break
		}
		log, err := h.Load(run)
		if err != nil {
			return nil, nil, err
		}
		if _, ok := log.Opened(); ok && !log.Ended() && !log.Newer {
			return run, log, nil
		}
	}
	return nil, nil, nil //nolint:nilnil // none is no error
}
