package logbook

import (
	"bytes"
	"path"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestForgetLeavesOthersAlone: a run that the person was not in keeps its torn lines, and not a
// byte of it changes.
func TestForgetLeavesOthersAlone(t *testing.T) {
	t.Parallel()
	m := newMemory()
	h := &Home{files: m}
	keptClass(t, m, class())
	const other = "01KB0000000000000000000009"
	plain := floor.Opened{Run: other, Wall: opening(), Plan: &floor.Plan{Title: "Ebb", People: []floor.Person{{Name: "Tuva"}}}}
	w := must[*Writer](t)(h.Create(floor.Stamped{N: 1, E: plain}))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	torn := strings.TrimSuffix(w.State().Path, publicEnd) + tornEnd
	put(t, m, torn, []byte(`{"n":2,"who":"Tu`))
	before := dump(m)
	done := must[Forgot](t)(h.Forget("Maren"))
	after := dump(m)
	for _, name := range []string{w.State().Path, torn} {
		if after[name] != before[name] {
			t.Errorf("%s was %q and is %q", name, before[name], after[name])
		}
	}
	if slices.Contains(done.Removed, torn) {
		t.Errorf("the torn line of a run without Maren was removed: %+v", done)
	}
}

// TestForgetKeepsNumbers: where a line is damaged, the others keep their numbers, since an
// undone speaks of a number.
func TestForgetKeepsNumbers(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, part(class(), public))
	d := must[*data](t)(m.find(r.Path))
	lines := bytes.SplitAfter(d.bytes, []byte("\n"))
	lines[2][5] ^= 1
	d.bytes = bytes.Join(lines, nil)
	h := &Home{files: m}
	must[Forgot](t)(h.Forget("Maren"))
	log := must[*Log](t)(h.Load(&must[[]Run](t)(h.Runs())[0]))
	want := part(class(), public)
	want = slices.Delete(want, 2, 3)
	for i, e := range log.Events {
		if e.N != want[i].N || e.T != want[i].T {
			t.Fatalf("event %d at %v stands where %d at %v did", e.N, e.T, want[i].N, want[i].T)
		}
	}
	if len(log.Events) != len(want) {
		t.Errorf("%s, want all but the damaged one", say(log.Events))
	}
}

// TestForgetSaysWhatElseBearsTheName: a guest called like a surface of the kit is
// forgotten; the surface stays, and that is said.
func TestForgetSaysWhatElseBearsTheName(t *testing.T) {
	t.Parallel()
	m := newMemory()
	r := keptClass(t, m, []floor.Stamped{class()[0], {N: 2, T: time.Second, E: floor.GuestAdded{Who: "rubber"}}})
	done := must[Forgot](t)((&Home{files: m}).Forget("rubber"))
	if len(done.Rewritten) != 1 || len(done.Beyond) != 1 || !strings.HasPrefix(done.Beyond[0], r.Path) {
		t.Errorf("Forget(rubber) = %+v, want the log rewritten, and said that it still holds the word", done)
	}
	log := must[*Log](t)((&Home{files: m}).Load(&r))
	if guest, ok := log.Events[1].E.(floor.GuestAdded); !ok || guest.Who != "someone" {
		t.Errorf("the guest is %+v, want someone", log.Events[1].E)
	}
}

// TestReplaceOverLeftovers: what a crash left of an earlier rewrite is in nobody's way.
func TestReplaceOverLeftovers(t *testing.T) {
	t.Parallel()
	m := newMemory()
	const name = "log/2026/x.jsonl"
	put(t, m, name, []byte("old\n"))
	put(t, m, name+newEnd, []byte("ol"))
	if err := replace(m, name, []byte("new\n")); err != nil {
		t.Fatal(err)
	}
	infos := dump(m)
	if infos[name] != "new\n" || len(infos) != 1 {
		t.Errorf("in %s stand %v, want the new bytes alone", path.Dir(name), infos)
	}
}
