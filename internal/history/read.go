package history

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/pages"
	"hawser/internal/review"
)

// CacheName is the file in the home that holds what was read of its logs.
const CacheName = "history.cache"

// Fault is one thing that is wrong with a log: it cannot be read, a line of it is
// damaged or torn ([logbook.DamageError] says which and where), or it is from a
// newer program ([logbook.ErrNewer]). What could be read of it is in the history.
type Fault struct {
	Path string // below the home
	Err  error
}

func (f *Fault) Error() string {
	if errors.As(f.Err, new(*logbook.DamageError)) {
		return f.Err.Error() // it says where
	}
	return fmt.Sprintf("%s: %v", f.Path, f.Err)
}

func (f *Fault) Unwrap() error { return f.Err }

// many is from how many bytes on large pages are worth the collection that they take.
const many = 8 << 20

func reserve(size int) {
	if size >= many {
		pages.Reserve(size)
	}
}

// Read gathers all runs of a home. progress is called now and then, from one
// goroutine at a time, with how many of the logs that had to be read are done; it
// may be nil. Faults are in the order of their paths.
func Read(home string, progress func(done, all int)) (*review.History, []*Fault, error) {
	path := filepath.Join(home, CacheName)
	opened := make(chan *review.Cache, 1)
	go func() { opened <- cached(path) }()
	runs, err := logbook.Runs(home)
	cache := <-opened
	if err != nil {
		return nil, nil, fmt.Errorf("read the history: %w", err)
	}
	known := make(map[string]int, len(cache.Files))
	for i := range cache.Files {
		known[cache.Files[i].Path] = i
	}
	var unread []*logbook.Run
	changed := len(runs) != len(cache.Files)
	for i := range runs {
		r := &runs[i]
		at, ok := known[r.Path]
		same := ok && cache.Files[at].Mark == r.Mark
		changed = changed || !same
		if !same || cache.Files[at].Faulty {
			unread = append(unread, r)
		}
	}
	reserve(len(unread) * 8 << 10) // what is kept of a run, and its way there
	read, faults := readAll(home, unread, progress)
	if !changed {
		return cache.History(), faults, nil
	}
	whole := cache.All()
	all := make([]review.Cached, len(runs))
	for i := range runs {
		if r := &runs[i]; len(unread) > 0 && unread[0] == r {
			all[i], unread, read = read[0], unread[1:], read[1:]
		} else {
			all[i] = whole[known[r.Path]]
		}
	}
	cache, fresh := review.NewCache(all)
	var kept sync.WaitGroup
	kept.Go(func() { keep(path, fresh) })
	h := cache.History()
	kept.Wait()
	return h, faults, nil
}

// ahead is how many runs a worker opens before it takes apart the ones that it
// opened before. The disk reads these in the meantime.
const ahead = 16

// readAll reads runs on every core.
func readAll(home string, runs []*logbook.Run, progress func(done, all int)) ([]review.Cached, []*Fault) {
	var (
		all    = make([]review.Cached, len(runs))
		faults []*Fault
		lock   sync.Mutex
		work   sync.WaitGroup
		next   atomic.Int64
		done   int
	)
	take := func() (from, to int) {
		to = int(next.Add(ahead))
		return min(to-ahead, len(runs)), min(to, len(runs))
	}
	finish := func(r *logbook.Run, wrong []error) {
		lock.Lock()
		defer lock.Unlock()
		for _, err := range wrong {
			faults = append(faults, &Fault{Path: r.Path, Err: err})
		}
		if done++; progress != nil && (done%100 == 0 || done == len(runs)) {
			progress(done, len(runs))
		}
	}
	for range runtime.GOMAXPROCS(0) + 1 { // one may wait for a file to open
		work.Go(func() {
			w := newWorker(home)
			from, to := take()
			for now := w.open(runs[from:to]); len(now) > 0; {
				at := from
				from, to = take()
				then := w.open(runs[from:to])
				for i, files := range now {
					r, c := runs[at+i], &all[at+i]
					var wrong []error
					c.Summary, wrong = w.read(r, files)
					c.Path, c.Mark, c.Faulty = r.Path, r.Mark, len(wrong) > 0
					finish(r, wrong)
				}
				now = then
			}
		})
	}
	work.Wait()
	slices.SortStableFunc(faults, func(a, b *Fault) int { return cmp.Compare(a.Path, b.Path) })
	return all, faults
}

