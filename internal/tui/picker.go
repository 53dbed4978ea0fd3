package tui

import (
	"strings"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/session"
)

// picker chooses a session. '/' filters, and says so.
type picker struct {
	all       []*session.Session
	at        int
	filter    string
	filtering bool
	notice    string
}

func newPicker(w *World) *picker { return &picker{all: w.Sessions, notice: w.Notice} }

// shown is the sessions that the filter leaves.
func (s *picker) shown() []*session.Session {
	var out []*session.Session
	for _, v := range s.all {
		if strings.Contains(strings.ToLower(v.Title+" "+v.Name+" "+string(v.Aim)), strings.ToLower(s.filter)) {
			out = append(out, v)
		}
	}
	return out
}

func (s *picker) key(m *Model, k input) tea.Cmd {
	list := s.shown()
	switch {
	case k.key == "up":
		s.at = max(0, s.at-1)
	case k.key == "down":
		s.at = max(0, min(len(list)-1, s.at+1))
	case k.key == "enter" && len(list) > 0:
		m.on = newMuster(m.world, list[min(s.at, len(list)-1)])
	case k.key == "esc":
		s.filtering, s.filter = false, ""
	case s.filtering && k.key == "backspace":
		r := []rune(s.filter)
		s.filter = string(r[:max(0, len(r)-1)])
	case s.filtering && k.text != "":
		s.filter, s.at = s.filter+clean(k.text), 0
	case k.key == "/":
		s.filtering = true
	case k.key == "tab" && m.world.Week != nil:
		v := &weekPage{back: s}
		m.on = v
		return v.turn(m.world, 0)
	case k.key == "n":
		m.on = newMenu(m.world)
	case k.key == "q":
		return tea.Quit
	}
	return nil
}

func (s *picker) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	list := s.shown()
	right := itoa(len(s.all)) + " sessions"
	if len(s.all) == 1 {
		right = "1 session"
	}
	if s.filtering || s.filter != "" {
		right = itoa(len(list)) + " of " + itoa(len(s.all)) + " hold “" + s.filter + "”"
	}
	keys := []Hint{{"Enter", "who is here"}, {"arrows", "choose"}, {"/", "filter"}, {"n", "new"}, {"Tab", "week"}, {"?", "keys"}, {"q", "leave"}}
	if s.filtering {
		keys = []Hint{{"type", "to filter"}, {"Enter", "take it"}, {"Esc", "all again"}}
	}
	r := frame(p, &m.look, "hawser", right, s.notice, keys)
	rows := 3
	if r.H < 3*len(list) {
		rows = 1
	}
	first := scroll(s.at, len(list), max(1, r.H/rows))
	for i := first; i < len(list) && (i-first+1)*rows <= r.H+rows-1; i++ {
		s.line(p, r.rows((i-first)*rows, rows), list[i], i == s.at, m)
	}
	if len(list) == 0 {
		p.Text(r, 0, 0, m.look.keys.said("no session holds that; Esc shows all"), Body)
	}
	return p
}

// line is one session: its title and aim, and where there is room what it holds.
func (s *picker) line(p *Page, r Rect, v *session.Session, chosen bool, m *Model) {
	ink, mark := Strong, " "
	if chosen {
		ink, mark = Chosen, m.look.signs.working
	}
	title := clean(v.Title)
	if title == "" {
		title = clean(v.Name)
	}
	x := p.Say(r, 0, 0, Said{mark + " ", Ready})
	x = p.Text(r, x, 0, title, ink)
	p.Right(r, x+2, 0, string(v.Aim), Dim)
	if r.H > 1 {
		p.Text(r, 2, 1, outline(v), Body)
	}
}

// outline is what a session holds, without loads.
func outline(v *session.Session) string {
	var parts []string
	for i := range v.Parts {
		var moves []string
		for _, st := range v.Parts[i].Stations {
			moves = append(moves, st.Movement)
		}
		parts = append(parts, string(v.Parts[i].Format)+": "+strings.Join(moves, ", "))
	}
	return clean(strings.Join(parts, "; "))
}
