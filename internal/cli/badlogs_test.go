package cli

import (
	"bytes"
	"cmp"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// evening writes a home with one class of Ada's and returns the folder and its log.
func evening(t *testing.T) (dir, log string) {
	t.Helper()
	dir = t.TempDir()
	WriteFiles(t, dir, map[string]string{
		"roster.toml": "[[athlete]]\nname = \"Ada\"\nkey = \"a\"\n",
		"kit.toml":    "[strip]\nlength = \"25 m\"\nsurface = \"turf\"\n[[sled]]\nname = \"A\"\ntare = \"27 kg\"\n[[plates]]\nmass = \"10 kg\"\ncount = 12\n",
		"sessions/minute.toml": "title = \"Minute\"\naim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"1:00\"\nrounds = 4\n" +
			"[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = \"40 kg\"\n",
		"presses.txt": "0:31 a\n1:32 a\n2:33 a\n3:34 a\n",
	})
	args := []string{"rehearse", "minute", "--home", dir, "--presses", filepath.Join(dir, "presses.txt"), "--keep", "--at", "2026-11-18T18:00:00+01:00"}
	if rc := Main(args, os.Stdin, io.Discard, io.Discard); rc != Done {
		t.Fatalf("rehearse ended with %d", rc)
	}
	logs, err := filepath.Glob(filepath.Join(dir, "log", "*", "*.jsonl"))
	if err != nil || len(logs) != 1 {
		t.Fatalf("%d logs, %v, want one", len(logs), err)
	}
	return dir, logs[0]
}

// resealed changes a text in the lines of a log and gives each the sums that it has then.
func resealed(lines []string, from, to string) []string {
	before := ""
	for i, line := range lines[:len(lines)-1] {
		body, _, _ := strings.Cut(strings.Replace(line, from, to, 1), `,"p":"`)
		body += `,"p":"` + before + `"`
		before = fmt.Sprintf("%08x", crc32.Checksum([]byte(body), crc32.MakeTable(crc32.Castagnoli)))
		lines[i] = body + `,"c":"` + before + `"}`
	}
	return lines
}

// TestBadLogs holds that of a log that is not whole all that is there is shown, and
// that what is wrong is said in plain words.
func TestBadLogs(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		change func(lines []string) []string
		status int
		shows  string // by splits
		says   string
		past   string // what history shows, where all of it is not gone
		tells  string // what it says, "" for what splits does
	}{
		{"whole", func(l []string) []string { return l }, Done, "1: 0:31.0  2: 0:32.0  3: 0:33.0  4: 0:34.0", "", "0:32.5 x 4", ""},
		{
			"cut in the last line", func(l []string) []string { return append(l[:len(l)-2], l[len(l)-2][:20]) }, Done,
			"4: 0:34.0", "is cut short and left out", "0:32.5 x 4", ".jsonl:8 (byte ",
		},
		{
			"cut before the newline", func(l []string) []string { return l[:len(l)-1] }, Done,
			"4: 0:34.0", "is cut short and left out", "0:32.5 x 4", "cut off before its end; the last 97 bytes are left out; all before it is counted",
		},
		{"cut before the end", func(l []string) []string { return append(l[:5:5], "") }, Done, "1: 0:31.0", "this class has not ended", "0:32.0 x 3", "-"},
		{"cut in the first line", func(l []string) []string { return []string{l[0][:100]} }, BadFile, "", "there is not one whole line in it", "", "does not say what was run"},
		{"empty", func([]string) []string { return nil }, BadFile, "", "there is not one whole line in it", "", "does not say what was run"},
		{"the first line gone", func(l []string) []string { return l[1:] }, BadFile, "", "its first line, which says what was run, is gone", "", "does not say what was run"},
		{"two lines changed over", func(l []string) []string { l[3], l[4] = l[4], l[3]; return l }, BadFile, "4: 0:34.0", "stands after", "0:32.5 x 4", ""},
		{"a line twice", func(l []string) []string { return slices.Insert(l, 4, l[3]) }, BadFile, "4: 0:34.0", "again", "0:32.5 x 4", ""},
		{"a line gone", func(l []string) []string { return slices.Delete(l, 3, 4) }, BadFile, "4: 0:34.0", "is missing before this line", "0:33.0 x 3", ""},
		{
			"a line changed", func(l []string) []string { l[3] = strings.Replace(l[3], "Ada", "Bo", 1); return l }, BadFile,
			"4: 0:34.0", "its checksum does not fit", "0:33.0 x 3", "",
		},
		{
			"a newer program's", func(l []string) []string { return resealed(l, `"v":1`, `"v":2`) }, Done,
			"4: 0:34.0", "a newer hawser wrote it", "0:32.5 x 4", "a newer hawser wrote it; what this one does not know is not counted",
		},
		{
			"an event of a newer program", func(l []string) []string { return resealed(l, `"e":"part ended"`, `"e":"part sung"`) }, Done,
			"4: 0:34.0", "a newer hawser wrote it", "0:32.5 x 4", "a newer hawser wrote it; what this one does not know is not counted",
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			dir, log := evening(t)
			src, err := os.ReadFile(log)
			if err != nil {
				t.Fatal(err)
			}
			changed := strings.Join(tt.change(strings.Split(string(src), "\n")), "\n")
			if err := os.WriteFile(log, []byte(changed), 0o600); err != nil {
				t.Fatal(err)
			}
			var out, talk bytes.Buffer
			if rc := Main([]string{"splits", "--home", dir}, os.Stdin, &out, &talk); rc != tt.status || !strings.Contains(out.String(), tt.shows) || !strings.Contains(talk.String(), tt.says) {
				t.Errorf("splits ended with %d, want %d, %q and %q in:\n%s%s", rc, tt.status, tt.shows, tt.says, &out, &talk)
			}
			if tt.says == "" && talk.Len() > 0 {
				t.Errorf("of a whole log it says %q", &talk)
			}
			for range 2 { // the second time there is a cache, and it says all the same
				out.Reset()
				talk.Reset()
				rc := Main([]string{"history", "Ada", "--home", dir}, os.Stdin, &out, &talk)
				if rc != tt.status && tt.past != "" || !strings.Contains(out.String(), tt.past) || !strings.Contains(talk.String(), strings.Trim(cmp.Or(tt.tells, tt.says), "-")) {
					t.Errorf("history ended with %d, want %d, %q and %q in:\n%s%s", rc, tt.status, tt.past, cmp.Or(tt.tells, tt.says), &out, &talk)
				}
				if tt.says == "" && talk.Len() > 0 {
					t.Errorf("history says of a whole log %q", &talk)
				}
			}
			if again, err := os.ReadFile(log); err != nil || string(again) != changed {
				t.Error("reading a log changed it")
			}
		})
	}
}

