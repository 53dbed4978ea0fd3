package logbook

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"path"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/session"
)

// TestEmptyLine: an empty line in the middle is one bad line, and all others are kept.
func TestEmptyLine(t *testing.T) {
	t.Parallel()
	_, lines, events := wholeSession(t)
	data := append(append(bytes.Clone(lines[0]), '\n'), bytes.Join(lines[1:], nil)...)
	log := must[*Log](t)(Read("x", bytes.NewReader(data)))
	if !equal(log.Events, events) || len(log.Damage) != 1 || log.Damage[0].Line != 2 || log.Damage[0].Offset != int64(len(lines[0])) ||
		log.Damage[0].What != errEmpty.Error() {
		t.Errorf("%s, damage %v", say(log.Events), log.Damage)
	}
}

// TestRunsTellWhatChanged: the mark of a run changes with each of its files, and with
// nothing else; its size is that of its longest.
func TestRunsTellWhatChanged(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	w := must[*Writer](t)(h.Create(class()[0]))
	marks := map[uint64]string{}
	look := func(what string) {
		t.Helper()
		r, again := must[[]Run](t)(h.Runs())[0], must[[]Run](t)(h.Runs())[0]
		if r.Mark != again.Mark || marks[r.Mark] != "" {
			t.Errorf("%s: mark %x, the one of %q, and then %x", what, r.Mark, marks[r.Mark], again.Mark)
		}
		marks[r.Mark] = what
		if want := int64(len(must[[]byte](t)(readAll(m, w.public.name)))); r.Size != want || r.Path != w.public.name || r.Private != w.private.name {
			t.Errorf("%s: %+v, want size %d of %s beside %s", what, r, want, w.public.name, w.private.name)
		}
		if single := w.State().Renewed == 0; r.Single != single {
			t.Errorf("%s: single %v", what, r.Single)
		}
	}
	add := func(what string, e floor.Stamped) {
		t.Helper()
		if err := w.Append(e); err != nil {
			t.Fatal(err)
		}
		look(what)
	}
	look("a log alone")
	add("a press", press(2))
	add("a note", floor.Stamped{T: time.Second, E: floor.Noted{Who: "Maren"}})
	add("another note", floor.Stamped{T: time.Second, E: floor.Noted{Who: "Maren"}})
	m.fault = func(op op) error {
		if op.kind == "sync" && isLog(op.name) {
			m.fault = nil
			return errDisk
		}
		return nil
	}
	add("a second file", press(3))
}

// TestPrivateDamageIsNamed: damage of the private file is the log's.
func TestPrivateDamageIsNamed(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, class())
	d := must[*data](t)(m.find(r.private[0].path()))
	d.bytes[3] ^= 1
	log := must[*Log](t)((&Home{files: m}).Load(&r))
	if len(log.Damage) == 0 || log.Damage[0].File != r.private[0].path() {
		t.Errorf("damage %v, want that of %s", log.Damage, r.private[0].path())
	}
}

// TestResumeStaysInItsFolder: a log that was moved goes on where it is, in a new file
// too, whose name says when that was begun.
func TestResumeStaysInItsFolder(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, []floor.Stamped{class()[0], {N: 2, T: 90 * time.Second, E: floor.Held{}}})
	was := must[*data](t)(m.find(r.Path))
	const old = "log/old"
	if err := m.Folder(old); err != nil {
		t.Fatal(err)
	}
	m.folders[old].names[path.Base(r.Path)] = was
	delete(m.folders["log/2026"].names, path.Base(r.Path))
	h := &Home{files: m}
	r = must[[]Run](t)(h.Runs())[0]
	m.fault = func(op op) error {
		if op.kind == "sync folder" && op.name == old {
			m.fault = nil
			return errDisk
		}
		return nil
	}
	w, _, err := h.Resume(&r)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Append(floor.Stamped{N: 3, T: 91 * time.Second, E: floor.Ended{}}, floor.Stamped{T: time.Hour, E: floor.Noted{Who: "Maren"}}); err != nil {
		t.Fatal(err)
	}
	begun, _, _ := nameParts(path.Base(w.public.name))
	if want := opening().Add(91 * time.Second).UTC().Truncate(time.Second); path.Dir(w.public.name) != old || !begun.Equal(want) || w.State().Renewed != 1 {
		t.Errorf("a folder that could not be synced: on in %s, renewed %d; want %s in %s", w.public.name, w.State().Renewed, want.Format(nameLayout), old)
	}
	if path.Dir(w.private.name) != old {
		t.Errorf("the private file is %s, want it in %s", w.private.name, old)
	}
}

// TestRenameEveryEvent: after a person was renamed, no event there is names them.
func TestRenameEveryEvent(t *testing.T) {
	t.Parallel()
	for _, e := range everyEvent() {
		if o, ok := e.(floor.Opened); ok {
			o.Plan.Parts[0].Spec.Lanes = []session.LanePin{{On: "A", Who: []string{"Eskil", "Maren"}}}
			o.Plan.Parts[0].Spec.Waves = [][]string{{"Maren"}}
			o.Plan.Parts[0].Spec.Title = "Maren's part"
		}
		named := must[[]byte](t)(json.Marshal(e))
		for _, name := range []string{"Maren", "Eskil", "Åse Ø", `Ole "the Rope" Berg`} {
			text := must[[]byte](t)(json.Marshal(rename(e, name, "X")))
			if (&eraser{name: name}).holds(text) {
				t.Errorf("%T still names %s: %s, was %s", e, name, text, named)
			}
		}
	}
}

func TestRenameKeepsLongerWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"xMaren", "xMaren"},
		{"3Maren", "3Maren"},
		{"Maren3", "Maren3"},
		{"Marens3", "Marens3"},
		{"Marensx", "Marensx"},
		{"-Maren-", "-X-"},
		{"ÅMaren Maren", "ÅMaren X"},
	} {
		if got := renameText(c.text, "Maren", "X"); got != c.want {
			t.Errorf("renameText(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// TestFollowLooksAtItsRun: files of other runs in the folder are none of its business.
func TestFollowLooksAtItsRun(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	one := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy("01KB0000000000000000000002", opening())}))
	seen := must[map[string]look](t)(looks(below{m, "log/2026"}, path.Base(one.State().Path)))
	if len(seen) != 1 {
		t.Errorf("it looks at %v, want one file", seen)
	}
}

// TestWhoseRun: without its first line a file is the run that most of its lines are
// of, and of two that are equal the one that comes first.
func TestWhoseRun(t *testing.T) {
	t.Parallel()
	line := func(n int, wall time.Time) []byte {
		t.Helper()
		l, err := encode(n, wall, time.Duration(n)*time.Second, floor.Held{}, "")
		if err != nil {
			t.Fatal(err)
		}
		return l.raw
	}
	mine, other := opening(), opening().Add(time.Hour)
	for what, c := range map[string]struct {
		lines [][]byte
		want  int
	}{
		"most are the second's":         {[][]byte{line(2, other), line(3, mine), line(4, mine)}, 3},
		"as many of each":               {[][]byte{line(2, other), line(3, mine)}, 2},
		"line 1 says it":                {[][]byte{line(1, other), line(2, mine), line(3, mine)}, 1},
		"an event 1 that is not line 1": {[][]byte{[]byte("torn\n"), line(1, other), line(2, mine), line(3, mine)}, 2},
		"three of the first":            {[][]byte{line(2, other), line(3, other), line(4, mine), line(5, other)}, 2},
	} {
		log := must[*Log](t)(Read("x", bytes.NewReader(bytes.Join(c.lines, nil))))
		if len(log.Events) == 0 || log.Events[0].N != c.want {
			t.Errorf("%s: %s, want the first to be event %d", what, say(log.Events), c.want)
		}
	}
}

// TestNoName: a line with its sum but no name is damage, and not from a newer program.
func TestNoName(t *testing.T) {
	t.Parallel()
	data, _, _ := wholeSession(t)
	bad := seal([]byte(`{"n":99,"t":0,"at":"2026-11-25T18:02:00.123+01:00","e":"held"p":""` + crcMark + "x"))
	log := must[*Log](t)(Read("x", bytes.NewReader(append(bad, data...))))
	if log.Newer || len(log.Damage) == 0 {
		t.Errorf("newer %v, damage %v", log.Newer, log.Damage)
	}
}

// TestForgetIsOnTheDisk: when Forget returns, the power may go: the name does not come
// back. A rename or a sync that fails is an error.
func TestForgetIsOnTheDisk(t *testing.T) {
	t.Parallel()
	for i := range uint64(40) {
		m := newMemory()
		keptClass(t, m, class())
		if _, err := (&Home{files: m}).Forget("Maren"); err != nil {
			t.Fatal(err)
		}
		left := m.powerCut(rand.New(rand.NewPCG(16, i)))
		for name, d := range left.folders["log/2026"].names {
			if (&eraser{name: "Maren"}).holds(d.bytes) {
				t.Fatalf("trial %d: Maren stands in %s again", i, name)
			}
		}
	}
	for _, kind := range []string{"rename", "sync", "sync folder", "write", "create"} {
		m := newMemory()
		keptClass(t, m, class())
		m.fault = func(op op) error {
			if op.kind == kind {
				return errDisk
			}
			return nil
		}
		if _, err := (&Home{files: m}).Forget("Maren"); err == nil {
			t.Errorf("a %s failed, and Forget says nothing", kind)
		}
	}
}

// TestForgetQuotedName: a name that JSON writes in another way is found too.
func TestForgetQuotedName(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, class())
	const name = `Ole "the Rope" Berg`
	done := must[Forgot](t)((&Home{files: m}).Forget(name))
	data := string(must[[]byte](t)(readAll(m, r.Path)))
	if len(done.Rewritten) != 1 || strings.Contains(data, "the Rope") {
		t.Errorf("Forget = %+v, and the log says %v", done, strings.Contains(data, "the Rope"))
	}
}

// TestResumeOnDisk takes a run up again in a real folder.
func TestResumeOnDisk(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	h := must[*Home](t)(Open(folder))
	defer h.Close()
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())}))
	if err := w.Append(press(2)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	r := must[[]Run](t)(h.Runs())[0]
	w, _, err := h.Resume(&r)
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Append(press(3)); err != nil || w.State().Renewed != 0 {
		t.Errorf("Append = %v, %+v", err, w.State())
	}
	if there, err := checkPresses(folder, 3); err != nil || there != 3 {
		t.Errorf("%d there, %v", there, err)
	}
}

// TestRunsAreInOrderOfTime: by when they were opened, whatever their names.
func TestRunsAreInOrderOfTime(t *testing.T) {
	t.Parallel()
	h := &Home{files: newMemory()}
	for i, id := range []string{"01KB0000000000000000000003", "01KB0000000000000000000001", "01KB0000000000000000000002"} {
		w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: openedBy(id, opening().Add(time.Duration(i)*time.Hour))}))
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
	}
	got := ""
	for _, r := range must[[]Run](t)(h.Runs()) {
		got += r.ULID[len(r.ULID)-1:]
	}
	if got != "312" {
		t.Errorf("the runs are in the order %s, want 312", got)
	}
}
