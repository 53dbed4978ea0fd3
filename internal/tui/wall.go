package tui

import (
	"slices"
	"strings"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/measure"
)

// Draw puts the wall and the desk on a page of w × h as the layout has it.
func (s *Scene) Draw(w, h int, l *Layout, k *Look, big *Raster) *Page {
	p := NewPage(w, h)
	if l.TextOnly {
		s.textOnly(p, k)
		return p
	}
	s.drawHead(p, l.Head, k)
	s.drawPhase(p, l, k)
	_, _, ink := s.phaseWords(k.signs)
	big.Draw(p, l.Digits.in(1), l.Least, k.Mode, s.clock(), ink)
	s.drawNext(p, l, k)
	s.drawDesk(p, l, k)
	s.drawFoot(p, l)
	return p
}

// textOnly is the plain clock of a screen that is too small for anything else.
func (s *Scene) textOnly(p *Page, k *Look) {
	shape, word, ink := s.phaseWords(k.signs)
	lines := []Said{
		{s.clock(), ink}, {shape + " " + word, ink}, {s.round(), Body}, {s.Say, s.SayInk}, {s.ends(), Dim},
	}
	y := 0
	for _, l := range lines {
		if l.Text != "" {
			p.Text(p.All(), 0, y, l.Text, l.Ink)
			y++
		}
	}
}

// ends says when the class ends, as far as the clock knows.
func (s *Scene) ends() string {
	switch {
	case s.Face.Phase == floor.Over:
		return "ended " + s.ofDay(s.Face.Ends)
	case s.Face.Phase == floor.Waiting && s.Planned > 0:
		return "ends " + measure.Clock(s.Planned) + " after GO"
	case s.Face.Phase == floor.Waiting:
		return ""
	case s.Face.Ends == floor.None:
		return "ends with the last press"
	case s.ofDay(s.Face.Ends) == "":
		return "ends in " + measure.Clock(ceil(s.Face.Ends-s.Now))
	}
	return "ends " + s.ofDay(s.Face.Ends)
}

func (s *Scene) drawHead(p *Page, r Rect, k *Look) {
	ink, ends := Body, s.ends()
	if s.Trouble != "" {
		ink, ends = Stopped, s.Trouble
	}
	w := r.W - displaywidth.String(ends) - 3
	p.Text(Rect{r.X, r.Y, w, 1}, 1, 0, s.head(k.signs, w-1), Dim)
	p.Right(Rect{r.X, r.Y, r.W - 1, 1}, 0, 0, ends, ink)
}

// drawPhase is the phase in word and shape, and the round, large where there is room.
func (s *Scene) drawPhase(p *Page, l *Layout, k *Look) {
	shape, word, ink := s.phaseWords(k.signs)
	r := l.Phase.in(1)
	round := s.round()
	if l.LargePhase && s.largePhase(p, r, l.Times, k) {
		return
	}
	x := p.Say(r, 0, 0, Said{shape + " " + word, ink})
	p.Right(r, x+2, 0, round, Strong)
}

// largePhase is the phase in the three-row face, as large as it fits: a word of it
// alone where there is no room for all, with the rest as a line below.
func (s *Scene) largePhase(p *Page, r Rect, times int, k *Look) bool {
	shape, word, ink := s.phaseWords(k.signs)
	round := s.round()
	for ; times > 0; times-- {
		for _, w := range []string{word, brief[word]} {
			x, ok := p.LargeTimes(r, 0, times, shape+" "+w, k.Mode, ink)
			if !ok || w == "" {
				continue
			}
			line := ""
			if w != word {
				line = strings.ToLower(word)
			}
			if !p.largeRight(r, x+3, times, round, k.Mode) && p.Right(r, x+2, 1, round, Strong) == r.W {
				line = join(k.signs.dot, line, round)
			}
			p.Text(r, 0, r.H-1, line, Strong)
			return true
		}
	}
	return false
}

// brief is the word of a phase that says enough where all of it does not fit.
var brief = map[string]string{"GET READY": "READY", "CLOCK STOPPED": "STOPPED", "CHANGE OVER": "CHANGE", "NOT STARTED": "WAIT"}

// largeRight writes a round at the right edge of r in the three-row face, as large
// as it fits beyond column from, its figures alone if need be; false for no room.
func (p *Page) largeRight(r Rect, from, times int, round string, mode Mode) bool {
	_, figures, _ := strings.Cut(round, " ")
	for ; times > 0; times-- {
		for _, s := range []string{round, figures} {
			text, ok := spell(s)
			if x := r.W - times*face3Width(text); ok && x >= from+3*times {
				_, ok = p.LargeTimes(r, x, times, s, mode, Body)
				return ok
			}
		}
	}
	return false
}

