package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"hawser/internal/floor"
)

// TestNamesOfLogs: a log is a file whose name is a time, a run and an end, and no other.
func TestNamesOfLogs(t *testing.T) {
	t.Parallel()
	const at = "20261125T170200Z"
	for name, want := range map[string]string{
		at + "-" + run + ".jsonl":              publicEnd,
		at + "-" + run + ".private.jsonl":      privateEnd,
		at + run + ".jsonl":                    "",
		at + ".jsonl":                          "",
		"-" + run + ".jsonl":                   "",
		"20261325T170200Z-" + run + ".jsonl":   "",
		at + "-01KB.jsonl":                     "",
		at + "-" + run + ".jsonl.new":          "",
		at + "-" + run + ".torn":               "",
		"copy of " + at + "-" + run + ".jsonl": "",
	} {
		begun, id, end := nameParts(name)
		if end != want || (id == run) != (want != "") || begun.IsZero() != (want == "") {
			t.Errorf("nameParts(%s) = %v, %s, %q; want the end %q", name, begun, id, end, want)
		}
	}
}

// TestRunsInTheirOrder: runs come as they were opened, and what else lies in the log folder
// is passed over.
func TestRunsInTheirOrder(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	for _, k := range []int{5, 2, 7, 0, 3, 6, 1, 4} {
		id := fmt.Sprintf("01KB%022d", k)
		w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(id, opening().AddDate(0, 0, 100*k))}))
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
	}
	put(t, m, "log/notes.txt", []byte("not a year\n"))
	put(t, m, "log/2026/notes.txt", []byte("not a log\n"))
	all := must[[]Run](t)(h.Runs())
	for k, r := range all {
		if want := fmt.Sprintf("01KB%022d", k); r.ULID != want {
			t.Errorf("run %d is %s, want %s", k, r.ULID, want)
		}
	}
	if len(all) != 8 {
		t.Errorf("%d runs, want 8", len(all))
	}
}

// TestMarkOfEachThing: the mark of a run is another one when a file of it has another
// name, size or time, or one that was set back, whatever else is as before.
func TestMarkOfEachThing(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	r := keptClass(t, m, part(class(), public))
	d := must[*data](t)(m.find(r.Path))
	for what, change := range map[string]func(){
		"size":          func() { d.bytes = append(d.bytes, '\n') },
		"time":          func() { d.time++ },
		"time set back": func() { d.changed++ },
		"name": func() {
			if err := m.Rename(r.Path, "log/2026/20261125T170201Z-"+run+publicEnd); err != nil {
				t.Fatal(err)
			}
		},
	} {
		was := must[[]Run](t)(h.Runs())[0].Mark
		change()
		if now := must[[]Run](t)(h.Runs())[0].Mark; now == was {
			t.Errorf("with another %s the mark is %x as before", what, now)
		}
	}
}

// TestNewestOfEquals: of two files with the same lines the newer one is the log.
func TestNewestOfEquals(t *testing.T) {
	t.Parallel()
	m := newMemory()
	data, _, _ := wholeSession(t)
	const first, second = "log/2026/20261125T170200Z-" + run + publicEnd, "log/2026/20261125T170300Z-" + run + publicEnd
	put(t, m, first, data)
	put(t, m, second, data)
	h := &Home{files: m}
	r := must[[]Run](t)(h.Runs())[0]
	if log := must[*Log](t)(h.Load(&r)); log.Path != second || r.Path != second || r.Single {
		t.Errorf("the log is %s, of a run at %s, alone %v; want %s", log.Path, r.Path, r.Single, second)
	}
}

// TestDamageIsNamedByAPathThatOpens: whoever loads a log by its path is told of damage by a path
// that they can open.
func TestDamageIsNamedByAPathThatOpens(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	data, _, _ := wholeSession(t)
	data[5] ^= 1
	name := filepath.Join(folder, "20261125T170200Z-"+run+publicEnd)
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
	log := must[*Log](t)(Load(name))
	if len(log.Damage) == 0 || log.Damage[0].File != name || log.Path != name {
		t.Errorf("damage %v of %s, want it in %s", log.Damage, log.Path, name)
	}
}