// worker is what one goroutine keeps from log to log.
type worker struct {
	home   string
	data   []byte
	events [2][]floor.Stamped // of a public and a private file
	same   *same
	state  *floor.State
	reader review.Reader
}

func newWorker(home string) *worker { return &worker{home: home, same: newSame(), state: floor.New()} }

// opened is the files of one run: the public one, and the private one where there is one.
type opened []file

// open opens the files of runs; none of a run of which the scanner does not know all
// files, or one of which does not open.
func (w *worker) open(runs []*logbook.Run) []opened {
	all := make([]opened, len(runs))
	for i, r := range runs {
		if !r.Single {
			continue
		}
		public, err := open(w.path(r.Path))
		if err != nil {
			continue
		}
		all[i] = opened{public}
		if r.Private == "" {
			continue
		}
		private, err := open(w.path(r.Private))
		if err != nil {
			public.close()
			all[i] = nil
			continue
		}
		all[i] = append(all[i], private)
	}
	return all
}

func (w *worker) path(below string) string { return filepath.Join(w.home, filepath.FromSlash(below)) }

// read takes one run apart: by the scanner where its files are plain, else by the
// logbook, which says what is wrong with them.
func (w *worker) read(r *logbook.Run, files opened) (sum review.Summary, wrong []error) {
	if log, ok := w.scanned(files); ok {
		return w.summarize(r, log), nil
	}
	log, err := logbook.Load(w.path(r.Path))
	if err != nil {
		return review.Summary{Run: r.ULID}, []error{err}
	}
	for _, d := range log.Damage {
		wrong = append(wrong, d)
	}
	if log.Newer {
		wrong = append(wrong, logbook.ErrNewer)
	}
	return w.summarize(r, log), wrong
}

// scanned is the log in those files, which it closes, where they are plain.
func (w *worker) scanned(files opened) (*logbook.Log, bool) {
	var log logbook.Log
	plain := len(files) > 0
	for i, f := range files {
		data, err := f.readInto(w.data)
		w.data = data
		if !plain || err != nil {
			plain = false
			continue
		}
		events := [...]*[]floor.Stamped{&log.Events, &log.Private}[i]
		*events, plain = scan(data, w.same, w.events[i][:0])
		w.events[i] = *events
	}
	return &log, plain
}

// summarize replays what could be read. Private events count from themselves, so
// they lose their numbers.
func (w *worker) summarize(r *logbook.Run, log *logbook.Log) review.Summary {
	opened, ok := log.Opened()
	if !ok || opened.Plan == nil {
		return review.Summary{Run: r.ULID}
	}
	for _, e := range log.Events {
		w.state.Apply(e)
	}
	for _, e := range log.Private {
		e.N = 0
		w.state.Apply(e)
	}
	return w.reader.Summarize(w.state, opened.Run, opened.Wall, log.Events[len(log.Events)-1].T)
}

// cached opens the cache by path; an empty one where it is not whole.
func cached(path string) *review.Cache {
	if info, err := os.Stat(path); err == nil {
		reserve(3 * int(min(info.Size(), 64<<20))) // its bytes, the names of the logs and the answer
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return &review.Cache{}
	}
	cache, err := review.OpenCache(data)
	if err != nil {
		return &review.Cache{}
	}
	return cache
}

// keep writes the cache. One that cannot be written is no reason to say anything, and
// one that a power cut spoils is noticed by its checksum, so nothing waits for the disk.
func keep(path string, cache []byte) {
	f, err := os.CreateTemp(filepath.Dir(path), CacheName+"-*") // its owner's alone
	if err != nil {
		return
	}
	_, err = f.Write(cache)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
}
