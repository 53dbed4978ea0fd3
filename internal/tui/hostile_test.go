package tui

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/session"
)

// hostileTexts is what a terminal would obey if it were let; the file says what each
// of them wants.
func hostileTexts(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile("../coachfile/testdata/hostile.txt")
	if err != nil {
		t.Fatal(err)
	}
	step := count(10, 1)
	if os.Getenv("HAWSER_LONG") == "" {
		step = 400 / (10 * step)
	}
	var all []string
	for i, line := range slices.Collect(strings.Lines(string(data))) {
		quoted, _, _ := strings.Cut(line, "\t")
		text, err := strconv.Unquote(quoted)
		if err != nil {
			t.Fatal(err)
		}
		if i%step == 0 {
			all = append(all, text)
		}
	}
	return all
}

// hostileWorld is a world in which every name, title, plate and address bears a text.
func hostileWorld(text string) *World {
	w := world(everyPart(), 4, 4, &notebook{})
	board, plan, _ := w.Board(Day{})
	plan.Title, plan.Session = text+"title", text+"session"
	for i := range plan.People {
		name := text + plan.People[i].Name
		plan.People[i].Name, w.Roster.Athletes[i].Name = name, name
	}
	for i := range plan.Kit.Sleds {
		plan.Kit.Sleds[i].Name = text + plan.Kit.Sleds[i].Name
	}
	for i := range plan.Kit.Plates {
		plan.Kit.Plates[i].Stamp = text + plan.Kit.Plates[i].Stamp
	}
	for i := range plan.Parts[0].Places {
		spot := &plan.Parts[0].Places[i].Spots[0]
		spot.On = text + spot.On
		for k := range spot.Stack {
			spot.Stack[k] = text + "20 kg"
		}
	}
	for i := range plan.Parts[0].Stations[0].On {
		plan.Parts[0].Stations[0].On[i].Name = text + plan.Parts[0].Stations[0].On[i].Name
	}
	plan.House.Emergency, plan.House.Address, plan.House.Defibrillator = text, text, text
	w.House, w.Notice = plan.House, text
	w.Sessions[0].Title, w.Sessions[0].Name = text+"title", text+"session"
	board.Parts[0].Fit.On = text + "B"
	board.Findings = append(board.Findings, session.Finding{Level: session.Warn, About: "load", Athlete: text, Text: text})
	return w
}

// hostileScreens draws every screen there is on a world.
func hostileScreens(t *testing.T, w *World, text string, size [2]int) map[string]*Page {
	t.Helper()
	board, plan, _ := w.Board(Day{})
	r := begin(t, plan)
	who := plan.People[0].Name
	r.do(30*time.Second, floor.Press{Who: who})
	r.do(31*time.Second, floor.Guest{Who: text + "guest"})
	r.do(32*time.Second, floor.Strike{Who: who, Round: 1})
	m := modelOn(w, size)
	m.look.keys = NewKeys(w.House, placeOf(m.on))
	events := append([]floor.Stamped{{N: 1, E: floor.Opened{Plan: plan}}}, r.kept...)
	muster := newMuster(w, w.Sessions[0])
	muster.guests = []string{text + "guest"}
	room := newBoardroom(muster, Day{Session: w.Sessions[0]})
	room.take(boarded{day: room.day, board: board, plan: plan}, w)
	whole := newBoardroom(muster, Day{Session: w.Sessions[0]})
	whole.take(boarded{day: room.day, board: board, plan: plan}, w)
	whole.whole = true
	strips := roomOf(r, 40*time.Second)
	strips.chosen, strips.strip = 1, &strip{who: 1}
	alarm := roomOf(r, 40*time.Second)
	alarm.alarm = true
	filter := newPicker(w)
	filter.search = search{clean(text), true}
	watching := &watcher{next: func() ([]floor.Stamped, error) { return nil, nil }, st: r.st, past: map[int]floor.Stamped{}, opened: time.Now(), say: clean(text)}
	replay := NewReplay(Replayed{Events: events})
	pages := map[string]*Page{}
	for name, on := range map[string]screen{
		"picker": newPicker(w), "filter": filter, "muster": muster, "board": room, "whole board": whole, "class": roomOf(r, 40*time.Second),
		"strip": strips, "alarm": alarm, "after": newAfter(roomOf(r, 40*time.Second)), "replay": replay, "watch": watching,
		"offer": newOffer(&Log{Past: events, Zero: time.Now()}, m.on),
	} {
		m.on = on
		pages[name] = on.draw(m)
	}
	said := sceneOf(r, 40*time.Second)
	for _, e := range r.kept {
		text, _ := sentence(r.st, e, map[int]floor.Stamped{})
		said.Say += text
	}
	l := Lay(size[0], size[1], Ask{Tiles: len(said.Tiles)})
	var big Raster
	pages["sentences"] = said.Draw(size[0], size[1], &l, &plainLook, &big)
	return pages
}

