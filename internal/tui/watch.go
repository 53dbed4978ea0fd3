package tui

import (
	"os"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/house"
)

// pollEvery is how often a second screen looks into the log: half of what it may be
// behind the first.
const pollEvery = 25 * time.Millisecond

// watcher is a second screen: it mirrors a run by following its log, and takes no
// press. Its room time is the wall clock's, which both screens have.
type watcher struct {
	next   func() ([]floor.Stamped, error)
	st     *floor.State
	past   map[int]floor.Stamped
	opened time.Time
	turn   time.Duration // when the clock shows something else
	share  Share
	say    string
	sayInk Ink
	bad    string
	scene  *Scene
	big    Raster
}

// polled is a look into the log.
type polled struct {
	events []floor.Stamped
	err    error
}

// RunWatch mirrors a run full-screen. next returns the events that were added
// since it was called last, Opened first; the keys are those of the house.
func RunWatch(next func() ([]floor.Stamped, error), h *house.House, look Look, in, out *os.File) error {
	v := &watcher{next: next, st: floor.New(), past: map[int]floor.Stamped{}, share: WallAlone}
	m := &Model{world: &World{House: h}, look: look.ready(), on: v, w: 80, h: 24, stale: true}
	return m.run(in, out, nil)
}

// poll looks into the log after a while.
func (v *watcher) poll(after time.Duration) tea.Cmd {
	return tea.Tick(after, func(time.Time) tea.Msg {
		events, err := v.next()
		return polled{events, err}
	})
}

// take applies what was added. Nothing is drawn where neither that nor the clock
// changes the screen.
func (v *watcher) take(p polled, m *Model) tea.Cmd {
	bad := ""
	if p.err != nil {
		bad = p.err.Error()
	}
	m.stale = len(p.events) > 0 || bad != v.bad
	v.bad = bad
	for _, e := range p.events {
		v.st.Apply(e)
		v.past[e.N] = e
		if o, ok := e.E.(floor.Opened); ok {
			v.opened = o.Wall
			m.look.Style = styleOf(v.st)
		}
		if text, ink := sentence(v.st, e, v.past); text != "" {
			v.say, v.sayInk = text, ink
		}
	}
	now := time.Since(v.opened) + lead
	if m.stale || now >= v.turn {
		m.stale, v.turn = true, turns(v.st, now)
	}
	return v.poll(min(pollEvery, v.turn-now))
}

func (v *watcher) key(_ *Model, k input) tea.Cmd {
	switch k.key {
	case "tab":
		v.share = (v.share + 1) % 3
	case "q", "esc":
		return tea.Quit
	}
	return nil
}

func (v *watcher) draw(m *Model) *Page {
	if v.st.Plan() == nil {
		p := NewPage(m.w, m.h)
		frame(p, &m.look, "hawser watch", "", join(": ", "waiting for a run", v.bad), []Hint{{"q", "leave"}})
		return p
	}
	s := NewScene(v.st, time.Since(v.opened)+lead, v.scene)
	s.Opened, s.Say, s.SayInk, s.Trouble = v.opened, v.say, v.sayInk, v.bad
	s.Keys = m.look.keys.hints([]Hint{{"Tab", "view"}, {"q", "leave"}})
	v.scene = s
	l := Lay(m.w, m.h, Ask{Share: v.share, Mode: m.look.Mode, Tiles: len(s.Tiles)})
	return s.Draw(m.w, m.h, &l, &m.look, &v.big)
}

// DigitRows returns how many rows of w × h the digits of the wall have, for how
// far they can be read.
func DigitRows(w, h int, mode Mode) int {
	l := Lay(w, h, Ask{Share: WallAlone, Mode: mode})
	if l.TextOnly {
		return 1
	}
	var big Raster
	return big.Draw(NewPage(w, h), l.Digits.in(1), l.Least, mode, "0:00", Body).H
}
