package tui

import (
	"cmp"
	"fmt"
	"slices"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// boardroom is the board before GO: does it fit, who pulls where with what, and
// what to look out for. People can be moved between implements; each move is
// priced against the board before it. Percentages and maxes are the coach's: they
// show only while '%' asks for them.
type boardroom struct {
	muster *muster
	day    Day
	board  *lanes.Board
	plan   *floor.Plan
	at     int // person, index into plan.People
	top    int // first row shown
	whole  bool
	busy   string
	say    string

	straight bool // on to the class as soon as there is a board
}

type (
	// boarded is a board that was made.
	boarded struct {
		day   Day
		board *lanes.Board
		plan  *floor.Plan
		err   error
	}
	// opened is a log that was opened: the run begins.
	opened struct{ log *Log }
)

func newBoardroom(v *muster, d Day) *boardroom {
	return &boardroom{muster: v, day: d, busy: "dealing…"}
}

// make asks for the board of the day.
func (b *boardroom) make(w *World) tea.Cmd {
	return b.try(w, b.day)
}

func (b *boardroom) try(w *World, d Day) tea.Cmd {
	b.busy = "dealing…"
	return func() tea.Msg {
		board, plan, err := w.Board(d)
		return boarded{d, board, plan, err}
	}
}

// take is a board that came back, with what the move costs.
func (b *boardroom) take(x boarded, w *World) tea.Cmd {
	b.busy = ""
	if x.err != nil {
		b.say = x.err.Error()
		return nil
	}
	if b.board != nil {
		plates := x.board.PlatesMoved - b.board.PlatesMoved
		later := x.board.Ends - b.board.Ends
		b.say = fmt.Sprintf("%+d plates moved, class ends %s", plates, signed(later))
	}
	b.day, b.board, b.plan = x.day, x.board, x.plan
	b.at = min(b.at, max(0, len(b.plan.People)-1))
	if b.straight {
		b.straight = false
		return b.start(w)
	}
	return nil
}

func (b *boardroom) fail(err error) { b.busy, b.say = "", err.Error() }

func (b *boardroom) key(m *Model, k input) tea.Cmd {
	if k.key == "esc" {
		m.on = b.muster
		return nil
	}
	if b.plan == nil || b.busy != "" {
		return nil
	}
	switch k.key {
	case "enter":
		return b.start(m.world)
	case "up":
		b.choose(-1)
	case "down":
		b.choose(1)
	case "left":
		return b.move(m.world, -1)
	case "right":
		return b.move(m.world, 1)
	case "pgdown":
		b.top += 5
	case "pgup":
		b.top = max(0, b.top-5)
	case "+", "-":
		return b.step(m.world, map[string]int{"+": 1, "-": -1}[k.key])
	case "tab":
		return b.heat(m.world)
	case "/":
		return b.swap(m.world)
	case "backspace":
		if n := len(b.day.Edits); n > 0 {
			d := b.day
			d.Edits = d.Edits[:n-1]
			return b.try(m.world, d)
		}
	case "%":
		b.whole = !b.whole
	}
	return nil
}

// start opens the log and so the run, unless a finding stops it.
func (b *boardroom) start(w *World) tea.Cmd {
	for _, f := range b.board.Findings {
		if f.Level == session.Stop {
			b.say = "this does not go: " + about(&f)
			return nil
		}
	}
	b.busy = "opening the log…"
	return func() tea.Msg {
		log, err := w.Open(b.plan)
		if err != nil {
			return failed{err}
		}
		return opened{log}
	}
}

// choose goes to the next person who has a place.
func (b *boardroom) choose(by int) {
	for i := b.at + by; i >= 0 && i < len(b.plan.People); i += by {
		if b.placed(i) {
			b.at = i
			return
		}
	}
}

func (b *boardroom) placed(i int) bool {
	return slices.ContainsFunc(b.plan.Parts, func(p floor.PartPlan) bool { return p.Places[i].Heat > 0 })
}

// move asks for the board with the chosen person on the next implement of each
// part they are in.
func (b *boardroom) move(w *World, by int) tea.Cmd {
	d := b.day
	for i := range b.plan.Parts {
		pp := &b.plan.Parts[i]
		pl := &pp.Places[b.at]
		if pl.Heat == 0 || len(pl.Spots) == 0 {
			continue
		}
		on := pp.Stations[0].On
		at := slices.IndexFunc(on, func(t floor.Thing) bool { return t.Name == pl.Spots[0].On })
		if at >= 0 && len(on) > 1 {
			d.Edits = b.edit(d.Edits, lanes.Edit{Part: i + 1, Station: 1, On: on[(at+by+len(on))%len(on)].Name})
		}
	}
	return b.try(w, d)
}

// heat asks for the board with the chosen person in the next heat of each part.
func (b *boardroom) heat(w *World) tea.Cmd {
	d := b.day
	for i := range b.plan.Parts {
		pp := &b.plan.Parts[i]
		if pl := &pp.Places[b.at]; pl.Heat > 0 && pp.Heats > 1 {
			d.Edits = b.edit(d.Edits, lanes.Edit{Part: i + 1, Heat: pl.Heat%pp.Heats + 1})
		}
	}
	return b.try(w, d)
}

// step asks for the board with the chosen person's loads up or down by one step.
func (b *boardroom) step(w *World, by int) tea.Cmd {
	d := b.day
	for i := range b.plan.Parts {
		if b.plan.Parts[i].Places[b.at].Heat > 0 {
			d.Edits = b.edit(d.Edits, lanes.Edit{Part: i + 1, Steps: by})
		}
	}
	return b.try(w, d)
}

// swap asks for the board with the next movement for the chosen person, at the
// first station of each part. It is of the same implement, so that the lane stays.
func (b *boardroom) swap(w *World) tea.Cmd {
	d := b.day
	for i := range b.plan.Parts {
		pp := &b.plan.Parts[i]
		pl := &pp.Places[b.at]
		if pl.Heat == 0 || len(pl.Spots) == 0 {
			continue
		}
		now := cmp.Or(pl.Spots[0].Swap, pp.Spec.Stations[0].Movement)
		if next := movement.Next(now); next != now {
			d.Edits = b.edit(d.Edits, lanes.Edit{Part: i + 1, Station: 1, Movement: next})
		}
	}
	return b.try(w, d)
}

// edit returns the edits with one more about the chosen person; the slice that
// another board was made from stays as it was.
func (b *boardroom) edit(edits []lanes.Edit, e lanes.Edit) []lanes.Edit {
	e.Athlete = b.plan.People[b.at].Name
	return append(slices.Clip(edits), e)
}

func signed(d interface{ Seconds() float64 }) string {
	switch s := int(d.Seconds()); {
	case s == 0:
		return "at the same time"
	case s > 0:
		return fmt.Sprintf("%d s later", s)
	default:
		return fmt.Sprintf("%d s earlier", -s)
	}
}
