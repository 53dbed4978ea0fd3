package history

import (
	"os"
	"path/filepath"
	"testing"

	"hawser/internal/logbook"
)

// TestFilesClosed: every file that is opened ahead is closed, whatever it holds.
//
//nolint:paralleltest // it counts the open files of the process
func TestFilesClosed(t *testing.T) {
	count := func() int {
		all, err := os.ReadDir("/proc/self/fd")
		if err != nil {
			t.Skip("no list of open files here")
		}
		return len(all)
	}
	home := t.TempDir()
	gym(t, home, 0, 3*ahead+1)
	runs, err := logbook.Runs(home)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(runs); i += 5 { // the scanner gives up at a torn line
		if err := os.Truncate(filepath.Join(home, runs[i].Path), runs[i].Size-3); err != nil {
			t.Fatal(err)
		}
	}
	before := count()
	h, faults, err := Read(home, nil)
	if err != nil || h.Runs() != len(runs) || len(faults) != 10 {
		t.Errorf("%d runs, %d faults, %v, want %d and 10", h.Runs(), len(faults), err, len(runs))
	}
	gone := runs[1]
	gone.Private = gone.Path + ".gone" // between the listing and the reading
	if files := newWorker(home).open([]*logbook.Run{&gone}); files[0] != nil {
		t.Errorf("%d files of a run whose private one is gone, want none", len(files[0]))
	}
	if after := count(); after != before {
		t.Errorf("%d files are open, %d were before", after, before)
	}
}
