package tui

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// clockTime is the time of day at which a class ends or ended.
var clockTime = regexp.MustCompile(`(ends|ended) \d\d:\d\d( |$)`)

var update = flag.Bool("update", false, "write the goldens anew")

// sizes are the screens that every golden is drawn at.
var sizes = [][2]int{{40, 12}, {80, 24}, {120, 40}, {200, 60}}

// golden holds a page to testdata/NAME-WxH.txt. The page goes through the cell
// buffer that the renderer uses, so what is compared is what a terminal would show.
func golden(t *testing.T, name string, p *Page) {
	t.Helper()
	buf := uv.NewScreenBuffer(p.W, p.H)
	uv.NewStyledString(p.String(plainLook.theme)).Draw(buf, buf.Bounds())
	var b strings.Builder
	for y := range p.H {
		var line strings.Builder
		for x := range p.W {
			c := buf.CellAt(x, y)
			if c == nil || c.Content == "" && c.Width == 0 {
				continue
			}
			line.WriteString(c.Content)
		}
		text := strings.TrimRight(clockTime.ReplaceAllString(line.String(), "$1 HH:MM"), " ")
		if w := displaywidth.String(text); w > p.W {
			t.Errorf("line %d is %d wide, the screen %d: %q", y, w, p.W, text)
		}
		b.WriteString(text + "\n")
	}
	file := filepath.Join("testdata", name+"-"+itoa(p.W)+"x"+itoa(p.H)+".txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.String(); got != string(want) {
		t.Errorf("%s has changed (go test -update writes it anew):\n%s", file, got)
	}
}

// sceneOf is the scene of a run at a time after the first GO.
func sceneOf(r *run, at time.Duration) *Scene {
	s := NewScene(r.st, at+ten, nil)
	s.Opened = time.Date(2026, 11, 25, 18, 2, 0, 0, time.UTC)
	return s
}

func TestRunScreens(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) { // the clock of a classroom stands still
		screens := everyScreen(t)
		for _, name := range []string{"both", "wall", "desk", "sixteen", "held"} {
			for _, size := range sizes {
				m := modelOn(world(everyPart(), 16, 4, nil), size)
				c := screens[name](m).(*classroom)
				page := c.draw(m)
				golden(t, name, page)
				l := &c.layout
				if 3*l.Digits.H < size[1] {
					t.Errorf("%s, %v: the digits have %d of %d rows, less than a third", name, size, l.Digits.H, size[1])
				}
				var big Raster
				if at := big.Draw(NewPage(size[0], size[1]), l.Digits.in(1), l.Least, Quadrants, c.scene.clock(), Body); 3*at.H < size[1] {
					t.Errorf("%s, %v: the digits are %d of %d rows high, less than a third", name, size, at.H, size[1])
				}
			}
		}
	})
}

// modelOn is a model that stands on a screen, without a program around it.
func modelOn(w *World, size [2]int) *Model {
	m := NewModel(w, Look{Profile: plainLook.Profile})
	m.w, m.h = size[0], size[1]
	return m
}

// roomOf is the classroom on a run that stands still at a time after the first GO.
func roomOf(r *run, at time.Duration) *classroom {
	live := &Live{st: r.st, clock: newClock(at+ten, awake), house: r.st.Plan().House, log: &notebook{}, cues: &silence{}, blinked: -1, past: map[int]floor.Stamped{}, out: map[string]bool{}}
	return newClassroom(live, r.st.Plan().Kit.Sleds)
}

// unfit is a part that does not fit as written.
var unfit = lanes.Fit{
	Needs: 95 * time.Second, Has: 75 * time.Second, On: "B", Took: "heats",
	Ways: []lanes.Way{
		{Way: "rotate stations", PullsEach: 4, Ends: 10 * time.Minute, Idle: 50},
		{Way: "longer interval", Every: 105 * time.Second, Ends: 14 * time.Minute, Idle: 50},
		{Way: "heats", Heats: 2, Ends: 23 * time.Minute, Idle: 50},
	},
}

// finished is a class that is over, Odd slowing down at the end.
func finished(t *testing.T) *run {
	t.Helper()
	r := begin(t, class(everyPart(), 4, 4))
	for k := range 8 {
		for i := range 4 {
			work := 30*time.Second + time.Duration(i)*3*time.Second
			if i == 3 {
				work += time.Duration(k*k) * 700 * time.Millisecond
			}
			at := time.Duration(k)*75*time.Second + work
			if i != 1 || k != 4 {
				r.do(at, floor.Press{Who: crew[i]})
			}
		}
	}
	return r.to(12 * time.Minute)
}

