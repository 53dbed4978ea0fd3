//go:build pty && unix

package cli_test

import (
	"regexp"
	"strings"
)

// countdown is what the large digits say while a class runs.
var countdown = regexp.MustCompile(`^\d?\d:\d\d$`)

// largeDigits reads the wall's large digits off the screen: the longest run of rows
// in which nothing but blocks stands, cut into figures at the dark columns. It
// returns "" where there are none of at least a third of the screen's height.
func largeDigits(text string) string {
	rows := strings.Split(text, "\n")
	var best, run []string
	for _, row := range rows {
		bare := strings.TrimSpace(row)
		if bare == "" || strings.Trim(bare, " "+strings.Join(blocks, "")) != "" {
			run = nil
			continue
		}
		if run = append(run, row); len(run) > len(best) {
			best = run
		}
	}
	if 3*len(best) < len(rows)-2 {
		return ""
	}
	lit := pixels(best)
	read := ""
	for from := 0; from < len(lit[0]); {
		to := from
		for to < len(lit[0]) && column(lit, to) {
			to++
		}
		if to > from {
			read += figure(lit, from, to)
		}
		from = to + 1
	}
	return read
}

// blocks are the quadrant characters by the bits upper left 1, upper right 2,
// lower left 4, lower right 8.
var blocks = strings.Split(" ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█", "")

// pixels takes rows of quadrant characters apart, two by two a character.
func pixels(rows []string) [][]bool {
	width := 0
	for _, row := range rows {
		width = max(width, 2*len([]rune(row)))
	}
	lit := make([][]bool, 2*len(rows))
	for y := range lit {
		lit[y] = make([]bool, width)
		for x, r := range []rune(rows[y/2]) {
			for bits, block := range blocks {
				if block == string(r) {
					lit[y][2*x] = bits>>(y%2*2)&1 != 0
					lit[y][2*x+1] = bits>>(y%2*2+1)&1 != 0
				}
			}
		}
	}
	return lit
}

func column(lit [][]bool, x int) bool {
	for _, row := range lit {
		if row[x] {
			return true
		}
	}
	return false
}

// figure names the digit in those columns by five of its seven rows: the three bars
// and the row before the middle and the last bar. "?" is no digit.
func figure(lit [][]bool, from, to int) string {
	if !lit[0][from] && !lit[0][to-1] && !lit[len(lit)-1][from] && !lit[0][(from+to)/2] {
		return ":"
	}
	h := len(lit)
	bar := (h + 3) / 7
	upper := (h - 3*bar) / 2
	seen := ""
	for _, y := range []int{0, bar + upper - 1, bar + upper, h - bar - 1, h - 1} {
		for i := range 5 {
			if lit[y][from+(2*i+1)*(to-from)/10] {
				seen += "#"
			} else {
				seen += "."
			}
		}
		seen += " "
	}
	for digit, shape := range []string{
		"##### #...# #...# #...# #####", "..#.. ..#.. ..#.. ..#.. #####", "##### ....# ##### #.... #####",
		"##### ....# ...## ....# #####", "#..#. #..#. ##### ...#. ...#.", "##### #.... ##### ....# #####",
		"#.... #.... ##### #...# #####", "##### ....# ...#. ..#.. ..#..", ".###. .#.#. ##### #...# #####",
		"##### #...# ##### ....# ....#",
	} {
		if seen == shape+" " {
			return string(rune('0' + digit))
		}
	}
	return "?"
}
