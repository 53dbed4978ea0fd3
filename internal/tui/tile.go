package tui

import (
	"strings"
	"time"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/measure"
)

// drawDesk draws the tiles, scrolled so that the chosen one is among them.
func (s *Scene) drawDesk(p *Page, l *Layout, k *Look) {
	n, first := l.shown(), s.first(l)
	if n == 0 {
		return
	}
	for i := first; i < len(s.Tiles) && i-first < n; i++ {
		s.drawTile(p, l.tile(i-first), i, k)
	}
}

// more says how many tiles have no room, "" where all have.
func (s *Scene) more(l *Layout) string {
	if left := len(s.Tiles) - l.shown(); left > 0 && l.Columns > 0 {
		return itoa(left) + " more"
	}
	return ""
}

// first is the first tile shown, so that the chosen one is in sight.
func (s *Scene) first(l *Layout) int {
	if n := l.shown(); n > 0 && s.Chosen >= n {
		return (s.Chosen - n + l.Columns) / l.Columns * l.Columns
	}
	return 0
}

// TileAt returns the person whose tile is at a cell, -1 for none.
func (s *Scene) TileAt(l *Layout, x, y int) int {
	for i := s.first(l); i < len(s.Tiles); i++ {
		if r := l.tile(i - s.first(l)); x >= r.X && x < r.X+r.W && y >= r.Y && y < r.Y+r.H {
			return s.Tiles[i].Person
		}
	}
	return -1
}

// drawTile draws one person: a bar and a shape for the state, key, name, sled and
// load, then the stack and the handover, the rope, and last time's knots.
func (s *Scene) drawTile(p *Page, r Rect, i int, k *Look) {
	if r.Empty() {
		return
	}
	t := &s.Tiles[i]
	shape, words, ink := s.doing(t, k)
	bar := k.signs.bar
	if i == s.Chosen {
		bar = k.signs.chosen
	}
	for y := range r.H {
		p.put(r.X, r.Y+y, bar, ink)
	}
	in := Rect{r.X + 2, r.Y, r.W - 2, r.H}
	s.tileHead(p, in, i, said{shape, words, ink}, k)
	switch {
	case r.H == 2 && s.fetching(t):
		p.Text(in, 0, 1, s.platesIn(&t.Place, in.W), Body)
	case r.H == 2:
		s.tileRope(p, in, 1, i, k)
	case r.H >= 3:
		if left := s.tileLoad(p, in.rows(1, 1), t, k); left != "" && s.fetching(t) {
			p.Text(in, 0, 2, left, Turn)
		} else {
			s.tileRope(p, in, 2, i, k)
		}
	}
	if r.H >= 4 && s.Before != nil {
		p.FaintRope(ropeOf(in), 3, s.Before[i], s.span(t.Person), k.signs)
	}
}

// fetching reports whether a part is yet to begin, and its plates are put on the sled
// of this tile: they then have the row of the rope, where they need it.
func (s *Scene) fetching(t *floor.Tile) bool {
	switch s.Face.Phase {
	case floor.Waiting, floor.CountIn, floor.Changing:
		return t.State == floor.TileReady || t.State == floor.TileIdle
	default:
		return false
	}
}

// said is a state: its shape, its words and its ink.
type said struct {
	shape, words string
	ink          Ink
}

// tileHead is the first line: the key, the name, the sled, what moves, and on the
// right the state. A narrow tile says the state with its shape alone.
func (s *Scene) tileHead(p *Page, r Rect, i int, st said, k *Look) {
	t := &s.Tiles[i]
	who := &s.Plan.People[t.Person]
	nameInk := Strong
	switch {
	case t.Person == s.Blinked:
		nameInk = Blink
	case i == s.Chosen:
		nameInk = Chosen
	case t.State == floor.TileAway || t.State == floor.TileLeft || t.State == floor.TileIdle:
		nameInk = Body
	}
	load := ""
	if t.Place.On != "" {
		load = join(" ", clean(t.Place.On), k.Style.Mass(t.Place.Moves))
	}
	state, gap := st.shape+" "+st.words, 2
	if r.W < 30 {
		state, gap, load = st.shape, 1, k.Style.Mass(t.Place.Moves)
	}
	if r.W >= 30 && r.W-displaywidth.String(who.Key+clean(who.Name)+load+state) < 6 {
		state = st.brief()
	}
	right := r.W - displaywidth.String(state)
	x := p.Say(r, 0, 0, Said{who.Key + " ", KeyInk})
	room := right - x - displaywidth.String(load) - gap - 1
	p.Text(Rect{r.X, r.Y, x + max(3, room), 1}, x, 0, clean(who.Name), nameInk)
	p.Text(Rect{r.X, r.Y, right - 1, 1}, max(right-displaywidth.String(load)-gap, x+4), 0, load, Body)
	p.Text(r, right, 0, state, st.ink)
}

