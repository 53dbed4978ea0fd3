package tui

import (
	"fmt"
	"testing"
)

// TestDigitsDiffer holds that no two digits can be taken for each other from
// afar: at every size from seven pixel rows up and in every mode, a pair differs
// in at least a quarter of the area that either of them lights. The measure is
// the strict one: pixels lit in one only, over pixels lit in one or both.
func TestDigitsDiffer(t *testing.T) {
	t.Parallel()
	for _, mode := range []Mode{Quadrants, Halves, Hashes} {
		across, down := mode.grain()
		least, where := 1.0, ""
		for rows := mode.least(); rows <= 48; rows++ {
			for _, unit := range []int{1, 2, 3, 6} {
				var lit [10][]bool
				for d := range lit {
					lit[d] = shown(t, mode, '0'+rune(d), unit, rows*down)
				}
				for a := range lit {
					for b := range a {
						if d := difference(lit[a], lit[b]); d < least {
							least, where = d, fmt.Sprintf("%d and %d, unit %d, %d rows of %d × %d", b, a, unit, rows, across, down)
						}
					}
				}
			}
		}
		if least < 0.25 {
			t.Errorf("mode %d: least difference %.1f %% (%s), want at least 25 %%", mode, 100*least, where)
		}
	}
}

// shown draws a digit to cells and reads the pixels back from the characters, so
// that what is compared is what stands on the screen.
func shown(t *testing.T, mode Mode, r rune, unit, h int) []bool {
	t.Helper()
	f, ok := drawDigit(r, unit, h)
	if !ok {
		t.Fatalf("no glyph for %c", r)
	}
	g := mode.pack(f)
	var lit []bool
	for _, c := range g.cells {
		bits := 0
		for i, b := range blocks {
			if c == b {
				bits = i
			}
		}
		if c == "#" {
			bits = 15
		}
		for i := range 4 {
			lit = append(lit, bits&(1<<i) != 0)
		}
	}
	return lit
}

func difference(a, b []bool) float64 {
	one, either := 0, 0
	for i := range a {
		if a[i] || b[i] {
			either++
		}
		if a[i] != b[i] {
			one++
		}
	}
	return float64(one) / float64(either)
}

func TestFitStaysInside(t *testing.T) {
	t.Parallel()
	for _, mode := range []Mode{Quadrants, Halves, Hashes} {
		for _, text := range []string{"0:00", "12:34", "1:02:03", "-0:05", "120.5"} {
			for _, w := range []int{30, 40, 61, 120, 320} {
				for _, h := range []int{mode.least(), 9, 20, 47, 80} {
					s := mode.fit(text, w, h, 0)
					_, down := mode.grain()
					if s.rows > h || s.rows*down < 7 || s.cols > w && s.unit > 1 {
						t.Fatalf("fit(%q, %d, %d) in mode %d = %+v", text, w, h, mode, s)
					}
					p := NewPage(w, h)
					var k Raster
					k.Draw(p, p.All(), 0, mode, text, Body)
				}
			}
		}
	}
}
