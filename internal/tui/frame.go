package tui

// room is what a frame leaves of a page: see [frame].
func room(p *Page, say string) Rect {
	bottom := p.H - 1
	if say != "" {
		bottom--
	}
	top := 2
	if p.H >= 18 {
		top = 3
	}
	return p.All().rows(top, bottom-top).in(1)
}

// frame draws what the screens outside a run share: the title over a rope, the
// keys at the bottom, and the last word said. It returns the room between.
func frame(p *Page, k *Look, title, right, say string, keys []Hint) Rect {
	all := p.All()
	x := p.Text(all, 1, 0, title, Strong)
	p.Right(Rect{0, 0, p.W - 1, 1}, x+2, 0, right, Dim)
	// the rope under the title: taut, a knot, slack
	knot := min(p.W-1, x)
	for i := range p.W {
		switch {
		case i < knot:
			p.put(i, 1, k.signs.taut, Rest)
		case i == knot:
			p.put(i, 1, k.signs.knot, Rest)
		default:
			p.put(i, 1, k.signs.slack, Dim)
		}
	}
	foot := all.rows(p.H-1, 1).in(1)
	p.Hints(foot, k.keys.hints(keys))
	if say != "" {
		p.Text(all.rows(p.H-2, 1).in(1), 0, 0, say, Warn)
	}
	return room(p, say)
}

// scroll returns the first of n rows to show so that row at is among those of a
// window of h.
func scroll(at, n, h int) int {
	return max(0, min(at-h/2, n-h))
}
