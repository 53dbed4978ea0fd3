package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

// dump is all that is on a file system, by name.
func dump(m *memory) map[string]string {
	all := map[string]string{}
	for folder, n := range m.folders {
		for name, d := range n.names {
			if d != nil {
				all[folder+"/"+name] = string(d.bytes)
			}
		}
	}
	return all
}

// put writes a file, kept and all.
func put(t *testing.T, m *memory, name string, data []byte) {
	t.Helper()
	if err := makeFolders(m, name[:strings.LastIndex(name, "/")]); err != nil {
		t.Fatal(err)
	}
	f := must[file](t)(m.Create(name))
	_, err := f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close(), m.SyncFolder(name[:strings.LastIndex(name, "/")])); err != nil {
		t.Fatal(err)
	}
}

// TestResumeAtEveryCut: taken up again after a cut at any byte, the run goes on
// without damage; the torn bytes are kept; and twice is once.
func TestResumeAtEveryCut(t *testing.T) {
	t.Parallel()
	if err := resumeAtEveryCut(t, func(f files) files { return f }); err != nil {
		t.Error(err)
	}
}

// TestResumeControl: a recovery that leaves the torn line where it is, and one that does not
// keep its bytes, are found out.
func TestResumeControl(t *testing.T) {
	t.Parallel()
	for what, disk := range map[string]func(files) files{
		"that cuts nothing off":    brokenDisks["uncut"],
		"that keeps no torn bytes": brokenDisks["mute"],
	} {
		err := resumeAtEveryCut(t, disk)
		if err == nil {
			t.Errorf("a recovery %s is said to be right: the suite cannot see", what)
		}
		t.Logf("a recovery %s: %v", what, err)
	}
}

func resumeAtEveryCut(t *testing.T, disk func(files) files) error {
	t.Helper()
	data, lines, events := wholeSession(t)
	name := "log/2026/20261125T170200Z-" + run + publicEnd
	torn := strings.TrimSuffix(name, publicEnd) + tornEnd
	for size := len(lines[0]); size <= len(data); size += stride(3) {
		m := newMemory()
		put(t, m, name, data[:size])
		h := &Home{files: disk(m)}
		r := must[[]Run](t)(h.Runs())[0]
		w, got, err := h.Resume(&r)
		if err != nil {
			return err
		}
		whole := bytes.LastIndexByte(data[:size], '\n') + 1
		if got.Cut != size-whole {
			return fmt.Errorf("cut at %d: %d bytes set aside, want %d", size, got.Cut, size-whole)
		}
		if size > whole && !bytes.Equal(must[[]byte](t)(readAll(m, torn)), data[whole:size]) {
			return fmt.Errorf("cut at %d: the torn bytes are not kept", size)
		}
		once := dump(m)
		r = must[[]Run](t)(h.Runs())[0]
		if _, second, err := h.Resume(&r); err != nil || second.Cut != 0 || !maps.Equal(once, dump(m)) {
			return errors.Join(fmt.Errorf("cut at %d: a second recovery changed something", size), err)
		}
		n := len(got.Log.Events)
		on := floor.Stamped{N: n + 1, T: time.Hour, E: floor.Recovered{Gap: time.Minute, Cut: got.Cut}}
		if err := w.Append(on); err != nil {
			return err
		}
		log := must[*Log](t)(h.Load(&r))
		if want := append(events[:n:n], on); !equal(log.Events, want) || len(log.Damage) > 0 {
			return fmt.Errorf("cut at %d: %s, damage %v", size, say(log.Events), log.Damage)
		}
	}
	return nil
}