// brief is a state with its shape and its time alone, or the word that tells most.
func (st said) brief() string {
	i := strings.LastIndexByte(strings.TrimSuffix(st.words, " min"), ' ')
	if strings.ContainsRune(st.words[i+1:], ':') || strings.HasSuffix(st.words, " min") {
		return st.shape + st.words[max(0, i):]
	}
	if before, ok := strings.CutSuffix(st.words, " to start"); ok {
		return st.shape + " " + before
	}
	return st.shape + " " + st.words
}

// tileLoad is the second line: the stack now, what changes for the next one, and
// the plates of the handover. It returns these where they have no room.
func (s *Scene) tileLoad(p *Page, r Rect, t *floor.Tile, k *Look) (left string) {
	g := k.signs
	x := p.Text(r, 0, 0, s.platesIn(&t.Place, r.W), Body)
	if t.AllLegs > 1 {
		x = p.Text(r, x, 0, g.dot+"leg "+itoa(min(t.Legs+1, t.AllLegs))+" of "+itoa(t.AllLegs), Body)
	}
	if n := t.Next; n != nil && n.On != "" && (n.On != t.Place.On || n.Moves != t.Place.Moves) {
		on := ""
		if n.On != t.Place.On {
			on = clean(n.On)
		}
		x = p.Text(r, x, 0, join(" ", " "+g.arrow, on, k.Style.Mass(n.Moves)), Ready)
	}
	words := handover(t)
	if words == "" || t.State == floor.TileWork {
		return ""
	}
	if x+2+displaywidth.String(words) > r.W {
		return words
	}
	p.Right(r, x+2, 0, words, Turn)
	return ""
}

// ropeOf is the part of a tile's row that ropes are drawn in, the same for all its
// rows: what is left of the last split and its margin.
func ropeOf(r Rect) Rect {
	if r.W >= 30 {
		r.W -= 18
	}
	return r
}

// tileRope is the rope line, with the last split and its margin on the right.
func (s *Scene) tileRope(p *Page, r Rect, y, i int, k *Look) {
	t := &s.Tiles[i]
	rope := ropeOf(r)
	switch {
	case rope.W == r.W:
	case r.H == 2 && (t.State == floor.TileReady || t.Last == floor.None):
		// Two rows have no line for the stack. One of many plates has the end of the rope.
		plates := s.platesIn(&t.Place, r.W-rope.W-1)
		if left := r.W - 1 - displaywidth.String(plates); left > 0 {
			rope.W = min(rope.W, left)
		}
		p.Right(r, rope.W+1, y, plates, Body)
	case t.Last != floor.None:
		text, ink := k.Style.Split(t.Last), Rest
		if t.Margin != floor.None {
			switch {
			case t.Margin < 0:
				text, ink = text+" late "+margin(t.Margin, k), Stopped
			case s.thin(t.Margin):
				text, ink = text+" thin "+margin(t.Margin, k), Warn
			default:
				text += " " + margin(t.Margin, k)
			}
		}
		p.Right(r, rope.W, y, text, ink)
	}
	p.Rope(rope, y, s.Rounds[i], s.span(t.Person), s.Now, k.signs)
}

// margin is the time between finishing and the next start, with its sign.
func margin(m time.Duration, k *Look) string {
	if m < 0 {
		return k.Style.Split(m)
	}
	return "+" + measure.Clock(m.Truncate(time.Second))
}
