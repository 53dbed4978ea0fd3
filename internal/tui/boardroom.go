package tui

import (
	"slices"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/lanes"
)

// boardroom is the board before GO: does it fit, who pulls where with what, and
// what to look out for. People can be moved between implements and heats, their
// loads and movements changed, at the station that is chosen; each change is priced
// against the board before it, and the class runs on the last one. Percentages and
// maxes are the coach's: they show only while '%' asks for them.
type boardroom struct {
	muster *muster
	day    Day
	board  *lanes.Board
	plan   *floor.Plan
	at     spotAt
	top    int  // first row shown
	follow bool // the chosen row is to be among those shown
	whole  bool
	busy   string
	doing  string // what the change that is being priced does
	say    string

	ask      *question    // before GO; nil: none open
	answered map[int]bool // parts, from 0, whose way out the coach has taken
	knows    bool         // what stops the class, and lets it go

	straight bool // on to the class as soon as there is a board, by the ways that the house takes
}

// spotAt is one person at one station of a part, each as an index; who is -1 for nobody.
type spotAt struct{ part, station, who int }

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
	return &boardroom{muster: v, day: d, busy: "dealing…", answered: map[int]bool{}}
}

// make asks for the board of the day.
func (b *boardroom) make(w *World) tea.Cmd { return b.try(w, b.day, "") }

// try asks for the board of a day; doing is what is changed in it.
func (b *boardroom) try(w *World, d Day, doing string) tea.Cmd {
	b.busy, b.doing = "dealing…", doing
	return func() tea.Msg {
		board, plan, err := w.Board(d)
		return boarded{d, board, plan, err}
	}
}

// take is a board that came back, with what the change costs.
func (b *boardroom) take(x boarded, w *World) tea.Cmd {
	b.busy = ""
	if x.err != nil {
		b.say = x.err.Error()
		return nil
	}
	first := b.board == nil
	if !first {
		b.say = b.price(&x)
	}
	b.day, b.board, b.plan = x.day, x.board, x.plan
	b.knows, b.follow = false, true
	if order := b.order(); len(order) > 0 && (first || !slices.Contains(order, b.at)) {
		b.at = order[0]
	}
	if b.straight {
		return b.start(w)
	}
	return nil
}

func (b *boardroom) fail(err error) { b.busy, b.say = "", err.Error() }

func (b *boardroom) key(m *Model, k input) tea.Cmd {
	if b.ask != nil {
		return b.answer(m, k)
	}
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
	case "pgdown":
		b.top, b.follow = b.top+5, false
	case "pgup":
		b.top, b.follow = max(0, b.top-5), false
	case "%":
		b.whole = !b.whole
	default:
		return b.change(m.world, k.key)
	}
	return nil
}

// start opens the log and so the run, once what has to be asked before GO is answered.
func (b *boardroom) start(w *World) tea.Cmd {
	if b.ask = b.question(); b.ask != nil {
		b.straight = false
		return nil
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
