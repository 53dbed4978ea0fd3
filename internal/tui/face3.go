package tui

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// The three-row face: capitals five half-block pixels high, for the next loads
// and the phase, since a line of text cannot be read across a room. Rows are
// divided by '/'. The last are the shapes of phases; the one of waiting is three dots,
// since a ring would read as an O. On a very large screen each pixel is drawn two or
// three times as large.
var face3 = map[rune]string{
	'A': ".##./#..#/####/#..#/#..#", 'B': "###./#..#/###./#..#/###.", 'C': ".###/#.../#.../#.../.###",
	'D': "###./#..#/#..#/#..#/###.", 'E': "####/#.../###./#.../####", 'F': "####/#.../###./#.../#...",
	'G': ".###/#.../#.##/#..#/.###", 'H': "#..#/#..#/####/#..#/#..#", 'I': "###/.#./.#./.#./###",
	'J': "...#/...#/...#/#..#/.##.", 'K': "#..#/#.#./##../#.#./#..#", 'L': "#.../#.../#.../#.../####",
	'M': "#...#/##.##/#.#.#/#...#/#...#", 'N': "#...#/##..#/#.#.#/#..##/#...#", 'O': ".##./#..#/#..#/#..#/.##.",
	'P': "###./#..#/###./#.../#...", 'Q': ".##./#..#/#..#/#.#./.#.#", 'R': "###./#..#/###./#.#./#..#",
	'S': ".###/#.../.##./...#/###.", 'T': "#####/..#../..#../..#../..#..", 'U': "#..#/#..#/#..#/#..#/.##.",
	'V': "#...#/#...#/.#.#./.#.#./..#..", 'W': "#...#/#...#/#.#.#/##.##/#...#", 'X': "#...#/.#.#./..#../.#.#./#...#",
	'Y': "#...#/.#.#./..#../..#../..#..", 'Z': "####/..##/.##./##../####",
	'0': "####/#..#/#..#/#..#/####", '1': ".#./##./.#./.#./###", '2': "####/...#/####/#.../####",
	'3': "####/...#/.###/...#/####", '4': "#.#./#.#./####/..#./..#.", '5': "####/#.../####/...#/####",
	'6': "#.../#.../####/#..#/####", '7': "####/...#/...#/..#./..#.", '8': ".##./#..#/.##./#..#/.##.",
	'9': "####/#..#/####/...#/...#",
	'+': ".../.#./###/.#./...", '-': ".../.../###/.../...", '.': "././././#", ',': "../../../.#/#.",
	':': "./#/./#/.", '/': "..#/..#/.#./#../#..", '\'': "#/#/././.", ' ': "../../../../..",
	'►': "#.../###./####/###./#...", '■': "####/####/####/####/####", '●': ".##./####/####/####/.##.",
	'▲': "..#../.###./.###./#####/#####", '◊': "..#../.#.#./#...#/.#.#./..#..", '○': "...../...../#.#.#/...../.....",
	'□': "#####/#...#/#...#/#...#/#####",
}

// unfold gives capitals to letters that are not an accented capital.
var unfold = strings.NewReplacer("Ø", "O", "Æ", "AE", "Œ", "OE", "ß", "SS", "Þ", "TH", "Ð", "D", "Đ", "D", "Ł", "L", "×", "X", "·", " ", "–", "-", "’", "'")

// spell returns s in the letters of the three-row face, and whether it has them all.
func spell(s string) (string, bool) {
	s = unfold.Replace(strings.ToUpper(s))
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		if unicode.Is(unicode.Mn, r) {
			continue
		}
		if _, ok := face3[r]; !ok {
			return "", false
		}
		b.WriteRune(r)
	}
	return b.String(), true
}

// face3Width returns the columns of a spelled text.
func face3Width(s string) int {
	w := 0
	for _, r := range s {
		w += strings.IndexByte(face3[r], '/') + 1
	}
	return max(0, w-1)
}

// face3Rows is the rows of the face with its pixels drawn that many times as large.
func face3Rows(times int) int { return (5*times + 1) / 2 }

// Large writes s in the three-row face from column x of r on and returns the
// column after it, or false where s cannot be spelled, is too wide or too high,
// or the terminal has no blocks.
func (p *Page) Large(r Rect, x int, s string, mode Mode, ink Ink) (int, bool) {
	return p.LargeTimes(r, x, 1, s, mode, ink)
}

// canLarge reports whether s can stand in r in the three-row face.
func canLarge(r Rect, times int, s string, mode Mode) bool {
	text, ok := spell(s)
	return ok && mode != Hashes && r.H >= face3Rows(times) && times*face3Width(text) <= r.W
}

// LargeTimes is Large with pixels that many times as large.
func (p *Page) LargeTimes(r Rect, x, times int, s string, mode Mode, ink Ink) (int, bool) {
	if !canLarge(Rect{W: r.W - x, H: r.H}, times, s, mode) {
		return x, false
	}
	text, _ := spell(s)
	for _, c := range text {
		rows := strings.Split(face3[c], "/")
		f := figure{w: times * len(rows[0]), h: times * len(rows)}
		for y := range f.h {
			for i := range f.w {
				f.lit = append(f.lit, rows[y/times][i/times] == '#')
			}
		}
		g := Halves.pack(f)
		g.draw(p, r.X+x, r.Y, ink)
		x += g.w + times
	}
	return x, true
}