// drawNext says what comes: who, on what, with what, and when. Large, there is
// one start to a line of three rows, and as many as there is room for.
func (s *Scene) drawNext(p *Page, l *Layout, k *Look) {
	r := l.Next.in(1)
	if r.Empty() {
		return
	}
	list := s.coming()
	if len(list) == 0 {
		return
	}
	switch {
	case l.LargeNext:
	case r.H < 3:
		s.nextLine(p, r, list, k)
		return
	default:
		p.Text(r, 0, 0, "next", Dim)
		for i, c := range list {
			x := p.Say(r, 0, i+1, Said{clean(s.Plan.People[c.tile.Person].Name), Strong})
			p.Text(r, x+1, i+1, s.nextLoad(c, k), Body)
		}
		return
	}
	high := face3Rows(l.Times)
	if r.Y == l.Digits.Y+l.Digits.H && r.H > high { // the digits have no blank row below
		r.Y, r.H = r.Y+1, r.H-1
	}
	columns := 1
	if r.W >= 150*l.Times && len(list) > (r.H+1)/(high+1) {
		columns = 2
	}
	for i, c := range list {
		y := i / columns * (high + 1)
		if y+high > r.H {
			return
		}
		w := (r.W - 4*(columns-1)) / columns
		s.nextLarge(p, Rect{r.X + i%columns*(w+4), r.Y + y, w, high}, l.Times, c, k)
	}
}

// nextLine is what comes on one line, as much of it as fits.
func (s *Scene) nextLine(p *Page, r Rect, list []coming, k *Look) {
	x := p.Say(r, 0, 0, Said{"next ", Dim})
	for i, c := range list {
		pieces := []Said{{clean(s.Plan.People[c.tile.Person].Name), Strong}, {" " + s.nextLoad(c, k), Body}}
		if i > 0 {
			pieces[0].Text = k.signs.dot + pieces[0].Text
		}
		if x+displaywidth.String(pieces[0].Text+pieces[1].Text) > r.W {
			return
		}
		x = p.Say(r, x, 0, pieces...)
	}
}

// nextLoad is the sled, what it moves and when.
func (s *Scene) nextLoad(c coming, k *Look) string {
	return join(" ", clean(c.spot.On), k.load(c.spot), s.until(c))
}

// until says when a start comes: "in 0:35", "now" where a press makes it, "" where
// the clock stands or does not know.
func (s *Scene) until(c coming) string {
	switch {
	case c.due == floor.None || s.Face.Phase == floor.Holding:
		return ""
	case c.due <= s.Now:
		return "now"
	}
	return "in " + measure.Clock(ceil(c.due-s.Now))
}

// sideLeast is the columns that the sled, the stack and the time need beside a
// start in the three-row face.
const sideLeast = 14

// nextWay is one way to show a start: what of it stands in the three-row face, and
// the line beside that.
type nextWay struct{ name, load, line string }

// nextLarge is one start in the three-row face: the name and what moves, without its
// unit or its name where that is too wide; beside it, small, the rest. Sooner than cut
// the plates, which somebody has to fetch, it gives a large text up.
func (s *Scene) nextLarge(p *Page, r Rect, times int, c coming, k *Look) {
	name := clean(s.Plan.People[c.tile.Person].Name)
	load := k.Style.Mass(c.spot.Moves)
	figure, _, _ := strings.Cut(load, " ")
	if c.spot.On == "" {
		load, figure = "", ""
	}
	ways := []nextWay{{name, load, ""}, {name, figure, load}, {"", load, name}}
	if times > 1 {
		ways = ways[:2]
	}
	for _, way := range ways {
		if fits(r, times, join("  ", way.name, way.load), k) && s.platesFit(way.low(r, times), times, c.spot, k) {
			s.nextAs(p, r, times, way, c, k)
			return
		}
	}
	if times > 1 {
		s.nextLarge(p, r, times-1, c, k)
		return
	}
	s.nextAs(p, r, 1, nextWay{line: join("  ", name, load)}, c, k)
}

// width is the columns of the large texts and of the blank ones after them.
func (w nextWay) width(times int) int {
	x := 3
	for _, large := range []string{w.name, w.load} {
		if text, _ := spell(large); text != "" {
			x += times * (face3Width(text) + 4)
		}
	}
	return x - 3*times
}

// side is what of r is beside the large texts, low what of that is left for the plates.
func (w nextWay) side(r Rect, times int) Rect {
	x := w.width(times)
	return Rect{r.X + x, r.Y, r.W - x, r.H}
}

