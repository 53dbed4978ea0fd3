package logbook

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestLogReplacedUnderTheRun: a file copier puts another file in the place of the log
// while the run is on. The run notices, and goes on in a file of its own.
func TestLogReplacedUnderTheRun(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	h := must[*Home](t)(Open(folder))
	defer h.Close()
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	defer w.Close()
	log := filepath.Join(folder, w.State().Path)
	old := must[[]byte](t)(os.ReadFile(log))
	if err := errors.Join(os.WriteFile(log+".part", old, 0o600), os.Rename(log+".part", log)); err != nil {
		t.Fatal(err)
	}
	if err := w.Append(press(2)); err != nil || w.State().Renewed != 1 {
		t.Errorf("Append = %v, %+v, want a new file begun", err, w.State())
	}
	if there, err := checkPresses(folder, 2); err != nil || there != 2 {
		t.Errorf("%d events there, %v, want 2", there, err)
	}
}

// TestResumeGoesOnInTheSameFile: nothing is repeated where nothing was wrong.
func TestResumeGoesOnInTheSameFile(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	h := must[*Home](t)(Open(folder))
	defer h.Close()
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	r := must[[]Run](t)(h.Runs())[0]
	again, _, err := h.Resume(&r)
	if err != nil {
		t.Fatal(err)
	}
	if got := again.State().Path; got != w.State().Path {
		t.Errorf("it goes on in %q, want %s", got, w.State().Path)
	}
	if err := errors.Join(again.Append(press(2)), again.Close()); err != nil {
		t.Fatal(err)
	}
	if r := must[[]Run](t)(h.Runs())[0]; r.Path != w.State().Path || !r.Single {
		t.Errorf("the run stands in %s, alone %v; want it in %s alone", r.Path, r.Single, w.State().Path)
	}
}

// counted counts the files that are opened to be read.
type counted struct {
	files
	opened int
}

func (c *counted) Open(name string) (io.ReadCloser, error) {
	c.opened++
	return c.files.Open(name)
}

// TestFollowReadsNothingTwice: while nothing is new, a follower looks at the folder and opens
// no file.
func TestFollowReadsNothingTwice(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	year := &counted{files: below{m, "log/2026"}}
	name := filepath.Base(w.State().Path)
	f := Follow(name)
	for n := 2; n < 5; n++ {
		if err := w.Append(press(n)); err != nil {
			t.Fatal(err)
		}
		must[[]floor.Stamped](t)(f.next(year, name))
		was := year.opened
		for range 3 {
			if more := must[[]floor.Stamped](t)(f.next(year, name)); len(more) > 0 || year.opened != was {
				t.Errorf("nothing is new, and it read %d files and returned %s", year.opened-was, say(more))
			}
		}
	}
}

// TestRoomTimeNeverGoesBack: the room time of a run that is taken up again is that of its
// latest line, whichever that is, and of a log without lines it is nothing.
func TestRoomTimeNeverGoesBack(t *testing.T) {
	t.Parallel()
	if room, gap := new(Log).Room(opening()); room != 0 || gap != 0 {
		t.Errorf("Room of no lines = %v, %v, want nothing", room, gap)
	}
	m := newMemory()
	r := keptClass(t, m, []floor.Stamped{
		{N: 1, E: openedBy(run, opening())},
		{N: 2, T: 90 * time.Second, E: floor.Held{}},
		{N: 3, T: 80 * time.Second, E: floor.Resumed{At: 80 * time.Second}},
	})
	log := must[*Log](t)((&Home{files: m}).Load(&r))
	if room, gap := log.Room(opening().Truncate(time.Millisecond).Add(100 * time.Second)); room != 100*time.Second || gap != 10*time.Second {
		t.Errorf("Room = %v after a gap of %v, want 100 s after 10 s", room, gap)
	}
}
