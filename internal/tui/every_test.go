package tui

import (
	"image/color"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"
	"unicode"

	"charm.land/lipgloss/v2"
	"github.com/charmbracelet/colorprofile"
	uv "github.com/charmbracelet/ultraviolet"
	"github.com/charmbracelet/x/ansi"
	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/session"
)

// looks are the kinds of terminal that every screen is drawn for.
var looks = map[string]Look{
	"full":    {Profile: colorprofile.TrueColor},
	"light":   {Profile: colorprofile.TrueColor, Ground: LightGround},
	"256":     {Profile: colorprofile.ANSI256},
	"sixteen": {Profile: colorprofile.ANSI},
	"none":    {Profile: colorprofile.ASCII},
	"ascii":   {Profile: colorprofile.ASCII, Mode: Hashes},
}

// everyScreen is all that can be on a terminal, by name: the screens outside a
// run, and a run in each of its phases, views and formats. The clock of a
// classroom must stand still: in a bubble of fake time.
func everyScreen(t *testing.T) map[string]func(*Model) screen {
	t.Helper()
	all := outsideScreens(t)
	room := func(r *run, at time.Duration, more func(*classroom)) func(*Model) screen {
		return func(*Model) screen {
			c := roomOf(r, at)
			more(c)
			return c
		}
	}
	plain := func(*classroom) {}
	mid := 190 * time.Second
	held, waiting := midClass(t, 6, 4), floor.New()
	held.do(mid, floor.Hold{})
	waiting.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: class(everyPart(), 6, 4)}})
	intervals := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 6, CountIn: ten}
	maps.Copy(all, map[string]func(*Model) screen{
		"waiting":  room(&run{t: t, st: waiting}, -2*time.Second, func(c *classroom) { c.planned = 10 * time.Minute }),
		"count-in": room(begin(t, class(everyPart(), 6, 4)), -3*time.Second, plain),
		"both":     room(midClass(t, 6, 4), mid, plain),
		"wall":     room(midClass(t, 6, 4), mid, func(c *classroom) { c.share = WallAlone }),
		"desk":     room(midClass(t, 16, 4), mid, func(c *classroom) { c.share = DeskAlone }),
		"sixteen":  room(midClass(t, 16, 4), mid, func(c *classroom) { c.chosen = 5 }),
		"alone":    room(midClass(t, 1, 1), mid, plain),
		"held":     room(held, mid+5*time.Second, func(c *classroom) { c.live.tell("clock stopped", Stopped) }),
		"resting":  room(begin(t, class(intervals, 4, 4)).to(90*time.Second), 90*time.Second, plain),
		"changing": room(betweenHeats(t), 11*time.Minute, plain),
		"over":     room(finished(t), 12*time.Minute, plain),
		"watch": func(*Model) screen {
			r := midClass(t, 6, 4)
			return &watcher{st: r.st, past: map[int]floor.Stamped{}, opened: time.Now().Add(-mid - ten), share: WallAlone}
		},
	})
	for _, s := range sheets {
		all["form-"+strings.ReplaceAll(s.name, " ", "-")] = func(m *Model) screen { return m.open(s.name) }
	}
	all["sound"] = func(*Model) screen {
		return &Beats{Clock: NewClock(2550 * time.Millisecond), Cues: &silence{}, Late: 120 * time.Millisecond}
	}
	all["menu"] = func(m *Model) screen { return newMenu(m.world) }
	all["keys-of-picker"] = func(m *Model) screen { return &keyList{back: m.on, hints: newPicker(m.world).help()} }
	all["keys-of-board"] = func(m *Model) screen { return &keyList{back: m.on, hints: (&boardroom{}).help()} }
	all["next-time"] = func(*Model) screen {
		coming, err := replayOf(t, &ledger{}).next()
		if err != nil {
			t.Fatal(err)
		}
		return newNextTime(coming, nil)
	}
	for name, f := range formats() {
		all[name] = room(f.run(t), f.now, plain)
	}
	return all
}

// screenNames are the names of everyScreen in order.
func screenNames(all map[string]func(*Model) screen) []string { return slices.Sorted(maps.Keys(all)) }