// TestHostileScreens puts hostile text in the place of every name on every screen:
// each cell holds plain text of its own width, and nothing else.
func TestHostileScreens(t *testing.T) {
	t.Parallel()
	texts := hostileTexts(t)
	screens := 0
	synctest.Test(t, func(t *testing.T) {
		for _, text := range texts {
			for _, size := range [][2]int{{40, 12}, {120, 40}} {
				for name, p := range hostileScreens(t, hostileWorld(text), text, size) {
					if bad := firstBad(p); bad != "" {
						t.Errorf("with %q the %s at %v has %s", text, name, size, bad)
					}
					screens++
				}
			}
		}
	})
	t.Logf("%d texts, %d screens", len(texts), screens)
}

// TestNoTextIsShownAsSuch: a byte that is no UTF-8 becomes a mark: some terminals obey 0x9b as
// they do Escape and a bracket.
func TestNoTextIsShownAsSuch(t *testing.T) {
	t.Parallel()
	p := NewPage(12, 1)
	p.Text(p.All(), 0, 0, "home \x9b31m", Body)
	if got := p.Plain(); firstBad(p) != "" || !strings.HasPrefix(got, "home \uFFFD31m") {
		t.Errorf("%q is drawn (%s), want a mark for the byte", got, firstBad(p))
	}
}

// firstBad says what is wrong with the first cell that is no plain text.
func firstBad(p *Page) string {
	for i, c := range p.cells {
		if bad := firstObeyed(c.text); bad != "" || strings.Contains(c.text, "\n") {
			return fmt.Sprintf("%s at %d, %d", bad, i%p.W, i/p.W)
		}
		if w := displaywidth.String(c.text); w > 2 {
			return fmt.Sprintf("%q, %d wide, in one cell", c.text, w)
		}
	}
	return ""
}

// TestHostileLines: line mode is read by a screen reader, and obeyed by a terminal. No name
// makes a line of its own.
func TestHostileLines(t *testing.T) {
	t.Parallel()
	for _, text := range hostileTexts(t) {
		got := linesOf(t, text, text)
		if bad := firstObeyed(got); bad != "" {
			t.Errorf("with %q line mode prints %s: %q", text, bad, got)
		}
		if got, want := linesOf(t, text, "?"), linesOf(t, "Plain ", "?"); strings.Count(got, "\n") != strings.Count(want, "\n") {
			t.Errorf("with %q line mode prints\n%q, want as many lines as\n%q", text, got, want)
		}
	}
}

// linesOf is what line mode says of a class in which every name bears a text, and when
// something is typed.
func linesOf(t *testing.T, text, typed string) string {
	t.Helper()
	_, plan, _ := hostileWorld(text).Board(Day{})
	r := begin(t, plan)
	var b strings.Builder
	l := &lines{st: r.st, out: &b, past: map[int]floor.Stamped{}, log: &notebook{}, cues: &silence{}, clock: newClock(0, awake)}
	l.where(ten)
	l.typed(typed, ten)
	l.typed("load "+typed+" +5 kg", ten)
	l.do(floor.Press{Who: plan.People[1].Name}, ten+30*time.Second)
	for _, m := range r.st.Due(nil, 0, 80*time.Second) {
		b.WriteString(l.moment(m) + "\n")
	}
	return b.String()
}

// TestHostileControl: each text that the cleaner changes is found out where it gets past it,
// in a cell of the screen and in a line.
func TestHostileControl(t *testing.T) {
	t.Parallel()
	for _, text := range hostileTexts(t) {
		if clean(text) == text {
			continue
		}
		page := NewPage(40, 12)
		page.cells[7].text = text
		if firstBad(page) == "" {
			t.Errorf("a cell that holds %q is said to be plain: the suite cannot see", text)
		}
		if !strings.Contains(text, "\n") && firstObeyed("Eskil: "+text+"\n") == "" {
			t.Errorf("a line with %q is said to be plain: the suite cannot see", text)
		}
	}
}

// firstObeyed says what in some lines is no plain text.
func firstObeyed(lines string) string {
	for i, c := range lines {
		_, size := utf8.DecodeRuneInString(lines[i:])
		if c == utf8.RuneError && size == 1 {
			return fmt.Sprintf("the byte %#x", lines[i])
		}
		if c != '\n' && unicode.In(c, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) && c != '\u200c' && c != '\u200d' {
			return fmt.Sprintf("%U", c)
		}
	}
	return ""
}
