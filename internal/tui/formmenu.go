package tui

import (
	"time"

	tea "charm.land/bubbletea/v2"
)

// menu is what can be made without an editor.
type menu struct {
	at  int
	say string
}

// sheets are the kinds of form, in the order of the menu: its digit and what a
// form is called.
var sheets = []struct{ name, does string }{
	{"a session", "aim, format, movements and minutes; the fit as it goes"},
	{"a person", "a name is enough"},
	{"a best", "a max with its distance, layout, surface and day"},
	{"a sled", "its name and what it weighs empty"},
	{"plates", "what they weigh and how many"},
	{"a day", "of the usual week: main lifts, time, pull"},
}

func newMenu(w *World) *menu {
	v := &menu{}
	if w.Change == nil {
		v.say = w.Notice
	}
	return v
}

func (v *menu) key(m *Model, k input) tea.Cmd {
	switch k.key {
	case "esc":
		m.on = newPicker(m.world)
	case "up":
		v.at = max(0, v.at-1)
	case "down":
		v.at = min(len(sheets)-1, v.at+1)
	case "enter":
		return m.write(sheets[v.at].name)
	default:
		if len(k.text) == 1 && k.text[0] >= '1' && int(k.text[0]-'1') < len(sheets) {
			return m.write(sheets[k.text[0]-'1'].name)
		}
	}
	return nil
}

// write opens the form of that kind, as it was left.
func (m *Model) write(kind string) tea.Cmd {
	if m.world.Change == nil {
		return nil
	}
	f := m.open(kind)
	if s, ok := f.sheet.(living); ok {
		return s.look(m.world)
	}
	return nil
}

func (m *Model) open(kind string) *form {
	f := m.drafts[kind]
	if f == nil {
		if m.drafts == nil {
			m.drafts = map[string]*form{}
		}
		f = newForm(m, m.sheet(kind))
		m.drafts[kind] = f
	}
	m.on = f
	return f
}

// sheet is an empty sheet of that kind.
func (m *Model) sheet(kind string) sheet {
	switch kind {
	case "a person":
		return &personSheet{}
	case "a best":
		return newBestSheet(m.world, time.Now())
	case "a sled":
		return newSledSheet(m.world)
	case "plates":
		return &platesSheet{}
	case "a day":
		return newDaySheet(time.Now())
	default:
		return newSessionSheet()
	}
}

func (v *menu) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	r := frame(p, &m.look, "Make", "", v.say, []Hint{{"digit", "make it"}, {"arrows", "choose"}, {"Enter", "make it"}, {"Esc", "back"}})
	gap := 1
	if r.H >= 2*len(sheets) {
		gap = 2
	}
	for i, s := range sheets {
		mark, ink := "  ", Body
		if i == v.at {
			mark, ink = m.look.signs.working+" ", Strong
		}
		at := r.rows(i*gap, 1)
		x := p.Say(at, 0, 0, Said{mark, Ready}, Said{itoa(i+1) + "  ", KeyInk}, Said{s.name, ink})
		if at.W >= 70 {
			p.Text(at, max(x+3, 18), 0, s.does, Dim)
		}
	}
	return p
}

func (v *menu) help() []Hint {
	return []Hint{{"1 to 6", "make it"}, {"up, down", "choose"}, {"Enter", "make what is chosen"}, {"Esc", "back to the sessions"}}
}

// on chooses the session of that name.
func (s *picker) on(name string) *picker {
	for i, v := range s.shown() {
		if v.Name == name {
			s.at = i
		}
	}
	return s
}