// everySize is from the plain clock to a wall of screens, tall and wide ones among them.
var everySize = [][2]int{{30, 8}, {40, 12}, {52, 14}, {60, 80}, {80, 24}, {100, 30}, {120, 40}, {133, 43}, {240, 30}, {200, 60}, {320, 90}}

// TestEveryScreen holds, for each screen at each size on each kind of terminal:
// no line is past the edge, no word is cut, no tile lacks its key, its name or its
// load, and no text has less than 7:1 to its ground (WCAG 2.2, 1.4.6).
func TestEveryScreen(t *testing.T) {
	t.Parallel()
	ratios := map[string][inks]float64{}
	for name, look := range looks {
		look = look.ready()
		ratios[name] = inkRatios(look.theme)
	}
	synctest.Test(t, func(t *testing.T) { // the clock of a classroom stands still
		drawn := everyDrawing(t)
		known := vocabulary(drawn)
		for _, d := range drawn {
			for _, fault := range append(edgeFaults(d.page), cutWords(d.page, known)...) {
				t.Errorf("%s: %s", d.name, fault)
			}
			for look, ratio := range ratios { // they differ in nothing else
				if ink, ok := faintest(d.page, &ratio); ok && ratio[ink] < 7 {
					t.Errorf("%s, %s: ink %d has %.2f:1, want 7:1", d.name, look, ink, ratio[ink])
				}
			}
			if c, ok := d.on.(*classroom); ok && c.list == 0 && !c.alarm {
				for _, fault := range tileFaults(d.page, &c.layout, c.scene) {
					t.Errorf("%s: %s", d.name, fault)
				}
			}
		}
	})
}

// TestEveryScreenCanFail holds that each of those faults is found where it is.
func TestEveryScreenCanFail(t *testing.T) {
	t.Parallel()
	known := map[string]bool{"Maren": true, "pulls": true}
	page := func(text string) *Page {
		p := NewPage(12, 1)
		p.Text(p.All(), 0, 0, text, Stopped)
		return p
	}
	if len(cutWords(page("Maren pulls"), known)) > 0 || len(cutWords(page("Maren pulls away"), known)) == 0 || len(cutWords(page("Mar pulls"), known)) == 0 {
		t.Error("a cut word is not told from a whole one")
	}
	wide := NewPage(4, 1)
	for x := range 4 {
		wide.put(x, 0, "太", Body)
	}
	if len(edgeFaults(wide)) == 0 {
		t.Error("a line past the edge is not seen")
	}
	ratio := [inks]float64{Stopped: 4.5}
	if ink, ok := faintest(page("Maren"), &ratio); !ok || ink != Stopped {
		t.Error("the faintest ink is not found")
	}
	r := midClass(t, 2, 2)
	s := NewScene(r.st, 190*time.Second, nil)
	l := Lay(80, 24, Ask{Tiles: 2})
	if got := len(tileFaults(NewPage(80, 24), &l, s)); got != 6 {
		t.Errorf("two blank tiles have %d faults, want 6", got)
	}
}

// drawnScreen is one screen, drawn.
type drawnScreen struct {
	name string
	on   screen
	page *Page
}

func everyDrawing(t *testing.T) []drawnScreen {
	t.Helper()
	var all []drawnScreen
	screens, sizes := everyScreen(t), everySize
	if testing.Short() {
		sizes = [][2]int{{40, 12}, {80, 24}, {320, 90}} // the widest tells the words
	}
	for _, name := range screenNames(screens) {
		for _, look := range []string{"full", "ascii"} {
			for _, size := range sizes {
				m := modelOn(world(everyPart(), 16, 4, nil), size)
				m.look = looks[look].ready()
				m.on = screens[name](m)
				label := name + ", " + look + ", " + itoa(size[0]) + " × " + itoa(size[1])
				if _, run := m.on.(*classroom); size[1] < 12 && !run {
					continue // outside a run nothing is drawn for so small a screen
				}
				all = append(all, drawnScreen{label, m.on, m.on.draw(m)})
			}
		}
	}
	return all
}

