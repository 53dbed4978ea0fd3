package tui

// Share is which of the wall and the desk has the screen.
type Share uint8

// The shares, in the order that the view key goes through them.
const (
	Both Share = iota
	WallAlone
	DeskAlone
)

// Ask is what a layout has to find room for.
type Ask struct {
	Share Share
	Mode  Mode
	Tiles int  // people on the desk
	Strip int  // rows of an open strip; 0: none
	Knots bool // last time's knots are known
}

// Layout says what stands where. Parts that had to go are empty rectangles.
// TextOnly is set below 40 × 12, where a line of text is all there is.
type Layout struct {
	TextOnly   bool
	Head       Rect // session, part, end of the class
	Phase      Rect // one row, or three and a blank
	Digits     Rect
	Least      int  // rows that the digits have in any case: a third of the height
	Next       Rect // one row, or three for each line of the three-row face
	Tiles      Rect
	Columns    int
	TileRows   int // rows of one tile: 4 with last time's knots, 3, 2 or 1
	Gap        int // blank rows after a tile
	Strip      Rect
	Say        Rect // what was just done or refused; empty: it stands in Foot
	Foot       Rect // the keys of the moment
	LargePhase bool
	LargeNext  bool
	Times      int // how large the pixels of the three-row face are: 1 to 3
}

// step is one stage of giving things up, from all to the barest.
type step struct {
	rows, gap  int
	next, word bool // in the three-row face
}

// steps is the order in which parts drop: last time's knots, the three-row face,
// tiles down to one line. The digits keep their third of the height throughout.
var steps = []step{
	{4, 1, true, true},
	{3, 1, true, true},
	{3, 0, true, true},
	{3, 0, true, false},
	{3, 0, false, false},
	{2, 0, false, false},
	{1, 0, false, false},
}

// Lay divides a screen of w × h.
func Lay(w, h int, a Ask) Layout {
	l := Layout{TextOnly: w < 40 || h < 12}
	if l.TextOnly {
		return l
	}
	all := Rect{0, 0, w, h}
	l.Head, l.Foot = all.rows(0, 1), all.rows(h-1, 1)
	bottom := h - 1
	if h >= 18 {
		bottom--
		l.Say = all.rows(bottom, 1)
	}
	if a.Strip > 0 {
		bottom -= a.Strip
		l.Strip = all.rows(bottom, a.Strip)
	}
	body := all.rows(1, bottom-1)
	l.Least = max((h+2)/3, a.Mode.least())
	l.Times = max(1, min(3, h/27, w/90)) // 1 at 120 × 40, 2 at 200 × 60, 3 at 320 × 90
	switch {
	case a.Share == WallAlone || a.Tiles == 0:
		l.wall(body, a)
	case a.Share == DeskAlone:
		l.under(body, a)
	case 10*w > 33*h && w >= 76:
		l.widest(body, a)
	default:
		l.above(body, a)
	}
	return l
}

// widest puts the desk beside the wall, unless the digits are a good deal larger
// with it below and nothing else is smaller.
func (l *Layout) widest(body Rect, a Ask) {
	side, below := *l, *l
	side.beside(body, a)
	below.above(body, a)
	rows := func(l *Layout) int { return a.Mode.fit("88:88", l.Digits.W-2, l.Digits.H, l.Least).rows }
	same := below.LargePhase == side.LargePhase && below.LargeNext == side.LargeNext || a.Mode == Hashes // which has one face only
	if *l = side; same && 4*rows(&below) >= 5*rows(&side) {
		*l = below
	}
}

// wall gives the body to the digits, the phase and what is next.
func (l *Layout) wall(body Rect, a Ask) {
	for _, s := range []step{{next: true, word: true}, {next: true}, {}} {
		phase, next := l.heads(s, a)
		if digits := body.H - phase - next; digits >= l.Least || s == (step{}) {
			useful := min(digits, max(l.Least, a.Mode.fit("88:88", body.W-4, digits, l.Least).rows+2))
			if s.next { // what the digits cannot use shows more of what is next
				line := max(next, face3Rows(1)+1)
				next += (digits - useful) / line * line
			}
			l.stack(body, phase, body.H-phase-next, next)
			return
		}
	}
}

// beside puts the wall left and the desk right, on a wide screen.
func (l *Layout) beside(body Rect, a Ask) {
	left := body
	left.W = body.W * 9 / 16
	right := Rect{body.X + left.W + 2, body.Y, body.W - left.W - 3, body.H}
	l.wall(left, a)
	l.desk(right, a, steps[0])
}

