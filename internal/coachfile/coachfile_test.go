package coachfile_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// read asks for a few keys of each kind, as the real files do.
func read(data []byte) (string, error) {
	file, top := coachfile.Read("f.toml", data, coachfile.Limit)
	var b strings.Builder
	fmt.Fprintln(&b, coachfile.Get(top, "title", coachfile.Line), top.Int("rounds", 1, 9), top.Flag("mouse"))
	fmt.Fprintln(&b, top.Date("day").Format(time.DateOnly), top.TimeOfDay("at"))
	fmt.Fprintln(&b, coachfile.All(top, "load", measure.ParseMass), coachfile.Lists(top, "waves", coachfile.Name))
	for _, t := range top.Tables("sled") {
		t.Need("name", `name = "A"`)
		fmt.Fprintln(&b, "sled", coachfile.Get(t, "name", coachfile.Name), coachfile.Get(t, "tare", coachfile.Some(measure.ParseMass)))
		for _, p := range t.Tables("plate") {
			fmt.Fprintln(&b, "plate", coachfile.Get(p, "mass", measure.ParseMass))
		}
	}
	if t := top.Table("strip"); t != nil {
		fmt.Fprintln(&b, "strip", coachfile.Get(t, "length", measure.ParseDistance), coachfile.Get(t, "turf.kind", coachfile.Name))
		if in := t.Table("ends"); in != nil {
			for _, k := range in.Keys() {
				fmt.Fprintln(&b, "end", k, coachfile.Get(in, k, coachfile.Name))
			}
		}
	}
	return b.String(), file.Err()
}

func TestRead(t *testing.T) {
	t.Parallel()
	got, err := read([]byte(`title = "Out to the buoy" # a comment
rounds = 4
mouse = true
day = 2026-11-02
at = 18:30:00
load = ["20 kg", "45 lb"]
waves = [["Maren"], ["Eskil", "Tove"]]
[[sled]]
name = "A"
tare = "27 kg"
[[sled.plate]]
mass = "5 kg"
[[sled.plate]]
mass = "10 kg"
[[sled]]
name = 'B'
plate = [{ mass = "1 kg" }]
[strip]
length = "25 m"
ends.north = "crane"
ends."south end" = "slip"
`))
	want := `Out to the buoy 4 true
2026-11-02 18h30m0s
[20 kg 45 lb] [[Maren] [Eskil Tove]]
sled A 27 kg
plate 5 kg
plate 10 kg
sled B 0 kg
plate 1 kg
strip 25 m ` + `
end north crane
end south end slip
`
	if err != nil || got != want {
		t.Errorf("read = %s, %v, want %s", got, err, want)
	}
}

