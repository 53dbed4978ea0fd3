package coachfile

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"hawser/internal/measure"
)

// Lengths of text in characters.
const (
	nameLength = 64
	lineLength = 200
)

// Clean returns foreign text as it may be shown: whatever a terminal could obey
// or the eye could not see (controls, escapes, marks of direction, line and
// paragraph separators, broken UTF-8) is a � in it, the rest is in NFC. It is the
// one cleaner; everything that did not pass [CheckText] goes through it once,
// where it enters.
func Clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if unsafe(r) {
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	return norm.NFC.String(s)
}

// CleanLines is Clean for a page: its newlines stay.
func CleanLines(page string) string {
	lines := strings.Split(page, "\n")
	for i, line := range lines {
		lines[i] = Clean(line)
	}
	return strings.Join(lines, "\n")
}

// EscapeJSON returns JSON with every character in its strings that Clean would not
// show written as an escape: the same to a program, and plain text on a screen.
func EscapeJSON(doc []byte) []byte {
	var out []byte
	kept := 0 // so much of doc stands in out
	for i := 0; i < len(doc); {
		r, size := utf8.DecodeRune(doc[i:])
		if i += size; r == '\n' || !unsafe(r) {
			continue
		}
		out = append(out, doc[kept:i-size]...)
		if high, low := utf16.EncodeRune(r); r > 0xFFFF {
			out = fmt.Appendf(out, `\u%04x\u%04x`, high, low)
		} else {
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		kept = i
	}
	if kept == 0 {
		return doc
	}
	return append(out, doc[kept:]...)
}

// unsafe tells what must not reach a screen: all controls, line and paragraph
// separators and invisible format characters but the two joiners, which names in
// some scripts are written with.
func unsafe(r rune) bool {
	if r < unicode.MaxASCII {
		return r < ' '
	}
	const zeroWidthNonJoiner, zeroWidthJoiner = '\u200C', '\u200D'
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) && r != zeroWidthNonJoiner && r != zeroWidthJoiner
}

// CheckText says what is wrong with a name in a coach's file, or nil.
func CheckText(s string) error { return check(s, nameLength) }

// Name reads a name: of a person, a sled, a surface.
func Name(s string) (string, error) { return norm.NFC.String(s), check(s, nameLength) }

// Line reads a line of text: a title, an address.
func Line(s string) (string, error) { return norm.NFC.String(s), check(s, lineLength) }

func check(s string, length int) error {
	n := 0
	for i, r := range s {
		n++
		if _, size := utf8.DecodeRuneInString(s[i:]); unsafe(r) || r == utf8.RuneError && size == 1 {
			return &measure.Error{What: fmt.Sprintf("character %d (%U) cannot be shown", n, r), Write: "letters, digits and signs"}
		}
	}
	switch {
	case strings.TrimSpace(s) == "":
		return &measure.Error{What: "the text is empty", Write: "some text in double quotes"}
	case s != strings.TrimSpace(s):
		return &measure.Error{What: "the text begins or ends with a space", Write: fmt.Sprintf("%q", strings.TrimSpace(s))}
	case n > length:
		return &measure.Error{What: fmt.Sprintf("the text has %d characters", n), Write: fmt.Sprintf("at most %d", length)}
	}
	return nil
}

// Nearest returns the word that differs least from s, "" where all differ in more
// than a third of their letters.
func Nearest(s string, words []string) string {
	best, least := "", 0
	a := []rune(strings.ToLower(s))
	if len(a) > nameLength {
		return ""
	}
	for _, word := range words {
		b := []rune(strings.ToLower(word))
		d := distance(a, b)
		if d <= max(1, max(len(a), len(b))/3) && (best == "" || d < least) {
			best, least = word, d
		}
	}
	return best
}

// distance counts the letters to add, drop, change or swap with a neighbour.
func distance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		for j := range rows[i] {
			switch {
			case i == 0 || j == 0:
				rows[i][j] = i + j
			case a[i-1] == b[j-1]:
				rows[i][j] = rows[i-1][j-1]
			default:
				rows[i][j] = 1 + min(rows[i-1][j-1], rows[i-1][j], rows[i][j-1])
				if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
					rows[i][j] = min(rows[i][j], 1+rows[i-2][j-2])
				}
			}
		}
	}
	return rows[len(a)][len(b)]
}

// instead says what to write for a word that is not one of words: the nearest of
// them, else all.
func instead(s string, words []string) string {
	if near := Nearest(s, words); near != "" {
		return strconv.Quote(near)
	}
	quoted := make([]string, len(words))
	for i, word := range words {
		quoted[i] = strconv.Quote(word)
	}
	return "one of " + strings.Join(quoted, ", ")
}
