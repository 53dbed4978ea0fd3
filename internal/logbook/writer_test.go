package logbook

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

func TestClassOnDisk(t *testing.T) {
	t.Parallel()
	folder := filepath.Join(t.TempDir(), "home")
	home := must[*Home](t)(Open(folder))
	events := class()
	w := must[*Writer](t)(home.Create(events[0]))
	for i, e := range events[1:] {
		if err := w.Append(e); err != nil {
			t.Fatal(err)
		}
		if s := w.State(); s.Kept != i+2 || s.Waiting != 0 || s.Trouble != nil || s.Renewed != 0 {
			t.Fatalf("after event %d: %+v", i+2, s)
		}
	}
	if err := errors.Join(w.Close(), home.Close()); err != nil {
		t.Fatal(err)
	}
	name := w.State().Path
	if want := "log/2026/20261125T170200Z-" + run + ".jsonl"; name != want {
		t.Errorf("the log is %s, want %s", name, want)
	}
	log := must[*Log](t)(Load(filepath.Join(folder, name)))
	if err := log.Err(); err != nil || len(log.Damage) > 0 || log.Newer || !log.Ended() {
		t.Errorf("damage %v, newer %v, ended %v", log.Damage, log.Newer, log.Ended())
	}
	if want := part(events, public); !equal(log.Events, want) {
		t.Errorf("events: %s, want %s", say(log.Events), say(want))
	}
	if want := part(events, private); !equal(log.Private, want) {
		t.Errorf("private events: %s, want %s", say(log.Private), say(want))
	}
	text := must[[]byte](t)(os.ReadFile(filepath.Join(folder, name)))
	for _, word := range []string{"knee", "effort", "left,"} {
		if strings.Contains(string(text), word) {
			t.Errorf("the public log holds %q", word)
		}
	}
}

// TestModes: what is made is its owner's alone, whatever the umask.
func TestModes(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "home")
	for _, mask := range []int{0, 0o22, 0o77, 0o377} {
		sub := filepath.Join(folder, string(rune('a'+mask%26)))
		if err := os.MkdirAll(sub, 0o700); err != nil {
			t.Fatal(err)
		}
		old := umask(mask)
		home, err := Open(sub)
		if err == nil {
			w, createErr := home.Create(class()[0])
			err = errors.Join(createErr, w.Append(floor.Stamped{E: floor.Noted{Who: "Maren"}}), w.Close(), home.Close())
		}
		umask(old)
		if err != nil {
			t.Fatalf("umask %o: %v", mask, err)
		}
		seen := 0
		err = filepath.WalkDir(sub, func(path string, e fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			seen++
			info := must[fs.FileInfo](t)(e.Info())
			want := fs.FileMode(0o600)
			if e.IsDir() {
				want = 0o700
			}
			if info.Mode().Perm() != want {
				t.Errorf("umask %o: %s has mode %o, want %o", mask, path, info.Mode().Perm(), want)
			}
			return nil
		})
		if err != nil || seen != 6 {
			t.Errorf("umask %o: %d files and folders, want 6 (%v)", mask, seen, err)
		}
	}
}

func TestAppendRefuses(t *testing.T) {
	t.Parallel()
	h := &Home{files: newMemory()}
	for _, c := range []struct {
		name  string
		first floor.Stamped
	}{
		{"no opened", floor.Stamped{N: 1, E: floor.Held{}}},
		{"no ULID", floor.Stamped{N: 1, E: openedBy("../../etc", opening())}},
		{"a number that is not 1", floor.Stamped{N: 2, E: openedBy(run, opening())}},
	} {
		if w, err := h.Create(c.first); err == nil || w != nil {
			t.Errorf("Create(%s) = %v, %v, want an error", c.name, w, err)
		}
	}
	w := must[*Writer](t)(h.Create(class()[0]))
	for _, n := range []int{0, 1, 3, -1} {
		err := w.Append(floor.Stamped{N: 2, E: floor.Held{}}, floor.Stamped{N: n, E: floor.Held{}})
		if !errors.Is(err, ErrOrder) && n != 3 {
			t.Errorf("Append(2, %d) = %v, want ErrOrder", n, err)
		}
		if n == 3 && err != nil {
			t.Errorf("Append(2, 3) = %v", err)
		}
		if n == 3 {
			break
		}
	}
	if s := w.State(); s.Kept != 3 || s.Waiting != 0 {
		t.Errorf("state %+v, want 3 kept", s)
	}
}

func TestRuns(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if got := must[[]Run](t)(Runs(filepath.Join(folder, "nowhere"))); len(got) != 0 {
		t.Errorf("Runs(no home) = %v", got)
	}
	if got := must[[]Run](t)(Runs(folder)); len(got) != 0 {
		t.Errorf("Runs(no logs) = %v", got)
	}
	home := must[*Home](t)(Open(folder))
	defer home.Close()
	walls := []time.Time{opening().AddDate(1, 0, 0), opening(), opening().Add(time.Hour)}
	ids := []string{"01KB0000000000000000000003", "01KB0000000000000000000001", "01KB0000000000000000000002"}
	for i, wall := range walls {
		w := must[*Writer](t)(home.Create(floor.Stamped{N: 1, E: openedBy(ids[i], wall)}))
		if i == 2 {
			if err := w.Append(floor.Stamped{N: 2, T: time.Second, E: floor.Ended{}}); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
	}
	all := must[[]Run](t)(Runs(folder))
	var got []string
	for _, r := range all {
		got = append(got, r.ULID[25:])
	}
	if strings.Join(got, "") != "123" {
		t.Errorf("Runs in the order %v, want 1 2 3", got)
	}
	for _, c := range []struct {
		now  time.Time
		want string
	}{
		{walls[0].Add(time.Minute), ids[0]},
		{walls[0].Add(25 * time.Hour), ""},
		{walls[2].Add(time.Minute), ids[0]}, // its clock is ahead
	} {
		run, log, err := home.Unfinished(c.now)
		if err != nil {
			t.Fatal(err)
		}
		if c.want == "" && run != nil || c.want != "" && (run == nil || run.ULID != c.want || log == nil) {
			t.Errorf("Unfinished(%v) = %v, want %q", c.now, run, c.want)
		}
	}
	if err := os.RemoveAll(filepath.Join(folder, "log/2027")); err != nil {
		t.Fatal(err)
	}
	if run, _, err := home.Unfinished(walls[2].Add(time.Minute)); err != nil || run == nil || run.ULID != ids[1] {
		t.Errorf("Unfinished past one that ended = %v, %v, want %s", run, err, ids[1])
	}
}

func TestLoadNothing(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	for _, name := range []string{"none.jsonl", "20261125T170200Z-" + run + ".jsonl"} {
		if _, err := Load(filepath.Join(folder, name)); !errors.Is(err, ErrNoLog) {
			t.Errorf("Load(%s) = %v, want ErrNoLog", name, err)
		}
	}
}

func TestRoom(t *testing.T) {
	t.Parallel()
	m := newMemory()
	events := part(class(), public)
	r := keptClass(t, m, events)
	log := must[*Log](t)((&Home{files: m}).Load(&r))
	last := events[len(events)-1].T
	for _, c := range []struct{ away, gap time.Duration }{{90 * time.Second, 90 * time.Second}, {0, 0}, {-time.Hour, 0}} {
		room, gap := log.Room(opening().Truncate(time.Millisecond).Add(last + c.away))
		if gap != c.gap || room != last+c.gap {
			t.Errorf("Room(%v after the last event) = %v, %v, want %v, %v", c.away, room, gap, last+c.gap, c.gap)
		}
	}
}
