package tui

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// Rect is a part of the screen in cells. Parts draw into one and cannot leave it.
type Rect struct{ X, Y, W, H int }

// Empty reports whether there is no cell in r.
func (r Rect) Empty() bool { return r.W <= 0 || r.H <= 0 }

// rows returns h rows of r from row y on, as far as r has them.
func (r Rect) rows(y, h int) Rect {
	h = max(0, min(h, r.H-y))
	return Rect{r.X, r.Y + y, r.W, h}
}

// in returns r without dx columns on either side.
func (r Rect) in(dx int) Rect { return Rect{r.X + dx, r.Y, max(0, r.W-2*dx), r.H} }

// cell is one place of a page. The second place of a wide character is held with
// an empty text.
type cell struct {
	text string
	ink  Ink
}

// Page is a screen being drawn: cells with a text and an ink.
type Page struct {
	W, H  int
	cells []cell
}

// NewPage returns a blank page.
func NewPage(w, h int) *Page {
	p := &Page{W: w, H: h, cells: make([]cell, w*h)}
	for i := range p.cells {
		p.cells[i].text = " "
	}
	return p
}

// All is the whole page.
func (p *Page) All() Rect { return Rect{0, 0, p.W, p.H} }

// put sets one cell, if it is on the page.
func (p *Page) put(x, y int, text string, ink Ink) {
	if x >= 0 && y >= 0 && x < p.W && y < p.H {
		p.cells[y*p.W+x] = cell{text, ink}
	}
}

// Fill gives each cell of r the ink and the text.
func (p *Page) Fill(r Rect, text string, ink Ink) {
	for y := r.Y; y < r.Y+r.H; y++ {
		for x := r.X; x < r.X+r.W; x++ {
			p.put(x, y, text, ink)
		}
	}
}

// Text writes s from column x of row y of r on, cuts it at the right edge of r,
// and returns the column after it. A cut text ends in a mark. A byte that is no text is shown
// as one: a terminal may obey it.
func (p *Page) Text(r Rect, x, y int, s string, ink Ink) int {
	if y < 0 || y >= r.H || x >= r.W {
		return x
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	if x+displaywidth.String(s) > r.W {
		s = displaywidth.TruncateString(s, r.W-x, "…")
	}
	g := displaywidth.StringGraphemes(s)
	for g.Next() {
		w := g.Width()
		if w == 0 {
			continue
		}
		p.put(r.X+x, r.Y+y, g.Value(), ink)
		for i := 1; i < w; i++ {
			p.put(r.X+x+i, r.Y+y, "", ink)
		}
		x += w
	}
	return x
}

// Right writes s so that it ends at the right edge of r and returns its column,
// or r's width where there is no room for it beyond column from.
func (p *Page) Right(r Rect, from, y int, s string, ink Ink) int {
	x := r.W - displaywidth.String(s)
	if x < from {
		return r.W
	}
	p.Text(r, x, y, s, ink)
	return x
}

// Centre writes s in the middle of row y of r.
func (p *Page) Centre(r Rect, y int, s string, ink Ink) {
	p.Text(r, max(0, (r.W-displaywidth.String(s))/2), y, s, ink)
}

// Said is a piece of text with its ink.
type Said struct {
	Text string
	Ink  Ink
}

// Say writes pieces one after the other and returns the column after them. A
// piece that does not fit whole is left out with all that follow.
func (p *Page) Say(r Rect, x, y int, pieces ...Said) int {
	for _, s := range pieces {
		if x+displaywidth.String(s.Text) > r.W {
			return x
		}
		x = p.Text(r, x, y, s.Text, s.Ink)
	}
	return x
}

// String returns the page as lines of text with the theme's colours, each row as
// few runs as it has inks. Blanks at the end of a row are left out: a screen is clear
// before it is drawn.
func (p *Page) String(t *Theme) string {
	var b strings.Builder
	b.Grow(p.W * p.H * 2)
	for y := range p.H {
		if y > 0 {
			b.WriteByte('\n')
		}
		row := p.cells[y*p.W : (y+1)*p.W]
		for len(row) > 0 && row[len(row)-1] == (cell{" ", Body}) {
			row = row[:len(row)-1]
		}
		for x := 0; x < len(row); {
			ink := row[x].ink
			b.WriteString(t.on[ink])
			for ; x < len(row) && row[x].ink == ink; x++ {
				b.WriteString(row[x].text)
			}
			b.WriteString(t.off[ink])
		}
	}
	return b.String()
}

// Plain returns the page without colour and without blanks at line ends.
func (p *Page) Plain() string {
	var b strings.Builder
	for y := range p.H {
		var line strings.Builder
		for _, c := range p.cells[y*p.W : (y+1)*p.W] {
			line.WriteString(c.text)
		}
		b.WriteString(strings.TrimRight(line.String(), " "))
		b.WriteByte('\n')
	}
	return b.String()
}