// TestPrivateFileAlone is no run: nobody knows what it belongs to.
func TestPrivateFileAlone(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	stem := filepath.Join(folder, "20261125T170200Z-"+run)
	if err := os.WriteFile(stem+privateEnd, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if log, err := Load(stem + publicEnd); !errors.Is(err, ErrNoLog) {
		t.Errorf("Load = %v, %v, want ErrNoLog", log, err)
	}
}

// TestNewerPrivateFile: where only the private file is of a newer program, the run is only read.
func TestNewerPrivateFile(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, class())
	d := must[*data](t)(m.find(r.Private))
	body, _, _ := bytes.Cut(d.bytes, []byte(crcMark))
	d.bytes = seal(bytes.Replace(append(body, crcMark...), []byte(`"v":1`), []byte(`"v":2`), 1))
	h := &Home{files: m}
	r = must[[]Run](t)(h.Runs())[0]
	if log := must[*Log](t)(h.Load(&r)); !log.Newer {
		t.Error("the log does not say that it is newer")
	}
	if w, _, err := h.Resume(&r); w != nil || !errors.Is(err, ErrNewer) {
		t.Errorf("Resume = %v, %v, want ErrNewer", w, err)
	}
}

// TestListOfOneRun: a folder on the disk names the files of one run, by name, and
// leaves out all others.
func TestListOfOneRun(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	root := must[*os.Root](t)(os.OpenRoot(home))
	defer root.Close()
	const other = "20261125T170100Z-01KB0000000000000000000002" + publicEnd
	mine := []string{"20261125T170200Z-" + run + publicEnd, "20261125T170200Z-" + run + privateEnd}
	for _, name := range append([]string{other}, mine...) {
		if err := root.WriteFile(name, []byte(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for of, want := range map[string][]string{run: mine, "": append([]string{other}, mine...)} {
		var got []string
		for _, one := range must[[]item](t)(disk{root}.List(".", of)) {
			got = append(got, one.name)
			if one.mode != 0 || one.size != int64(len(one.name)) || one.modified == 0 {
				t.Errorf("%+v, want a file of %d bytes", one, len(one.name))
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("List of %q = %q, want %q", of, got, want)
		}
	}
}

// TestRunsInTheOrderOfTheirNames: the runs of a home are in the order in which they
// were opened, whatever the clock said when they got their numbers.
func TestRunsInTheOrderOfTheirNames(t *testing.T) {
	t.Parallel()
	m := newMemory()
	data, _, _ := wholeSession(t)
	const late, early = "log/2026/20261125T170300Z-01KB0000000000000000000001" + publicEnd, "log/2026/20261125T170200Z-01KB0000000000000000000002" + publicEnd
	put(t, m, late, data)
	put(t, m, early, data)
	h := &Home{files: m}
	var got []string
	for _, r := range must[[]Run](t)(h.Runs()) {
		got = append(got, r.Path)
	}
	if want := []string{early, late}; !slices.Equal(got, want) {
		t.Errorf("Runs = %q, want %q", got, want)
	}
}

// TestGatherInAnyOrder: however the files of a run are handed over, its public ones come first, each kind by name.
func TestGatherInAnyOrder(t *testing.T) {
	t.Parallel()
	named := func(begun, end string) entry {
		return entry{item: item{name: begun + "-" + run + end}, folder: "log/2026", run: run, public: end == publicEnd}
	}
	first, second, notes := named("20261125T170200Z", publicEnd), named("20261125T170900Z", publicEnd), named("20261125T170300Z", privateEnd)
	for _, all := range [][]entry{
		{first, second, notes},
		{first, notes, second},
		{second, first, notes},
		{second, notes, first},
		{notes, first, second},
		{notes, second, first},
	} {
		runs := gather(slices.Clone(all))
		if len(runs) != 1 || !slices.Equal(runs[0].public, []entry{first, second}) || !slices.Equal(runs[0].private, []entry{notes}) {
			t.Errorf("of %+v came %+v", all, runs)
		}
	}
}

// TestRenewedCountsBoth: files that were begun anew are counted whether people read them or not.
func TestRenewedCountsBoth(t *testing.T) {
	t.Parallel()
	w := Writer{public: strand{renewed: 1}, private: strand{renewed: 2}}
	if got := w.State().Renewed; got != 3 {
		t.Errorf("%d files were begun anew, want 3", got)
	}
}
