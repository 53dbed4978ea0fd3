package cli

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"hawser/internal/floor"
)

// TestListedLogOpensAtOnce: a log that is chosen from the list, and the one before it
// that can be laid beneath, are opened without a look at any other: that there are
// years of them makes no work.
func TestListedLogOpensAtOnce(t *testing.T) { //nolint:paralleltest // it counts what is allocated
	dir, _ := evening(t)
	args := []string{"rehearse", "minute", "--home", dir, "--presses", filepath.Join(dir, "presses.txt"), "--keep", "--at", "2026-11-11T18:00:00+01:00"}
	if rc := Main(args, os.Stdin, io.Discard, io.Discard); rc != Done {
		t.Fatalf("rehearse ended with %d", rc)
	}
	h, err := (&shell{in: os.Stdin, talk: io.Discard, folder: dir}).open("")
	if err != nil {
		t.Fatal(err)
	}
	shelf := &shelf{home: h}
	list := shelf.recent()
	if len(list) != 2 || list[0].Wall.Day() != 18 {
		t.Fatalf("the list is %+v, want the 18th and the 11th", list)
	}
	work := func() float64 {
		return testing.AllocsPerRun(5, func() {
			if _, err := shelf.replay(list[0].Log); err != nil {
				t.Fatal(err)
			}
		})
	}
	alone := work()
	years := map[string]string{}
	for i := range 500 {
		years[fmt.Sprintf("log/2025/20251118T17%02d%02dZ-01KBB1WH000000000000000%03d.jsonl", i/60, i%60, i)] = ""
	}
	WriteFiles(t, dir, years)
	if among := work(); among > alone+100 {
		t.Errorf("among 500 more logs it takes %.0f allocations to open one, alone %.0f", among, alone)
	}
	log, err := h.load(list[0].Log)
	if err != nil {
		t.Fatal(err)
	}
	from, err := h.replayed(shelf.past.Load(), log, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if o, ok := from.Before[0].E.(floor.Opened); !ok || o.Wall.Day() != 11 {
		t.Errorf("beneath it lies %+v, want the run of the 11th", from.Before[0])
	}
}
