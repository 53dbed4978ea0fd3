package tui

import (
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/clipperhouse/displaywidth"
)

// weekPage is the page of a week: what fits each day, what stands too close, what
// would fill the empty places. It shows what hawser week prints.
type weekPage struct {
	back  screen
	weeks int // from this one on, negative: before it
	lines []string
	top   int // first line shown
	say   string
}

// weekMade is the page that was asked for.
type weekMade struct {
	weeks int
	text  string
	err   error
}

// turn asks for another week.
func (v *weekPage) turn(w *World, by int) tea.Cmd {
	v.weeks += by
	v.say = "reading the week…"
	weeks := v.weeks
	return func() tea.Msg {
		text, err := w.Week(time.Now().AddDate(0, 0, 7*weeks))
		return weekMade{weeks, text, err}
	}
}

// take shows a page, unless another week was asked for in the meantime.
func (v *weekPage) take(p weekMade) {
	if p.weeks != v.weeks {
		return
	}
	v.say, v.top, v.lines = "", 0, strings.Split(strings.TrimRight(p.text, "\n"), "\n")
	if p.err != nil {
		v.say, v.lines = clean(p.err.Error()), nil
	}
}

func (v *weekPage) key(m *Model, k input) tea.Cmd {
	switch k.key {
	case "left":
		return v.turn(m.world, -1)
	case "right":
		return v.turn(m.world, 1)
	case "up":
		v.top--
	case "down":
		v.top++
	case "pgup":
		v.top -= m.h / 2
	case "pgdown":
		v.top += m.h / 2
	case "esc", "tab":
		m.on = v.back
	case "q":
		return tea.Quit
	}
	return nil
}

func (v *weekPage) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	r := frame(p, &m.look, "The week", "", v.say, []Hint{
		{"left, right", "week"}, {"up, down", "lines"}, {"Esc", "back"}, {"?", "keys"}, {"q", "leave"},
	})
	var rows []Said // a page line is a row, or several on a narrow screen
	for i, line := range v.lines {
		ink := Body
		switch {
		case i == 0:
			ink = Strong
		case strings.HasPrefix(line, "flag "), strings.Contains(line, " look  "):
			ink = Warn
		}
		if strings.HasPrefix(line, "----") {
			continue
		}
		indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
		pieces := []string{line}
		if displaywidth.String(line) > r.W {
			pieces = wrap(line, r.W-len(indent))
			for k := range pieces {
				pieces[k] = indent + pieces[k]
			}
		}
		for _, piece := range pieces {
			rows = append(rows, Said{piece, ink})
		}
	}
	v.top = max(0, min(v.top, len(rows)-r.H))
	for i := v.top; i < len(rows) && i-v.top < r.H; i++ {
		p.Text(r, 0, i-v.top, rows[i].Text, rows[i].Ink)
	}
	return p
}
