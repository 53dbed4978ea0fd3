package tui

// perPerson is the rows of one person on the large board: three for the name and
// what moves, one for the stack, one blank.
const perPerson = 5

// drawLarge is the board for the room, where one part with one station fits on the
// screen in the three-row face: a column an implement, its people below each
// other. It reports whether it did; else the board is a page of lines.
func (b *boardroom) drawLarge(p *Page, r Rect, k *Look) bool {
	if k.Mode == Hashes || len(b.plan.Parts) != 1 || len(b.plan.Parts[0].Stations) != 1 {
		return false
	}
	pp := &b.plan.Parts[0]
	fit := b.fit(&b.board.Parts[0], k)
	notes := b.findings(k, r.W)
	on := pp.Stations[0].On
	w := r.W / max(1, len(on))
	most := make([]int, pp.Heats)
	need := len(fit) + 1 + len(notes)
	for h := range most {
		for i := range on {
			most[h] = max(most[h], len(b.lanePeople(pp, h+1, 0, on[i].Name)))
		}
		need += 1 + most[h]*perPerson
	}
	if w < 44 || need > r.H {
		return false
	}
	y := p.rows(r, 0, fit) + 1
	for h := range most {
		for i := range on {
			b.column(p, Rect{r.X + i*w, r.Y + y, w - 2, 1 + most[h]*perPerson}, h+1, on[i].Name, k)
		}
		y += 1 + most[h]*perPerson
	}
	p.rows(r, y, notes)
	return true
}

// rows writes lines of pieces from row y of r on and returns the row after them.
func (p *Page) rows(r Rect, y int, rows [][]Said) int {
	for _, row := range rows {
		x := 0
		for _, s := range row {
			x = p.Text(r, x, y, s.Text, s.Ink)
		}
		y++
	}
	return y
}

// column is the people of one implement in one heat.
func (b *boardroom) column(p *Page, r Rect, heat int, on string, k *Look) {
	pp := &b.plan.Parts[0]
	head := clean(on)
	if pp.Heats > 1 {
		head += k.signs.dot + "heat " + itoa(heat)
	}
	p.Text(r, 0, 0, head, Turn)
	for n, i := range b.lanePeople(pp, heat, 0, on) {
		at := r.rows(1+n*perPerson, perPerson)
		spot := &pp.Places[i].Spots[0]
		name, ink := clean(b.plan.People[i].Name), Strong
		if i == b.at {
			ink = Ready
		}
		x, ok := p.Large(at, 0, name, k.Mode, ink)
		if !ok {
			x = p.Text(at, 0, 1, name, ink)
		}
		load := k.Style.Mass(spot.Moves)
		if _, ok := p.Large(at, x+3, load, k.Mode, Work); !ok {
			p.Text(at, x+2, 1, load, Work)
		}
		mark := "  "
		if i == b.at {
			mark = k.signs.working + " "
		}
		row := []Said{{mark, Ready}, {b.plan.People[i].Key + "  ", KeyInk}, {load + "  " + stack(spot), Body}}
		if spot.Est {
			row = append(row, Said{"  estimated", Warn})
		}
		p.rows(at, 3, [][]Said{row})
	}
}
