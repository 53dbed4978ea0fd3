package tui

// Mode is how pixels become characters.
type Mode uint8

// The modes. Quadrants and halves are in nearly every font; '#' is in all.
const (
	Quadrants Mode = iota // 2 × 2 pixels a cell
	Halves                // 1 × 2
	Hashes                // 1 × 1
)

// grain returns the pixels of a cell across and down.
func (m Mode) grain() (across, down int) {
	switch m {
	case Quadrants:
		return 2, 2
	case Halves:
		return 1, 2
	default:
		return 1, 1
	}
}

// least is the fewest rows in which the digits can be told apart: seven pixels.
func (m Mode) least() int {
	if m == Hashes {
		return 7
	}
	return 4
}

// blocks are the sixteen quadrant characters by the bits upper left 1, upper
// right 2, lower left 4, lower right 8.
var blocks = [16]string{" ", "▘", "▝", "▀", "▖", "▌", "▞", "▛", "▗", "▚", "▐", "▜", "▄", "▙", "▟", "█"}

// glyph is a figure as rows of cells.
type glyph struct {
	w, h  int
	cells []string
}

// pack turns a figure into cells.
func (m Mode) pack(f figure) glyph {
	across, down := m.grain()
	g := glyph{w: (f.w + across - 1) / across, h: (f.h + down - 1) / down}
	g.cells = make([]string, 0, g.w*g.h)
	for y := range g.h {
		for x := range g.w {
			g.cells = append(g.cells, m.cell(f, x, y))
		}
	}
	return g
}

func (m Mode) cell(f figure, x, y int) string {
	bits := 0
	switch m {
	case Quadrants:
		for i := range 4 {
			if f.at(2*x+i%2, 2*y+i/2) {
				bits |= 1 << i
			}
		}
	case Halves:
		for i := range 2 {
			if f.at(x, 2*y+i) {
				bits |= 3 << (2 * i)
			}
		}
	default:
		if f.at(x, y) {
			return "#"
		}
	}
	return blocks[bits]
}

// Raster draws texts in the digits and keeps each glyph of the size in use, so
// that a second costs a copy. The zero Raster is ready.
type Raster struct {
	mode       Mode
	unit, rows int
	kept       map[rune]glyph
}

// digitSize is a text's size in the digits: the pixel columns of a unit, the rows
// of cells, and the columns it takes.
type digitSize struct{ unit, rows, cols int }

// fit returns the largest size in which text stands in w × h cells. Cells are
// about twice as high as wide; a digit may be up to two fifths higher than its
// square form, to use a tall room, and as high as least rows need; never flatter.
func (m Mode) fit(text string, w, h, least int) digitSize {
	across, down := m.grain()
	pixel := 2 * across // height of a pixel over its width, times down
	unit := max(1, w*across/5)
	for unit > 1 && (m.width(text, unit) > w || 7*unit > h*pixel) {
		unit--
	}
	tall := 7 * unit * down * 7 / (pixel * 5)
	px := min(h*down, max(tall, 7, least*down))
	return digitSize{unit: unit, rows: (px + down - 1) / down, cols: m.width(text, unit)}
}

// width returns the columns of text with that unit, the gaps between glyphs in.
func (m Mode) width(text string, unit int) int {
	across, _ := m.grain()
	w := 0
	for i, r := range text {
		if i > 0 {
			w += m.gap(unit)
		}
		w += (unit*len(digits[r][0]) + across - 1) / across
	}
	return w
}

// gap is the columns between two glyphs.
func (m Mode) gap(unit int) int {
	across, _ := m.grain()
	return max(1, unit/across)
}

// Draw writes text in the middle of r, as large as r allows and at least that many
// rows high, and returns the rows and columns that it takes.
func (k *Raster) Draw(p *Page, r Rect, least int, mode Mode, text string, ink Ink) Rect {
	size := mode.fit(text, r.W, r.H, least)
	if k.kept == nil || k.mode != mode || k.unit != size.unit || k.rows != size.rows {
		*k = Raster{mode: mode, unit: size.unit, rows: size.rows, kept: map[rune]glyph{}}
	}
	_, down := mode.grain()
	at := Rect{r.X + max(0, (r.W-size.cols)/2), r.Y + max(0, (r.H-size.rows)/2), size.cols, size.rows}
	p.Fill(at, " ", ink) // blanks in the ink too: a digit that turns changes no colour on its way
	x := 0
	for _, c := range text {
		g, ok := k.kept[c]
		if !ok {
			f, known := drawDigit(c, size.unit, size.rows*down)
			if !known {
				continue
			}
			g = mode.pack(f)
			k.kept[c] = g
		}
		g.draw(p, at.X+x, at.Y, ink)
		x += g.w + mode.gap(size.unit)
	}
	return at
}

// draw copies a glyph to the page; blanks leave what is there.
func (g *glyph) draw(p *Page, x, y int, ink Ink) {
	for i, c := range g.cells {
		if c != " " {
			p.put(x+i%g.w, y+i/g.w, c, ink)
		}
	}
}
