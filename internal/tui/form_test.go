package tui

import (
	"fmt"
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
	"hawser/internal/measure"
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

// Every format can be made, with one station or two, and what is written is what
// the board was made of. Another parser reads it too.
func TestEveryFormatCanBeMade(t *testing.T) {
	t.Parallel()
	aims := []session.Aim{session.Conditioning, session.Strength, session.Endurance}
	formats := session.Formats()
	if testing.Short() {
		formats = formats[:1]
	}
	for n, format := range formats {
		a := n % len(aims)
		t.Run(string(format), func(t *testing.T) {
			t.Parallel()
			aim := aims[a]
			d := newDesk(t, [2]int{120, 40})
			d.strike("n1", "New "+string(format), "Down")
			for range a {
				d.strike("Right")
			}
			d.strike("Down")
			for range n {
				d.strike("Right")
			}
			f, ok := d.m.on.(*form)
			if !ok {
				t.Fatalf("%s: no form:\n%s", format, d.screen())
			}
			for f.rows[f.at].name != "movement" {
				d.strike("Enter")
			}
			d.strike("s")
			for f.rows[f.at].name != "and then" {
				d.strike("Enter")
			}
			d.strike("d") // and then: a deadlift
			if got := f.sheet.(*sessionSheet); got.want == nil || got.board == nil || got.day.Session != got.want {
				t.Errorf("%s, %s: no board stands beside the form:\n%s", aim, format, d.screen())
			}
			d.strike("Ctrl-S")
			file := "sessions/new-" + strings.ReplaceAll(string(format), " ", "-") + ".toml"
			d.want("► New " + string(format))
			s, err := session.Parse(file, []byte(d.files[file]))
			if err != nil {
				t.Fatalf("%v\n%s", err, d.files[file])
			}
			p := s.Parts[0]
			if s.Aim != aim || p.Format != format || len(p.Stations) != 2 || p.Stations[0].Movement != "sled row" || p.Stations[1].Movement != "deadlift" {
				t.Errorf("%s is\n%s", file, d.files[file])
			}
			var other struct {
				Title, Aim string
				Part       []struct {
					Format, Every, Cap string
					Rounds, Sets       int
					Station            []struct{ Movement, Distance string }
				}
			}
			if _, err := toml.Decode(d.files[file], &other); err != nil {
				t.Fatal(err)
			}
			if o := other.Part[0]; other.Title != s.Title || other.Aim != string(s.Aim) || o.Format != string(p.Format) || o.Rounds != p.Rounds || len(o.Station) != 2 {
				t.Errorf("another parser reads %+v of\n%s", other, d.files[file])
			}
		})
	}
}

// to goes down to the last row of that name.
func (d *desk) to(name string) {
	d.t.Helper()
	f, ok := d.m.on.(*form)
	if !ok {
		d.t.Fatalf("no form:\n%s", d.screen())
	}
	for i := range f.rows {
		if strings.TrimSpace(f.rows[i].name) == name {
			defer f.step(i - f.at)
			return
		}
	}
	d.t.Fatalf("no row %q:\n%s", name, d.screen())
}

// A session may have several parts, sides and waves: each part with its own clock
// and movements, people by letter or by name.
func TestSeveralParts(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a board is dealt for every key")
	}
	d := newDesk(t, [2]int{120, 40})
	d.strike("n1Evening")
	d.to("and then")
	d.strike("s") // a sled row
	d.to("sides")
	d.strike("e/m")
	d.to("another part")
	d.strike("f") // for time
	d.want("part 2")
	d.to("waves")
	d.strike("m/No", "Enter")
	d.want(`"No" is not in the roster; write names or letters`)
	d.strike("Backspace", "Backspace", "Eskil", "Enter", "1:30")
	d.to("another part")
	d.strike("l") // a long pull
	d.strike("Up", "Down")
	d.want("takes", "part 3")
	d.strike("Ctrl-S")
	d.want("► Evening")
	s, err := session.Parse("sessions/evening.toml", []byte(d.files["sessions/evening.toml"]))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range s.Parts {
		got = append(got, fmt.Sprintf("%s %d %v %v %v", p.Format, len(p.Stations), p.Sides, p.Waves, p.WaveEvery))
	}
	want := []string{"every 2 [[Eskil] [Maren]] [] 0s", "for time 1 [] [[Maren] [Eskil]] 1m30s", "long pull 1 [] [] 0s"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("the parts are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A warm-up and a rest are parts with nothing but their minutes, and a session does
// not end with one.
func TestBreaksAreMade(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{120, 40})
	d.strike("n1Eve")
	d.to("format")
	d.strike("w") // warm-up
	d.want("no board yet", "nothing comes after the warm-up at")
	d.to("another part")
	d.strike("l") // a long pull
	d.strike("Ctrl-S")
	d.want("► Eve")
	s, err := session.Parse("sessions/eve.toml", []byte(d.files["sessions/eve.toml"]))
	if err != nil || len(s.Parts) != 2 || s.Parts[0].Format != session.WarmUp || s.Parts[0].Time != 12*time.Minute || len(s.Parts[0].Stations) != 0 {
		t.Errorf("%v:\n%s", err, d.files["sessions/eve.toml"])
	}
}

// A movement that is being chosen shows its card.
func TestMovementCard(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{120, 40})
	d.strike("n1Eve")
	d.to("movement")
	d.strike("b") // a backward drag
	d.want("backward drag, squat", "Tires front of the thighs, calves.", "Can stand in for squats and step-downs", "Nobody stands or walks behind a backward puller.")
	d.strike("Up")
	if strings.Contains(d.screen(), "Can stand in for") {
		t.Errorf("the card stands beside another row:\n%s", d.screen())
	}
}

// A part that is taken back takes those behind it along; they come back as they were.
func TestPartTakenBack(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a board is dealt for every key")
	}
	d := newDesk(t, [2]int{120, 40})
	d.strike("n1Short")
	d.to("another part")
	d.strike("a")
	d.to("another part")
	d.strike("r") // ratio, then
	d.to("part 2")
	d.strike("n") // none
	if s := d.m.on.(*form).sheet.(*sessionSheet); s.want == nil || len(s.want.Parts) != 1 {
		t.Errorf("the session is %+v, want one part", s.want)
	}
	d.strike("a")
	d.want("part 3")
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

// What the coach has written over a usual number stays; the others follow the
// aim, the format and the minutes.
func TestUsualNumbersFollow(t *testing.T) {
	t.Parallel()
	d := newDesk(t, [2]int{80, 24})
	d.strike("n1Tide", "Down", "Down", "Down", "Down", "Backspace", "Backspace", "30") // every 1:30
	f := d.m.on.(*form)
	value := func(name string) string {
		for i := range f.rows {
			if strings.TrimSpace(f.rows[i].name) == name {
				return *f.rows[i].value
			}
		}
		return ""
	}
	f.step(1 - f.at)
	d.strike("s") // strength
	for name, want := range map[string]string{"every": "1:30", "rounds": "8", "how much": "20 m", "load": "0 kg"} {
		if got := value(name); got != want {
			t.Errorf("for strength %s is %q, want %q", name, got, want)
		}
	}
	d.strike("e") // endurance
	if got := value("how much"); got != "200 m" {
		t.Errorf("for endurance a drag is %q, want 200 m", got)
	}
}

func TestReadAmount(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		in   string
		want session.Station
	}{
		{"20 m", session.Station{Times: 1, Distance: 20 * measure.Metre}},
		{"4 x 20 m", session.Station{Times: 4, Distance: 20 * measure.Metre}},
		{"4×20 yd", session.Station{Times: 4, Distance: 20 * measure.Yard}},
		{"5", session.Station{Reps: 5}},
		{"5 reps", session.Station{Reps: 5}},
		{"1:00", session.Station{Time: time.Minute}},
		{"45 s", session.Station{Time: 45 * time.Second}},
	} {
		got, err := readAmount(tt.in)
		if err != nil || got.Distance != tt.want.Distance || got.Reps != tt.want.Reps || got.Time != tt.want.Time || got.Times != tt.want.Times {
			t.Errorf("readAmount(%q) = %+v, %v, want %+v", tt.in, got, err, tt.want)
		}
	}
	for _, in := range []string{"", "20", "twenty", "0 m", "x 20 m", "20 m x 4", "0 reps", "-5"} {
		if got, err := readAmount(in); err == nil && in != "20" {
			t.Errorf("readAmount(%q) = %+v, want an error", in, got)
		}
	}
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

func TestMuchOf(t *testing.T) {
	t.Parallel()
	yards := measure.Style{DistanceUnit: "yd"}
	for _, tt := range []struct {
		in   session.Station
		want string
	}{
		{session.Station{Distance: 10 * measure.Yard}, "10 yd"},
		{session.Station{Distance: 10 * measure.Metre}, "10 m"},
		{session.Station{Distance: 20 * measure.Yard, Times: 4}, "4 x 20 yd"},
		{session.Station{Reps: 5}, "5 reps"},
		{session.Station{Time: time.Minute}, "1:00"},
	} {
		if got := muchOf(tt.in, yards); got != tt.want {
			t.Errorf("muchOf(%+v) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestSlug(t *testing.T) {
	t.Parallel()
	for _, tt := range [][2]string{
		{"First minute", "first-minute"},
		{"  Ebb & flow! ", "ebb-flow"},
		{"../../roster", "roster"},
		{"Bølge nr. 7", "bølge-nr-7"},
		{"…", ""},
		{strings.Repeat("long ", 20), "long-long-long-long-long-long-long-long"},
	} {
		if got := slug(tt[0]); got != tt[1] {
			t.Errorf("slug(%q) = %q, want %q", tt[0], got, tt[1])
		}
	}
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
