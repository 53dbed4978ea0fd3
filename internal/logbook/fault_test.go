package logbook

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"hawser/internal/floor"
)

// errDisk is what a dying disk says.
var errDisk = syscall.EIO

// acked is how many events were shown as kept.
type acked struct{ public, private int }

// holds checks that everything that was shown as kept is there, that nothing is
// there that never was, and nothing twice. Beyond what was kept there may be more.
func holds(f files, events []floor.Stamped, kept acked) error {
	all, err := (&Home{files: f}).Runs()
	if err != nil {
		return err
	}
	if len(all) == 0 {
		if kept.public > 0 {
			return errors.New("there is no run")
		}
		return nil
	}
	log, err := (&Home{files: f}).Load(&all[0])
	if err != nil {
		return err
	}
	if err := match(log.Events, part(events, public), kept.public); err != nil {
		return fmt.Errorf("public: %w (damage %v)", err, log.Damage)
	}
	if err := match(log.Private, part(events, private), kept.private); err != nil {
		return fmt.Errorf("private: %w (damage %v)", err, log.Damage)
	}
	return nil
}

// match checks that got is events of want in their order, the first kept whole.
func match(got, want []floor.Stamped, kept int) error {
	if len(got) < kept {
		return fmt.Errorf("%d kept, %d there", kept, len(got))
	}
	at := 0
	for i, e := range got {
		for at < len(want) && (want[at].N != e.N || want[at].T != e.T) {
			at++
		}
		if at == len(want) || i < kept && at != i || !equalEvent(want[at].E, e.E) {
			return fmt.Errorf("event %d: %+v is not what was written", i+1, e)
		}
		at++
	}
	return nil
}

// disaster is one class under faults: what happens before each operation, and how
// often events are appended.
type disaster struct {
	m      *memory
	broken func(files) files // the control: nil for a disk that is used as it should be
	events []floor.Stamped
	batch  int
	kept   acked
	watch  bool // check after each step, not only at the end
}

// play runs a class, and checks that what was shown as kept is there.
func (d *disaster) play() (*Writer, error) {
	h := &Home{files: d.m}
	if d.broken != nil {
		h.files = d.broken(d.m)
	}
	w, err := h.Create(d.events[0])
	if err == nil {
		d.kept.public++
	} else if !errors.Is(err, ErrWaiting) {
		return nil, err
	}
	for step := range slices.Chunk(d.events[1:], d.batch) {
		err := w.Append(step...)
		d.note(w, err)
		if err != nil && !errors.Is(err, ErrWaiting) {
			return w, err
		}
		if !d.watch {
			continue
		}
		if err := holds(d.m, d.events, d.kept); err != nil {
			return w, err
		}
	}
	return w, holds(d.m, d.events, d.kept)
}

// note takes over what the writer said.
func (d *disaster) note(w *Writer, err error) {
	if err == nil {
		d.kept = acked{len(w.public.lines), len(w.private.lines)}
	}
	if s := w.State(); (s.Waiting > 0) != (err != nil) || (s.Trouble != nil) != (err != nil) {
		panic(fmt.Sprintf("state %+v, error %v", s, err))
	}
}

// TestFailEveryOperation: the Nth operation fails, once or from there on for ever,
// until N is more than there are. The class goes on; no file is synced after a
// failed sync; when the disk works again all is written, in order, nothing twice.
func TestFailEveryOperation(t *testing.T) {
	t.Parallel()
	trials := 0
	kinds, times := []string{"", "truncate"}, []int{0, 1 << 30}
	if long() {
		times = append(times, 1)
		kinds = append(kinds, "write", "sync", "create", "sync folder", "mkdir")
	}
	fails := []error{syscall.EIO, syscall.ENOSPC, errShort, syscall.EROFS}
	if testing.Short() {
		fails = fails[:1]
	}
	for _, fail := range fails {
		for _, forEver := range times {
			for _, kind := range kinds {
				n, err := failEvery(kind, fail, forEver, nil)
				if err != nil {
					t.Fatalf("%v at %s and %d more: %v", fail, kind, forEver, err)
				}
				trials += n
			}
		}
	}
	t.Logf("%d trials", trials)
}