func TestFaults(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name, in string
		want     []string
	}{
		{"unknown key, near one known", "tilte = \"x\"", []string{`f.toml:1:1: "tilte" is not a key here; write "title"`}},
		{"unknown key, near none", "[strip]\nzzz = 1\nlength = \"5 m\"", []string{`f.toml:2:1: "zzz" is not a key here; write one of "length", "turf.kind", "ends"`}},
		{"column counts characters", "\"ärgerlich\" = 1\ntitle = \"ä\" ; ", []string{
			`f.toml:1:1: "ärgerlich" is not a key here; write one of "title", "rounds", "mouse", "day", "at", "load", "waves", "sled", "strip"`,
			`f.toml:2:13: this cannot be read: expected newline but got U+003B ';'; write key = "text" or key = 5, one a line`,
		}},
		{"two slips and a fault between", "rounds = five\n[[sled]]\nname = 5\ntare = 5 kg\n", []string{
			`f.toml:1:10: this cannot be read: expected keyword "false"; write key = "text" or key = 5, one a line`,
			`f.toml:3:8: name is not a text in double quotes; write some text in double quotes`,
			`f.toml:4:10: this cannot be read: expected newline but got U+006B 'k'; write key = "text" or key = 5, one a line`,
		}},
		{"missing", "[[sled]]\n", []string{`f.toml:1:3: "name" is missing; write name = "A"`}},
		{"twice", "rounds = 1\nrounds = 2\n[strip]\n[strip]\n", []string{
			`f.toml:2:1: "rounds" is there already; keep one of the two`,
			`f.toml:4:2: "strip" is there already; join the two, or write [[strip]] for each of several`,
		}},
		{"a table for a list", "[sled]\nname = \"A\"", []string{`f.toml:1:2: sled is not a list of tables; write [[sled]] above each of them`}},
		{"a list for a table", "[[strip]]\n", []string{`f.toml:1:3: strip is not a table; write [strip] on a line of its own, its keys below`}},
		{"under a value", "title = \"x\"\n[title.more]\n", []string{`f.toml:2:8: "title" holds a value, not a table; give it another name`}},
		{"wrong kinds", "rounds = 1.5\nmouse = 1\nday = 2026-13-40\nat = \"18:00\"\nload = 20\nwaves = \"Maren\"", []string{
			`f.toml:1:10: rounds is not a whole number that fits; write a number from 1 to 9, without quotes`,
			`f.toml:2:9: mouse is not a yes or no; write true or false, without quotes`,
			`f.toml:3:7: day cannot be read; write 2026-11-02, without quotes`,
			`f.toml:4:6: at cannot be read; write 18:00:00, without quotes`,
			`f.toml:5:8: load is not a text in double quotes; write "27 kg" or "45 lb"`,
			`f.toml:6:9: waves is not a list of lists; write waves = [["…"], ["…"]]`,
		}},
		{"a list element", "load = [\n  \"20 kg\",\n  \"-1 kg\",\n]", []string{`f.toml:3:3: load: "-1 kg" is below nothing; write "27 kg" or "45 lb"`}},
		{"nothing at all", "[[sled]]\nname = \"A\"\ntare = \"0 kg\"", []string{`f.toml:3:8: tare: "0 kg" is nothing; write more than 0`}},
		{"escape code in a name", "[[sled]]\nname = \"\\u001b[31mA\"", []string{`f.toml:2:8: name: character 1 (U+001B) cannot be shown; write letters, digits and signs`}},
		{"right-to-left mark", "[[sled]]\nname = \"A\u202eB\"", []string{`f.toml:2:8: name: character 2 (U+202E) cannot be shown; write letters, digits and signs`}},
		{"200 characters", "[[sled]]\nname = \"" + strings.Repeat("x", 200) + "\"", []string{`f.toml:2:8: name: the text has 200 characters; write at most 64`}},
		{"too large", strings.Repeat("#", coachfile.Limit+1), []string{`f.toml: the file has more than 65536 bytes; is it the right file?`}},
		{"broken UTF-8", "title = \"\xff\"", []string{`f.toml:1:10: this cannot be read: invalid UTF-8 character in basic string; write key = "text" or key = 5, one a line`}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			_, err := read([]byte(test.in))
			faults, _ := errors.AsType[coachfile.Faults](err)
			if got, want := faults.Error(), strings.Join(test.want, "\n"); got != want {
				t.Errorf("faults of %q =\n%s\nwant\n%s", test.in, got, want)
			}
		})
	}
}

func TestManyFaultsAreCut(t *testing.T) {
	t.Parallel()
	_, err := read([]byte(strings.Repeat("[[sled]]\n", 200)))
	faults, _ := errors.AsType[coachfile.Faults](err)
	if len(faults) != 51 || faults[50].Error() != "f.toml: and 150 more faults; mend these first" {
		t.Errorf("%d faults, last %v, want 50 and a count", len(faults), faults[len(faults)-1])
	}
}

