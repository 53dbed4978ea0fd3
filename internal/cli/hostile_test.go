package cli_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hawser/internal/cli"
	"hawser/internal/coachfile"
	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/sessions"
)

// hostile is texts that a terminal, a file system, a spreadsheet or a browser would
// obey if it were let: see the file for what each wants.
func hostile(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile("../coachfile/testdata/hostile.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for line := range strings.Lines(string(data)) {
		quoted, _, _ := strings.Cut(line, "\t")
		text, err := strconv.Unquote(quoted)
		if err != nil {
			t.Fatalf("%s: %v", quoted, err)
		}
		all = append(all, text)
	}
	if len(all) < 200 {
		t.Fatalf("%d hostile texts, want 200 or more", len(all))
	}
	return all
}

// sample thins a long list out where nobody asked for the long count.
func sample(all []string) []string {
	if os.Getenv("HAWSER_LONG") != "" {
		return all
	}
	step := 40
	if testing.Short() {
		step = 150
	}
	var out []string
	for i := 0; i < len(all); i += step {
		out = append(out, all[i])
	}
	return out
}

// runHere runs a command line in this process, without a terminal.
func runHere(t *testing.T, args ...string) (status int, out, talk string) {
	t.Helper()
	in, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	var o, e bytes.Buffer
	status = cli.Main(args, in, &o, &e)
	return status, o.String(), e.String()
}

// plain wants both outputs of a command to be plain text.
func plain(t *testing.T, text string, args ...string) (out string) {
	t.Helper()
	_, out, talk := runHere(t, args...)
	for _, said := range []string{out, talk} {
		if r, bad := obeyed(said); bad {
			t.Errorf("with %q, %v prints %U: %q", text, args[:2], r, said)
		}
		if strings.Contains(said, "goroutine ") {
			t.Errorf("with %q, %v prints a stack trace: %s", text, args, said)
		}
	}
	return out
}

// TestHostileLogs puts hostile text in the place of every name, title, plate and note
// of a log, and has every command print it.
func TestHostileLogs(t *testing.T) {
	t.Parallel()
	kept := keptClass(t)
	trials := 0
	for i, text := range sample(hostile(t)) {
		home := t.TempDir()
		if err := os.CopyFS(home, sessions.Home()); err != nil {
			t.Fatal(err)
		}
		writeLog(t, home, kept, text, i)
		for _, args := range [][]string{
			{"splits"},
			{"splits", "--json"},
			{"splits", "--csv"},
			{"history"},
			{"history", "--json"},
			{"history", "--csv"},
			{"history", text},
			{"replay"},
			{"report"},
			{"splits", text},
			{"forget", text},
			{"board", text},
			{text},
			{"run", "--who", text},
		} {
			out := plain(t, text, append(args, "--home", home)...)
			if args[0] == "splits" && len(args) == 1 && coachfile.Clean(text) != text && !strings.Contains(out, "\uFFFD") {
				t.Errorf("with %q no name of the log is shown: %s", text, out)
			}
			if slices.Contains(args, "--csv") {
				if cell := formula(out); cell != "" {
					t.Errorf("a spreadsheet would run %q in %q", cell, out)
				}
			}
			trials++
		}
		page := filepath.Join(t.TempDir(), "page.html")
		plain(t, text, "splits", "--home", home, "--page", page)
		html, err := os.ReadFile(page)
		if r, bad := obeyed(string(html)); err == nil && (bad || strings.Contains(string(html), "<script>alert") || strings.Contains(string(html), "<img")) {
			t.Errorf("with %q the page holds %U, or obeys", text, r)
		}
	}
	t.Logf("%d commands on hostile logs", trials)
}

// keptClass is the events of a whole class of the made-up crew.
func keptClass(t *testing.T) *logbook.Log {
	t.Helper()
	home := t.TempDir()
	if err := os.CopyFS(home, sessions.Home()); err != nil {
		t.Fatal(err)
	}
	status, _, talk := runHere(t, "rehearse", "slack-water", "--home", home, "--presses", filepath.Join(home, "sessions/slack-water.presses"), "--keep", "--at", "2026-11-18T18:00")
	runs, err := logbook.Runs(home)
	if err != nil || len(runs) != 1 {
		t.Fatalf("rehearse ended with %d, %d runs, %v: %s", status, len(runs), err, talk)
	}
	log, err := logbook.Load(filepath.Join(home, runs[0].Path))
	if err != nil {
		t.Fatal(err)
	}
	return log
}

// writeLog writes a class again with hostile words in it: each word of it bears the
// text, and is still another word than the others.
func writeLog(t *testing.T, home string, log *logbook.Log, text string, n int) {
	t.Helper()
	folder, err := logbook.Open(home)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	opened, _ := log.Opened()
	words := map[string]string{opened.Plan.Title: text + "T", opened.Plan.Session: text + "S"}
	for i, p := range opened.Plan.People {
		words[p.Name] = fmt.Sprint(text, i)
	}
	for i, s := range opened.Plan.Kit.Sleds {
		words[s.Name] = fmt.Sprint(text, "sled", i)
	}
	for i, p := range opened.Plan.Kit.Plates {
		words[p.Stamp] = fmt.Sprint(text, "plate", i)
	}
	var events []floor.Stamped
	for _, e := range log.Events {
		e.E = reworded(reflect.ValueOf(e.E), words).Interface().(floor.Event)
		events = append(events, e)
	}
	first := events[0].E.(floor.Opened)
	first.Run = fmt.Sprintf("01KB%022d", n)
	first.Wall = first.Wall.Add(time.Duration(n) * time.Second)
	events[0].E = first
	who := words[opened.Plan.People[0].Name]
	last := events[len(events)-1].T
	events = append(events, floor.Stamped{T: last, E: floor.PainGiven{Who: who, Pain: 3, Site: text}}, floor.Stamped{T: last, E: floor.Noted{Who: who, Text: text}})
	w, err := folder.Create(events[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := w.Append(events[1:]...); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
}

// reworded is a deep copy of a value in which words stand in the place of words.
func reworded(v reflect.Value, words map[string]string) reflect.Value {
	to := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.String:
		to.SetString(v.String())
		if word, ok := words[v.String()]; ok {
			to.SetString(word)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			to.Set(reflect.New(v.Type().Elem()))
			to.Elem().Set(reworded(v.Elem(), words))
		}
	case reflect.Slice:
		if !v.IsNil() {
			to.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := range v.Len() {
				to.Index(i).Set(reworded(v.Index(i), words))
			}
		}
	case reflect.Struct:
		to.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				to.Field(i).Set(reworded(v.Field(i), words))
			}
		}
	default:
		to.Set(v)
	}
	return to
}

