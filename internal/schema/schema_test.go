package schema_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hawser/internal/coachfile"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/schema"
	"hawser/internal/session"
	"hawser/internal/week"
)

// parse reads a file as the program does.
func parse(file, text string) error {
	var err error
	switch name := file + ".toml"; file {
	case "roster":
		_, err = roster.Parse(name, []byte(text))
	case "kit":
		_, err = kit.Parse(name, []byte(text))
	case "house":
		_, err = house.Parse(name, []byte(text))
	case "session":
		_, err = session.Parse(name, []byte(text))
	case "week":
		_, err = week.Parse(name, []byte(text))
	case "next":
		_, err = session.ParseAccepted(name, []byte(text))
	}
	return err
}

// tree is one schema as any reader of JSON has it.
type tree = map[string]any

func load(t *testing.T, file string) tree {
	t.Helper()
	page, ok := schema.Of(file)
	if !ok {
		t.Fatalf("there is no schema of %s", file)
	}
	var d tree
	if err := json.Unmarshal(page, &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// at goes down to a table: "part.station".
func at(d tree, path string) tree {
	for key := range strings.FieldsFuncSeq(path, func(r rune) bool { return r == '.' }) {
		d = d["properties"].(tree)[key].(tree)
		if items, ok := d["items"]; ok {
			d = items.(tree)
		}
	}
	return d
}

// place is a table of a file: text has it open, so that keys can be written below.
type place struct {
	file, path, text string
	format           session.Format // of the part it is, or that it is in
}

func places() []place {
	all := []place{
		{"roster", "", "", ""},
		{"roster", "athlete", "[[athlete]]\n", ""},
		{"roster", "athlete.best", "[[athlete]]\n[[athlete.best]]\n", ""},
		{"roster", "athlete.best.pulls", "[[athlete]]\n[[athlete.best]]\n[[athlete.best.pulls]]\n", ""},
		{"kit", "", "", ""},
		{"kit", "strip", "[strip]\n", ""},
		{"kit", "sled", "[[sled]]\n", ""},
		{"kit", "bar", "[[bar]]\n", ""},
		{"kit", "handles", "[[handles]]\n", ""},
		{"kit", "rope", "[[rope]]\n", ""},
		{"kit", "plates", "[[plates]]\n", ""},
		{"kit", "surface", "[[surface]]\n", ""},
		{"house", "", "", ""},
		{"house", "keys", "[keys]\n", ""},
		{"week", "", "", ""},
		{"week", "day", "[[day]]\n", ""},
		{"next", "", "", ""},
		{"next", "next", "[[next]]\n", ""},
		{"next", "class", "[[class]]\n", ""},
		{"session", "", "", ""},
	}
	for _, f := range session.Formats() {
		part := fmt.Sprintf("aim = \"strength\"\n[[part]]\nformat = %q\n", f)
		all = append(all, place{"session", "part", part, f},
			place{"session", "part.lane", part + "[[part.lane]]\n", f},
			place{"session", "part.station", part + "[[part.station]]\n", f})
	}
	return all
}

// keys returns what the schema says of each key at a place, and which are needed.
func keys(d tree, p place) (said tree, needed []string) {
	table := at(d, p.path)
	said, needed = table["properties"].(tree), texts(table["required"])
	if p.path != "part" {
		return said, needed
	}
	for _, rule := range table["allOf"].([]any) {
		when := rule.(tree)["if"].(tree)["properties"].(tree)["format"].(tree)
		if when["const"] != string(p.format) {
			continue
		}
		then := rule.(tree)["then"].(tree)
		needed = append(needed, texts(then["required"])...)
		for key, of := range then["properties"].(tree) {
			if of == false {
				delete(said, key) // another format's
			} else if key == "rest" {
				said[key] = of
			}
		}
	}
	return said, needed
}

func texts(list any) []string {
	var all []string
	if list != nil {
		for _, one := range list.([]any) {
			all = append(all, one.(string))
		}
	}
	slices.Sort(all)
	return all
}

var quoted = regexp.MustCompile(`"([^"]*)"`)

// asked is what the reader says to write in the first fault that holds the word.
func asked(t *testing.T, p place, line, word string) string {
	t.Helper()
	faults, _ := errors.AsType[coachfile.Faults](parse(p.file, p.text+line))
	for _, f := range faults {
		if strings.Contains(f.What, word) {
			return f.Write
		}
	}
	t.Errorf("%s, %s%s: the reader says nothing of %q, only %v", p.file, p.text, line, word, faults)
	return ""
}

func words(write string) []string {
	var all []string
	for _, m := range quoted.FindAllStringSubmatch(write, -1) {
		all = append(all, m[1])
	}
	slices.Sort(all)
	return all
}

// Every table of every schema is one of the places that the readers are asked at.
func TestEveryTableIsAsked(t *testing.T) {
	t.Parallel()
	asked := map[string]bool{}
	for _, p := range places() {
		asked[p.file+" "+p.path] = true
	}
	var walk func(file, path string, of tree)
	walk = func(file, path string, of tree) {
		if !asked[file+" "+path] {
			t.Errorf("the reader of %s is not asked at %q: add it to places", file, path)
		}
		for key, value := range of["properties"].(tree) {
			below := value.(tree)
			if items, ok := below["items"].(tree); ok {
				below = items
			}
			if below["properties"] != nil {
				walk(file, strings.TrimPrefix(path+"."+key, "."), below)
			}
		}
	}
	for _, file := range schema.Files() {
		walk(file, "", load(t, file))
	}
}

const odd = "zzzzzzzzzzzzzzzz" // near to no word

// The reader names every key it knows when it meets one that it does not, every key
// that is missing, every word it takes, and its limits. The schema has all these
// and no other.
func TestAsTheReaders(t *testing.T) {
	t.Parallel()
	for _, p := range places() {
		said, needed := keys(load(t, p.file), p)
		var names []string
		for key := range said {
			names = append(names, key)
		}
		slices.Sort(names)
		if got := words(asked(t, p, odd+" = 1\n", odd)); !slices.Equal(got, names) {
			t.Errorf("%s %s %s: the reader knows %q, the schema %q", p.file, p.path, p.format, got, names)
		}
		var missing []string
		faults, _ := errors.AsType[coachfile.Faults](parse(p.file, p.text))
		line := strings.Count(p.text[:strings.LastIndex(p.text, "[")+1], "\n") + 1
		for _, f := range faults {
			if strings.HasSuffix(f.What, " is missing") && f.Line == line {
				missing = append(missing, words(f.What)...)
			}
		}
		slices.Sort(missing)
		missing = slices.DeleteFunc(missing, func(key string) bool { return p.path == "athlete.best" && key == "load" }) // or two pulls
		if p.path == "part" {
			needed = slices.DeleteFunc(needed, func(key string) bool { return key == "format" }) // it is written
		}
		slices.Sort(needed)
		if !slices.Equal(missing, needed) {
			t.Errorf("%s %s %s: the reader needs %q, the schema %q", p.file, p.path, p.format, missing, needed)
		}
		for key, of := range said {
			if p.path != "part" || key != "format" {
				value(t, p, key, of.(tree))
			}
		}
	}
}

// value holds one key's schema to what the reader says of wrong values.
func value(t *testing.T, p place, key string, of tree) {
	t.Helper()
	key += " = "
	if both, ok := of["anyOf"].([]any); ok {
		of = both[0].(tree) // one, or a list of such
	}
	switch {
	case of["enum"] != nil:
		got := words(asked(t, p, key+`"`+odd+`"`+"\n", odd))
		if !slices.Equal(got, texts(of["enum"])) && p.file != "next" { // whose reader sends to the session instead
			t.Errorf("%s %s %s: the reader takes %q, the schema %q", p.file, p.path, key, got, of["enum"])
		}
	case of["type"] == "integer":
		lo, hi := int(of["minimum"].(float64)), int(of["maximum"].(float64))
		want := fmt.Sprintf("write a number from %d to %d, without quotes", lo, hi)
		if got := asked(t, p, key+"-1\n", strings.TrimSuffix(key, " = ")); got != want {
			t.Errorf("%s %s %s: the reader says %q, the schema %q", p.file, p.path, key, got, want)
		}
	case of["type"] == "boolean":
		asked(t, p, key+"1\n", "yes or no")
	case of["type"] == "array":
		asked(t, p, key+"1\n", "is not a list of")
	case of["type"] == "object":
		asked(t, p, key+"1\n", "is not a table")
	case of["pattern"] != nil && strings.HasPrefix(of["pattern"].(string), "^[0-9]{"): // TOML's own dates and times
		asked(t, p, key+"1\n", "cannot be read")
	case of["type"] == "string":
		asked(t, p, key+"1\n", "is not a text in double quotes")
		if most, ok := of["maxLength"].(float64); ok {
			long := strings.Repeat("x", int(most))
			asked(t, p, key+strconv.Quote(long+"x")+"\n", "characters")
			if err := parse(p.file, p.text+key+strconv.Quote(long)+"\n"); err != nil && strings.Contains(err.Error(), "characters") {
				t.Errorf("%s %s %s: %d characters are %v", p.file, p.path, key, int(most), err)
			}
		}
	default:
		t.Errorf("%s %s %s: the schema says %v", p.file, p.path, key, of)
	}
}
