package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestLinksAreRefused: nothing outside the home is read or written, whatever link
// stands in the log folder.
func TestLinksAreRefused(t *testing.T) {
	t.Parallel()
	name := "20261125T170200Z-" + run + publicEnd
	data, _, _ := wholeSession(t)
	for what, c := range map[string]struct{ link, to string }{
		"the log folder":           {"log", "outside"},
		"a year":                   {"log/2026", "outside"},
		"a log, outward":           {"log/2026/" + name, "outside/" + name},
		"a log, inside":            {"log/2026/" + name, "home/elsewhere.jsonl"},
		"a log that is not there":  {"log/2026/" + name, "outside/none"},
		"the lock":                 {".lock", "outside/" + name},
		"the lock, to a new place": {".lock", "outside/none"},
	} {
		top := t.TempDir()
		home, outside := filepath.Join(top, "home"), filepath.Join(top, "outside")
		err := errors.Join(os.MkdirAll(filepath.Dir(filepath.Join(home, c.link)), 0o700), os.Mkdir(outside, 0o700),
			os.WriteFile(filepath.Join(outside, name), data, 0o600), os.WriteFile(filepath.Join(home, "elsewhere.jsonl"), data, 0o600),
			os.Symlink(filepath.Join(top, c.to), filepath.Join(home, c.link)))
		if err != nil {
			t.Fatal(err)
		}
		if log, err := Load(filepath.Join(home, "log/2026", name)); err == nil && filepath.Base(c.link) == name {
			t.Errorf("%s is a link: Load read %s", what, say(log.Events))
		}
		if h, err := Open(home); err == nil {
			if all, err := h.Runs(); len(all) > 0 {
				t.Errorf("%s is a link: Runs = %v, %v, want none", what, all, err)
			}
			if w, err := h.Create(class()[0]); err == nil && c.link != "log/2026/"+name {
				t.Errorf("%s is a link: Create went through, to %s", what, w.State().Path)
			}
			_, _ = h.Forget("Maren") // it may refuse, but must not touch anything outside
			h.Close()
		} else if c.link != ".lock" || !errors.Is(err, ErrLink) {
			t.Errorf("%s is a link: Open = %v", what, err)
		}
		entries := must[[]os.DirEntry](t)(os.ReadDir(outside))
		now := must[[]byte](t)(os.ReadFile(filepath.Join(outside, name)))
		if len(entries) != 1 || string(now) != string(data) {
			t.Errorf("%s is a link: something outside the home was changed", what)
		}
	}
}

func TestPipeIsNoLog(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "20261125T170200Z-"+run+publicEnd)
	makePipe(t, path)
	if _, err := Load(path); err == nil {
		t.Error("a pipe was read as a log")
	}
}

// takeAway is what may become of the folder in the middle of a class.
var takeAway = map[string]func(home string) error{
	"the log removed": func(home string) error { return os.RemoveAll(filepath.Join(home, "log")) },
	"the year renamed": func(home string) error {
		return os.Rename(filepath.Join(home, "log/2026"), filepath.Join(home, "log/old"))
	},
	"the file removed": func(home string) error {
		return os.RemoveAll(filepath.Join(home, "log/2026", "20261125T170200Z-"+run+publicEnd))
	},
}

// TestFolderTakenAway: the folder removed, or renamed by a file copier, while the run is on.
func TestFolderTakenAway(t *testing.T) {
	t.Parallel()
	trials := 0
	for i := 0; i < count(1, 3334) && !spent(t); i++ {
		for what, take := range takeAway {
			if err := takenAway(t, take, func(f files) files { return f }); err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			trials++
		}
	}
	t.Logf("taken away %d times", trials)
}

// TestFolderTakenAwayControl: a log that does not look where it writes is found out.
func TestFolderTakenAwayControl(t *testing.T) {
	t.Parallel()
	for what, take := range takeAway {
		if err := takenAway(t, take, brokenDisks["blind"]); err == nil {
			t.Errorf("%s, and a log that does not look is said to be right: the suite cannot see", what)
		}
	}
}

// takenAway takes something away in the middle of a run, which goes on in a new file.
func takenAway(t *testing.T, take func(home string) error, disk func(files) files) error {
	t.Helper()
	home := filepath.Join(t.TempDir(), "home")
	h := must[*Home](t)(Open(home))
	defer h.Close()
	h.files = disk(h.files)
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	if err := errors.Join(w.Append(press(2)), take(home), w.Append(press(3))); err != nil {
		return err
	}
	all := must[[]Run](t)(h.Runs())
	if len(all) != 1 || w.State().Renewed != 1 {
		return fmt.Errorf("%d runs, %+v", len(all), w.State())
	}
	log := must[*Log](t)(h.Load(&all[0]))
	if len(log.Events) != 3 || len(log.Damage) > 0 {
		return fmt.Errorf("%s, %v", say(log.Events), log.Damage)
	}
	return nil
}

