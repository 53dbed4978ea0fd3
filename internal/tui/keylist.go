package tui

import (
	tea "charm.land/bubbletea/v2"
)

// helped is a screen outside a run that has keys to list. It returns nil while
// what is typed is text.
type helped interface{ help() []Hint }

// keyList is the keys of the screen it was asked for on, filtered as one types.
type keyList struct {
	back   screen
	hints  []Hint
	search search // typed all along
}

func (l *keyList) key(m *Model, k input) tea.Cmd {
	switch k.key {
	case "esc", "enter", "?":
		m.on = l.back
	case "backspace":
		l.search.text = shorten(l.search.text)
	default:
		l.search.text += clean(k.text)
	}
	return nil
}

func (l *keyList) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	right := "type to filter"
	if l.search.text != "" {
		right = "with “" + l.search.text + "”"
	}
	r := frame(p, &m.look, "Keys", right, "", []Hint{{"Esc", "close"}, {"type", "filter"}})
	var left []Hint
	for _, h := range m.look.keys.hints(l.hints) {
		if l.search.holds(h.Key + " " + h.Does) {
			left = append(left, h)
		}
	}
	p.list(r, left)
	return p
}

func (s *picker) help() []Hint {
	if s.search.typing {
		return nil
	}
	return []Hint{
		{"up, down", "choose a session"},
		{"Enter", "go on to who is here"},
		{"/", "show only what holds the typed words"},
		{"Tab", "the week"},
		{"l", "the logs of classes that were run"},
		{"Esc", "show all again"},
		{"o", "another order of the list"},
		{"n", "make a session, a person or a sled"},
		{"q", "leave"},
	}
}

func (v *weekPage) help() []Hint {
	return []Hint{
		{"left", "the week before"},
		{"right", "the week after"},
		{"up, down", "a line up, a line down"},
		{"PgUp, PgDn", "a page up, a page down"},
		{"Esc", "back to the sessions"},
		{"q", "leave"},
	}
}

func (v *muster) help() []Hint {
	if v.naming || v.search.typing {
		return nil
	}
	return []Hint{
		{"letter", "the person beside it is here, or not"},
		{"/", "search for a name and mark it"},
		{"*", "everyone is here"},
		{"+", "a guest, by name alone"},
		{"1 to 9", "a sled is out today, or there again"},
		{"up, down", "choose a kind of plate"},
		{"left", "one plate is missing"},
		{"right", "one plate is there again"},
		{"Enter", "make the board"},
		{"Esc", "back to the sessions"},
	}
}

func (b *boardroom) help() []Hint {
	return []Hint{
		{"up, down", "person, at one station"},
		{"left", "implement before, priced"},
		{"right", "next implement, priced"},
		{"Tab", "to the next heat"},
		{"+", "one step heavier"},
		{"-", "one step lighter"},
		{"/", "another movement there"},
		{"Backspace", "undo the last move"},
		{"PgUp", "up the page"},
		{"PgDn", "down the page"},
		{"%", "the coach's percentages"},
		{"Enter", "to the floor, before GO"},
		{"Esc", "back to who is here"},
	}
}

func (a *after) help() []Hint {
	return []Hint{
		{"0 to 9", "type a figure"},
		{"Enter", "keep it; with nothing typed: skip"},
		{"up, down", "another person"},
		{"Esc", "to the end; then back to the wall"},
	}
}

func (r *Replay) help() []Hint {
	return []Hint{
		{"Enter", "next time: accept, change, reject"},
		{"Space", "play or stand"},
		{"left", "five seconds back"},
		{"right", "five seconds on"},
		{"PgUp", "to the round before"},
		{"PgDn", "to the next round"},
		{"up", "faster"},
		{"down", "slower, then backwards"},
		{"1 to 9", "to that round; 1 2 is round 12"},
		{"letter", "that person alone, or all again"},
		{"Tab", "the run before beneath this one"},
		{"Home", "to the start"},
		{"End", "to the end"},
		{"Esc", "all again; leave"},
		{"q", "leave"},
	}
}
