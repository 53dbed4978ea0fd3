package tui

import (
	"time"

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
	Week   time.Time      // the Monday of the week of next time, midnight UTC
	Taken  []session.Accepted
	Accept func(session.Accepted) error
	Reject func(session.Accepted) error
}

// nextTime is the screen of next time: what is proposed for everybody, with its
// reason. A load, metres, an interval and rounds are each accepted, changed by steps
// that exist, or rejected with one key; only what is accepted changes anything. It is
// for the coach: reasons speak of effort, pain and maxes.
type nextTime struct {
	back   screen
	coming *Coming
	rows   []proposal
	at     int
	busy   bool
	say    string
}

// proposal is one thing to decide: a person's next load at one station or the metres
// of their long pull, the interval or the rounds of the class; or why there is nothing.
type proposal struct {
	part   *review.Part
	who    *review.Athlete  // nil for the class
	load   *review.NextLoad // nil: it is no load
	was    measure.Mass
	first  measure.Mass // as it was proposed
	mine   session.Accepted
	said   session.Accepted // as it was this time, where it is no load
	offer  session.Accepted // as it was proposed, likewise
	why    string           // of the class
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
		v.class(p)
		for k := range p.Athletes {
			a := &p.Athletes[k]
			if a.Next == nil {
				continue
			}
			if a.Next.Metres > 0 {
				v.rows = append(v.rows, v.metres(p, a))
			} else if len(a.Next.Loads) == 0 {
				v.rows = append(v.rows, proposal{part: p, who: a, cannot: "there is no load to accept"})
			}
			for n := range a.Next.Loads {
				v.rows = append(v.rows, v.proposal(p, a, &a.Next.Loads[n]))
			}
		}
	}
	for i := range v.rows {
		v.rows[i].known(c.Taken)
	}
	return v
}

// known finds a proposal among what was accepted before.
func (row *proposal) known(taken []session.Accepted) {
	for i := range taken {
		t := &taken[i]
		if t.SamePlace(&row.mine) && t.Load == row.mine.Load && t.Distance == row.mine.Distance &&
			t.Every == row.mine.Every && t.Rounds == row.mine.Rounds && t.Week.Equal(row.mine.Week) {
			row.stands = accepted
		}
	}
}

// place is where a proposal stands in next.toml; the day is for who writes it.
func (v *nextTime) place(p *review.Part, a *review.Athlete, station int, movement string) session.Accepted {
	return session.Accepted{Athlete: a.Name, Session: v.coming.Plan.Session, Part: p.Number, Station: station, Movement: movement}
}

func (v *nextTime) proposal(p *review.Part, a *review.Athlete, l *review.NextLoad) proposal {
	row := proposal{part: p, who: a, load: l, was: l.Was, first: l.Moves, mine: v.place(p, a, l.Station, l.Movement)}
	row.mine.Load = l.Moves
	row.cannot = v.bars(p, a, l.Station, l.Movement)
	return row
}

// bars says why a person's proposal cannot be accepted.
func (v *nextTime) bars(p *review.Part, a *review.Athlete, station int, movement string) string {
	switch {
	case v.coming.Plan.People[a.Person].Guest:
		return "a guest: add them to roster.toml first"
	case p.Spec.Stations[station-1].Movement != movement:
		return "swapped to " + clean(movement) + " that day: the session's own stands"
	}
	return ""
}

// metres is the proposal of a long pull's metres.
func (v *nextTime) metres(p *review.Part, a *review.Athlete) proposal {
	last := &a.Rounds[len(a.Rounds)-1]
	row := proposal{part: p, who: a, mine: v.place(p, a, last.Station, last.Movement)}
	row.cannot = v.bars(p, a, last.Station, last.Movement)
	if row.cannot == "" && a.Pull.All != last.Distance {
		row.cannot = "of several pulls: the metres of each are for the session file"
	}
	row.said, row.mine.Distance = row.mine, a.Next.Metres
	row.said.Distance, row.offer = a.Pull.All, row.mine
	return row
}

// class adds what is proposed for everybody in a part: a longer interval where no
// load of somebody's can come off, the fewer rounds of a lighter week.
func (v *nextTime) class(p *review.Part) {
	row := proposal{part: p, mine: session.Accepted{Session: v.coming.Plan.Session, Part: p.Number}}
	row.said = row.mine
	every, rounds := row, row
	for k := range p.Athletes {
		a := &p.Athletes[k]
		if a.Next == nil {
			continue
		}
		if a.Next.Every > every.mine.Every {
			every.mine.Every, every.why = a.Next.Every, clean(a.Name)+": "+clean(a.Next.Why)
		}
		if a.Next.Rounds > 0 {
			rounds.mine.Rounds, rounds.why = a.Next.Rounds, "the lighter week of the block: the same loads, fewer rounds"
		}
	}
	every.said.Every, every.offer = p.Spec.Every, every.mine
	if every.mine.Every > 0 {
		v.rows = append(v.rows, every)
	}
	rounds.mine.Week = v.coming.Week
	rounds.said.Rounds, rounds.offer = max(p.Spec.Rounds, p.Spec.Sets), rounds.mine
	if rounds.mine.Rounds > 0 {
		v.rows = append(v.rows, rounds)
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

// step changes what is chosen: a load to the one beside it that exists, metres by
// ten, an interval by 15 seconds, rounds by one.
func (v *nextTime) step(by int) {
	if v.busy || v.at >= len(v.rows) || v.rows[v.at].mine.Session == "" {
		return
	}
	row := &v.rows[v.at]
	switch a := &row.mine; {
	case row.load != nil && !row.part.Step(row.load, by, v.coming.Plan.Kit.Plates):
		v.say = "no plates for another step on " + clean(row.load.On)
		return
	case row.load != nil:
		a.Load = row.load.Moves
	case a.Distance > 0:
		a.Distance = max(tenMetres, a.Distance+measure.Distance(by)*tenMetres)
	case a.Every > 0:
		a.Every = max(session.IntervalStep, a.Every+time.Duration(by)*session.IntervalStep)
	default:
		a.Rounds = max(1, a.Rounds+by)
	}
	row.stands = undecided
}

const tenMetres = 10 * measure.Metre

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
		loads = append(loads, v.rows[i].mine)
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
		{"up, down", "choose"},
		{"Enter", "accept it: the next board has it"},
		{"+", "one step more: a load that exists, 10 m, 15 s, a round"},
		{"-", "one step less"},
		{"Backspace", "reject it: the session's own stands"},
		{"*", "accept all that are undecided"},
		{"Esc", "back"},
		{"q", "leave"},
	}
}