// TestHomeTakenAway: the whole home removed while the run is on.
func TestHomeTakenAway(t *testing.T) {
	t.Parallel()
	home := filepath.Join(t.TempDir(), "home")
	h := must[*Home](t)(Open(home))
	defer h.Close()
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	if err := errors.Join(w.Append(press(2)), os.RemoveAll(home)); err != nil {
		t.Fatal(err)
	}
	err := w.Append(press(3))
	if s := w.State(); !errors.Is(err, ErrWaiting) || s.Waiting != 1 || s.Trouble == nil {
		t.Errorf("the home is gone: %v, %+v", err, s)
	}
}

// TestMergeIsUnion: the logs of two homes copied into one are the runs of both.
func TestMergeIsUnion(t *testing.T) {
	t.Parallel()
	merged := t.TempDir()
	ids := []string{"01KB0000000000000000000001", "01KB0000000000000000000002", "01KB0000000000000000000003"}
	for _, pair := range [][]string{ids[:2], ids[1:]} {
		folder := t.TempDir()
		h := must[*Home](t)(Open(folder))
		for _, id := range pair {
			w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(id, opening())}))
			if err := w.Close(); err != nil {
				t.Fatal(err)
			}
		}
		h.Close()
		if err := copyOver(merged, folder); err != nil {
			t.Fatal(err)
		}
	}
	all := must[[]Run](t)(Runs(merged))
	if len(all) != 3 {
		t.Errorf("%d runs after the merge, want 3", len(all))
	}
	for i, r := range all {
		log := must[*Log](t)(Load(filepath.Join(merged, r.Path)))
		if o, ok := log.Opened(); !ok || o.Run != ids[i] || len(log.Damage) > 0 {
			t.Errorf("run %d is %v, %v", i, o.Run, log.Damage)
		}
	}
}

// TestMergeIsUnionOfAny: whatever runs two homes have, some of them in both and at
// different lengths, a file copier that takes the longer of two files makes a home
// with all runs of both, each with all of its events.
func TestMergeIsUnionOfAny(t *testing.T) {
	t.Parallel()
	trials := count(40, 10_000)
	for i := range trials {
		if err := merge(t, rand.New(rand.NewPCG(14, uint64(i))), longer); err != nil {
			t.Fatalf("trial %d: %v", i, err)
		}
	}
	t.Logf("%d merges", trials)
}

// TestMergeControl: a copier that takes the shorter of two files loses something.
func TestMergeControl(t *testing.T) {
	t.Parallel()
	for i := range 40 {
		err := merge(t, rand.New(rand.NewPCG(14, uint64(i))), func(have, b []byte) bool { return len(b) < len(have) })
		if err != nil {
			t.Logf("with the shorter of two files: %v", err)
			return
		}
	}
	t.Error("with the shorter of two files nothing was lost in 40 merges: the suite cannot see")
}

// longer reports whether a file copier takes the second of two files of one name.
func longer(have, b []byte) bool { return len(b) > len(have) }

func merge(t *testing.T, r *rand.Rand, takes func(have, b []byte) bool) error {
	t.Helper()
	a, b, merged := newMemory(), newMemory(), newMemory()
	longest := map[string]int{}
	for _, m := range []*memory{a, b} {
		for k := range 1 + r.IntN(4) {
			id := fmt.Sprintf("01KB%022d", r.IntN(5))
			if _, ok := m.folders["log/2026"]; ok && slices.ContainsFunc(must[[]Run](t)((&Home{files: m}).Runs()), func(run Run) bool { return run.ULID == id }) {
				continue
			}
			w := must[*Writer](t)((&Home{files: m}).Create(floor.Stamped{N: 1, E: openedBy(id, opening())}))
			most := 1 + r.IntN(6+k)
			for n := 2; n <= most; n++ {
				if err := w.Append(press(n)); err != nil {
					return err
				}
			}
			longest[id] = max(longest[id], len(w.public.lines))
		}
	}
	for _, m := range []*memory{a, b} {
		mergeInto(merged, m, takes)
	}
	all := must[[]Run](t)((&Home{files: merged}).Runs())
	if len(all) != len(longest) {
		return fmt.Errorf("%d runs after the merge, want %d", len(all), len(longest))
	}
	for _, run := range all {
		log := must[*Log](t)((&Home{files: merged}).Load(&run))
		if len(log.Events) != longest[run.ULID] || len(log.Damage) > 0 {
			return fmt.Errorf("run %s has %d events and %v, want %d", run.ULID, len(log.Events), log.Damage, longest[run.ULID])
		}
	}
	return nil
}

// mergeInto copies all files of a file system into another; of two of one name one
// stays, and where that is the first the other gets a name of its own, as file copiers do it.
func mergeInto(to, from *memory, takes func(have, b []byte) bool) {
	for folder, n := range from.folders {
		if to.folders[folder] == nil {
			to.folders[folder] = newNode()
			if up := to.folders[path.Dir(folder)]; up != nil && folder != "." {
				up.names[path.Base(folder)] = nil
			}
		}
		for name, d := range n.names {
			if d == nil {
				to.folders[folder].names[name] = nil
				continue
			}
			have := to.folders[folder].names[name]
			if have == nil || takes(have.bytes, d.bytes) {
				to.folders[folder].names[name] = &data{bytes: bytes.Clone(d.bytes)}
			} else {
				to.folders[folder].names["copy of "+name] = &data{bytes: bytes.Clone(d.bytes)}
			}
		}
	}
}

