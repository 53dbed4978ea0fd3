package tui

import (
	"strings"
	"testing"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/BurntSushi/toml"
	"github.com/charmbracelet/colorprofile"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/internal/week"
)

// desk is a home in memory that forms write into.
type desk struct {
	t     *testing.T
	m     *Model
	files map[string]string
}

const deskKit = `# what stands here
[strip]
length = "20 m" # usable
surface = "turf"

[[sled]]
name = "A" # the old one
tare = "27 kg"

[[plates]]
mass = "20 kg"
count = 6

# measured in spring
[[surface]]
name = "rubber"
pull_here = "40 kg"
pull_on = { turf = "28 kg" }
`

const deskRoster = `# the crew

[[athlete]]
name = "Maren" # rows on Mondays
body_mass = "68 kg"

[[athlete.best]]
movement = "sled row"
load = "100 kg"
date = 2026-10-05
how = "tested"

# to be asked
[[athlete]]
name = "Eskil"
`

func newDesk(t *testing.T, size [2]int) *desk {
	t.Helper()
	d := &desk{t: t, files: map[string]string{rosterFile: deskRoster, kitFile: deskKit}}
	d.m = NewModel(d.world(), Look{Profile: plainLook.Profile})
	d.m.w, d.m.h = size[0], size[1]
	return d
}

// world reads the files as they are.
func (d *desk) world() *World {
	d.t.Helper()
	r, err := roster.Parse(rosterFile, []byte(d.files[rosterFile]))
	if err != nil {
		d.t.Fatal(err)
	}
	k, err := kit.Parse(kitFile, []byte(d.files[kitFile]))
	if err != nil {
		d.t.Fatal(err)
	}
	w := &World{Roster: r, Kit: k, House: house.Default(), Clock: NewClock(0), Cues: &silence{}}
	for name, src := range d.files {
		if strings.HasPrefix(name, "sessions/") {
			s, err := session.Parse(name, []byte(src))
			if err != nil {
				d.t.Fatal(err)
			}
			w.Sessions = append(w.Sessions, s)
		}
	}
	w.Board = func(day Day) (*lanes.Board, *floor.Plan, error) {
		b := lanes.Make(lanes.Input{Session: day.Session, Kit: day.Kit, Roster: r, House: w.House, Here: day.Who, Limit: 2000})
		return b, floor.MakePlan(b, r, day.Kit, w.House, day.Who), nil
	}
	w.Change = func(c Change) (*World, error) {
		src, err := c.Edit([]byte(d.files[c.File]))
		if err != nil {
			return nil, err
		}
		d.files[c.File] = string(src)
		return d.world(), nil
	}
	return w
}

// strike strikes keys: names of keys, and texts letter by letter.
func (d *desk) strike(keys ...string) {
	d.t.Helper()
	named := map[string]tea.KeyPressMsg{
		"Enter": {Code: tea.KeyEnter}, "Esc": {Code: tea.KeyEscape}, "Tab": {Code: tea.KeyTab}, "Up": {Code: tea.KeyUp}, "Down": {Code: tea.KeyDown},
		"Left": {Code: tea.KeyLeft}, "Right": {Code: tea.KeyRight}, "Backspace": {Code: tea.KeyBackspace}, "Ctrl-S": {Code: 's', Mod: tea.ModCtrl},
	}
	for _, key := range keys {
		if k, ok := named[key]; ok {
			d.send(k)
			continue
		}
		for _, r := range key {
			d.send(tea.KeyPressMsg{Code: r, Text: string(r)})
		}
	}
}

// send hands a message to the model and runs what comes of it, as the program does.
func (d *desk) send(msg tea.Msg) {
	_, cmd := d.m.Update(msg)
	d.run(cmd)
}

func (d *desk) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			d.run(c)
		}
	default:
		d.send(msg)
	}
}

func (d *desk) screen() string { return d.m.on.draw(d.m).Plain() }

func (d *desk) want(texts ...string) {
	d.t.Helper()
	for _, text := range texts {
		if !strings.Contains(d.screen(), text) {
			d.t.Fatalf("the screen lacks %q:\n%s", text, d.screen())
		}
	}
}