// outsideScreens are those outside a run and those that cover a part of one.
func outsideScreens(t *testing.T) map[string]func(*Model) screen {
	t.Helper()
	over := finished(t)
	events := []floor.Stamped{{N: 1, E: floor.Opened{Plan: over.st.Plan()}}}
	events = append(events, over.kept...)
	return map[string]func(m *Model) screen{
		"picker": func(m *Model) screen { return m.on },
		"filter": func(m *Model) screen {
			p := newPicker(m.world)
			p.search = search{"tide", true}
			return p
		},
		"week": func(m *Model) screen {
			v := &weekPage{back: m.on}
			v.take(weekMade{text: "WEEK OF 2026-11-23\n---\nMon 23 Nov press    takes rows and rope pulls; conditioning\n" +
				"           fits  slack-water: conditioning goes on most days\n           look  heavy-anchor: forward drags go with hinge, this is pull\n\n" +
				"flag  Wed 25 Nov: Tuesday: grip-heavy work (slack-water) within 24 h before the main lift, a hinge on Wednesday\n"})
			return v
		},
		"muster": func(m *Model) screen {
			v := newMuster(m.world, m.world.Sessions[0])
			v.here["Maren"], v.here["Tuva"] = true, true
			v.guests, v.gone["B"], v.plates[0] = []string{"Jo Ann"}, true, 4
			return v
		},
		"board": func(m *Model) screen {
			b := newBoardroom(newMuster(m.world, m.world.Sessions[0]), Day{Session: m.world.Sessions[0]})
			board, plan, _ := m.world.Board(Day{})
			board.Parts[0].Fit = unfit
			b.take(boarded{day: b.day, board: board, plan: plan}, m.world)
			return b
		},
		"stations": func(m *Model) screen {
			part := everyPart()
			part.Stations = []session.Station{
				{Movement: "forward drag", Distance: 20 * measure.Metre, Times: 1},
				{Movement: "sled row", Distance: 20 * measure.Metre, Times: 1},
				{Movement: "handles carry", Distance: 20 * measure.Metre, Times: 1},
			}
			w := world(part, 8, 3, &notebook{})
			b := newBoardroom(newMuster(w, w.Sessions[0]), Day{Session: w.Sessions[0]})
			board, plan, _ := w.Board(Day{})
			pp := &plan.Parts[0]
			pp.Stations[2].On = []floor.Thing{{Name: "farmers handles", Tare: 18 * kg, Ends: 4}}
			for i := range pp.Places {
				pp.Places[i].Spots[2].On, pp.Places[i].Spots[2].Order, pp.Places[i].Spots[2].Ends = "farmers handles", i, 4
			}
			pp.Places[2].Spots[1].Swap = "backward drag"
			b.take(boarded{day: b.day, board: board, plan: plan}, m.world)
			b.at = spotAt{0, 1, 2}
			return b
		},
		"question": func(m *Model) screen {
			b := newBoardroom(newMuster(m.world, m.world.Sessions[0]), Day{Session: m.world.Sessions[0]})
			board, plan, _ := m.world.Board(Day{})
			board.Parts[0].Fit, board.Parts[0].Heats = unfit, []lanes.Heat{{Lanes: []lanes.Lane{{}}}}
			board.Findings = append(board.Findings, session.Finding{
				Level: session.Stop, About: "load", Athlete: "Odd",
				Text: "B empty is 27 kg, already 110.2 % of the 24.5 kg asked in all: take a lighter sled, a shorter leg or another movement",
			})
			b.take(boarded{day: b.day, board: board, plan: plan}, m.world)
			b.start(m.world)
			b.whole = true
			return b
		},
		"after": func(*Model) screen { return newAfter(roomOf(over, 12*time.Minute)) },
		"replay": func(*Model) screen {
			r := NewReplay(Replayed{Events: events})
			r.seek(ten + 190*time.Second)
			return r
		},
		"knots": func(*Model) screen {
			c := roomOf(midClass(t, 4, 4), 190*time.Second)
			c.before = func(_ int, who string) []floor.Round {
				return over.st.Rounds(1, slices.Index(crew, who), 12*time.Minute)
			}
			return c
		},
		"changes": func(*Model) screen {
			c := roomOf(midClass(t, 4, 4), 190*time.Second)
			c.chosen, c.strip = 1, &strip{who: 1}
			return c
		},
		"class": func(*Model) screen {
			c := roomOf(midClass(t, 4, 4), 190*time.Second)
			c.strip = &strip{who: -1}
			return c
		},
		"keys": func(*Model) screen {
			c := roomOf(midClass(t, 4, 4), 190*time.Second)
			c.list = 1
			return c
		},
		"emergency": func(*Model) screen {
			held := midClass(t, 4, 4)
			held.do(190*time.Second, floor.Hold{})
			c := roomOf(held, 190*time.Second)
			c.alarm = true
			c.live.house.Emergency, c.live.house.Address = "112", "Pier 4, north door"
			c.live.house.Defibrillator = "beside the boat lift"
			return c
		},
		"offer": func(m *Model) screen {
			return newOffer(&Log{Past: events[:20], Zero: time.Now().Add(-ten - 190*time.Second)}, m.on)
		},
		"loudest": func(*Model) screen { return NewReplay(Replayed{Events: events}) },
	}
}

