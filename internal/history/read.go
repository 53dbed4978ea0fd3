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

// Read gathers all runs of a home. progress is called now and then, from one
// goroutine at a time, with how many of the logs that had to be read are done; it
// may be nil. Faults are in the order of their paths.
func Read(home string, progress func(done, all int)) (*review.History, []*Fault, error) {
	cache := make(chan map[string]*review.Cached, 1)
	go func() { cache <- cached(filepath.Join(home, CacheName)) }()
	runs, err := logbook.Runs(home)
	known := <-cache
	if err != nil {
		return nil, nil, fmt.Errorf("read the history: %w", err)
	}
	all := make([]review.Cached, len(runs))
	var missing []int
	for i := range runs {
		r := &runs[i]
		if c := known[r.Path]; c != nil && c.Mark == r.Mark {
			all[i] = *c
			continue
		}
		missing = append(missing, i)
	}
	faults := readAll(home, runs, missing, all, progress)
	var kept sync.WaitGroup
	if len(missing) > 0 || len(known) != len(runs)-faulty(faults) {
		kept.Go(func() { keep(filepath.Join(home, CacheName), all, faults) })
	}
	list := make([]review.Summary, 0, len(all))
	for i := range all {
		list = append(list, all[i].Summary)
	}
	h := review.NewHistory(list)
	kept.Wait()
	return h, faults, nil
}

// readAll reads the runs at those places on every core.
func readAll(home string, runs []logbook.Run, missing []int, all []review.Cached, progress func(done, all int)) []*Fault {
	var (
		faults []*Fault
		lock   sync.Mutex
		work   sync.WaitGroup
		next   atomic.Int64
		done   int
	)
	for range min(runtime.GOMAXPROCS(0), len(missing)) {
		work.Go(func() {
			w := newWorker()
			for {
				k := int(next.Add(1)) - 1
				if k >= len(missing) {
					return
				}
				r := &runs[missing[k]]
				var wrong []error
				c := &all[missing[k]]
				c.Summary, wrong = w.read(home, r)
				c.Path, c.Mark = r.Path, r.Mark
				lock.Lock()
				for _, err := range wrong {
					faults = append(faults, &Fault{Path: r.Path, Err: err})
				}
				if done++; progress != nil && (done%100 == 0 || done == len(missing)) {
					progress(done, len(missing))
				}
				lock.Unlock()
			}
		})
	}
	work.Wait()
	slices.SortStableFunc(faults, func(a, b *Fault) int { return cmp.Compare(a.Path, b.Path) })
	return faults
}

// faulty is how many logs the faults are of.
func faulty(faults []*Fault) int {
	n := 0
	for i, f := range faults {
		if i == 0 || f.Path != faults[i-1].Path {
			n++
		}
	}
	return n
}

// worker is what one goroutine keeps from log to log.
type worker struct {
	buf             []byte
	public, private []floor.Stamped
	same            *same
	state           *floor.State
	reader          review.Reader
}

func newWorker() *worker {
	return &worker{buf: make([]byte, 0, 64<<10), same: newSame(), state: floor.New()}
}

// read reads one run: by the scanner where its files are plain, else by the logbook,
// which says what is wrong with them.
func (w *worker) read(home string, r *logbook.Run) (s review.Summary, wrong []error) {
	if r.Single && w.scan(home, r.Path, &w.public) && (r.Private == "" || w.scan(home, r.Private, &w.private)) {
		log := logbook.Log{Events: w.public}
		if r.Private != "" {
			log.Private = w.private
		}
		return w.summarize(r, &log), nil
	}
	log, err := logbook.Load(filepath.Join(home, filepath.FromSlash(r.Path)))
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

// scan scans a file into events, which it empties first.
func (w *worker) scan(home, path string, events *[]floor.Stamped) bool {
	data, err := readInto(filepath.Join(home, filepath.FromSlash(path)), w.buf)
	w.buf = data
	if err != nil {
		return false
	}
	all, ok := scan(data, w.same, (*events)[:0])
	if ok {
		*events = all
	}
	return ok
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

// cached reads the cache by path; nil where it is not whole.
func cached(path string) map[string]*review.Cached {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	all, err := review.DecodeCache(data)
	if err != nil {
		return nil
	}
	known := make(map[string]*review.Cached, len(all))
	for i := range all {
		known[all[i].Path] = &all[i]
	}
	return known
}

// keep writes the cache, but for logs with a fault, which must be named each time.
// A cache that cannot be written is no reason to say anything, and one that a power
// cut spoils is noticed by its checksum, so nothing waits for the disk.
func keep(path string, all []review.Cached, faults []*Fault) {
	if len(faults) > 0 {
		all = slices.DeleteFunc(slices.Clone(all), func(c review.Cached) bool {
			_, bad := slices.BinarySearchFunc(faults, c.Path, func(f *Fault, path string) int { return cmp.Compare(f.Path, path) })
			return bad
		})
	}
	f, err := os.CreateTemp(filepath.Dir(path), CacheName+"-*") // its owner's alone
	if err != nil {
		return
	}
	_, err = f.Write(review.EncodeCache(all))
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
}
