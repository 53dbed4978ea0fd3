package logbook

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestResumeOfBothFiles: the private file of a run is taken up like the public one. Both
// torn lines are cut and counted, and both go on with their own numbers.
func TestResumeOfBothFiles(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, class())
	const torn, tornPrivate = `{"n":99,"t":1`, `{"n":4,"t":12,"at":"20`
	for name, bytes := range map[string]string{r.Path: torn, r.Private: tornPrivate} {
		d := must[*data](t)(m.find(name))
		d.bytes = append(d.bytes, bytes...)
	}
	h := &Home{files: m}
	r = must[[]Run](t)(h.Runs())[0]
	w, got, err := h.Resume(&r)
	if err != nil {
		t.Fatal(err)
	}
	if got.Cut != len(torn)+len(tornPrivate) {
		t.Errorf("%d bytes cut, want %d", got.Cut, len(torn)+len(tornPrivate))
	}
	note := floor.Stamped{T: time.Hour, E: floor.Noted{Who: "Eskil", Text: "after"}}
	if err := w.Append(note); err != nil {
		t.Fatal(err)
	}
	r = must[[]Run](t)(h.Runs())[0]
	log := must[*Log](t)(h.Load(&r))
	if want := append(part(class(), private), note); !equal(log.Private, want) || len(log.Damage) > 0 {
		t.Errorf("private: %s, damage %v; want %s", say(log.Private), log.Damage, say(want))
	}
}

// TestResumeSaysWhatWaits: a run that was taken up on a disk that cannot be written goes on,
// and its state says so.
func TestResumeSaysWhatWaits(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, part(class(), public))
	m.fault = func(op) error { return errDisk }
	w, _, err := (&Home{files: m}).Resume(&r)
	if !errors.Is(err, ErrWaiting) || w == nil {
		t.Fatalf("Resume = %v, %v, want a writer and ErrWaiting", w, err)
	}
	if s := w.State(); s.Trouble == nil || s.Kept != 0 {
		t.Errorf("state %+v, want trouble, and nothing known to be kept", s)
	}
}

// TestTornBytesAreOnTheDisk: what was cut off a log is beside it after a power cut too.
func TestTornBytesAreOnTheDisk(t *testing.T) {
	t.Parallel()
	const torn = `{"n":99,"t":123,"at":"2026-11-25T18:03:33`
	for i := range uint64(60) {
		m := newMemory()
		r := keptClass(t, m, part(class(), public))
		d := must[*data](t)(m.find(r.Path))
		d.bytes = append(d.bytes, torn...)
		d.kept = bytes.Clone(d.bytes)
		r = must[[]Run](t)((&Home{files: m}).Runs())[0]
		if _, _, err := (&Home{files: m}).Resume(&r); err != nil {
			t.Fatal(err)
		}
		left := m.powerCut(rand.New(rand.NewPCG(21, i)))
		kept, err := readAll(left, strings.TrimSuffix(r.Path, publicEnd)+tornEnd)
		if err != nil || string(kept) != torn {
			t.Fatalf("trial %d: beside the log stands %q, %v; want %q", i, kept, err, torn)
		}
	}
}

// TestFullDiskIsTriedOnce: while the disk is full, an event costs one try and no new file.
func TestFullDiskIsTriedOnce(t *testing.T) {
	t.Parallel()
	m := newMemory()
	w := must[*Writer](t)((&Home{files: m}).Create(class()[0]))
	m.room = 0
	writes := 0
	m.fault = func(op op) error {
		if op.kind == "write" {
			writes++
		}
		return nil
	}
	for n := 2; n < 6; n++ {
		if err := w.Append(press(n)); !errors.Is(err, ErrWaiting) || writes != n-1 {
			t.Fatalf("Append = %v after %d tries, want ErrWaiting after %d", err, writes, n-1)
		}
	}
	if s := w.State(); s.Renewed != 0 || s.Waiting != 4 {
		t.Errorf("state %+v, want 4 waiting in the one file", s)
	}
}

// TestUnfinishedForADay: a run is offered back until a day after it was opened.
func TestUnfinishedForADay(t *testing.T) {
	t.Parallel()
	h := &Home{files: newMemory()}
	wall := opening().Truncate(time.Second)
	if err := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, wall)})).Close(); err != nil {
		t.Fatal(err)
	}
	for after, want := range map[time.Duration]bool{0: true, 24*time.Hour - 1: true, 24 * time.Hour: false, 25 * time.Hour: false} {
		if r, _, err := h.Unfinished(wall.Add(after)); err != nil || (r != nil) != want {
			t.Errorf("%v after it was opened: %v, %v, want offered %v", after, r, err, want)
		}
	}
}

// TestTornTwice: what is torn later is added to what was set aside before; what a crash left
// both there and in the log is there once.
func TestTornTwice(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	r := keptClass(t, m, part(class(), public))
	log := must[*data](t)(m.find(r.Path))
	whole := len(log.bytes)
	aside := strings.TrimSuffix(r.Path, publicEnd) + tornEnd
	for i, c := range []struct{ torn, want string }{
		{`{"n":28,"t`, `{"n":28,"t`},
		{`{"n":28,`, `{"n":28,"t{"n":28,`},
		{`{"n":28,`, `{"n":28,"t{"n":28,`}, // it was set aside, and the crash came before the cut
	} {
		log.bytes = append(log.bytes[:whole:whole], c.torn...)
		r = must[[]Run](t)(h.Runs())[0]
		_, got, err := h.Resume(&r)
		if err != nil {
			t.Fatal(err)
		}
		if kept := string(must[[]byte](t)(readAll(m, aside))); kept != c.want || got.Cut != len(c.torn) || len(log.bytes) != whole {
			t.Errorf("crash %d: beside the log stands %q, want %q; %d bytes cut", i+1, kept, c.want, got.Cut)
		}
	}
}