func TestClean(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ in, want string }{
		{"Maren", "Maren"},
		{"A\u030anne", "Ånne"}, // NFC
		{"\x1b[31mred\x1b[0m", "\uFFFD[31mred\uFFFD[0m"},
		{"\x1b]52;c;aGk=\a", "\uFFFD]52;c;aGk=\uFFFD"},
		{"\u009b2J", "\uFFFD2J"}, // one-character CSI
		{"a\tb\nc\rd", "a\uFFFDb\uFFFDc\uFFFDd"},
		{"a\u2028b\u2029c", "a\uFFFDb\uFFFDc"},
		{"\u202Aa\u202E\u2066b\u2069\u200E\u200F\u061C", "\uFFFDa\uFFFD\uFFFDb\uFFFD\uFFFD\uFFFD\uFFFD"},
		{"a\xffb", "a\uFFFDb"},
		{"x\U000E0041", "x\uFFFD"},       // a hidden tag
		{"नमस्\u200dते", "नमस्\u200dते"}, // a joiner that the script needs
	} {
		if got := coachfile.Clean(test.in); got != test.want {
			t.Errorf("Clean(%q) = %q, want %q", test.in, got, test.want)
		}
	}
}

// What is cleaned stays clean, and what the files take needs no cleaning.
func TestCleanOnce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		once := coachfile.Clean(s)
		if again := coachfile.Clean(once); again != once {
			t.Fatalf("Clean(Clean(%q)) = %q, want %q", s, again, once)
		}
		if name, err := coachfile.Name(s); err == nil && coachfile.Clean(name) != name {
			t.Fatalf("the name %q is taken, and Clean changes it", s)
		}
	})
}

// Whatever comes in, nothing that a terminal obeys goes out.
// TestEscapeJSON: what a screen must not show is an escape, and the same to a program.
func TestEscapeJSON(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		`{"who":"Måren 💪"}` + "\n": `{"who":"Måren 💪"}` + "\n",
		"\"a\u202eb\x7f\"":         `"a\u202eb\u007f"`,
		"\"\U000e0041tail\"":       `"\udb40\udc41tail"`,
		"":                         "",
	} {
		got := coachfile.EscapeJSON([]byte(in))
		if string(got) != want {
			t.Errorf("EscapeJSON(%q) = %q, want %q", in, got, want)
		}
		var before, after any
		if errors.Join(json.Unmarshal([]byte(in), &before), json.Unmarshal(got, &after)) == nil && !reflect.DeepEqual(before, after) {
			t.Errorf("EscapeJSON(%q) says %v, want %v", in, after, before)
		}
	}
}

func FuzzClean(f *testing.F) {
	f.Add("\x1b]0;x\a\u202e\u009b2J\xff")
	f.Fuzz(func(t *testing.T, s string) {
		for _, r := range coachfile.Clean(s) {
			if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029' {
				t.Errorf("Clean(%q) lets %U through", s, r)
			}
		}
	})
}

func TestByteOrderMark(t *testing.T) {
	t.Parallel()
	if got, err := read([]byte("\ufefftitle = \"x\"\n")); err != nil || !strings.HasPrefix(got, "x 0") {
		t.Errorf("with a byte order mark: %q, %v", got, err)
	}
}

func TestNearest(t *testing.T) {
	t.Parallel()
	words := []string{"forward drag", "backward drag", "sled row"}
	for _, test := range []struct{ in, want string }{
		{"sled rwo", "sled row"},
		{"Sled Row", "sled row"},
		{"foward drag", "forward drag"},
		{"bicycle", ""},
		{"", ""},
		{strings.Repeat("sled row", 1000), ""},
	} {
		if got := coachfile.Nearest(test.in, words); got != test.want {
			t.Errorf("Nearest(%.20q) = %q, want %q", test.in, got, test.want)
		}
	}
}

func TestInsertKeepsLineEnds(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		in, want string
		at       int
	}{
		{"a = 1\nb = 2\n", "a = 1\nc = 3\nb = 2\n", 6},
		{"a = 1", "a = 1\nc = 3\n", 5},
		{"a = 1\r\n", "a = 1\r\nc = 3\r\n", 7},
		{"", "c = 3\n", 0},
	} {
		if got := string(coachfile.Insert([]byte(test.in), test.at, "c = 3\n")); got != test.want {
			t.Errorf("Insert(%q, %d) = %q, want %q", test.in, test.at, got, test.want)
		}
	}
}

