package tui

import (
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/review"
)

// after is the page after class: what the splits say, and for one person after
// another how hard it was, 0–10, and whether anything hurt. All of it can be
// skipped; effort and pain go to the private log and nowhere else.
type after struct {
	room   *classroom
	report review.Report
	people []int // who took part, by index
	at     int   // into people; len: done
	field  int   // 0 effort, 1 pain
	typed  string
	given  map[int][2]string // what was typed, by person
}

// fields are the questions, in order.
var fields = [2]string{"effort", "pain"}

func newAfter(c *classroom) *after {
	a := &after{room: c, given: map[int][2]string{}}
	a.report = review.Make(c.live.st, c.live.shown())
	for i := range c.live.st.Plan().People {
		if c.live.st.Here(i) {
			a.people = append(a.people, i)
		}
	}
	return a
}

func (a *after) key(m *Model, k input) tea.Cmd {
	if a.at >= len(a.people) {
		switch k.key {
		case "enter", "q":
			return tea.Quit
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
		a.go1(1)
	case "up":
		a.go1(-1)
	case "esc":
		a.at = len(a.people)
	case "backspace":
		a.typed = a.typed[:max(0, len(a.typed)-1)]
	default:
		if len(k.text) == 1 && k.text[0] >= '0' && k.text[0] <= '9' && len(a.typed) < 2 {
			a.typed += k.text
		}
	}
	return nil
}

// go1 goes to the next person or the one before.
func (a *after) go1(by int) {
	a.at, a.field, a.typed = max(0, min(len(a.people), a.at+by)), 0, ""
}

// take keeps what was typed, nothing for nothing, and goes on.
func (a *after) take(at time.Time) tea.Cmd {
	who := a.people[a.at]
	var cmd tea.Cmd
	if n, ok := upTo(a.typed, 10); ok {
		name := a.room.live.st.Plan().People[who].Name
		var c floor.Command = floor.Effort{Who: name, Effort: n}
		if a.field == 1 {
			c = floor.Pain{Who: name, Pain: n}
		}
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
		a.go1(1)
	}
	return cmd
}

func (a *after) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	keys := []Hint{{"0 to 10", "then Enter"}, {"Enter", "skip"}, {"down", "next person"}, {"Esc", "to the end"}}
	if a.at >= len(a.people) {
		keys = []Hint{{"Enter", "leave; all is kept"}, {"up", "back"}, {"Esc", "the wall"}}
	}
	r := frame(p, &m.look, "After class: "+a.title(), "effort and pain are private", "", keys)
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
	p.Text(Rect{r.X, r.Y, x + 12, 1}, x, 0, clean(a.room.live.st.Plan().People[person].Name), ink)
	x += 14
	for f, name := range fields {
		value, valueInk := a.given[person][f], Strong
		if i == a.at && f == a.field {
			value, valueInk = a.typed+"_", KeyInk
		}
		if value == "" {
			value = "-"
		}
		p.Say(r, x, 0, Said{name + " ", Dim}, Said{value, valueInk})
		x += 11
	}
	p.Text(r, x+1, 0, a.score(person, m), Dim)
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