// wantAdded holds a file to what it was with some lines added in one place.
func (d *desk) wantAdded(file, before, added string) {
	d.t.Helper()
	after := d.files[file]
	i := strings.Index(after, added)
	if i < 0 || after[:i]+after[i+len(added):] != before {
		d.t.Errorf("%s is now\n%s\nwant it as it was with these lines added:\n%s", file, after, added)
	}
}

// Each form adds its lines and leaves every other byte of a commented file alone.
func TestFormsAddLines(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{80, 24})
	d.strike("n2Odd", "Enter", "Enter", "72,5 kg", "Ctrl-S")
	d.want("Odd is added")
	d.wantAdded(rosterFile, deskRoster, "\n[[athlete]]\nname = \"Odd\"\nbody_mass = \"72.5 kg\"\n")

	before := d.files[rosterFile]
	d.strike("Esc", "3", "Down", "s", "Down", "Down", "125 kg", "Down", "a", "Down", "Down", "20 m")
	d.want("125 kg is 25.0 % above the 100 kg so far", "jerk on a loose strap")
	d.strike("Ctrl-S")
	d.want("noted for Maren")
	d.wantAdded(rosterFile, before, "\n[[athlete.best]]\nmovement = \"sled row\"\nload = \"125 kg\"\nlayout = \"straight\"\nsurface = \"turf\"\nsled = \"A\"\nhow = \"tested\"\ndistance = \"20 m\"\ndate = "+time.Now().Format(time.DateOnly)+"\n")

	d.strike("Esc", "4", "Down", "60 lb", "Ctrl-S")
	d.want("sled B is added")
	d.wantAdded(kitFile, deskKit, "\n[[sled]]\nname = \"B\"\ntare = \"60 lb\"\nposts = 1\n")

	before = d.files[kitFile]
	d.strike("Esc", "5", "45 lb", "Enter", "4", "Enter")
	d.want("4 of 45 lb are added")
	d.wantAdded(kitFile, before, "\n[[plates]]\nmass = \"45 lb\"\ncount = 4\n")
	before = d.files[kitFile]
	d.strike("20 kg", "Enter", "2", "Enter")
	if got, want := d.files[kitFile], strings.Replace(before, "count = 6", "count = 8", 1); got != want {
		t.Errorf("two more of a stamp: kit.toml is\n%s\nwant\n%s", got, want)
	}

	d.strike("Esc", "6", "Ctrl-S")
	d.want("Monday is written")
	before = d.files[weekFile]
	d.strike("t", "Down", "h", "Down", "s", "Down", "Backspace", "5", "Ctrl-S")
	d.wantAdded(weekFile, before, "\n[[day]]\nday = \"tuesday\"\nmain = [\"hinge\", \"squat\"]\nat = 18:05:00\n")

	// A second parser reads the same from every file.
	for name, src := range d.files {
		var all map[string]any
		if _, err := toml.Decode(src, &all); err != nil {
			t.Errorf("%s: another parser: %v", name, err)
		}
	}
	var other struct {
		Athlete []struct {
			Name     string
			BodyMass string `toml:"body_mass"`
			Best     []struct{ Load, Distance, How string }
		}
	}
	if _, err := toml.Decode(d.files[rosterFile], &other); err != nil {
		t.Fatal(err)
	}
	if len(other.Athlete) != 3 || other.Athlete[2].BodyMass != "72.5 kg" || len(other.Athlete[0].Best) != 2 || other.Athlete[0].Best[1].Load != "125 kg" {
		t.Errorf("another parser reads %+v", other.Athlete)
	}
	var days struct{ Day []struct{ Day string } }
	if _, err := toml.Decode(d.files[weekFile], &days); err != nil || len(days.Day) != 2 {
		t.Errorf("another parser reads %+v, %v", days, err)
	}
	if f, err := week.Parse(weekFile, []byte(d.files[weekFile])); err != nil || f.BlockStarts.Weekday() != time.Monday {
		t.Errorf("the block begins %v, %v; want a Monday", f, err)
	}
}