// under keeps the digits to their third, with the phase and what is next beside
// them, and gives the rest to the desk.
func (l *Layout) under(body Rect, a Ask) {
	l.Digits = body.rows(0, l.Least)
	y := l.Least
	if cols := a.Mode.fit("88:88", body.W-2, l.Least, l.Least).cols + 4; body.W-cols >= 26 {
		l.Digits.W = cols
		side := Rect{body.X + cols, body.Y, body.W - cols, l.Least}
		phase := 1
		if side.H >= 8 && side.W >= 40 && a.Mode != Hashes {
			phase, l.LargePhase = face3Rows(l.Times)+1, true
		}
		l.Phase = side.rows(0, phase)
		l.Next = side.rows(phase+1, side.H)
		l.LargeNext = l.Next.H >= face3Rows(l.Times) && side.W >= 60*l.Times && a.Mode != Hashes
	} else {
		l.Phase = body.rows(y, 1)
		y++
	}
	l.desk(body.rows(y+1, body.H), a, steps[0])
}

// above puts the wall over the desk and gives things up until both fit; the rows
// that are left go to the digits as far as they can use them.
func (l *Layout) above(body Rect, a Ask) {
	for i, s := range steps {
		if s.rows == 4 && !a.Knots {
			continue
		}
		phase, next := l.heads(s, a)
		columns := columnsFor(body.W, s.rows)
		desk := (a.Tiles+columns-1)/columns*(s.rows+s.gap) - s.gap
		if i < len(steps)-1 && phase+l.Least+next+desk > body.H {
			continue
		}
		if phase+l.Least+next+desk > body.H {
			next = 0
		}
		room := max(l.Least, min(body.H-phase-next-desk, a.Mode.fit("88:88", body.W-4, body.H, l.Least).rows+1))
		l.stack(body, phase, room, next)
		y := phase + room + next
		l.desk(body.rows(y, body.H-y), a, s)
		return
	}
}

// heads returns the rows of the phase and of what is next.
func (l *Layout) heads(s step, a Ask) (phase, next int) {
	phase, next = 1, 1
	if s.word && a.Mode != Hashes {
		phase = face3Rows(l.Times) + 1
	}
	if s.next && a.Mode != Hashes {
		next = face3Rows(l.Times) + 1
	}
	return phase, next
}

func (l *Layout) stack(body Rect, phase, digits, next int) {
	l.Phase = body.rows(0, phase)
	l.Digits = body.rows(phase, max(l.Least, digits-1)) // a blank row below, where there is one to spare
	l.Next = body.rows(phase+digits, next)
	l.LargePhase, l.LargeNext = phase > 1, next > 1
}

// desk finds the richest tiles that all fit into r, as wide as they can be: a
// longer rope shows more.
func (l *Layout) desk(r Rect, a Ask, from step) {
	l.Tiles = r
	for _, s := range steps {
		if s.rows > from.rows || s.rows == from.rows && s.gap > from.gap || s.rows == 4 && !a.Knots {
			continue
		}
		most := columnsFor(r.W, s.rows)
		for l.Columns = max(1, min(most, r.W/110+1)); ; l.Columns++ {
			l.TileRows, l.Gap = s.rows, s.gap
			if (a.Tiles+l.Columns-1)/l.Columns*(s.rows+s.gap)-s.gap <= r.H {
				return
			}
			if l.Columns >= most {
				break
			}
		}
	}
}

// columnsFor returns how many tiles of that many rows stand side by side: a tile
// of one line can do with 19 columns, a fuller one wants 38.
func columnsFor(w, rows int) int {
	least := 38
	if rows == 1 {
		least = 19
		if w >= 76 {
			least = 38
		}
	}
	return max(1, min(4, w/least))
}

// tile returns the rectangle of the i-th tile, counted from the first shown; empty
// where there is no room for it.
func (l *Layout) tile(i int) Rect {
	if l.Columns == 0 {
		return Rect{}
	}
	w := (l.Tiles.W - (l.Columns - 1)) / l.Columns
	x, y := i%l.Columns, i/l.Columns*(l.TileRows+l.Gap)
	if y+l.TileRows > l.Tiles.H {
		return Rect{}
	}
	return Rect{l.Tiles.X + x*(w+1), l.Tiles.Y + y, w, l.TileRows}
}

// shown returns how many tiles there is room for.
func (l *Layout) shown() int {
	if l.Columns == 0 || l.TileRows == 0 {
		return 0
	}
	return (l.Tiles.H + l.Gap) / (l.TileRows + l.Gap) * l.Columns
}
