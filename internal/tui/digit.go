package tui

// The digits of the wall: square, open letterforms on a grid of 5 × 7. The 5 is
// flat, the 6 and the 9 are open, the 1 stands on a slab, the 3 has a short bar, the
// 4 a high shoulder and the 8 a narrow head, so that no two of them are alike from ten
// metres: a test holds that any pair differs in a quarter of its area. Where that
// leaves a choice, it is the form that changes fewer cells from second to second.
var digits = map[rune][7]string{
	'0': {"#####", "#...#", "#...#", "#...#", "#...#", "#...#", "#####"},
	'1': {"..#..", "###..", "..#..", "..#..", "..#..", "..#..", "#####"},
	'2': {"#####", "....#", "....#", "#####", "#....", "#....", "#####"},
	'3': {"#####", "....#", "....#", "...##", "....#", "....#", "#####"},
	'4': {"#....", "#....", "#...#", "#####", "....#", "....#", "....#"},
	'5': {"#####", "#....", "#....", "#####", "....#", "....#", "#####"},
	'6': {"#....", "#....", "#....", "#####", "#...#", "#...#", "#####"},
	'7': {"#####", "....#", "....#", "....#", "....#", "....#", "....#"},
	'8': {".###.", ".#.#.", ".#.#.", "#####", "#...#", "#...#", "#####"},
	'9': {"#####", "#...#", "#...#", "#####", "....#", "....#", "....#"},
	':': {".", ".", "#", ".", "#", ".", "."},
	'.': {".", ".", ".", ".", ".", ".", "#"},
	'-': {"...", "...", "...", "###", "...", "...", "..."},
}

// figure is a glyph at one size: lit pixels, row by row.
type figure struct {
	w, h int
	lit  []bool
}

func (f *figure) at(x, y int) bool { return x < f.w && y < f.h && f.lit[y*f.w+x] }

// drawDigit scales a glyph to h pixel rows with a unit of unit pixel columns.
// Bars stay equally thick: the height left over by the three of them is shared
// between the two gaps. h is at least 7; ok is false for a rune without a glyph.
func drawDigit(r rune, unit, h int) (figure, bool) {
	rows, ok := digits[r]
	if !ok {
		return figure{}, false
	}
	bar := (h + 3) / 7
	upper := (h - 3*bar) / 2
	if bar >= 8 { // large enough to stand on the edges of cells: a row less of each bar to draw
		bar &^= 1
		upper = (h - 3*bar) / 2 &^ 1
	}
	lower := h - 3*bar - upper
	heights := [7]int{bar, upper - upper/2, upper / 2, bar, lower / 2, lower - lower/2, bar}
	if len(rows[0]) == 1 { // dots are as high as a bar
		heights = [7]int{bar, upper - bar, bar, bar, bar, lower - bar, bar}
	}
	f := figure{w: unit * len(rows[0]), h: h, lit: make([]bool, unit*len(rows[0])*h)}
	y := 0
	for i, row := range rows {
		for range heights[i] {
			for x := range f.w {
				f.lit[y*f.w+x] = row[x/unit] == '#'
			}
			y++
		}
	}
	return f, true
}