// failEvery plays a class again and again, each time with the next operation of a kind
// failing, and some after it, and returns how often.
func failEvery(kind string, fail error, forEver int, broken func(files) files) (trials int, err error) {
	for n := 1; ; n++ {
		m, seen := newMemory(), 0
		m.fault = func(op op) error {
			if kind == "" || op.kind == kind || kind == "truncate" && op.kind == "write" {
				seen++
				if seen >= n && seen <= n+forEver {
					return fail
				}
			}
			return nil
		}
		d := &disaster{m: m, broken: broken, events: class(), batch: 1 + n%3, watch: long()}
		if err := d.mended(); err != nil {
			return n, fmt.Errorf("number %d: %w", n, err)
		}
		if seen < n {
			return n, nil
		}
	}
}

// mended plays a class on a disk that works again in the end, and looks.
func (d *disaster) mended() error {
	w, err := d.play()
	if err != nil {
		return err
	}
	d.m.fault, d.m.room = nil, -1
	if err := w.Close(); err != nil {
		return fmt.Errorf("the disk works again, but %w", err)
	}
	all := acked{len(part(d.events, public)), len(part(d.events, private))}
	if err := holds(d.m, d.events, all); err != nil {
		return fmt.Errorf("in the end %w", err)
	}
	if err := holds(d.m.powerCut(rand.New(rand.NewPCG(1, 2))), d.events, all); err != nil {
		return fmt.Errorf("after a power cut %w", err)
	}
	if len(d.m.resync) > 0 {
		return fmt.Errorf("synced again after a failed sync: %v", d.m.resync)
	}
	if d.m.full && (w.State().Renewed > 0 || len(dump(d.m)) != 2) {
		return fmt.Errorf("%d files given up", w.State().Renewed)
	}
	return nil
}

// TestFailEveryControl: a log that syncs again after a failed sync, that never syncs, and that
// takes what failed for written, is found out.
func TestFailEveryControl(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ broken, kind string }{{"stubborn", "sync"}, {"lazy", "sync"}, {"greedy", "write"}} {
		_, err := failEvery(c.kind, errDisk, 0, brokenDisks[c.broken])
		if err == nil {
			t.Errorf("a log on a %s disk is said to be right: the suite cannot see", c.broken)
		}
		t.Logf("on a %s disk: %v", c.broken, err)
	}
}

// TestFilesDoNotPileUp: a disk that fails for ever gets two files a strand at most.
func TestFilesDoNotPileUp(t *testing.T) {
	t.Parallel()
	m := newMemory()
	m.fault = func(op op) error {
		if op.kind == "sync" {
			return errDisk
		}
		return nil
	}
	d := &disaster{m: m, events: class(), batch: 1}
	if _, err := d.play(); err != nil {
		t.Fatal(err)
	}
	if n := len(dump(m)); n > 2 {
		t.Errorf("%d files, want one of each kind: %v", n, dump(m))
	}
	if err := holds(m, d.events, acked{len(part(d.events, public)), len(part(d.events, private))}); err != nil {
		t.Errorf("what the system took is not there for the next start: %v", err)
	}
}

// TestDiskFull: at every size of the disk, events wait and are written when there
// is room again, into the same file.
func TestDiskFull(t *testing.T) {
	t.Parallel()
	sizes, err := fillDisks(t, stride(29), nil)
	if err != nil {
		t.Error(err)
	}
	t.Logf("%d sizes", sizes)
}

func fillDisks(t *testing.T, step int, broken func(files) files) (sizes int, err error) {
	t.Helper()
	data, _, _ := wholeSession(t)
	for size := 0; size < len(data)+2000; size += step {
		m := newMemory()
		m.room, m.full = int64(size), true
		d := &disaster{m: m, broken: broken, events: class(), batch: 1 + size%2, watch: long()}
		if err := d.mended(); err != nil {
			return sizes, fmt.Errorf("%d bytes of room: %w", size, err)
		}
		sizes++
	}
	return sizes, nil
}

