package tui

import (
	"fmt"
	"slices"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// question is asked once before GO: which way out of a part that does not fit, and
// whether the class goes with what would stop it. Only a load of 85 % and more on an
// estimate is refused, and a part that nobody can stand in.
type question struct {
	part    int         // that does not fit, from 0; -1: the question is only what stops
	ways    []lanes.Way // that the board can take
	at      int
	stops   []session.Finding
	refused bool
}

// question is what has to be asked before GO, nil for nothing.
func (b *boardroom) question() *question {
	q := &question{part: -1}
	q.stops, q.refused = b.board.Stops()
	for i := range b.board.Parts {
		part := &b.board.Parts[i]
		if q.part < 0 && !part.Fit.Fits && !b.answered[i] && !b.straight {
			q.part = i
			q.ways = slices.DeleteFunc(slices.Clone(part.Fit.Ways), func(w lanes.Way) bool { return w.Way == lanes.RotateStations })
			q.ways = append(q.ways, lanes.Way{Way: lanes.AsWritten})
			q.at = max(0, slices.IndexFunc(q.ways, func(w lanes.Way) bool { return w.Way == part.Fit.Took }))
		}
	}
	if q.part < 0 && (len(q.stops) == 0 || b.knows) {
		return nil
	}
	return q
}

// answer takes a key while the question is open.
func (b *boardroom) answer(m *Model, k input) tea.Cmd {
	q := b.ask
	switch k.key {
	case "esc":
		b.ask = nil
	case "%":
		b.whole = !b.whole
	case "up":
		q.at = max(0, q.at-1)
	case "down":
		q.at = max(0, min(len(q.ways)-1, q.at+1))
	case "enter":
		if q.refused {
			return nil
		}
		b.ask, b.knows = nil, true
		if q.part < 0 {
			return b.start(m.world)
		}
		b.answered[q.part] = true
		way := q.ways[q.at].Way
		if way == b.board.Parts[q.part].Fit.Took {
			return b.start(m.world)
		}
		d := b.day
		d.Edits = append(slices.Clip(d.Edits), lanes.Edit{Part: q.part + 1, Way: way})
		return b.try(m.world, d, "part "+itoa(q.part+1)+" takes "+way)
	}
	return nil
}

// drawQuestion draws the question in place of the board.
func (b *boardroom) drawQuestion(m *Model) *Page {
	p, q := NewPage(m.w, m.h), b.ask
	hints := []Hint{{"Enter", "take it"}, {"up, down", "another way"}, {"Esc", "back to the board"}}
	switch {
	case q.refused:
		hints = hints[2:]
	case q.part < 0:
		hints = []Hint{{"Enter", "go all the same"}, hints[2]}
	}
	r := frame(p, &m.look, "Before GO: "+clean(b.day.Session.Title), "", "", hints)
	var rows [][]Said
	if q.part >= 0 {
		f := &b.board.Parts[q.part].Fit
		rows = append(rows, folded("", fmt.Sprintf("Part %d does not fit: %s needs %s and has %s. Which way out?",
			q.part+1, clean(f.On), measure.Clock(f.Needs), measure.Clock(f.Has)), r.W, Strong)...)
		rows = append(rows, nil)
		for i := range q.ways {
			mark, ink := "  ", Body
			if i == q.at {
				mark, ink = m.look.signs.working+" ", Ready
			}
			rows = append(rows, folded(mark, wayOut(&q.ways[i], &m.look), r.W, ink)...)
		}
		rows = append(rows, nil)
	}
	if len(q.stops) > 0 {
		head := "This stops the class; it can go all the same:"
		if q.refused {
			head = "This does not go as it stands:"
		}
		rows = append(rows, folded("", head, r.W, Strong)...)
		for i := range q.stops {
			text := about(&q.stops[i])
			if private(&q.stops[i]) && !b.whole {
				text = clean(q.stops[i].Athlete) + ": the coach's own percentages say why; % shows it"
			}
			rows = append(rows, folded(m.look.signs.stopped+" ", text, r.W, Stopped)...)
		}
	}
	p.rows(r, 0, rows[:min(len(rows), r.H)])
	return p
}
