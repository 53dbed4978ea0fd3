package tui

// perPerson is the rows of one person on the large board in a column of w: three
// for the name and what moves, one for the stack, one blank; in a narrow column
// the name stands over the load.
func perPerson(w int) int {
	if w >= 66 {
		return 5
	}
	return 7
}

// drawLarge is the board for the room, where one part with one station fits on the
// screen in the three-row face: a column an implement, its people below each
// other. It reports whether it did; else the board is a page of lines.
func (b *boardroom) drawLarge(p *Page, r Rect, k *Look) bool {
	if k.Mode == Hashes || len(b.plan.Parts) != 1 || len(b.plan.Parts[0].Stations) != 1 {
		return false
	}
	pp := &b.plan.Parts[0]
	fit := b.fit(&b.board.Parts[0], k, r.W)
	notes := b.findings(k, r.W)
	on := pp.Stations[0].On
	w := r.W / max(1, len(on))
	most := make([]int, pp.Heats)
	need := len(fit) + 1 + len(notes)
	for h := range most {
		for i := range on {
			most[h] = max(most[h], len(b.lanePeople(pp, h+1, 0, on[i].Name)))
		}
		need += 1 + most[h]*perPerson(w)
	}
	if w < 44 || need > r.H {
		return false
	}
	y := p.rows(r, 0, fit) + 1
	for h := range most {
		for i := range on {
			b.column(p, Rect{r.X + i*w, r.Y + y, w - 2, 1 + most[h]*perPerson(w)}, h+1, on[i].Name, k)
		}
		y += 1 + most[h]*perPerson(w)
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
	each := perPerson(r.W + 2)
	for n, i := range b.lanePeople(pp, heat, 0, on) {
		b.person(p, r.rows(1+n*each, each), i, k)
	}
}

// person is one on the large board.
func (b *boardroom) person(p *Page, r Rect, i int, k *Look) {
	spot := &b.plan.Parts[0].Places[i].Spots[0]
	mark, ink := "  ", Strong
	if i == b.at.who {
		mark, ink = k.signs.working+" ", Ready
	}
	name, load := clean(b.plan.People[i].Name), k.Style.Mass(spot.Moves)
	x, ok := p.Large(r, 0, name, k.Mode, ink)
	if !ok {
		x = p.Text(r, 0, 1, name, ink)
	}
	note := []Said{{mark, Ready}, {b.plan.People[i].Key + "  ", KeyInk}, {stack(spot), Body}}
	if spot.Swap != "" {
		note = append(note, Said{"  " + clean(spot.Swap), Turn})
	}
	if spot.Est {
		note = append(note, Said{"  estimated", Warn})
	}
	at := r
	if r.H < perPerson(0) {
		x, ok = p.Large(at, x+3, load, k.Mode, Work)
		p.rows(r, 3, [][]Said{note})
	} else {
		at = r.rows(3, 3)
		x, ok = p.Large(at, 0, load, k.Mode, Work)
		p.rows(Rect{at.X + x + 1, at.Y, at.W - x - 1, at.H}, 1, [][]Said{note})
	}
	if !ok {
		p.Text(at, x, 1, load, Work)
	}
}
