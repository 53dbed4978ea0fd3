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

// ahead is how many runs are read from the disk at one time. Files that are in no
// memory yet come from most disks the sooner the more of them are asked for; more
// than these gain nothing.
const ahead = 8

// sheet is the files of a run as they are read, or that they were not.
type sheet struct {
	run             int
	public, private []byte
	read            bool
}

// readAll reads runs ahead of those who take them apart on every core.
func readAll(home string, runs []*logbook.Run, progress func(done, all int)) ([]review.Cached, []*Fault) {
	var (
		all           = make([]review.Cached, len(runs))
		faults        []*Fault
		lock          sync.Mutex
		readers, work sync.WaitGroup
		next          atomic.Int64
		done          int
		cores         = runtime.GOMAXPROCS(0)
		free, full    = make(chan *sheet, ahead+cores), make(chan *sheet)
	)
	for range cap(free) {
		free <- &sheet{}
	}
	for range min(ahead, len(runs)) {
		readers.Go(func() {
			for k := int(next.Add(1)) - 1; k < len(runs); k = int(next.Add(1)) - 1 {
				s := <-free
				s.run = k
				s.fill(home, runs[k])
				full <- s
			}
		})
	}
	for range min(cores, len(runs)) {
		work.Go(func() {
			w := newWorker()
			for s := range full {
				r, c := runs[s.run], &all[s.run]
				var wrong []error
				c.Summary, wrong = w.read(home, r, s)
				c.Path, c.Mark, c.Faulty = r.Path, r.Mark, len(wrong) > 0
				free <- s
				lock.Lock()
				for _, err := range wrong {
					faults = append(faults, &Fault{Path: r.Path, Err: err})
				}
				if done++; progress != nil && (done%100 == 0 || done == len(runs)) {
					progress(done, len(runs))
				}
				lock.Unlock()
			}
		})
	}
	readers.Wait()
	close(full)
	work.Wait()
	slices.SortStableFunc(faults, func(a, b *Fault) int { return cmp.Compare(a.Path, b.Path) })
	return all, faults
}

// fill reads the files of a run that has no more of them than the scanner knows of.
func (s *sheet) fill(home string, r *logbook.Run) {
	read := func(path string, buf []byte) []byte {
		data, err := readInto(filepath.Join(home, filepath.FromSlash(path)), buf)
		s.read = s.read && err == nil
		return data
	}
	if s.read = r.Single; s.read {
		s.public = read(r.Path, s.public)
	}
	if s.read && r.Private != "" {
		s.private = read(r.Private, s.private)
	}
}

// worker is what one goroutine keeps from log to log.
type worker struct {
	public, private []floor.Stamped
	same            *same
	state           *floor.State
	reader          review.Reader
}

func newWorker() *worker { return &worker{same: newSame(), state: floor.New()} }

// read takes one run apart: by the scanner where its files are plain, else by the
// logbook, which says what is wrong with them.
func (w *worker) read(home string, r *logbook.Run, s *sheet) (sum review.Summary, wrong []error) {
	if s.read && w.scan(s.public, &w.public) && (r.Private == "" || w.scan(s.private, &w.private)) {
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
func (w *worker) scan(data []byte, events *[]floor.Stamped) bool {
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

// cached opens the cache by path; an empty one where it is not whole.
func cached(path string) *review.Cache {
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