// copyOver copies all files of a folder into another, those that are there too.
func copyOver(to, from string) error {
	return filepath.WalkDir(from, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(from, path)
		if err != nil || e.IsDir() {
			return errors.Join(err, os.MkdirAll(filepath.Join(to, name), 0o700))
		}
		data, err := os.ReadFile(path)
		return errors.Join(err, os.WriteFile(filepath.Join(to, name), data, 0o600))
	})
}

// TestFollow follows a run through everything that can happen to its files.
func TestFollow(t *testing.T) {
	t.Parallel()
	events := part(class(), public)
	m := newMemory()
	h := &Home{files: m}
	w := must[*Writer](t)(h.Create(events[0]))
	year := below{m, "log/2026"}
	name := filepath.Base(w.State().Path)
	f := Follow(name)
	var got []floor.Stamped
	poll := func() {
		t.Helper()
		more, err := f.next(year, name)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, more...)
	}
	for i, e := range events[1:] {
		if i == 5 { // the disk fails: on in a second file
			m.fault = func(op op) error {
				if op.kind == "sync" && isLog(op.name) {
					m.fault = nil
					return errDisk
				}
				return nil
			}
		}
		if i == 9 { // a crash in the middle of a line
			torn := must[file](t)(m.Append(w.State().Path))
			if _, err := torn.Write([]byte(`{"n":11,"t":`)); err != nil {
				t.Fatal(err)
			}
			poll()
			r := must[[]Run](t)(h.Runs())[0]
			w, _, _ = h.Resume(&r)
		}
		if err := w.Append(e); err != nil {
			t.Fatal(err)
		}
		if i%3 > 0 {
			poll()
			poll()
			if !equal(got, events[:i+2]) {
				t.Fatalf("after event %d: %s", i+2, say(got))
			}
		}
	}
	poll()
	if !equal(got, events) {
		t.Errorf("followed %s, want %s", say(got), say(events))
	}
	late := Follow(name)
	if all, err := late.next(year, name); err != nil || !equal(all, events) {
		t.Errorf("joined in the end: %s, %v", say(all), err)
	}
}

func TestFollowNothing(t *testing.T) {
	t.Parallel()
	if _, err := Follow(filepath.Join(t.TempDir(), "20261125T170200Z-"+run+publicEnd)).Next(); !errors.Is(err, ErrNoLog) {
		t.Errorf("Next = %v, want ErrNoLog", err)
	}
}

func TestFollowOnDisk(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	h := must[*Home](t)(Open(folder))
	defer h.Close()
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	joined := must[*Log](t)(Load(filepath.Join(folder, w.State().Path)))
	f := Follow(joined.Path)
	for n := 2; n < 5; n++ {
		if err := w.Append(press(n), floor.Stamped{T: time.Second, E: floor.Noted{Who: "Maren"}}); err != nil {
			t.Fatal(err)
		}
		got := must[[]floor.Stamped](t)(f.Next())
		want := []floor.Stamped{press(n)}
		if n == 2 {
			want = append([]floor.Stamped{{N: 1, E: openedBy(run, opening())}}, want...)
		}
		if !equal(got, want) {
			t.Errorf("Next = %s, want %s", say(got), say(want))
		}
	}
}

// below is one folder of a memory, as a root of its own.
type below struct {
	*memory
	folder string
}

func (b below) Open(name string) (io.ReadCloser, error) {
	return b.memory.Open(path.Join(b.folder, name))
}
func (b below) List(_, run string) ([]item, error) { return b.memory.List(b.folder, run) }

// TestFollowToAnotherFile: a run that goes over to another file while the one that is followed stays as it is, as when a
// disk fails for a while, shows within so many looks.
func TestFollowToAnotherFile(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	h := must[*Home](t)(Open(folder))
	defer h.Close()
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	name := filepath.Join(folder, w.State().Path)
	f := Follow(name)
	must[[]floor.Stamped](t)(f.Next())
	text := must[[]byte](t)(os.ReadFile(name))
	if err := w.Append(press(2)); err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(filepath.Dir(name), "20991125T170200Z-"+run+publicEnd)
	info := must[os.FileInfo](t)(os.Stat(name))
	if err := errors.Join(os.Rename(name, other), os.WriteFile(name, text, 0o600), os.Chtimes(name, info.ModTime(), info.ModTime())); err != nil {
		t.Fatal(err)
	}
	f.seen[filepath.Base(name)] = look{int64(len(text)), info.ModTime().UnixNano()} // it stays as it was
	var got []floor.Stamped
	for range elsewhere {
		got = append(got, must[[]floor.Stamped](t)(f.Next())...)
	}
	if !equal(got, []floor.Stamped{press(2)}) {
		t.Errorf("in %d looks came %s, want the press in the other file", elsewhere, say(got))
	}
}
