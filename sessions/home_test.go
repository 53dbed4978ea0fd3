package sessions_test

import (
	"io/fs"
	"path"
	"reflect"
	"testing"

	burnt "github.com/BurntSushi/toml"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/internal/week"
	"hawser/sessions"
)

func source(t *testing.T, name string) []byte {
	t.Helper()
	data, err := fs.ReadFile(sessions.Home(), name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Every file reads, names only what there is, and each format has a session.
func TestDemoHomeReads(t *testing.T) {
	t.Parallel()
	r, err := roster.Parse("roster.toml", source(t, "roster.toml"))
	if err != nil {
		t.Fatal(err)
	}
	k, err := kit.Parse("kit.toml", source(t, "kit.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if faults := roster.Resolve(r, k); len(faults) > 0 {
		t.Error(faults)
	}
	if len(r.Athletes) != 9 || len(k.Sleds) != 3 {
		t.Errorf("the crew is %d on %d sleds, want 9 on 3", len(r.Athletes), len(k.Sleds))
	}
	files, err := fs.Glob(sessions.Home(), "sessions/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	formats := map[session.Format]bool{}
	names := map[string]bool{}
	for _, file := range files {
		s, err := session.Parse(file, source(t, file))
		if err != nil {
			t.Error(err)
			continue
		}
		if faults := session.Check(s, r, k); len(faults) > 0 {
			t.Error(faults)
		}
		names[s.Name] = true
		for _, p := range s.Parts {
			formats[p.Format] = true
		}
	}
	for _, f := range append(session.Formats(), session.Breaks()...) {
		if !formats[f] {
			t.Errorf("no session shows the format %q", f)
		}
	}
	w, err := week.Parse("week.toml", source(t, "week.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range w.Days {
		for _, pull := range d.Pull {
			if !names[pull] {
				t.Errorf("week.toml has %q on %s, which is no session", pull, d.Weekday)
			}
		}
	}
}

// The demo house.toml is what the program writes, so that it lists every rule.
func TestHouseIsWrittenByTheProgram(t *testing.T) {
	t.Parallel()
	data := source(t, "house.toml")
	h, err := house.Parse("house.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	if got := house.Write(h); string(got) != string(data) {
		t.Errorf("Write(Parse(house.toml)) =\n%s\nwant the file", got)
	}
	h.Path, h.Emergency, h.Address, h.Defibrillator = "", "", "", ""
	if want := house.Default(); !reflect.DeepEqual(h, want) {
		t.Errorf("house.toml = %+v, want the defaults %+v", h, want)
	}
}

// An independent TOML reader takes every file too: they are TOML, not our own dialect.
func TestAnotherReaderAgrees(t *testing.T) {
	t.Parallel()
	err := fs.WalkDir(sessions.Home(), ".", func(name string, _ fs.DirEntry, err error) error {
		if err == nil && path.Ext(name) == ".toml" {
			var tree map[string]any
			if _, wrong := burnt.Decode(string(source(t, name)), &tree); wrong != nil {
				t.Errorf("%s: %v", name, wrong)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
