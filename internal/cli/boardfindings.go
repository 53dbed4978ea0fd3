package cli

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hawser/internal/session"
)

// findings lists what to know before GO, the gravest first, then the cautions.
// What is said of several people in the same words is said once.
func (b *boardPage) findings() {
	b.gap()
	moved := plural(b.board.PlatesMoved, "plate") + " moved in the class"
	switch is := b.style.Mass(b.board.Short); {
	case b.board.Proved:
		b.line("%s; no way to share these sleds is better.", moved)
	case b.board.ShortBound < b.board.Short:
		b.wrapped("", fmt.Sprintf("%s; not proved best: the pile's shortage costs %s, and no way costs less than %s.", moved, is, b.style.Mass(b.board.ShortBound)))
	case b.board.Short > 0:
		b.wrapped("", fmt.Sprintf("%s; not proved best: the pile's shortage costs %s, and no way costs less, but one may move as few as %d plates.", moved, is, b.board.Bound))
	case b.board.Bound == 0:
		b.line("%s; not proved best: too many ways to look at.", moved)
	default:
		b.line("%s; not proved best: no way moves fewer than %d.", moved, b.board.Bound)
	}
	for _, level := range []session.Level{session.Stop, session.Warn, session.Note} {
		for _, f := range b.said(level) {
			b.wrapped(fmt.Sprintf("%-4s ", level), f.about+": "+f.String())
		}
	}
	b.cautions()
}

// said is one finding about one or several people.
type said struct {
	about string
	who   []string
	text  string
}

func (s *said) String() string {
	if len(s.who) == 0 {
		return shown(s.text)
	}
	return shown(strings.Join(s.who, ", ")) + ": " + shown(s.text)
}

// said gathers the findings of a level that are no cautions.
func (b *boardPage) said(level session.Level) []*said {
	var list []*said
	for _, f := range b.board.Findings {
		if f.About == "fit" && f.Part > 0 && strings.HasPrefix(f.Text, "does not fit") { // stands at the top
			continue
		}
		if f.Level != level || f.About == "caution" || b.public && tellsTooMuch(f) {
			continue
		}
		who, text := f.Athlete, apart(f)
		if number := leading.FindString(text); number != "" && who != "" { // the same of many, but for the number
			who, text = who+" "+strings.TrimSpace(number), text[len(number):]
		}
		i := slices.IndexFunc(list, func(s *said) bool { return s.about == f.About && s.text == text })
		if i < 0 {
			i = len(list)
			list = append(list, &said{about: f.About, text: text})
		}
		if who != "" && !slices.Contains(list[i].who, who) {
			list[i].who = append(list[i].who, who)
		}
	}
	return list
}

// leading is the percentage that a finding begins with.
var leading = regexp.MustCompile(`^[0-9]+([.,][0-9])? % `)

// apart is what a finding says, without the name that it begins with.
func apart(f session.Finding) string {
	return strings.TrimPrefix(f.Text, f.Athlete+", ")
}

// cautions is the last paragraph of every board.
func (b *boardPage) cautions() {
	var list []string
	for _, f := range b.board.Findings {
		text := f.Text
		if f.Athlete != "" {
			text = f.Athlete + ": " + apart(f)
		}
		if text = sentence(text); f.About == "caution" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	if len(list) > 0 {
		b.gap()
		b.wrapped("", "Cautions. "+shown(strings.Join(list, " ")))
	}
}

// sentence gives a text its capital and its full stop.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:] + "."
}

// tellsTooMuch reports whether a finding may hold a max, a body mass or a percentage.
func tellsTooMuch(f session.Finding) bool {
	return slices.Contains([]string{"load", "aim", "estimate", "surface"}, f.About) || strings.Contains(f.Text, "%")
}
