package floor_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hawser/internal/floor"
	"hawser/internal/presses"
	"hawser/internal/session"

	"github.com/pelletier/go-toml/v2"
	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "write what came out as what is wanted")

// Each rule of a class, told as a class: testdata/README.md has the grammar.
func TestStories(t *testing.T) {
	t.Parallel()
	tales(t, "stories", func(t *testing.T, parts []txtar.File) string {
		t.Helper()
		return tell(t, string(parts[0].Data), parts[1].Data)
	}, "class", "presses", "rounds")
}

// tales holds each txtar archive of a folder, of those sections, to its last one.
func tales(t *testing.T, folder string, told func(*testing.T, []txtar.File) string, sections ...string) {
	t.Helper()
	files, err := filepath.Glob("testdata/" + folder + "/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal("no", folder, err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			t.Parallel()
			a, err := txtar.ParseFile(file)
			if err != nil || len(a.Files) != len(sections) {
				t.Fatalf("want %v: %v", sections, err)
			}
			got, last := told(t, a.Files), &a.Files[len(a.Files)-1]
			if *update {
				last.Data = []byte(got)
				if err := os.WriteFile(file, txtar.Format(a), 0o600); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := string(last.Data); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// tell plays a story and prints what came of it.
func tell(t *testing.T, class string, script []byte) string {
	t.Helper()
	part, names, on := readClass(t, class)
	plan := floor.StoryPlan(part, names, on)
	cast := presses.Cast{Sleds: []string{"A", "B", "C"}}
	for _, p := range plan.People {
		cast.People = append(cast.People, p.Name)
	}
	lines, err := presses.Parse("presses", script, cast)
	if err != nil {
		t.Fatal(err)
	}
	played := presses.Play(floor.Opened{Plan: plan}, lines)
	var b strings.Builder
	for _, r := range played.Refused {
		fmt.Fprintf(&b, "line %d: %s\n", r.Line.Number, r.Word)
	}
	for _, p := range played.State.Plan().People {
		fmt.Fprintf(&b, "%s\n%s", p.Name, floor.StorySheet(t, played.State, p.Name, played.Now))
	}
	end := played.State.PartEnd(1)
	if end == floor.None {
		b.WriteString("no end yet\n")
	} else {
		fmt.Fprintf(&b, "end %.4g\n", (end - played.State.First()).Seconds())
	}
	return b.String()
}

// readClass reads the class of a story with the session package's own reader.
func readClass(t *testing.T, class string) (part session.Part, names, on string) {
	t.Helper()
	var people struct{ People string }
	if err := toml.Unmarshal([]byte(class), &people); err != nil {
		t.Fatal(err)
	}
	var n, o []string
	for f := range strings.FieldsSeq(people.People) {
		name, sled, _ := strings.Cut(f, "=")
		n, o = append(n, name), append(o, sled)
	}
	_, rest, _ := strings.Cut(class, "\n")
	s, err := session.Parse("class", []byte("title = \"story\"\naim = \"conditioning\"\n[[part]]\n"+rest))
	if err != nil {
		t.Fatal(err)
	}
	return s.Parts[0], strings.Join(n, " "), strings.Join(o, " ")
}