// TestFoldersMerged holds that a run counts once, however many copies of it lie in
// the folder, the one that holds most of it; and each evening on the day of its place.
func TestFoldersMerged(t *testing.T) {
	t.Parallel()
	dir, log := evening(t)
	src, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string][]byte{"copy-": src, "cut-": src[:len(src)*3/4]} {
		if err := os.WriteFile(filepath.Join(filepath.Dir(log), name+filepath.Base(log)), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, at := range []string{"2026-11-18T23:58:00+13:00", "2026-10-25T02:30:00+01:00", "2026-11-18T23:30:00-10:00"} {
		args := []string{"rehearse", "minute", "--home", dir, "--presses", filepath.Join(dir, "presses.txt"), "--keep", "--at", at}
		if rc := Main(args, os.Stdin, io.Discard, io.Discard); rc != Done {
			t.Fatalf("rehearse ended with %d", rc)
		}
	}
	var out bytes.Buffer
	if rc := Main([]string{"history", "Ada", "--home", dir}, os.Stdin, &out, io.Discard); rc != Done {
		t.Fatalf("history ended with %d", rc)
	}
	for line, n := range map[string]int{"2026-11-18  minute": 3, "2026-10-25  minute": 1, "0:32.5 x 4": 4} {
		if got := strings.Count(out.String(), line); got != n {
			t.Errorf("%q stands there %d times, want %d:\n%s", line, got, n, &out)
		}
	}
}

// TestRenamed: a log keeps the name of its day, so whoever is called otherwise since
// then has two histories, neither of which is lost or mixed with the other's.
func TestRenamed(t *testing.T) {
	t.Parallel()
	dir, _ := evening(t)
	for name, change := range map[string][2]string{"roster.toml": {`"Ada"`, `"Ada Lind"`}, "presses.txt": {"0:31 a", "0:21 a"}} {
		path := filepath.Join(dir, name)
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, bytes.Replace(src, []byte(change[0]), []byte(change[1]), 1), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	args := []string{"rehearse", "minute", "--home", dir, "--presses", filepath.Join(dir, "presses.txt"), "--keep", "--at", "2026-11-25T18:00:00+01:00"}
	if rc := Main(args, os.Stdin, io.Discard, io.Discard); rc != Done {
		t.Fatalf("rehearse ended with %d", rc)
	}
	for who, want := range map[string][]string{
		"Ada":      {"stands in the logs and not in roster.toml", "2026-11-18  minute"},
		"Ada Lind": {"2026-11-25  minute"},
		"":         {"Ada          forward drag            1", "Ada Lind     forward drag            1"},
	} {
		var out bytes.Buffer
		args := []string{"history", "--home", dir}
		if who != "" {
			args = append(args, who)
		}
		rc := Main(args, os.Stdin, &out, io.Discard)
		words := strings.Join(strings.Fields(out.String()), " ")
		for _, text := range want {
			if rc != Done || !strings.Contains(words, strings.Join(strings.Fields(text), " ")) {
				t.Errorf("history %q ended with %d, want %q in:\n%s", who, rc, text, &out)
			}
		}
	}
}