// TestDiskFullControl: a log that takes what did not go in for written is found out.
func TestDiskFullControl(t *testing.T) {
	t.Parallel()
	_, err := fillDisks(t, 29, brokenDisks["greedy"])
	if err == nil {
		t.Error("a log that writes over a full disk is said to be right: the suite cannot see")
	}
	t.Logf("a log that does not see that the disk is full: %v", err)
}

// powerCuts cuts the power of a class before a random operation, again and again,
// with random faults in it, and returns how often it did and the first loss.
func powerCuts(t *testing.T, trials int, seed uint64, noSync func(string) bool) (int, error) {
	t.Helper()
	events := class()
	for i := range trials {
		if noSync == nil && spent(t) {
			return i, nil
		}
		r := rand.New(rand.NewPCG(seed, uint64(i)))
		m := newMemory()
		m.noSync = noSync
		d := &disaster{m: m, events: events[:2+r.IntN(len(events)-1)], batch: 1 + r.IntN(4)}
		cut, faulty := 1+r.IntN(4*len(d.events)/d.batch+8), r.IntN(3) == 0
		var left *memory
		var kept acked
		m.fault = func(op op) error {
			if op.n == cut {
				left, kept = m.powerCut(r), d.kept
			}
			if faulty && r.IntN(12) == 0 {
				return []error{syscall.EIO, syscall.ENOSPC, errShort}[r.IntN(3)]
			}
			return nil
		}
		if _, err := d.play(); err != nil {
			return i, fmt.Errorf("trial %d: %w", i, err)
		}
		if left == nil {
			left, kept = m.powerCut(r), d.kept
		}
		if err := holds(left, events, kept); err != nil {
			return i, fmt.Errorf("trial %d, power cut before operation %d: %w", i, cut, err)
		}
		if err := goOn(left, events, kept, r); err != nil {
			return i, fmt.Errorf("trial %d, taken up again: %w", i, err)
		}
	}
	return trials, nil
}

// goOn takes a run up again after a power cut, and cuts the power once more.
func goOn(left *memory, events []floor.Stamped, kept acked, r *rand.Rand) error {
	h := &Home{files: left}
	all, err := h.Runs()
	if err != nil || len(all) == 0 {
		return err
	}
	w, got, err := h.Resume(&all[0])
	if _, ok := got.Log.Opened(); !ok && kept.public == 0 {
		return nil // it never began
	}
	if err != nil {
		return err
	}
	n, _ := lastLine(got.Log)
	on := floor.Stamped{N: n + 1, T: time.Hour, E: floor.Recovered{Cut: got.Cut}}
	if err := w.Append(on); err != nil {
		return err
	}
	again := left.powerCut(r)
	if all, err = (&Home{files: again}).Runs(); err != nil {
		return err
	}
	log, err := (&Home{files: again}).Load(&all[0])
	if err != nil {
		return err
	}
	if len(log.Events) == 0 || !equal(log.Events[len(log.Events)-1:], []floor.Stamped{on}) {
		return errors.New("what was written after the recovery is gone")
	}
	log.Events = log.Events[:len(log.Events)-1]
	return match(log.Events, part(events, public), kept.public)
}

func TestPowerCut(t *testing.T) {
	t.Parallel()
	trials, err := powerCuts(t, count(1000, 1_000_000), 11, nil)
	if err != nil {
		t.Error(err)
	}
	t.Logf("%d power cuts", trials)
}

// TestPowerCutControl: without the syncs the same suite must find a loss.
func TestPowerCutControl(t *testing.T) {
	t.Parallel()
	for name, noSync := range map[string]func(string) bool{
		"public":  isLog,
		"private": func(name string) bool { return strings.HasSuffix(name, privateEnd) },
		"folder":  func(name string) bool { return name == "log/2026" },
		"year":    func(name string) bool { return name == "log" },
		"home":    func(name string) bool { return name == "." },
	} {
		if _, err := powerCuts(t, 2000, 11, noSync); err == nil {
			t.Errorf("without the sync of the %s, 2000 power cuts lost nothing: the suite cannot see", name)
		} else {
			t.Logf("without the sync of the %s: %v", name, err)
		}
	}
}