// A field that does not hold says what is wrong and what to write, and holds its
// place; nothing is written.
func TestFormsSayWhatIsWrong(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		keys []string
		want []string
	}{
		{[]string{"n2", "Enter"}, []string{"the text is empty", "write some text"}},
		{[]string{"n2maren", "Enter"}, []string{"Maren is in the roster already"}},
		{[]string{"n2Ola\u202e", "Enter"}, []string{"character 4 (U+202E) cannot be shown"}},
		{[]string{"n2Ola", "Enter", "M", "Enter"}, []string{`"M" is not one small letter; write "m"`}},
		{[]string{"n2Ola", "Enter", "m", "Enter"}, []string{"m is Maren's already; write another letter, or none"}},
		{[]string{"n2Ola", "Enter", "Enter", "70", "Enter"}, []string{`"70" has no unit; write "27 kg" or "45 lb"`}},
		{[]string{"n2", "Down", "Ctrl-S"}, []string{"the text is empty"}},
		{[]string{"n4", "Backspace", "A", "Enter"}, []string{"A is in the kit already"}},
		{[]string{"n4", "Enter", "-5 kg", "Enter"}, []string{"is below nothing"}},
		{[]string{"n4", "Enter", "25 kg", "Enter", "0", "Ctrl-S"}, []string{"a number from 1 to 8"}},
		{[]string{"n5", "20 stone", "Enter"}, []string{"has a unit that is not known here"}},
		{[]string{"n5", "20 kg", "Enter", "two", "Enter"}, []string{`"two" is not a whole number that fits`}},
		{[]string{"n6", "Down", "Down", "Down", ":", "Enter"}, []string{`is no time of day; write 18:00`}},
		{[]string{"n1", "!!!", "Enter"}, []string{"no letter and no digit"}},
		{[]string{"n1", "Con", "Enter"}, []string{"no file can be called con on Windows"}},
		{[]string{"n1", "Six", "Enter", "Enter", "Enter", "x", "Enter"}, []string{`is not a whole number that fits; write a number from 1 to 180`}},
		{[]string{"n1", "Six", "Enter", "Enter", "Enter", "Enter", "x"}, []string{"no board yet: every:"}},
		{[]string{"n3", "Enter", "Enter", "Enter", "60% max", "Enter"}, []string{"has a unit that is not known here"}},
	} {
		d := newDesk(t, [2]int{100, 30})
		d.strike(tt.keys...)
		d.want(tt.want...)
		if len(d.files) != 2 || d.files[rosterFile] != deskRoster || d.files[kitFile] != deskKit {
			t.Errorf("%q wrote a file: %v", tt.keys, d.files)
		}
	}
}

// A session is never written over another, whatever it is called.
func TestNameIsTaken(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{80, 24})
	d.strike("n1Ebb & Flow!", "Ctrl-S")
	first := d.files["sessions/ebb-flow.toml"]
	if first == "" {
		t.Fatalf("files are %v", d.files)
	}
	d.strike("n1ebb-FLOW", "Down", "Down", "Right", "Ctrl-S")
	d.want("sessions/ebb-flow.toml is there already; write another name")
	if d.files["sessions/ebb-flow.toml"] != first {
		t.Error("it was written over")
	}
}

// Whatever a name may hold, a second parser reads it as it was typed.
func TestOddNames(t *testing.T) {
	t.Parallel()
	names := []string{`The "long" haul`, `back\slash # no comment`, "Æbler og pærer", "綱引き", "a = 'b'", "[[part]]"}
	if testing.Short() {
		names = names[:1]
	}
	for _, name := range names {
		d := newDesk(t, [2]int{80, 24})
		d.strike("n2"+name, "Ctrl-S", "Esc", "1"+name, "Ctrl-S")
		var people struct{ Athlete []struct{ Name string } }
		if _, err := toml.Decode(d.files[rosterFile], &people); err != nil || len(people.Athlete) != 3 || people.Athlete[2].Name != name {
			t.Errorf("%s: another parser reads %+v, %v", name, people, err)
		}
		var one struct{ Title string }
		if _, err := toml.Decode(d.files["sessions/"+slug(name)+".toml"], &one); err != nil || one.Title != name {
			t.Errorf("%s: another parser reads %+v, %v of %v", name, one, err, d.files)
		}
	}
}