// TestResumeFails: at every operation of a recovery that can fail, the run goes on,
// and what was on the disk before is still there.
func TestResumeFails(t *testing.T) {
	t.Parallel()
	data, _, events := wholeSession(t)
	name := "log/2026/20261125T170200Z-" + run + publicEnd
	size := len(data) - 20
	want := events[:len(events)-1]
	for _, forEver := range []int{0, 1 << 30} {
		for n := 1; ; n++ {
			m := newMemory()
			put(t, m, name, data[:size])
			begun := m.ops
			m.fault = func(op op) error {
				if op.n >= begun+n && op.n <= begun+n+forEver {
					return errDisk
				}
				return nil
			}
			h := &Home{files: m}
			r := must[[]Run](t)(h.Runs())[0]
			w, _, err := h.Resume(&r)
			if w == nil || err != nil && !errors.Is(err, ErrWaiting) {
				t.Fatalf("operation %d failed: %v", n, err)
			}
			hit := m.ops >= begun+n
			m.fault = nil
			on := floor.Stamped{N: len(want) + 1, T: time.Hour, E: floor.Recovered{}}
			if err := w.Append(on); err != nil {
				t.Fatal(err)
			}
			r = must[[]Run](t)(h.Runs())[0]
			log := must[*Log](t)(h.Load(&r))
			if !equal(log.Events, append(slices.Clip(want), on)) || log.Err() != nil || len(m.resync) > 0 {
				t.Fatalf("operation %d failed: %s, damage %v, synced again %v", n, say(log.Events), log.Damage, m.resync)
			}
			if !strings.Contains(fmt.Sprint(dump(m)), string(data[size-20:size])) {
				t.Fatalf("operation %d failed: the torn bytes are gone", n)
			}
			if !hit {
				break
			}
		}
	}
}

func TestResumeRefuses(t *testing.T) {
	t.Parallel()
	data, lines, _ := wholeSession(t)
	body := strings.Replace(string(lines[0][:bytes.LastIndex(lines[0], []byte(crcMark))]), `"v":1`, `"v":2`, 1)
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"newer":         {[]byte(body + crcMark + sum([]byte(body)) + crcEnd + "\n"), ErrNewer},
		"no first line": {data[len(lines[0]):], ErrDamaged},
	} {
		m := newMemory()
		put(t, m, "log/2026/20261125T170200Z-"+run+publicEnd, c.data)
		before := dump(m)
		h := &Home{files: m}
		r := must[[]Run](t)(h.Runs())[0]
		if w, _, err := h.Resume(&r); w != nil || !errors.Is(err, c.want) || !maps.Equal(before, dump(m)) {
			t.Errorf("%s: Resume = %v, want %v and nothing changed", name, err, c.want)
		}
	}
}

// TestPiecedTogether: the file that was being repeated when the power went has more
// lines than the one before, with a hole where that one has none; and the other way
// round. No line is lost, and what goes on is one whole file again.
func TestPiecedTogether(t *testing.T) {
	t.Parallel()
	_, lines, events := wholeSession(t)
	hole := bytes.Repeat([]byte{0}, len(lines[4]))
	for name, c := range map[string][2][]byte{
		"a hole in the newer": {bytes.Join(lines[:8], nil), bytes.Join(slices.Concat(lines[:4], [][]byte{hole}, lines[5:]), nil)},
		"a hole in the older": {bytes.Join(slices.Concat(lines[:4], [][]byte{hole}, lines[5:]), nil), bytes.Join(lines[:8], nil)},
	} {
		m := newMemory()
		put(t, m, "log/2026/20261125T170200Z-"+run+publicEnd, c[0])
		put(t, m, "log/2026/20261125T170300Z-"+run+publicEnd, c[1])
		h := &Home{files: m}
		r := must[[]Run](t)(h.Runs())[0]
		log := must[*Log](t)(h.Load(&r))
		if !equal(log.Events, events) || log.Err() == nil {
			t.Errorf("%s: %s, %v; want all, and the hole named", name, say(log.Events), log.Err())
		}
		w, _, err := h.Resume(&r)
		if err != nil {
			t.Fatal(err)
		}
		on := floor.Stamped{N: len(events) + 1, T: time.Hour, E: floor.Recovered{}}
		if err := w.Append(on); err != nil {
			t.Fatal(err)
		}
		r = must[[]Run](t)(h.Runs())[0]
		log = must[*Log](t)(h.Load(&r))
		if !equal(log.Events, append(slices.Clone(events), on)) || log.Err() != nil {
			t.Errorf("%s, taken up again: %s, %v; want all in a whole file", name, say(log.Events), log.Err())
		}
	}
}
