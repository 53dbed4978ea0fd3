package tui

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/review"
)

// after is the page after class: what the splits say, and for one person after
// another what was done of the last round that has no split, how hard it was,
// 0–10, and whether anything hurt. All of it can be skipped; effort and pain go to
// the private log and nowhere else.
type after struct {
	room   *classroom
	report review.Report
	people []int // who took part, by index
	at     int   // into people; len: done
	field  int   // into fields
	say    string
	typed  string
	given  map[int][3]string // what was typed, by person
}

// fields are the questions, in order.
var fields = [3]string{"metres", "effort", "pain"}

func newAfter(c *classroom) *after {
	a := &after{room: c, given: map[int][3]string{}}
	a.report = review.Make(c.live.st, c.live.shown())
	for i := range c.live.st.Plan().People {
		if c.live.st.Here(i) {
			a.people = append(a.people, i)
		}
	}
	return a
}

func (a *after) key(m *Model, k input) tea.Cmd {
	a.say = ""
	if a.at >= len(a.people) {
		switch k.key {
		case "enter":
			return a.ahead(m.world)
		case "q":
			return a.leave(k.at)
		case "up", "left":
			a.at, a.field = max(0, len(a.people)-1), 0
		case "esc":
			m.on = a.room
		}
		return nil
	}
	switch k.key {
	case "enter", "tab", "right":
		return a.take(k.at)
	case "down":
		a.step(1)
	case "up":
		a.step(-1)
	case "esc":
		a.at = len(a.people)
	case "backspace":
		a.typed = a.typed[:max(0, len(a.typed)-1)]
	default:
		if len(k.text) == 1 && strings.Contains("0123456789.,", k.text) && len(a.typed) < 4 {
			a.typed += k.text
		}
	}
	return nil
}

// step goes to the next person or the one before.
func (a *after) step(by int) {
	a.at, a.field, a.typed = max(0, min(len(a.people), a.at+by)), 0, ""
}

// take keeps what was typed, nothing for nothing, and goes on.
func (a *after) take(at time.Time) tea.Cmd {
	who := a.people[a.at]
	var cmd tea.Cmd
	if c := a.answer(who); c != nil {
		cmd = a.room.live.ask(a.room.live.clock.At(at), c)
		g := a.given[who]
		g[a.field] = a.typed
		a.given[who] = g
	} else if a.typed != "" {
		a.typed = ""
		return nil
	}
	a.typed = ""
	if a.field++; a.field == len(fields) {
		a.step(1)
	}
	return cmd
}

// answer is what was typed as a command, nil where it is no such figure.
func (a *after) answer(who int) floor.Command {
	name := a.room.live.st.Plan().People[who].Name
	if a.field == 1 {
		effort, err := strconv.ParseFloat(strings.Replace(a.typed, ",", ".", 1), 64)
		if err != nil || effort < 0 || effort > 10 || effort != math.Trunc(2*effort)/2 {
			return nil // 0 to 10, halves too
		}
		return floor.Effort{Who: name, Effort: effort}
	}
	n, ok := upTo(a.typed, 9999)
	switch {
	case !ok || a.field == 2 && n > 10:
		return nil
	case a.field == 2:
		return floor.Pain{Who: name, Pain: n}
	case a.inReps():
		return floor.Amount{Who: name, Round: a.open(who), Reps: n}
	}
	return floor.Amount{Who: name, Round: a.open(who), Metres: measure.Distance(n) * measure.Metre}
}

// open is the last round of a person that has no split, else their last.
func (a *after) open(who int) int {
	st := a.room.live.st
	rounds := st.Rounds(st.Part(), who, a.room.live.shown())
	for _, round := range slices.Backward(rounds) {
		if round.Work <= 0 {
			return round.Round
		}
	}
	return len(rounds)
}

// inReps reports whether the last part counts repetitions.
func (a *after) inReps() bool {
	st := a.room.live.st
	stations := st.Plan().Parts[max(1, st.Part())-1].Spec.Stations
	return len(stations) > 0 && stations[0].Reps > 0
}

// ahead goes on to next time, with the efforts and pains that were typed here.
func (a *after) ahead(w *World) tea.Cmd {
	if w.Next == nil {
		return nil
	}
	live := a.room.live
	report, plan := review.Make(live.st, live.shown()), live.st.Plan()
	return func() tea.Msg {
		c, err := w.Next(&report, plan)
		if err != nil {
			return failed{err}
		}
		return came{c}
	}
}

func (a *after) fail(err error) { a.say = err.Error() }

// leave ends the run, where the clock has not done so yet, and the program.
func (a *after) leave(at time.Time) tea.Cmd {
	if a.room.live.st.Over() != floor.None {
		return tea.Quit
	}
	live := a.room.live
	live.leaving = true
	return live.ask(live.clock.At(at), floor.End{})
}

func (a *after) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	keys := []Hint{{"figure Enter", "keep it"}, {"Enter", "skip"}, {"down", "next person"}, {"Esc", "to the end"}}
	if a.at >= len(a.people) {
		keys = []Hint{{"Enter", "next time"}, {"q", "leave; all is kept"}, {"up", "back"}, {"Esc", "the wall"}}
	}
	r := frame(p, &m.look, "After class: "+a.title(), "effort and pain are private", cmp.Or(a.say, a.room.live.say), keys)
	y := 0
	for _, line := range wrap(a.report.Headline(m.look.Style), r.W) {
		p.Text(r, 0, y, line, Strong)
		y++
	}
	y++
	list := r.rows(y, r.H)
	first := scroll(min(a.at, len(a.people)-1), len(a.people), max(1, list.H))
	for i := first; i < len(a.people) && i-first < list.H; i++ {
		a.line(p, list.rows(i-first, 1), i, m)
	}
	return p
}

func (a *after) title() string {
	p := a.room.live.st.Plan()
	if p.Title != "" {
		return clean(p.Title)
	}
	return clean(p.Session)
}

// line is one person: the two figures, and what the splits say of them.
func (a *after) line(p *Page, r Rect, i int, m *Model) {
	person := a.people[i]
	ink, mark := Body, "  "
	if i == a.at {
		ink, mark = Chosen, m.look.signs.working+" "
	}
	x := p.Say(r, 0, 0, Said{mark, Ready})
	each, names := 12, 12
	if r.W < 52 {
		each, names = 9, 8
	}
	p.Text(Rect{r.X, r.Y, x + names, 1}, x, 0, clean(a.room.live.st.Plan().People[person].Name), ink)
	x += names + 1
	for f := range fields {
		value, valueInk := a.given[person][f], Strong
		if i == a.at && f == a.field {
			value, valueInk = a.typed+"_", KeyInk
		}
		if value == "" {
			value = "-"
		}
		name := fields[f]
		switch {
		case f == 0 && a.inReps():
			name = "reps"
		case f == 0 && r.W < 52:
			name = "m"
		}
		p.Say(r, x, 0, Said{name + " ", Dim}, Said{value, valueInk})
		x += each
	}
	p.Say(r, x+1, 0, Said{a.score(person, m), Dim})
}

// score is a person's results over all parts.
func (a *after) score(person int, m *Model) string {
	var out []string
	for i := range a.report.Parts {
		part := &a.report.Parts[i]
		for k := range part.Athletes {
			if part.Athletes[k].Person == person {
				out = append(out, part.Score(&part.Athletes[k], m.look.Style))
			}
		}
	}
	return strings.Join(out, "; ")
}
