package logbook

import (
	"maps"
	"path"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

// failOnce makes the next operation of a kind fail.
func failOnce(m *memory, kind string) {
	m.fault = func(op op) error {
		if op.kind == kind && (kind != "sync" || isLog(op.name)) {
			m.fault = nil
			return errDisk
		}
		return nil
	}
}

// TestNextFileIsNamedByItsTime: a file that is begun while the run is on bears the time of
// the latest event and a second more, or the next second that is free.
func TestNextFileIsNamedByItsTime(t *testing.T) {
	t.Parallel()
	for taken, want := range map[int]string{0: "20261125T170331Z", 1: "20261125T170332Z", 2: "20261125T170333Z"} {
		m := newMemory()
		w := must[*Writer](t)((&Home{files: m}).Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
		for k := range taken {
			put(t, m, "log/2026/"+opening().UTC().Add(time.Duration(91+k)*time.Second).Format(nameLayout)+"-"+run+publicEnd, nil)
		}
		failOnce(m, "sync")
		if err := w.Append(floor.Stamped{N: 2, T: 80 * time.Second, E: floor.Held{}}, floor.Stamped{N: 3, T: 90 * time.Second, E: floor.Resumed{}},
			floor.Stamped{N: 4, T: 85 * time.Second, E: floor.Held{}}); err != nil {
			t.Fatal(err)
		}
		if got := path.Base(w.State().Path); got != want+"-"+run+publicEnd {
			t.Errorf("with %d names taken the run goes on in %s, want %s", taken, got, want)
		}
	}
}

// TestNothingIsLeftOfAFalseStart: a file that was given up before it was ever on the disk goes
// when there is another.
func TestNothingIsLeftOfAFalseStart(t *testing.T) {
	t.Parallel()
	for _, kind := range []string{"sync", "write"} {
		m := newMemory()
		failOnce(m, kind)
		w := must[*Writer](t)((&Home{files: m}).Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
		if got := slices.Collect(maps.Keys(dump(m))); len(got) != 1 || got[0] != w.State().Path || w.State().Renewed != 1 {
			t.Errorf("after a failed %s there are %v, %+v; want the second file alone", kind, got, w.State())
		}
	}
}

// TestOrderIsSaid: an event out of turn is told from which it does not follow.
func TestOrderIsSaid(t *testing.T) {
	t.Parallel()
	w := must[*Writer](t)((&Home{files: newMemory()}).Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	err := w.Append(press(2), press(5))
	if err == nil || !strings.HasPrefix(err.Error(), "event 5 after event 2:") {
		t.Errorf("Append(2, 5) = %v, want event 5 after event 2", err)
	}
}

// TestMissingIsCounted: which events are missing is said by their numbers.
func TestMissingIsCounted(t *testing.T) {
	t.Parallel()
	_, lines, _ := wholeSession(t)
	for missing, want := range map[int]string{1: "event 3 is missing", 2: "events 3 to 4 are missing", 3: "events 3 to 5 are missing"} {
		log := must[*Log](t)(Read("x", strings.NewReader(string(slices.Concat(slices.Concat(lines[:2]...), slices.Concat(lines[2+missing:]...))))))
		if len(log.Damage) != 1 || log.Damage[0].What != want+" before this line" || log.Damage[0].Line != 3 {
			t.Errorf("without %d lines: %v, want %s", missing, log.Damage, want)
		}
	}
}

// TestFolderThatCannotBeSynced: a file whose name may not be on the disk is left, and its folder
// is not asked a second time for that file.
func TestFolderThatCannotBeSynced(t *testing.T) {
	t.Parallel()
	m := newMemory()
	asked := 0
	m.fault = func(op op) error {
		if op.kind == "sync folder" && op.name == "log/2026" {
			if asked++; asked == 1 {
				return errDisk
			}
		}
		return nil
	}
	w := must[*Writer](t)((&Home{files: m}).Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	if s := w.State(); s.Renewed != 1 || s.Kept != 1 || asked != 2 || len(dump(m)) != 1 {
		t.Errorf("state %+v after %d syncs of the folder, files %v; want a second file alone", s, asked, slices.Collect(maps.Keys(dump(m))))
	}
}
