package tui

import (
	"cmp"
	"fmt"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/review"
	"hawser/internal/session"
)

// Coming is next time as the screen reaches it: what is proposed, what was accepted
// before, and where an accepted load goes. Accept and Reject return once it is
// written; they are called outside the event loop, one after the other.
type Coming struct {
	Plan   *floor.Plan
	Report *review.Report // with next time in it
	Taken  []session.Accepted
	Accept func(session.Accepted) error
	Reject func(session.Accepted) error
}

// nextTime is the screen of next time: what is proposed for everybody, with its
// reason. Each load is accepted, changed by steps that exist, or rejected with one
// key; only what is accepted changes anything. It is for the coach: reasons speak
// of effort, pain and maxes.
type nextTime struct {
	back   screen
	coming *Coming
	rows   []proposal
	at     int
	busy   bool
	say    string
}

// proposal is one person's next load at one station, or why there is none to take.
type proposal struct {
	part   *review.Part
	who    *review.Athlete
	load   *review.NextLoad // nil: no load is proposed
	was    measure.Mass
	first  measure.Mass // as it was proposed
	stands decision
	cannot string // why it cannot be accepted; "" where it can
}

// decision is what the coach has done about a proposal.
type decision string

// The decisions, as the screen says them.
const (
	undecided decision = ""
	accepted  decision = "accepted"
	rejected  decision = "rejected"
)

type (
	// came is next time that was worked out.
	came struct{ coming *Coming }
	// decided is a decision that was written, or could not be.
	decided struct {
		rows   []int
		stands decision
		err    error
	}
)

func newNextTime(c *Coming, back screen) *nextTime {
	v := &nextTime{back: back, coming: c}
	for i := range c.Report.Parts {
		p := &c.Report.Parts[i]
		for k := range p.Athletes {
			a := &p.Athletes[k]
			if a.Next == nil {
				continue
			}
			if len(a.Next.Loads) == 0 {
				v.rows = append(v.rows, proposal{part: p, who: a, cannot: "there is no load to accept"})
			}
			for n := range a.Next.Loads {
				v.rows = append(v.rows, v.proposal(p, a, &a.Next.Loads[n]))
			}
		}
	}
	return v
}

func (v *nextTime) proposal(p *review.Part, a *review.Athlete, l *review.NextLoad) proposal {
	row := proposal{part: p, who: a, load: l, was: l.Was, first: l.Moves}
	switch {
	case v.coming.Plan.People[a.Person].Guest:
		row.cannot = "a guest: add them to roster.toml first"
	case p.Spec.Stations[l.Station-1].Movement != l.Movement:
		row.cannot = "swapped to " + clean(l.Movement) + " that day: the session's own load stands"
	}
	mine := v.accepted(&row)
	for _, t := range v.coming.Taken {
		if t.SamePlace(&mine) && t.Load == l.Moves {
			row.stands = accepted
		}
	}
	return row
}

// accepted is a proposal as next.toml has it; the day is for who writes it.
func (v *nextTime) accepted(row *proposal) session.Accepted {
	return session.Accepted{
		Athlete: row.who.Name, Session: v.coming.Plan.Session, Part: row.part.Number,
		Station: row.load.Station, Movement: row.load.Movement, Load: row.load.Moves,
	}
}

func (v *nextTime) key(m *Model, k input) tea.Cmd {
	v.say = ""
	switch k.key {
	case "esc":
		m.on = v.back
	case "q":
		if a, ok := v.back.(*after); ok {
			return a.leave(k.at)
		}
		return tea.Quit
	case "up":
		v.at = max(0, v.at-1)
	case "down":
		v.at = max(0, min(len(v.rows)-1, v.at+1))
	case "left", "-":
		v.step(-1)
	case "right", "+":
		v.step(1)
	case "enter":
		return v.decide(accepted, v.at)
	case "backspace":
		return v.decide(rejected, v.at)
	case "*":
		var open []int
		for i := range v.rows {
			if v.rows[i].stands == undecided && v.rows[i].cannot == "" {
				open = append(open, i)
			}
		}
		return v.decide(accepted, open...)
	}
	return nil
}

// step changes the chosen load to the one beside it that exists.
func (v *nextTime) step(by int) {
	if v.busy || v.at >= len(v.rows) || v.rows[v.at].load == nil {
		return
	}
	row := &v.rows[v.at]
	if !row.part.Step(row.load, by, v.coming.Plan.Kit.Plates) {
		v.say = "no plates for another step on " + clean(row.load.On)
		return
	}
	row.stands = undecided
}