// inkRatios is the contrast of each ink with its ground; 21 where the terminal's own
// colours are used. The 16 colours are xterm's own; the VGA ones are no worse.
func inkRatios(theme *Theme) [inks]float64 {
	var all [inks]float64
	for ink := range all {
		all[ink] = 21
		buf := uv.NewScreenBuffer(1, 1)
		uv.NewStyledString(theme.on[ink]+"x"+theme.off[ink]).Draw(buf, buf.Bounds())
		if style := buf.CellAt(0, 0).Style; style.Fg != nil && style.Bg != nil {
			all[ink] = contrast(xterm(style.Fg), xterm(style.Bg))
		}
	}
	return all
}

// xterm is a colour as xterm shows it, by its own defaults for the first sixteen.
func xterm(c color.Color) color.Color {
	defaults := []string{
		"#000000", "#CD0000", "#00CD00", "#CDCD00", "#0000EE", "#CD00CD", "#00CDCD", "#E5E5E5",
		"#7F7F7F", "#FF0000", "#00FF00", "#FFFF00", "#5C5CFF", "#FF00FF", "#00FFFF", "#FFFFFF",
	}
	if basic, ok := c.(ansi.BasicColor); ok {
		return lipgloss.Color(defaults[basic])
	}
	return c
}

// faintest is the ink of the page's text that is nearest to its ground.
func faintest(p *Page, ratio *[inks]float64) (Ink, bool) {
	least, found := Body, false
	for _, c := range p.cells {
		if c.text != " " && c.text != "" && (!found || ratio[c.ink] < ratio[least]) {
			least, found = c.ink, true
		}
	}
	return least, found
}

func edgeFaults(p *Page) []string {
	var out []string
	lines := strings.Split(strings.TrimSuffix(p.Plain(), "\n"), "\n")
	for y, line := range lines {
		if w := displaywidth.String(line); w > p.W {
			out = append(out, "line "+itoa(y)+" is "+itoa(w)+" wide: "+line)
		}
	}
	if len(lines) != p.H {
		out = append(out, itoa(len(lines))+" lines")
	}
	return out
}

// lettered are the words of a page of three letters or more, without what stands
// around them. The large digits of a terminal without blocks have none.
func lettered(p *Page) []string {
	words := strings.FieldsFunc(p.Plain(), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '…' })
	return slices.DeleteFunc(words, func(w string) bool { return strings.Trim(w, typed.knot) == "" })
}

// vocabulary is every word that stands on a screen so large that none is cut.
func vocabulary(all []drawnScreen) map[string]bool {
	known := map[string]bool{"est": true} // our word for estimated, where there is no room for more
	for _, d := range all {
		if d.page.W >= 200 {
			for _, word := range lettered(d.page) {
				known[word] = true
			}
		}
	}
	for _, word := range crew {
		known[word] = true
	}
	for whole, short := range brief {
		for word := range strings.FieldsSeq(strings.ToLower(whole) + " " + short) {
			known[word] = true
		}
	}
	return known
}

// cutWords are the words of a page that nobody wrote so.
func cutWords(p *Page, known map[string]bool) []string {
	var out []string
	for _, word := range lettered(p) {
		if !known[word] {
			out = append(out, "cut or unknown word: "+word)
		}
	}
	return out
}

// tileFaults are the parts of tiles that are not on the page.
func tileFaults(p *Page, l *Layout, s *Scene) []string {
	var out []string
	first := s.first(l)
	for i := first; i < min(len(s.Tiles), first+l.shown()); i++ {
		r := l.tile(i - first)
		var line strings.Builder
		for _, c := range p.cells[r.Y*p.W+r.X : r.Y*p.W+r.X+r.W] {
			line.WriteString(c.text)
		}
		who := s.Plan.People[s.Tiles[i].Person]
		for _, part := range []string{" " + who.Key + " ", " " + who.Name + " ", " " + plainLook.Style.Mass(s.Tiles[i].Place.Moves)} {
			if !strings.Contains(line.String(), part) {
				out = append(out, "tile "+line.String()+" lacks"+part)
			}
		}
	}
	return out
}
