package tui

import (
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
)

// offer is a class that was interrupted, offered back. Taken up, it goes on in the
// right second; else it is ended, so that it is not offered again.
type offer struct {
	log  *Log
	st   *floor.State
	now  time.Duration // room time when it was offered
	then screen        // where a new class begins
}

// endedOld says that an interrupted class was ended.
type endedOld struct{}

func newOffer(log *Log, then screen) *offer {
	o := &offer{log: log, st: floor.New(), now: time.Since(log.Zero), then: then}
	for _, e := range log.Past {
		o.st.Apply(e)
	}
	return o
}

func (o *offer) key(m *Model, k input) tea.Cmd {
	switch k.key {
	case "enter":
		return m.enter(o.log, nil)
	case "esc":
		m.on = o.then
		return func() tea.Msg {
			events, _ := floor.Decide(o.st, floor.End{}, o.now) // refused where it has ended: nothing to add
			if err := o.log.Keeper.Append(events); err != nil {
				return failed{err}
			}
			return endedOld{}
		}
	}
	return nil
}

func (o *offer) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	r := frame(p, &m.look, "A class was interrupted", "", "", []Hint{{"Enter", "take it up"}, {"Esc", "end it"}})
	s := NewScene(o.st, o.now, nil)
	done := 0
	for _, rounds := range s.Rounds {
		for i := range rounds {
			if rounds[i].Work > 0 {
				done++
			}
		}
	}
	lines := []string{
		s.head(m.look.signs, r.W),
		itoa(done) + " splits are kept of the part that was on.",
		"Taken up, it goes on in the second in which it would be now; a stopped clock stays stopped.",
	}
	y := 0
	for i, l := range lines {
		for _, line := range wrap(l, r.W) {
			ink := Body
			if i == 0 {
				ink = Strong
			}
			p.Text(r, 0, y, line, ink)
			y++
		}
	}
	return p
}
