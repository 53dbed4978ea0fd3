package logbook

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"hawser/internal/floor"
)

// search looks for a name through the whole home, the way a person would with grep.
func search(t *testing.T, home, name string) []string {
	t.Helper()
	var found []string
	err := filepath.WalkDir(home, func(path string, e fs.DirEntry, err error) error {
		if err != nil || !e.Type().IsRegular() {
			return err
		}
		data, err := os.ReadFile(path)
		if bytes.Contains(bytes.ToLower(data), []byte(strings.ToLower(name))) || strings.Contains(path, name) {
			found = append(found, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// forgetHome is a home in which Maren stands everywhere that a person can.
func forgetHome(t *testing.T) (string, string) {
	t.Helper()
	folder := t.TempDir()
	home := must[*Home](t)(Open(folder))
	events := class()
	w := must[*Writer](t)(home.Create(events[0]))
	err := w.Append(append(events[1:], floor.Stamped{T: events[len(events)-1].T, E: floor.Noted{Who: "Eskil", Text: "shared MAREN's sled, marens harness"}})...)
	if err := errors.Join(err, w.Close(), home.Close()); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, w.State().Path)
	stem := strings.TrimSuffix(path, publicEnd)
	data := must[[]byte](t)(os.ReadFile(path))
	givenUp := strings.Replace(path, "T1702", "T1703", 1) // its last line torn
	for name, text := range map[string][]byte{
		stem + tornEnd:              []byte(`{"n":9,"who":"Mar`),
		stem + ".private" + tornEnd: []byte(`{"n":9,"who":"Mar`),
		path + newEnd:               data[:99],
		givenUp:                     data[:len(data)-30],
	} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return folder, path
}

func TestForget(t *testing.T) {
	t.Parallel()
	folder, path := forgetHome(t)
	home := must[*Home](t)(Open(folder))
	defer home.Close()
	before := must[*Log](t)(Load(path))
	done := must[Forgot](t)(home.Forget("Maren"))
	if found := search(t, folder, "Maren"); len(found) > 0 {
		t.Errorf("Maren still stands in %v", found)
	}
	if len(done.Rewritten) != 3 || len(done.Removed) != 3 || len(done.Beyond) != 0 {
		t.Errorf("Forget = %+v, want 3 rewritten, 3 removed", done)
	}
	after := must[*Log](t)(Load(path))
	if len(after.Damage) > 0 {
		t.Errorf("the new log is damaged: %v", after.Damage)
	}
	if len(after.Events) != len(before.Events) {
		t.Errorf("%s, want as many as before, %s", say(after.Events), say(before.Events))
	}
	for i, e := range after.Events {
		if e.N != before.Events[i].N || e.T != before.Events[i].T || reflect.TypeOf(e.E) != reflect.TypeOf(before.Events[i].E) {
			t.Errorf("event %d became %+v", before.Events[i].N, e)
		}
	}
	if p, ok := after.Events[3].E.(floor.Pressed); !ok || p.Who != "someone" || p.Round != 1 {
		t.Errorf("the press became %+v, want someone's", after.Events[3].E)
	}
	if len(after.Private) != 1 {
		t.Fatalf("private: %s, want Eskil's note alone", say(after.Private))
	}
	if note, ok := after.Private[0].E.(floor.Noted); !ok || note.Text != "shared someone's sled, someones harness" {
		t.Errorf("Eskil's note became %+v", after.Private[0].E)
	}
	again := must[Forgot](t)(home.Forget("Maren"))
	if len(again.Rewritten)+len(again.Removed)+len(again.Beyond) > 0 {
		t.Errorf("a second time: %+v, want nothing to do", again)
	}
	next := must[Forgot](t)(home.Forget("Eskil"))
	log := must[*Log](t)(Load(path))
	opened, ok := log.Opened()
	if len(next.Rewritten) != 2 || !ok || opened.Plan.People[0].Name != "someone" || opened.Plan.People[1].Name != "someone 2" {
		t.Errorf("Forget(Eskil) = %+v, people %+v", next, opened.Plan.People)
	}
	if len(log.Private) != 0 || len(search(t, folder, "Eskil")) > 0 {
		t.Errorf("Eskil still stands in %v", search(t, folder, "Eskil"))
	}
}

func TestForgetSaysWhatIsBeyond(t *testing.T) {
	t.Parallel()
	folder, path := forgetHome(t)
	year := filepath.Dir(path)
	line, err := encode(1, opening(), 0, openedBy(run, opening()), "")
	if err != nil {
		t.Fatal(err)
	}
	body := strings.Replace(string(line.raw[:bytes.LastIndex(line.raw, []byte(crcMark))]), `"v":1`, `"v":9`, 1)
	newer := body + crcMark + sum([]byte(body)) + crcEnd + "\n"
	err = errors.Join(
		os.WriteFile(filepath.Join(year, "by hand.txt"), []byte("maren"), 0o600),
		os.WriteFile(filepath.Join(year, "20261126T170200Z-01KB0000000000000000000009.jsonl"), []byte(newer), 0o600),
		os.Symlink("/etc/passwd", filepath.Join(year, "20261127T170200Z-01KB0000000000000000000008.jsonl")))
	if err != nil {
		t.Fatal(err)
	}
	home := must[*Home](t)(Open(folder))
	defer home.Close()
	done := must[Forgot](t)(home.Forget("Maren"))
	if len(done.Beyond) != 3 || len(done.Rewritten) != 3 {
		t.Errorf("Forget = %+v, want 3 beyond", done)
	}
	if _, err := home.Forget(" "); err == nil {
		t.Error("Forget of nobody is no error")
	}
}

// TestForgetIsAllOrNothing: at every operation that can fail, each file is the old
// or the new one, and to do it again finishes it.
func TestForgetIsAllOrNothing(t *testing.T) {
	t.Parallel()
	events := class()
	for n := 1; ; n++ {
		m := newMemory()
		r := keptClass(t, m, events)
		old := must[[]byte](t)(readAll(m, r.Path))
		begun := m.ops
		m.fault = func(op op) error {
			if op.n == begun+n {
				return errDisk
			}
			return nil
		}
		h := &Home{files: m}
		_, failed := h.Forget("Maren")
		now := must[[]byte](t)(readAll(m, r.Path))
		e := eraser{name: "Maren"}
		if log := must[*Log](t)(Read("", bytes.NewReader(now))); !bytes.Equal(now, old) && (e.holds(now) || len(log.Damage) > 0) {
			t.Fatalf("operation %d failed: the log is neither old nor new", n)
		}
		hit := m.ops >= begun+n
		m.fault = nil
		if _, err := h.Forget("Maren"); err != nil {
			t.Fatal(err)
		}
		for _, one := range must[[]item](t)(m.List("log/2026", "")) {
			if e.holds(must[[]byte](t)(readAll(m, "log/2026/"+one.name))) {
				t.Fatalf("operation %d failed: Maren still stands in %s", n, one.name)
			}
		}
		if !hit {
			if failed != nil || n < 8 {
				t.Errorf("after %d operations: %v", n, failed)
			}
			return
		}
	}
}

func TestPseudonym(t *testing.T) {
	t.Parallel()
	plan := openedBy(run, opening())
	for _, c := range []struct {
		people []string
		guest  string
		want   string
	}{{nil, "", "someone"}, {[]string{"someone"}, "", "someone 2"}, {[]string{"someone", "someone 2"}, "someone 3", "someone 4"}} {
		plan.Plan.People = nil
		for _, name := range c.people {
			plan.Plan.People = append(plan.Plan.People, floor.Person{Name: name})
		}
		if got := pseudonym([]floor.Stamped{{N: 1, E: plan}, {N: 2, E: floor.GuestAdded{Who: c.guest}}}); got != c.want {
			t.Errorf("pseudonym beside %v and %q = %q, want %q", c.people, c.guest, got, c.want)
		}
	}
}

func TestRenameText(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, from, want string }{
		{"Maren", "Maren", "X"},
		{"maren's, MARENS; marenka", "Maren", "X's, XS; marenka"},
		{"an and Ann, an", "An", "X and Ann, X"},
		{"Åse, Åses", "Åse", "X, Xs"},
		{"Ø Maren Vik", "Maren Vik", "Ø X"},
		{"\xff\xfeMaren", "Maren", "\xff\xfeX"},
		{"", "Maren", ""},
	} {
		if got := renameText(c.text, c.from, "X"); got != c.want {
			t.Errorf("renameText(%q, %q) = %q, want %q", c.text, c.from, got, c.want)
		}
	}
}
