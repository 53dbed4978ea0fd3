package history

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"hawser/internal/logbook"

	"pgregory.net/rapid"
)

// sealed gives every line the sums that it would have in a log.
func sealed(lines []string) []byte {
	var log []byte
	before := ""
	for _, line := range lines {
		if body, _, ok := strings.Cut(line, `,"p":"`); ok {
			line = body
		}
		line += `,"p":"` + before + `"`
		before = fmt.Sprintf("%08x", crc32.Checksum([]byte(line), castagnoli))
		log = append(log, line+`,"c":"`+before+"\"}\n"...)
	}
	return log
}

// asLogbook fails where the scanner takes a log and reads it otherwise than the
// logbook, which knows all of JSON.
func asLogbook(t interface {
	Helper()
	Fatalf(string, ...any)
}, log []byte,
) bool {
	t.Helper()
	got, ok := scan(log, newSame(), nil)
	if !ok {
		return false
	}
	want, err := logbook.Read("a log", bytes.NewReader(log))
	if err != nil || len(want.Damage) > 0 {
		t.Fatalf("the scanner takes a log in which the logbook finds %v, %v:\n%s", want.Damage, err, log)
	}
	if !reflect.DeepEqual(got, want.Events) {
		t.Fatalf("the scanner reads\n%+v, the logbook\n%+v from\n%s", got, want.Events, log)
	}
	return true
}

// gymLog is a log of the gym: a messy one, with a hold, a late round and a typed split.
func gymLog(tb testing.TB) []byte {
	tb.Helper()
	home := tb.TempDir()
	gym(tb, home, 3, 1)
	runs, err := logbook.Runs(home)
	if err != nil {
		tb.Fatal(err)
	}
	log, err := os.ReadFile(filepath.Join(home, runs[0].Path))
	if err != nil {
		tb.Fatal(err)
	}
	return log
}

// TestScanIsTheLogbook: a log whose lines were changed, with sums that fit again,
// is left to the logbook or read as it reads it.
func TestScanIsTheLogbook(t *testing.T) {
	t.Parallel()
	lines := strings.Split(strings.TrimSuffix(string(gymLog(t)), "\n"), "\n")
	if !asLogbook(t, sealed(lines)) {
		t.Fatal("the scanner leaves a plain log to the logbook")
	}
	pieces := []string{
		`"`, `\`, `,`, `{`, `}`, `[`, `]`, `0`, `00`, `1`, `-1`, `1e3`, `2.5`, `null`, ` `, "\t", "\x00", "\xff", "é", `\u00e9`, `:`, `.`, `Z`, `+01:00`,
		`,"est":true`, `,"sets":[]`, `,"sets":[{"stack":null,"moves_ug":1}]`, `,"v":1`, `,"v":2`, `"N":7`, `2027-02-30`, `99`, `999999999999999999999`,
	}
	rapid.Check(t, func(t *rapid.T) {
		changed := append([]string{}, lines[:rapid.IntRange(1, 20).Draw(t, "lines")]...)
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			n := rapid.IntRange(0, len(changed)-1).Draw(t, "line")
			at := rapid.IntRange(0, len(changed[n])-1).Draw(t, "at")
			cut := min(len(changed[n]), at+rapid.IntRange(0, 4).Draw(t, "cut"))
			changed[n] = changed[n][:at] + rapid.SampledFrom(pieces).Draw(t, "piece") + changed[n][cut:]
		}
		asLogbook(t, sealed(changed))
	})
}

func FuzzScan(f *testing.F) {
	log := string(gymLog(f))
	lines := strings.SplitAfter(log, "\n")
	f.Add(strings.Join(lines[:12], ""))
	f.Add(`{"n":1,"t":0,"at":"2027-02-08T00:35:10.000Z","e":"effort given","v":1,"who":"Maren","effort":5`)
	f.Add("{\"n\":1,\"t\":7,\"at\":\"2027-02-08T23:59:59.999+01:00\",\"e\":\"held\",\"v\":1\n" +
		`{"n":2,"t":8,"at":"2027-02-09T00:00:00.000+01:00","e":"noted","who":"Tove","text":"a \"word\""`)
	f.Fuzz(func(t *testing.T, log string) {
		asLogbook(t, sealed(strings.Split(strings.TrimSuffix(log, "\n"), "\n")))
	})
}

// TestEveryChangeIsSeen: a log that was added, removed, changed in place to the same
// size and the same time, or joined by a second file of its run is noticed in spite of
// the cache.
func TestEveryChangeIsSeen(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	gym(t, home, 0, 6)
	count := func() int {
		t.Helper()
		h, _, err := Read(home, nil)
		if err != nil {
			t.Fatal(err)
		}
		fresh := filepath.Join(home, CacheName)
		if err := os.Remove(fresh); err != nil {
			t.Fatal(err)
		}
		anew, _, err := Read(home, nil)
		if err != nil || !reflect.DeepEqual(texts(h), texts(anew)) {
			t.Fatalf("with the cache the history is not what the logs say; %v", err)
		}
		return len(h.Points("Maren", "sled row"))
	}
	if n := count(); n != 2 {
		t.Fatalf("%d lines, want 2", n)
	}
	runs, err := logbook.Runs(home)
	if err != nil {
		t.Fatal(err)
	}
	path := func(i int) string { return filepath.Join(home, filepath.FromSlash(runs[i].Path)) }
	log, err := os.ReadFile(path(2)) // a sled row
	if err != nil {
		t.Fatal(err)
	}
	before, err := os.Stat(path(2))
	if err != nil {
		t.Fatal(err)
	}
	other := sealed(strings.Split(strings.TrimSuffix(strings.ReplaceAll(string(log), `"Maren"`, `"Merle"`), "\n"), "\n"))
	if err := os.WriteFile(path(2), other, 0o600); err != nil || len(other) != len(log) {
		t.Fatal(err, len(other), len(log))
	}
	if runtime.GOOS != "windows" { // elsewhere the system knows of a time that was set back
		if err := os.Chtimes(path(2), time.Time{}, before.ModTime()); err != nil {
			t.Fatal(err)
		}
	}
	if n := count(); n != 1 {
		t.Errorf("renamed in place: %d lines, want 1", n)
	}
	if err := os.Remove(path(5)); err != nil {
		t.Fatal(err)
	}
	if n := count(); n != 0 {
		t.Errorf("removed: %d lines, want 0", n)
	}
	gym(t, home, 8, 1)
	if n := count(); n != 1 {
		t.Errorf("added: %d lines, want 1", n)
	}
	lines := bytes.SplitAfter(log, []byte("\n"))
	part := bytes.Join(lines[:len(lines)-9], nil) // a second file of a run, with less in it but for the first name
	second := filepath.Join(filepath.Dir(path(2)), "20991231T000000Z"+filepath.Base(path(2))[len("20991231T000000Z"):])
	if err := os.WriteFile(second, part, 0o600); err != nil {
		t.Fatal(err)
	}
	count()
}
