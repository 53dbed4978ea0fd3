package tui

import (
	"fmt"
	"strings"

	"hawser/internal/floor"
)

// drawAlone is one person: the rope under the time line, the other run's beneath
// it, and every round that has ended by now.
func (r *Replay) drawAlone(p *Page, room Rect, m *Model) {
	who, s := &r.whole.Plan().People[r.alone], r.span(r.part)
	line := Rect{room.X + ropeNames, room.Y, room.W - ropeNames, room.H}
	beneath := min(1, r.sheet)
	r.timeLine(p, line, s, min(room.H, 3+beneath), m)
	p.Say(room, 0, 1, Said{who.Key + " ", KeyInk})
	p.Text(Rect{room.X, room.Y, ropeNames - 1, room.H}, 2, 1, clean(who.Name), Strong)
	rounds := r.rounds(r.part, who.Name)
	p.Rope(line, 1, rounds, s, r.now, m.look.signs)
	var then []floor.Round
	if beneath > 0 {
		r.drawBeneath(p, room, line, 2, who.Name, nil, m)
		then = r.before.rounds(r.part, who.Name)
	}
	table := room.rows(4+beneath, room.H)
	rows := [][]Said{{{fmt.Sprintf("%5s %8s %9s %9s  %s", "round", "split", "margin", "moves", "how"), Dim}}}
	for i := range rounds {
		rows = append(rows, r.roundRow(&rounds[i], then, m))
	}
	if over := len(rows) - table.H; over > 0 && table.H > 0 {
		rows = append(rows[:1], rows[over+1:]...)
	}
	p.rows(table, 0, rows)
}

// roundRow is one round in words.
func (r *Replay) roundRow(q *floor.Round, then []floor.Round, m *Model) []Said {
	margin := ""
	if q.Margin != floor.None && q.State != floor.Open {
		margin = apart(q.Margin, m)
	}
	split := splitOf(q, m)
	if q.State == floor.Open {
		split = ""
	}
	row := []Said{
		{fmt.Sprintf("%5d %8s %9s %9s  ", q.Round, split, margin, m.look.Style.Mass(q.Moves)), Body},
		{howOf(q, m), inkOf(q)},
	}
	for i := range then {
		if t := &then[i]; t.Round == q.Round && t.Work > 0 && t.State != floor.Open {
			diff := ""
			if split != "" {
				diff = ", " + apart(q.Work-t.Work, m)
			}
			row = append(row, Said{"   last time " + splitOf(t, m) + diff, Dim})
		}
	}
	return row
}

// howOf is how a round stands, in words: "in time, by hand".
func howOf(q *floor.Round, m *Model) string {
	how := string(q.State)
	if q.State == floor.StruckOut {
		how = "not counted"
	}
	var more []string
	if q.ByHand {
		more = append(more, "by hand")
	}
	if q.Unlikely {
		more = append(more, "unlikely")
	}
	if q.Metres > 0 {
		more = append(more, m.look.Style.Distance(q.Metres))
	}
	if q.Reps > 0 {
		more = append(more, itoa(q.Reps)+" reps")
	}
	return strings.Join(append([]string{how}, more...), ", ")
}