// decide has a decision written; it stands once that is done.
func (v *nextTime) decide(what decision, rows ...int) tea.Cmd {
	if v.busy || len(rows) == 0 || len(v.rows) == 0 {
		return nil
	}
	if row := &v.rows[rows[0]]; row.cannot != "" {
		v.say = row.cannot
		return nil
	}
	var loads []session.Accepted
	for _, i := range rows {
		loads = append(loads, v.accepted(&v.rows[i]))
	}
	write := v.coming.Accept
	if what == rejected {
		write = v.coming.Reject
	}
	v.busy = true
	return func() tea.Msg {
		for _, a := range loads {
			if err := write(a); err != nil {
				return decided{err: err}
			}
		}
		return decided{rows: rows, stands: what}
	}
}

// take is a decision that came back.
func (v *nextTime) take(d decided) {
	v.busy = false
	if d.err != nil {
		v.say = d.err.Error()
		return
	}
	for _, i := range d.rows {
		v.rows[i].stands = d.stands
	}
	if len(d.rows) == 1 {
		v.at = min(d.rows[0]+1, len(v.rows)-1)
	}
}

func (v *nextTime) fail(err error) { v.busy, v.say = false, err.Error() }

func (v *nextTime) help() []Hint {
	return []Hint{
		{"up, down", "choose a load"},
		{"Enter", "accept it: the next board has it"},
		{"+", "one step heavier that exists"},
		{"-", "one step lighter that exists"},
		{"Backspace", "reject it: the session's own load stands"},
		{"*", "accept all that are undecided"},
		{"Esc", "back"},
		{"q", "leave"},
	}
}

func (v *nextTime) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	room := frame(p, &m.look, "Next time: "+titleOf(v.coming.Plan), v.count(), v.say, []Hint{
		{"Enter", "accept"}, {"Backspace", "reject"}, {"+ -", "change"}, {"*", "accept all"}, {"Esc", "back"}, {"?", "keys"}, {"q", "leave"},
	})
	if len(v.rows) == 0 {
		p.Text(room, 0, 0, "Nothing is proposed: nobody pulled a part that says what comes next.", Body)
		return p
	}
	reason := wrap(v.reason(&v.rows[v.at], m), room.W-2)
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
	p.Text(Rect{r.X, r.Y, x + 10, 1}, x, 0, clean(row.who.Name), ink)
	x += 11
	state, stateInk := string(row.stands), Rest
	switch {
	case row.cannot != "":
		state, stateInk = "-", Dim
	case row.stands == rejected:
		stateInk = Stopped
	case row.stands == undecided && row.load.Moves != row.first:
		state, stateInk = "changed", Warn
	}
	edge := p.Right(r, x, 0, state, stateInk)
	if row.load == nil {
		p.Text(Rect{r.X, r.Y, edge - 1, 1}, x, 0, string(row.who.Next.Verdict), Strong)
		return
	}
	form := "%9s %s %-9s %-4s "
	if r.W < 60 {
		form = "%s %s %s %s "
	}
	text := fmt.Sprintf(form, m.look.Style.Mass(row.was), m.look.signs.arrow, m.look.Style.Mass(row.load.Moves), row.verdict())
	x = p.Text(Rect{r.X, r.Y, edge - 1, 1}, x, 0, text, Strong)
	p.Say(Rect{r.X, r.Y, edge - 1, 1}, x, 0, Said{cmp.Or(plates(row.load.Stack), "empty"), Body}, Said{" on " + clean(row.load.On), Body})
}

// verdict is up, same or down of the load as it now stands.
func (row *proposal) verdict() review.Verdict {
	switch {
	case row.load.Moves == row.first:
		return row.who.Next.Verdict
	case row.load.Moves > row.was:
		return review.Up
	case row.load.Moves < row.was:
		return review.Down
	}
	return review.Same
}

// reason is why, for the chosen proposal, and what else next time asks for.
func (v *nextTime) reason(row *proposal, m *Model) string {
	n := row.who.Next
	where := ""
	if row.load != nil {
		where = clean(row.load.Movement)
	}
	said := []string{join(", ", clean(row.who.Name), where) + ": " + string(n.Verdict) + ". " + clean(n.Why) + "."}
	if n.Metres > 0 {
		said = append(said, m.look.Style.Distance(n.Metres)+" is for the session file.")
	}
	if n.Every > 0 {
		said = append(said, "Every "+measure.Clock(n.Every)+" is for the session file.")
	}
	if n.Rounds > 0 {
		said = append(said, itoa(n.Rounds)+" rounds are for the session file.")
	}
	if row.cannot != "" && row.load != nil {
		said = append(said, row.cannot+".")
	}
	return join(" ", said...)
}
