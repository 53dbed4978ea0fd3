package tui

import (
	"cmp"
	"slices"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/session"
)

// picker chooses a session. '/' searches, and says so; 'o' puts the list in
// another order.
type picker struct {
	w      *World
	at     int
	order  byOrder
	search search
}

// byOrder is the order of the list.
type byOrder int

const (
	byName byOrder = iota
	byLastRun
	byAim
	orders
)

func (o byOrder) String() string {
	return [...]string{"by name", "last run first", "by what it trains"}[o]
}

func newPicker(w *World) *picker { return &picker{w: w} }

// shown is the sessions that the filter leaves, in their order.
func (s *picker) shown() []*session.Session {
	var out []*session.Session
	for _, v := range s.w.Sessions {
		if s.search.holds(v.Title + " " + v.Name + " " + string(v.Aim)) {
			out = append(out, v)
		}
	}
	switch s.order {
	case byLastRun:
		slices.SortStableFunc(out, func(a, b *session.Session) int { return s.w.Ran[b.Name].Compare(s.w.Ran[a.Name]) })
	case byAim:
		slices.SortStableFunc(out, func(a, b *session.Session) int { return cmp.Compare(a.Aim, b.Aim) })
	case byName, orders:
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
	case s.search.key(k):
		s.at = 0
	case k.key == "tab" && m.world.Week != nil:
		v := &weekPage{back: s}
		m.on = v
		return v.turn(m.world, 0)
	case k.key == "o":
		s.order, s.at = (s.order+1)%orders, 0
	case k.key == "l" && m.world.Recent != nil:
		v, read := newLogList(m.world, s)
		m.on = v
		return read
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
	right := s.heading(len(list))
	keys := []Hint{{"Enter", "who is here"}, {"arrows", "choose"}, {"/", "filter"}, {"n", "new"}, {"Tab", "week"}, {"?", "keys"}, {"l", "logs"}, {"q", "leave"}, {"o", "order"}}
	if s.search.typing {
		keys = []Hint{{"type", "to filter"}, {"Enter", "take it"}, {"Esc", "all again"}}
	}
	r := frame(p, &m.look, "hawser", right, s.w.Notice, keys)
	rows := 3
	for rows > 1 && r.H < rows*len(list) {
		rows--
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

// heading says how many sessions there are, what is searched for and the order.
func (s *picker) heading(left int) string {
	all := itoa(len(s.w.Sessions)) + " sessions"
	if len(s.w.Sessions) == 1 {
		all = "1 session"
	}
	all = s.search.count(left, all)
	if s.order != byName {
		all += ", " + s.order.String()
	}
	if s.w.Rest != nil {
		all += ", reading the rest"
	}
	return all
}

// line is one session: its title and aim, how long it takes at least and when it was
// run last, and where there is room what it holds.
func (s *picker) line(p *Page, r Rect, v *session.Session, chosen bool, m *Model) {
	ink, mark := Strong, " "
	if chosen {
		ink, mark = Chosen, m.look.signs.working
	}
	title := clean(v.Title)
	if title == "" {
		title = clean(v.Name)
	}
	var known []string
	if d := onClock(v); d > 0 {
		known = append(known, "from "+itoa(int((d+time.Minute-1)/time.Minute))+" min")
	}
	if at, ok := s.w.Ran[v.Name]; ok {
		known = append(known, "last run "+at.Format(time.DateOnly))
	}
	x := p.Say(r, 0, 0, Said{mark + " ", Ready})
	x = p.Text(r, x, 0, title, ink)
	if r.H == 1 && p.Right(r, x+2, 0, strings.Join(append(known, string(v.Aim)), "  "), Dim) < r.W {
		return
	}
	p.Right(r, x+2, 0, string(v.Aim), Dim)
	if r.H > 1 {
		x = p.Text(r, 2, 1, outline(v), Body)
		p.Right(r, x+2, 1, strings.Join(known, "  "), Dim)
	}
}

// onClock is how long the clocks of a session run with everyone in one heat, 0 where
// people keep their own.
func onClock(v *session.Session) time.Duration {
	all := time.Duration(0)
	for i := range v.Parts {
		p := &v.Parts[i]
		one := p.Cap
		switch p.Format {
		case session.Every:
			one = time.Duration(p.Rounds) * p.Every
		case session.Intervals:
			one = time.Duration(p.Rounds)*(p.Work+p.Rest) - p.Rest
		case session.WarmUp, session.Break:
			one = p.Time
		case session.Amrap, session.ForTime, session.Ratio, session.Sets, session.LongPull, session.Ramp:
		}
		if one <= 0 {
			return 0
		}
		all += one
	}
	return all
}

// outline is what a session holds, without loads.
func outline(v *session.Session) string {
	var parts []string
	for i := range v.Parts {
		var moves []string
		for _, st := range v.Parts[i].Stations {
			moves = append(moves, st.Movement)
		}
		parts = append(parts, join(": ", string(v.Parts[i].Format), strings.Join(moves, ", ")))
	}
	return clean(strings.Join(parts, "; "))
}