func TestOtherScreens(t *testing.T) {
	t.Parallel()
	for name, on := range outsideScreens(t) {
		for _, size := range sizes {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				synctest.Test(t, func(t *testing.T) { // the clock of a classroom stands still
					m := modelOn(world(everyPart(), 16, 4, nil), size)
					m.on = on(m)
					golden(t, name, m.on.draw(m))
				})
			})
		}
	}
}

// TestTilesAreWhole holds that no tile that is shown lacks its key, the beginning
// of its name, or its load, whatever the size and the number of people.
func TestTilesAreWhole(t *testing.T) {
	t.Parallel()
	for _, n := range []int{1, 6, 10, 16} {
		s := sceneOf(midClass(t, n, min(4, n)), 190*time.Second)
		for _, share := range []Share{Both, DeskAlone} {
			for _, size := range [][2]int{{40, 12}, {52, 14}, {60, 20}, {80, 24}, {100, 30}, {120, 40}, {133, 43}, {200, 60}} {
				l := Lay(size[0], size[1], Ask{Share: share, Tiles: n})
				var big Raster
				page := strings.Split(s.Draw(size[0], size[1], &l, &plainLook, &big).Plain(), "\n")
				for i := range min(n, l.shown()) {
					r := l.tile(i)
					line := []rune(page[r.Y] + strings.Repeat(" ", size[0]))[r.X : r.X+r.W]
					who := s.Plan.People[i]
					for _, part := range []string{" " + who.Key + " ", string([]rune(who.Name)[:3]), plainLook.Style.Mass(s.Tiles[i].Place.Moves)} {
						if !strings.Contains(string(line), part) {
							t.Errorf("%d people on %v: tile %q lacks %q", n, size, string(line), part)
						}
					}
				}
			}
		}
	}
}

// TestTwoRowsShowAWholeStack holds that a stack of many plates stands on a tile of two
// rows, where the rope makes room for it, and a rope beside a short one.
func TestTwoRowsShowAWholeStack(t *testing.T) {
	t.Parallel()
	s := sceneOf(midClass(t, 9, 3), time.Second)
	for i, stack := range [][]string{
		{"45 lb", "45 lb", "5 kg", "5 kg", "10 lb", "2.5 kg", "2.5 kg"},
		{"20 kg", "10 kg", "10 kg", "10 lb", "10 lb"},
		{"20 kg", "10 kg"},
	} {
		s.Tiles[i].Place.Stack, s.Tiles[i].Last = stack, floor.None
	}
	l := Lay(80, 24, Ask{Tiles: 9})
	var big Raster
	page := strings.Split(s.Draw(80, 24, &l, &plainLook, &big).Plain(), "\n")
	for i, want := range []string{"45+45lb+5+5kg+10lb+2.5+2.5kg", "20+10+10kg+10+10lb", "20+10kg, est"} {
		if r := l.tile(i); r.H != 2 || !strings.HasSuffix(page[r.Y+1], want) {
			t.Errorf("a tile of %d rows ends with %q, want 2 and %q", r.H, page[r.Y+1], want)
		}
	}
}

// TestNothingPrivateOnTheWall holds that no percentage stands on the wall or desk.
func TestNothingPrivateOnTheWall(t *testing.T) {
	t.Parallel()
	for _, size := range sizes {
		l := Lay(size[0], size[1], Ask{Tiles: 6})
		var big Raster
		if page := sceneOf(midClass(t, 6, 4), 190*time.Second).Draw(size[0], size[1], &l, &plainLook, &big).Plain(); strings.ContainsRune(page, '%') {
			t.Errorf("there is a percentage on the wall:\n%s", page)
		}
	}
}
