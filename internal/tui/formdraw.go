package tui

import (
	"slices"
	"strings"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/movement"
)

// draw puts the form on the left, or on top of a narrow screen.
func (f *form) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	right := ""
	s, ok := f.sheet.(living)
	if ok {
		right = s.short()
	}
	next := "next"
	if f.at == len(f.rows)-1 {
		next = "write it"
	}
	hints := []Hint{{"Enter", next}, {"up, down", "field"}, {"Ctrl-S", "write it"}, {"Esc", "back, kept"}}
	if f.rows[f.at].options != nil {
		hints[1] = Hint{"arrows", "choose, field"}
	}
	if m.w < 60 {
		hints = []Hint{{"Enter", next}, {"Ctrl-S", "write"}, {"Esc", "back"}}
		if f.at == len(f.rows)-1 {
			hints[0].Does = "write"
		}
	}
	r := frame(p, &m.look, strings.ToUpper(f.sheet.title()[:1])+f.sheet.title()[1:], right, "", hints)
	r = f.foot(p, r, m)
	if r.W >= 76 {
		w := min(r.W*9/20, 56)
		f.drawRows(p, Rect{r.X, r.Y, w, r.H}, &m.look)
		rest := Rect{r.X + w + 2, r.Y, r.W - w - 2, r.H}
		p.rows(rest, 0, f.panel(m, rest.W))
		return p
	}
	h := min(len(f.rows), r.H)
	f.drawRows(p, r.rows(0, h), &m.look)
	if rest := r.rows(h+1, r.H); rest.H >= 3 {
		p.rows(rest, 0, f.panel(m, rest.W))
	}
	return p
}

// panel is what the sheet has to say, below the card of a movement that is being
// chosen.
func (f *form) panel(m *Model, w int) [][]Said {
	rows := f.sheet.panel(m, w)
	if mv, ok := movement.Find(f.rows[f.at].card); ok {
		rows = slices.Concat(card(&mv, w), [][]Said{nil}, rows)
	}
	return rows
}

// card is what a coach should know of a movement: what it tires, what it can stand
// in for, and its cautions.
func card(mv *movement.Movement, w int) [][]Said {
	rows := [][]Said{{{mv.Name, Strong}, {", " + mv.Pattern, Dim}}}
	for _, line := range []string{"tires " + strings.Join(mv.Tires, ", "), "can stand in for " + strings.Join(mv.StandsIn, "; ")} {
		rows = append(rows, told(line, w)...)
	}
	for _, caution := range mv.Cautions {
		rows = append(rows, told(caution, w)...)
	}
	return rows
}

// foot says at the bottom what is wrong with the row, else what is doubtful, else
// what can be written there, and returns the room above.
func (f *form) foot(p *Page, r Rect, m *Model) Rect {
	text, ink := f.say, Warn
	if f.good {
		ink = Rest
	}
	if s, ok := f.sheet.(doubting); ok && text == "" {
		text = s.doubt(m)
	}
	if text == "" {
		text, ink = f.rows[f.at].hint, Dim
	}
	if text == "" {
		return r
	}
	lines := wrap(clean(text), r.W)
	lines = lines[:min(len(lines), max(1, r.H/3))]
	for i, line := range lines {
		p.Text(r, 0, r.H-len(lines)+i, line, ink)
	}
	return r.rows(0, r.H-len(lines))
}

// drawRows draws a window of the rows with the one being filled in among them.
func (f *form) drawRows(p *Page, r Rect, k *Look) {
	label := 0
	for i := range f.rows {
		label = max(label, displaywidth.String(f.rows[i].name))
	}
	label = min(label+4, r.W/2)
	w := r.W - label
	f.huh.WithWidth(w).WithHeight(len(f.rows))
	f.huh.Update(nil)
	lines := strings.Split(f.huh.View(), "\n")
	gap := 1
	if r.H >= 2*len(f.rows) {
		gap = 2
	}
	first := scroll(f.at, len(f.rows), r.H/gap)
	for i := first; i < len(f.rows); i++ {
		y, row := (i-first)*gap, &f.rows[i]
		mark, ink := "  ", Dim
		switch {
		case i == f.at:
			mark, ink = k.signs.working+" ", Strong
		case *row.value != "" && row.wrong() != "":
			mark, ink = k.signs.late+" ", Warn
		}
		p.Text(r.rows(y, 1), 0, 0, mark+row.name, ink)
		at := Rect{r.X + label, r.Y + y, w, min(1, r.H-y)}
		if *row.value == "" && i != f.at && row.options == nil {
			p.Text(at, 0, 0, row.empty, Dim)
		} else if i < len(lines) {
			p.Paste(at, k.theme, lines[i])
		}
	}
}
