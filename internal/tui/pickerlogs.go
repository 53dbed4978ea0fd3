package tui

import (
	"time"

	tea "charm.land/bubbletea/v2"
)

// Recent is a run that is over or was broken off, for the list of logs.
type Recent struct {
	Log     string // the path that Replay takes
	Wall    time.Time
	Session string
	People  int
}

// logLine is one of the list, as it is shown and searched.
type logLine struct {
	Recent
	text string
}

// logList is the recent logs, the newest first: '/' searches, Enter replays one.
type logList struct {
	back   screen
	all    []logLine
	at     int
	search search
	busy   bool
	say    string
}

type (
	// listed is the logs that were asked for.
	listed []Recent
	// unrolled is the replay of one that was.
	unrolled struct {
		replay *Replay
		err    error
	}
)

// newLogList asks for the logs.
func newLogList(w *World, back screen) (*logList, tea.Cmd) {
	return &logList{back: back, busy: true, say: "reading the logs…"}, func() tea.Msg { return listed(w.Recent()) }
}

// take shows the logs that were read.
func (v *logList) take(all listed) {
	v.all, v.busy, v.say = make([]logLine, len(all)), false, ""
	for i, r := range all {
		v.all[i] = logLine{r, r.Wall.Format("2006-01-02 15:04") + "  " + clean(r.Session)}
	}
}

// replay goes on to a log that was read.
func (v *logList) replay(m *Model, u unrolled) {
	v.busy, v.say = false, ""
	if u.err != nil {
		v.say = clean(u.err.Error())
		return
	}
	u.replay.back = v
	m.on = u.replay
}

// shown is the logs that the filter leaves.
func (v *logList) shown() []logLine {
	if v.search.text == "" {
		return v.all
	}
	var left []logLine
	for _, l := range v.all {
		if v.search.holds(l.text) {
			left = append(left, l)
		}
	}
	return left
}

func (v *logList) key(m *Model, k input) tea.Cmd {
	list := v.shown()
	switch {
	case k.key == "up":
		v.at = max(0, v.at-1)
	case k.key == "down":
		v.at = max(0, min(len(list)-1, v.at+1))
	case k.key == "pgup":
		v.at = max(0, v.at-m.h+4)
	case k.key == "pgdown":
		v.at = max(0, min(len(list)-1, v.at+m.h-4))
	case k.key == "enter" && len(list) > 0 && !v.busy:
		log := list[min(v.at, len(list)-1)].Log
		v.busy, v.say = true, "reading it…"
		return func() tea.Msg {
			replay, err := m.world.Replay(log)
			return unrolled{replay, err}
		}
	case v.search.key(k):
		v.at = 0
	case k.key == "esc":
		m.on = v.back
	case k.key == "q":
		return tea.Quit
	}
	return nil
}

func (v *logList) help() []Hint {
	if v.search.typing {
		return nil
	}
	return []Hint{
		{"up, down", "choose a log"},
		{"PgUp, PgDn", "a page up, a page down"},
		{"Enter", "replay it"},
		{"/", "show only what holds the typed words"},
		{"Esc", "show all again, then back"},
		{"q", "leave"},
	}
}

func (v *logList) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	list := v.shown()
	right := v.search.count(len(list), itoa(len(v.all))+" logs")
	keys := []Hint{{"Enter", "replay"}, {"arrows", "choose"}, {"/", "filter"}, {"Esc", "back"}, {"?", "keys"}, {"q", "leave"}}
	if v.search.typing {
		keys = []Hint{{"type", "to filter"}, {"Enter", "replay"}, {"Esc", "all again"}}
	}
	r := frame(p, &m.look, "Logs", right, v.say, keys)
	first := scroll(v.at, len(list), r.H)
	for i := first; i < len(list) && i-first < r.H; i++ {
		ink, mark := Body, "  "
		if i == v.at {
			ink, mark = Chosen, m.look.signs.working+" "
		}
		line := r.rows(i-first, 1)
		x := p.Say(line, 0, 0, Said{mark, Ready})
		x = p.Text(line, x, 0, list[i].text, ink)
		people := itoa(list[i].People) + " people"
		if list[i].People == 1 {
			people = "1 person"
		}
		p.Right(line, x+2, 0, people, Dim)
	}
	if len(list) == 0 && !v.busy {
		said := "no class was run yet"
		if len(v.all) > 0 {
			said = "no log holds that; Esc shows all"
		}
		p.Text(r, 0, 0, m.look.keys.said(said), Body)
	}
	return p
}