func (w nextWay) low(r Rect, times int) Rect {
	r = w.side(r, times)
	if w.line == "" {
		return r.rows(1, r.H)
	}
	return r.rows(2, r.H)
}

// platesFit reports whether all plates can be read in r, in either face.
func (s *Scene) platesFit(r Rect, times int, spot *floor.Spot, k *Look) bool {
	if times > 1 && canLarge(r, times-1, plates(spot.Stack), k.Mode) {
		return true
	}
	lines := s.plateLines(spot, r.W)
	return len(lines) <= r.H && !slices.ContainsFunc(lines, func(line string) bool { return displaywidth.String(line) > r.W })
}

// nextAs draws a start in one way.
func (s *Scene) nextAs(p *Page, r Rect, times int, way nextWay, c coming, k *Look) {
	x, _ := p.LargeTimes(r, 0, times, way.name, k.Mode, Strong)
	if x > 0 {
		x += 3 * times
	}
	p.LargeTimes(r, x, times, way.load, k.Mode, Work)
	side, low := way.side(r, times), way.low(r, times)
	due := s.until(c)
	if due != "" {
		due = " " + due
	}
	lead := Said{"next on ", Dim}
	if displaywidth.String(lead.Text+clean(c.spot.On)+due) > side.W {
		lead.Text = ""
	}
	p.Say(side, 0, 0, lead, Said{clean(c.spot.On), Strong}, Said{due, Ready})
	p.Text(side, 0, 1, way.line, Strong)
	if times > 1 { // a hand can fetch from afar what it can read
		if _, ok := p.LargeTimes(low, 0, times-1, plates(c.spot.Stack), k.Mode, Body); ok {
			return
		}
	}
	if !s.platesFit(low, 1, c.spot, k) {
		p.Text(low, 0, 0, s.platesIn(c.spot, low.W), Body)
		return
	}
	for y, line := range s.plateLines(c.spot, low.W) {
		p.Text(low, 0, y, line, Body)
	}
}

// fits reports whether a text can stand in r in the three-row face with the rest
// beside it. Two blanks stand for a wider gap.
func fits(r Rect, times int, text string, k *Look) bool {
	spelled, ok := spell(text)
	return ok && text != "" && k.Mode != Hashes && r.H >= face3Rows(times) && times*(face3Width(spelled)+3)+sideLeast <= r.W
}

// plates is the stack in words, with "estimated" where the load rests on one.
func (s *Scene) plates(spot *floor.Spot) string {
	if spot.Est {
		return join(", ", stack(spot), "estimated")
	}
	return stack(spot)
}

// platesIn is plates in w columns: without blanks where it would not fit with them, and
// with "est" for estimated.
func (s *Scene) platesIn(spot *floor.Spot, w int) string {
	text := s.plates(spot)
	for _, tighter := range tighten {
		if displaywidth.String(text) > w {
			text = tighter.Replace(text)
		}
	}
	return text
}

var tighten = []*strings.Replacer{
	strings.NewReplacer(" + ", "+"), strings.NewReplacer(" kg", "kg", " lb", "lb"), strings.NewReplacer("estimated", "est"),
}

// plateBreaks is where a stack may go on in the next line: between two units.
var plateBreaks = strings.NewReplacer(" + ", " +\n", ", ", ",\n")

// plateLines is plates in lines of w columns, where it can be broken so.
func (s *Scene) plateLines(spot *floor.Spot, w int) []string {
	var lines []string
	for piece := range strings.SplitSeq(plateBreaks.Replace(s.plates(spot)), "\n") {
		if n := len(lines) - 1; n >= 0 && displaywidth.String(lines[n]+" "+piece) <= w {
			lines[n] += " " + piece
		} else {
			lines = append(lines, piece)
		}
	}
	return lines
}

// drawFoot is the last word said, the keys of the moment, and how many people the
// desk has no room for.
func (s *Scene) drawFoot(p *Page, l *Layout) {
	foot, say := l.Foot.in(1), l.Say.in(1)
	if more := s.more(l); more != "" {
		foot.W = p.Right(foot, 0, 0, more, Warn) - 2
	}
	if say.Empty() && s.Say != "" {
		p.Text(foot, 0, 0, s.Say, s.SayInk)
		return
	}
	p.Text(say, 0, 0, s.Say, s.SayInk)
	p.Hints(foot, s.Keys)
}

// Hints writes keys with what they do, as many as fit whole.
func (p *Page) Hints(r Rect, hints []Hint) {
	x := 0
	for _, h := range hints {
		if x+displaywidth.String(h.Key+h.Does)+1 > r.W {
			return
		}
		x = p.Say(r, x, 0, Said{h.Key, KeyInk}, Said{" " + h.Does, Dim}) + 3
	}
}
