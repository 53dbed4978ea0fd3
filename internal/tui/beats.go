package tui

import (
	"errors"
	"os"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/cue"
	"hawser/internal/floor"
	"hawser/internal/house"
)

// Beats is three beats and three flashes, over and over, for an ear and an eye to
// bring together: what is set is how late the loudspeaker is, above what the device
// says of itself.
type Beats struct {
	Clock *Clock
	Cues  Cues                // makes the beats
	Later func(time.Duration) // tells the sound how late the speaker is
	Late  time.Duration       // as it is, then as it was set
	Kept  bool                // Enter ended it

	gen int
}

// The beats come twice a second, so that nothing flashes more than three times in one.
const (
	beatEvery  = 500 * time.Millisecond
	beatsCycle = 5 * beatEvery // three of them, and a silence to tell which is the first
	flashFor   = 150 * time.Millisecond
	lateStep   = 10 * time.Millisecond
	lateMost   = time.Second
	lateLeast  = -200 * time.Millisecond
)

// beaten is the clock reaching the next flash, or its end.
type beaten struct{ gen int }

// Run shows the beats until a key ends them.
func (b *Beats) Run(look Look, in, out *os.File) error {
	m := &Model{world: &World{House: house.Default()}, look: look.ready(), on: b, w: 80, h: 24, stale: true}
	b.Later(b.Late)
	err := m.run(in, out, nil)
	if errors.Is(err, ErrInterrupted) {
		return nil
	}
	return err
}

// beatAt is the start of the n-th beat.
func beatAt(n int) time.Duration {
	return time.Duration(n/3)*beatsCycle + time.Duration(n%3)*beatEvery
}

// lit is the beat whose flash is on at a time, -1 for none, and when that changes.
func lit(now time.Duration) (beat int, until time.Duration) {
	n := int(now/beatsCycle) * 3
	for ; ; n++ {
		switch at := beatAt(n); {
		case now < at:
			return -1, at
		case now < at+flashFor:
			return n % 3, at + flashFor
		}
	}
}

// arm hands the sound the next beats and waits for the next change of the flashes.
func (b *Beats) arm() tea.Cmd {
	now := b.Clock.Now()
	var moments []floor.Moment
	for n := int(max(0, now-cue.Together)/beatsCycle) * 3; beatAt(n) < now+horizon; n++ {
		if beatAt(n) >= now-cue.Together {
			moments = append(moments, floor.Moment{At: beatAt(n), Kind: floor.CountDown, Person: -1})
		}
	}
	b.Cues.Schedule(moments)
	_, until := lit(now + lead)
	b.gen++
	gen := b.gen
	return tea.Tick(until-lead-now, func(time.Time) tea.Msg { return beaten{gen} })
}

func (b *Beats) key(_ *Model, k input) tea.Cmd {
	switch k.key {
	case "left":
		b.Late = max(lateLeast, b.Late-lateStep)
	case "right":
		b.Late = min(lateMost, b.Late+lateStep)
	case "enter":
		b.Kept = true
		return tea.Quit
	case "esc", "q":
		return tea.Quit
	}
	b.Later(b.Late)
	return nil
}

func (b *Beats) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	room := frame(p, &m.look, "Beats and flashes", b.said(), b.Cues.Trouble(), []Hint{
		{"left, right", "10 ms"}, {"Enter", "keep"}, {"Esc", "leave as it was"},
	})
	y := 0
	for _, line := range wrap("Three beats, three flashes. Heard after its flash: right. Heard before it: left. Until both are one.", room.W) {
		p.Text(room, 0, y, line, Body)
		y++
	}
	now, _ := lit(b.Clock.Now() + lead)
	field := room.rows(y+1, room.H)
	w := field.W / 3
	for i := range 3 {
		box := Rect{field.X + i*w + 1, field.Y, w - 2, field.H}
		fill, ink := m.look.signs.edge, Dim
		if i == now {
			fill, ink = m.look.signs.chosen, Ready
		}
		for row := range box.H {
			if i == now {
				p.Text(box, 0, row, strings.Repeat(fill, box.W), ink)
				continue
			}
			p.put(box.X, box.Y+row, fill, ink)
			p.put(box.X+box.W-1, box.Y+row, fill, ink)
		}
	}
	return p
}

// said is how late the speaker is taken to be.
func (b *Beats) said() string {
	ms := itoa(int(max(b.Late, -b.Late).Milliseconds())) + " ms"
	switch {
	case b.Late > 0:
		return "speaker " + ms + " late"
	case b.Late < 0:
		return "speaker " + ms + " early"
	}
	return "as the device says"
}