// TestHostileFiles puts hostile text into every text of a coach's file, as it is and
// as TOML escapes it: it is refused with its place, or it is harmless; and whatever
// is printed of it is plain.
func TestHostileFiles(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("each text in each file is hundreds of commands")
	}
	fields := map[string]string{
		"roster.toml":        "[[athlete]]\nname = %s\n",
		"kit.toml":           "[strip]\nlength = \"20 m\"\nsurface = \"turf\"\n[[sled]]\nname = %s\ntare = \"20 kg\"\n",
		"house.toml":         "emergency = %s\n",
		"week.toml":          "[[day]]\nday = \"monday\"\nmain = [\"press\"]\npull = %s\n",
		"sessions/x.toml":    "title = %s\naim = \"strength\"\n",
		"sessions/move.toml": "title = \"t\"\naim = \"strength\"\n[[part]]\nformat = \"sets\"\nsets = 3\n[[part.station]]\nmovement = %s\ndistance = \"20 m\"\nload = \"20 kg\"\n",
		"sessions/key.toml":  "%s = 1\n",
	}
	trials := 0
	for _, text := range sample(hostile(t)) {
		home := t.TempDir()
		if err := os.CopyFS(home, sessions.Home()); err != nil {
			t.Fatal(err)
		}
		for file, form := range fields {
			good, err := os.ReadFile(filepath.Join(home, file))
			if err != nil {
				good = nil
			}
			for _, value := range []string{escaped(text), `"` + text + `"`} {
				cli.WriteFiles(t, home, map[string]string{file: fmt.Sprintf(form, value)})
				status, _, talk := runHere(t, "check", "--home", home, filepath.Join(home, file))
				plain(t, text, "check", "--home", home, filepath.Join(home, file))
				plain(t, text, "check", "--json", "--home", home, filepath.Join(home, file))
				if value[1] == '\\' {
					plain(t, text, "board", "slack-water", "--home", home)
				}
				if dangerous := coachfile.Clean(text) != text; dangerous && status == 0 {
					t.Errorf("%s with %q was taken: %s", file, text, talk)
				}
				trials++
			}
			if good != nil {
				cli.WriteFiles(t, home, map[string]string{file: string(good)})
			} else if err := os.Remove(filepath.Join(home, file)); err != nil {
				t.Fatal(err)
			}
		}
		hostileName(t, home, text)
	}
	t.Logf("%d hostile files", trials)
}

// hostileName lays a session with a hostile file name beside the others, where the
// system takes such a name.
func hostileName(t *testing.T, home, text string) {
	t.Helper()
	name := filepath.Join(home, "sessions", strings.NewReplacer("/", "", "\x00", "").Replace(text)+".toml")
	if filepath.Dir(name) != filepath.Join(home, "sessions") || os.WriteFile(name, []byte("title = 1\n"), 0o600) != nil {
		return
	}
	plain(t, text, "check", "--home", home)
	plain(t, text, "board", "there-is-none", "--home", home)
	plain(t, text, "board", "../"+text, "--home", home)
	for _, name := range outside(t, home) {
		t.Errorf("%s stands outside the home", name)
	}
}

// escaped is a text as a TOML string that holds no character of it as it is.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		fmt.Fprintf(&b, `\U%08X`, r)
	}
	return `"` + b.String() + `"`
}

// TestModes: whatever the umask, a home is its owner's alone, and so is each file.
func TestModes(t *testing.T) { //nolint:paralleltest // the umask is the whole process's
	if os.PathSeparator == '\\' {
		t.Skip("SKIPPED: Windows has other rights")
	}
	for _, umask := range []int{0, 0o022, 0o077} {
		home := filepath.Join(t.TempDir(), "above", "home")
		made := withUmask(t, umask, func() {
			runHere(t, "init", home)
			if err := os.WriteFile(filepath.Join(home, "x.presses"), []byte("0:20 a\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			runHere(t, "rehearse", "every-two", "--home", home, "--presses", filepath.Join(home, "x.presses"), "--keep", "--at", "2026-11-18T18:00")
			runHere(t, "forget", "Bram", "--home", home)
			runHere(t, "history", "--home", home)
			runHere(t, "splits", "--home", home, "--page", filepath.Join(home, "page.html"))
		})
		if made < 10 && umask == 0 {
			t.Errorf("%d files were made, want a home with a log and a cache", made)
		}
		for path, mode := range open(t, home) {
			t.Errorf("umask %03o: %s is %v", umask, path, mode)
		}
	}
}
