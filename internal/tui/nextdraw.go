package tui

import (
	"cmp"
	"fmt"

	"hawser/internal/measure"
	"hawser/internal/review"
)

func (v *nextTime) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	room := frame(p, &m.look, "Next time: "+titleOf(v.coming.Plan), v.count(), v.say, []Hint{
		{"Enter", "accept"}, {"Backspace", "reject"}, {"+ -", "change"}, {"*", "accept all"}, {"Esc", "back"}, {"?", "keys"}, {"q", "leave"},
	})
	if len(v.rows) == 0 {
		p.Text(room, 0, 0, "Nothing is proposed: nobody pulled a part that says what comes next.", Body)
		return p
	}
	reason := wrap(v.reason(&v.rows[v.at]), room.W-2)
	list := room.rows(0, max(1, room.H-len(reason)-1))
	first := scroll(v.at, len(v.rows), list.H)
	for i := first; i < len(v.rows) && i-first < list.H; i++ {
		v.row(p, list.rows(i-first, 1), i, m)
	}
	below := min(list.H, len(v.rows)-first)
	for i, line := range reason {
		p.Text(room.in(1), 0, below+1+i, line, Body)
	}
	return p
}

// count says how far the coach has come.
func (v *nextTime) count() string {
	n := 0
	for i := range v.rows {
		if v.rows[i].stands != undecided {
			n++
		}
	}
	return fmt.Sprintf("%d of %d decided", n, len(v.rows))
}

// row is one proposal on a line: who, from what to what, with which plates.
func (v *nextTime) row(p *Page, r Rect, i int, m *Model) {
	row := &v.rows[i]
	ink, mark := Body, "  "
	if i == v.at {
		ink, mark = Chosen, m.look.signs.working+" "
	}
	x := p.Say(r, 0, 0, Said{mark, Ready})
	p.Text(Rect{r.X, r.Y, x + 10, 1}, x, 0, row.name(), ink)
	x += 11
	state, stateInk := string(row.stands), Rest
	switch {
	case row.cannot != "":
		state, stateInk = "-", Dim
	case row.stands == rejected:
		stateInk = Stopped
	case row.stands == undecided && row.changed():
		state, stateInk = "changed", Warn
	}
	edge := p.Right(r, x, 0, state, stateInk)
	line := Rect{r.X, r.Y, edge - 1, 1}
	if row.mine.Session == "" {
		p.Text(line, x, 0, string(row.who.Next.Verdict), Strong)
		return
	}
	form := "%9s %s %-9s %-4s "
	if r.W < 60 {
		form = "%s %s %s %s "
	}
	was, now := row.from(m.look.Style)
	x = p.Text(line, x, 0, fmt.Sprintf(form, was, m.look.signs.arrow, now, row.verdict()), Strong)
	if row.load != nil {
		p.Say(line, x, 0, Said{cmp.Or(plates(row.load.Stack), "empty"), Body}, Said{" on " + clean(row.load.On), Body})
	} else {
		p.Text(line, x, 0, row.what(), Body)
	}
}

// name is whom a proposal is for.
func (row *proposal) name() string {
	if row.who == nil {
		return "the class"
	}
	return clean(row.who.Name)
}

// what says which of a session's figures a proposal is, where it is no load.
func (row *proposal) what() string {
	switch {
	case row.mine.Distance > 0:
		return "metres"
	case row.mine.Every > 0:
		return "interval, for all"
	}
	return "rounds that week, for all"
}

// from is what a proposal was this time, and what it is now.
func (row *proposal) from(st measure.Style) (was, now string) {
	switch {
	case row.load != nil:
		return st.Mass(row.was), st.Mass(row.load.Moves)
	case row.mine.Distance > 0:
		return st.Distance(row.said.Distance), st.Distance(row.mine.Distance)
	case row.mine.Every > 0:
		return measure.Clock(row.said.Every), measure.Clock(row.mine.Every)
	}
	return itoa(row.said.Rounds), itoa(row.mine.Rounds)
}

// changed reports whether the coach has changed a proposal.
func (row *proposal) changed() bool {
	if row.load != nil {
		return row.load.Moves != row.first
	}
	return row.mine != row.offer
}

// verdict is up, same or down of what a person is to do as it now stands.
func (row *proposal) verdict() review.Verdict {
	if row.who == nil {
		return ""
	}
	more := cmp.Compare(row.mine.Distance, row.said.Distance)
	if row.load != nil {
		more = cmp.Compare(row.load.Moves, row.was)
	}
	switch {
	case !row.changed():
		return row.who.Next.Verdict
	case more > 0:
		return review.Up
	case more < 0:
		return review.Down
	}
	return review.Same
}

// reason is why, for the chosen proposal.
func (v *nextTime) reason(row *proposal) string {
	if row.who == nil {
		return "The " + row.what() + ": " + row.why + "."
	}
	n := row.who.Next
	where := ""
	if row.load != nil {
		where = clean(row.load.Movement)
	}
	said := join(", ", row.name(), where) + ": " + string(n.Verdict) + ". " + clean(n.Why) + "."
	if row.cannot != "" && row.mine.Session != "" {
		said += " " + row.cannot + "."
	}
	return said
}