// Esc loses nothing: the form comes back as it was left, until it is written.
func TestEscKeepsTheForm(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{80, 24})
	d.strike("n1Low tide", "Down", "Right", "Down", "Down", "Backspace", "5", "Esc", "2", "Liv", "Esc", "Esc", "n1")
	d.want("Low tide", "strength", "15")
	d.strike("Esc", "2")
	d.want("Liv")
	d.strike("Ctrl-S", "Esc", "2")
	if f := d.m.on.(*form); *f.rows[0].value != "" {
		t.Errorf("the form still holds %q after it was written", *f.rows[0].value)
	}
}

// What is struck while the disk takes its time is for the form that comes next.
func TestKeysWhileWriting(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{80, 24})
	d.strike("n2Odd")
	_, write := d.m.Update(tea.KeyPressMsg{Code: 's', Mod: tea.ModCtrl})
	d.strike("Liv")
	d.run(write)
	d.want("3 in the roster", "Odd", "Liv")
	d.strike("Ctrl-S")
	d.want("Liv is added")
}

// A best far above the old one is asked back on the smallest screen too.
func TestFarBestIsDoubted(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{40, 12})
	d.strike("n3", "Down", "s", "Down", "Down", "110 kg")
	if strings.Contains(d.screen(), "above") {
		t.Errorf("10 %% above is doubted:\n%s", d.screen())
	}
	d.strike("Backspace", "Backspace", "Backspace", "Backspace", "1 kg")
	d.want("111 kg is 11.0 % above the 100 kg")
}

func TestFormScreens(t *testing.T) {
	t.Parallel()
	for name, keys := range map[string][]string{
		"form-menu":    {"n"},
		"form-person":  {"n2Odd", "Enter", "m", "Enter"},
		"form-best":    {"n3", "Down", "s", "Down", "Down", "125 kg", "Down", "a"},
		"form-sled":    {"n4", "Enter", "25", "Enter"},
		"form-plates":  {"n5"},
		"form-day":     {"n6"},
		"form-session": {"n1Ebb and flow", "Down", "Down", "Down", "Down", "Backspace", "Backspace", "45", "Down"},
		"form-parts":   {"n1Whole evening", "Down", "Down", "Down", "Down", "Down", "Down", "Down", "Down", "Down", "Down", "Down", "f", "Down", "Down", "e/m"},
		"form-bare":    {"n1Ebb", "Down", "Down", "Right", "Down", "Down", "s"},
	} {
		for _, size := range sizes {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				d := newDesk(t, size)
				d.strike(keys...)
				if f, ok := d.m.on.(*form); ok && name == "form-best" {
					*f.rows[len(f.rows)-1].value = "2026-11-25"
					f.follow(d.m)
				}
				golden(t, name, d.m.on.draw(d.m))
			})
		}
	}
}

// A form is written in the theme's own inks and no other, whatever the terminal.
func TestPasteKnowsTheInks(t *testing.T) {
	t.Parallel()
	for _, look := range []Look{
		{Profile: colorprofile.TrueColor},
		{Profile: colorprofile.TrueColor, Ground: LightGround},
		{Profile: colorprofile.ANSI},
		{Profile: colorprofile.ASCII, Mode: Hashes},
	} {
		theme := look.ready().theme
		for ink := range inks {
			p := NewPage(8, 1)
			p.Paste(p.All(), theme, theme.styles[ink].Render("knot"))
			if got := p.cells[1]; got.text != "n" || theme.on[got.ink] != theme.on[ink] {
				t.Errorf("ink %d of profile %v comes back as %d", ink, look.Profile, got.ink)
			}
		}
	}
}
