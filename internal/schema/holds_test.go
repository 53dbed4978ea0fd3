package schema_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"hawser/internal/schema"
	"hawser/sessions"
)

// compile is the schema in an independent validator, which holds it to the schema
// of schemas first.
func compile(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	page, _ := schema.Of(file)
	d, err := jsonschema.UnmarshalJSON(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(file+".json", d); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(file + ".json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// decode reads TOML with another reader than ours, as an editor hands it to a
// schema: days and times of the day as text.
func decode(t interface{ Fatalf(string, ...any) }, text string) any {
	var tree map[string]any
	if _, err := toml.Decode(text, &tree); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return plain(tree)
}

func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for key := range v {
			v[key] = plain(v[key])
		}
	case []map[string]any:
		list := make([]any, len(v))
		for i := range v {
			list[i] = plain(v[i])
		}
		return list
	case []any:
		for i := range v {
			v[i] = plain(v[i])
		}
	case time.Time:
		if v.Location().String() == "time-local" {
			return v.Format(time.TimeOnly)
		}
		return v.Format(time.DateOnly)
	}
	return v
}

// demo returns the files of the demo home that a schema is of, and one of those that
// it has none of.
func demo(t *testing.T, file string) map[string]string {
	t.Helper()
	if file == "next" {
		text := "[[next]]\nathlete = \"Maren\"\nsession = \"slack-water\"\nmovement = \"sled row\"\nload = \"72 kg\"\ndate = 2026-11-25\n" +
			"[[class]]\nsession = \"slack-water\"\nrounds = 5\nweek = 2026-11-30\ndate = 2026-11-25\n"
		return map[string]string{"next.toml": text}
	}
	names, err := fs.Glob(sessions.Home(), map[bool]string{true: "sessions/*.toml", false: file + ".toml"}[file == "session"])
	if err != nil || len(names) == 0 {
		t.Fatalf("%s: %v, %v", file, names, err)
	}
	texts := map[string]string{}
	for _, name := range names {
		data, err := fs.ReadFile(sessions.Home(), name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(data)
	}
	return texts
}

// Every file of the demo home holds.
func TestDemoHolds(t *testing.T) {
	t.Parallel()
	for _, file := range schema.Files() {
		s := compile(t, file)
		for name, text := range demo(t, file) {
			if err := s.Validate(decode(t, text)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

var notAKey = regexp.MustCompile(`"(\w+)" is not a key here`)

// Every bad file of the readers is marked, and every key in it that is none, but
// for what only a reader that counts and compares can see.
func TestBadFilesAreMarked(t *testing.T) {
	t.Parallel()
	for _, file := range []string{"roster", "kit", "house", "session"} {
		s := compile(t, file)
		archive, err := txtar.ParseFile(filepath.Join("..", "coachfile", "testdata", file+".txtar"))
		if err != nil {
			t.Fatal(err)
		}
		var said string
		for _, bad := range archive.Files {
			switch {
			case bad.Name == "rest.toml": // a ceiling below its floor
			case strings.HasSuffix(bad.Name, ".toml"):
				err := s.Validate(decode(t, string(bad.Data)))
				if said = fmt.Sprint(err); err == nil {
					t.Errorf("%s %s is not marked", file, bad.Name)
				}
			default:
				for _, m := range notAKey.FindAllStringSubmatch(string(bad.Data), -1) {
					if !strings.Contains(said, "'"+m[1]+"'") {
						t.Errorf("%s %s: %q is not marked in %s", file, bad.Name, m[1], said)
					}
				}
			}
		}
	}
}

// What a reader takes, its schema holds for: files of the demo home with some lines
// left out and others put in.
func TestNothingGoodIsMarked(t *testing.T) {
	t.Parallel()
	for _, file := range schema.Files() {
		d, s, changed := load(t, file), compile(t, file), 0
		good := slices.Sorted(maps.Values(demo(t, file)))
		leaves := leaves(d)
		draw := func(t *rapid.T) {
			lines := strings.SplitAfter(rapid.SampledFrom(good).Draw(t, "good"), "\n")
			for range rapid.IntRange(1, 3).Draw(t, "edits") {
				at := rapid.IntRange(0, len(lines)-1).Draw(t, "at")
				put := lines[at]
				if rapid.Bool().Draw(t, "put in") {
					one := rapid.SampledFrom(leaves).Draw(t, "key")
					put = one.key + " = " + anyValue(t, one.of) + "\n" + put
				}
				left := rapid.IntRange(0, 1).Draw(t, "left out")
				lines = slices.Concat(lines[:at], []string{put}[left:], lines[at+1:])
			}
			text := strings.Join(lines, "")
			if parse(file, text) != nil {
				return
			}
			changed++
			if err := s.Validate(decode(t, text)); err != nil {
				t.Fatalf("the reader takes\n%s\nand the schema says %v", text, err)
			}
		}
		for n := 0; n == 0 || changed == 0 && n < 10; n++ { // of a few draws the reader may take none
			rapid.Check(t, draw)
		}
		if changed == 0 {
			t.Errorf("%s: no changed file was taken: nothing was tested", file)
		}
	}
}

// leaf is a key with a value of its own, in any table.
type leaf struct {
	key string
	of  tree
}

func leaves(d tree) []leaf {
	var all []leaf
	said, _ := d["properties"].(tree)
	for _, key := range slices.Sorted(maps.Keys(said)) {
		of := said[key].(tree)
		if items, ok := of["items"].(tree); ok && items["properties"] != nil {
			all = append(all, leaves(items)...)
		} else if of["properties"] != nil {
			all = append(all, leaves(of)...)
		} else {
			all = append(all, leaf{key, of})
		}
	}
	return all
}

// anyValue writes a value of the kind that a key takes.
func anyValue(t *rapid.T, of tree) string {
	if both, ok := of["anyOf"].([]any); ok {
		if rapid.Bool().Draw(t, "a list") {
			of = both[1].(tree)
		} else {
			of = both[0].(tree)
		}
	}
	if list, ok := of["enum"].([]any); ok {
		return fmt.Sprintf("%q", rapid.SampledFrom(list).Draw(t, "word"))
	}
	if list, ok := of["examples"].([]any); ok {
		return fmt.Sprintf("%q", rapid.SampledFrom(list).Draw(t, "text"))
	}
	switch pattern, _ := of["pattern"].(string); {
	case of["type"] == "integer":
		lo := int(of["minimum"].(float64))
		return fmt.Sprint(rapid.IntRange(lo, min(lo+3, int(of["maximum"].(float64)))).Draw(t, "number"))
	case of["type"] == "boolean":
		return fmt.Sprint(rapid.Bool().Draw(t, "flag"))
	case of["type"] == "array":
		items := of["items"].(tree)
		if items["type"] == "array" {
			return `[["Maren"], ["Eskil", "Tove"]]`
		}
		list := make([]string, rapid.IntRange(0, 2).Draw(t, "length"))
		for i := range list {
			list[i] = anyValue(t, items)
		}
		return "[" + strings.Join(list, ", ") + "]"
	case of["type"] == "object":
		return `{ turf = "28 kg" }`
	case strings.HasPrefix(pattern, "^[0-9]{4}"):
		return "2026-11-02"
	case strings.HasPrefix(pattern, "^[0-9]{2}"):
		return "18:00:00"
	case strings.Contains(pattern, "Ll"):
		return rapid.SampledFrom([]string{`"m"`, `"å"`, `"x"`}).Draw(t, "letter")
	default:
		return rapid.SampledFrom([]string{`"A"`, `"Bo"`, `"Ær Øst"`, `"x̂ y"`, `"slack-water"`, "\"नमस्\u200dते\"", `"f2"`, `"insert"`}).Draw(t, "name")
	}
}
