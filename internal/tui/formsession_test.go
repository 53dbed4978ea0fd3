package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"

	"hawser/internal/measure"
	"hawser/internal/session"
)

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