// hostile are files that cost a careless reader more than time in their size.
func hostile(size int) map[string]string {
	keys := func(end string) string {
		var b strings.Builder
		for i := 0; b.Len() < size-24; i++ {
			fmt.Fprintf(&b, "a%d=1%s", i, end)
		}
		return b.String()
	}
	fill := func(s string) string { return strings.Repeat(s, size/len(s)) }
	return map[string]string{
		"keys of one table":    keys("\n"),
		"keys in braces":       "x={" + keys(",") + "a=1}",
		"a key again":          fill("a=1\n"),
		"tables":               fill("[[sled]]\n"),
		"nested lists":         "x=" + fill("["),
		"nested lists, closed": "x=" + strings.Repeat("[", size/2-2) + strings.Repeat("]", size/2-2),
		"a deep header":        "[" + fill("a.") + "a]",
		"slips":                fill("a=\n"),
		"open strings":         fill("a=\"\n"),
		"open texts":           fill("a=\"\"\"b\n"),
		"open lists":           fill("a=[\n"),
		"one long line":        fill("x"),
		"braces":               "x=" + fill("{a="),
	}
}

func TestHostileFiles(t *testing.T) {
	t.Parallel()
	for name, text := range hostile(coachfile.Limit) {
		if _, err := read([]byte(text)); err == nil {
			t.Errorf("%s: read without a fault", name)
		}
	}
}

func BenchmarkHostile(b *testing.B) {
	for name, text := range hostile(coachfile.RosterLimit) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				file, top := coachfile.Read("f.toml", []byte(text), coachfile.RosterLimit)
				top.Has("sled")
				_ = file.Err() // most are refused, some are only large
			}
		})
	}
}

// What this reader takes as TOML, go-toml's own decoder takes, and the other way
// round: the tree adds no dialect. Only slips count, not what our keys want.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"a = 1", "[a]\nb.c = 1\n[a.b.d]", "[[a]]\n[a.b]\n[[a]]\n[a.b]", "[a.b]\n[a]\nc=1", "a={b=1}\n[a.c]", "a=[1]\n[[a]]",
		"a.b=1\n[a]", "[a]\n[a.b]\n[a]", "[[a.b]]\n[a]\nb=1", "a = \"\"\"x\ny\"\"\"", "x=[[\"a\"],[]]", "[a]\nb={c.d=1,c.e=2}", "a=[{b=1},{b.c=2}]\n[a.d]",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 4096 || strings.HasPrefix(s, "\ufeff") { // go-toml does not skip the mark
			return
		}
		_, top := coachfile.Read("f.toml", []byte(s), coachfile.Limit)
		file, _ := coachfile.Read("f.toml", []byte(s), coachfile.Limit)
		err := file.Err() // nothing is asked for, so only the tree speaks
		var tree map[string]any
		theirs := toml.Unmarshal([]byte(s), &tree)
		if (err == nil) != (theirs == nil) && !valueOnly(theirs) {
			t.Errorf("%q: ours %v, go-toml %v", s, err, theirs)
		}
		if theirs == nil && len(top.Keys()) != len(tree) {
			t.Errorf("%q: keys %q, go-toml %v", s, top.Keys(), tree)
		}
		_, _ = read([]byte(s))
	})
}

// valueOnly tells whether go-toml refuses a number or a date for its value, which
// is looked at here only where a key wants one.
func valueOnly(err error) bool {
	if err == nil {
		return false
	}
	for _, word := range []string{
		"number", "integer", "float", "date", "time", "digit", "underscore", "leading", "range",
		"month", "day", "hour", "minute", "second", "year", "convert", "nested",
	} {
		if strings.Contains(err.Error(), word) {
			return true
		}
	}
	return false
}
