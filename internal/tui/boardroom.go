package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
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

func (b *boardroom) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	right := b.busy
	if right == "" && b.board != nil {
		if right = "ends " + measure.Clock(b.board.Ends); m.w >= 60 {
			right += " after GO"
		}
	}
	r := frame(p, &m.look, "The board: "+clean(b.day.Session.Title), right, b.say, []Hint{
		{"Enter", "to the floor"}, {"up, down", "person"}, {"left, right", "move"}, {"+ -", "load"}, {"/", "movement"}, {"Tab", "heat"}, {"Backspace", "undo"}, {"%", "coach's view"}, {"Esc", "back"},
	})
	if b.board == nil {
		return p
	}
	if b.drawLarge(p, r, &m.look) {
		return p
	}
	rows := b.rows(&m.look, r.W)
	b.top = max(0, min(b.top, len(rows)-r.H))
	if at := slices.IndexFunc(rows, func(row []Said) bool { return len(row) > 0 && row[0].Ink == Chosen }); at >= 0 && len(rows) > r.H {
		if at < b.top || at >= b.top+r.H {
			b.top = scroll(at, len(rows), r.H)
		}
	}
	p.rows(r, 0, rows[b.top:min(len(rows), b.top+r.H)])
	return p
}

// rows is the board as lines: the fit, the lanes of each part and heat, the findings.
func (b *boardroom) rows(k *Look, w int) [][]Said {
	var rows [][]Said
	for i := range b.board.Parts {
		rows = append(rows, b.fit(&b.board.Parts[i], k, w)...)
		rows = append(rows, b.lanes(i, k, w)...)
		rows = append(rows, nil)
	}
	return append(rows, b.findings(k, w)...)
}

// fit says whether a part fits, and what the ways out cost.
func (b *boardroom) fit(part *lanes.Part, k *Look, w int) [][]Said {
	spec := &b.day.Session.Parts[part.Number-1]
	head := fmt.Sprintf("part %d: %s", part.Number, spec.Format)
	if part.Every > 0 {
		head += " " + measure.Clock(part.Every)
	}
	f := &part.Fit
	if f.Fits {
		return [][]Said{{{head, Strong}, {"  " + k.signs.knot + " fits", Rest}}}
	}
	why := fmt.Sprintf("  %s does not fit as written: needs %s, has %s on %s", k.signs.late, measure.Clock(f.Needs), measure.Clock(f.Has), clean(f.On))
	rows := [][]Said{{{head, Strong}, {why, Stopped}}}
	if len([]rune(head+why)) > w {
		rows = [][]Said{{{head, Strong}}}
		for _, line := range wrap(why, w) {
			rows = append(rows, []Said{{line, Stopped}})
		}
	}
	for _, way := range f.Ways {
		mark, ink := "  ", Dim
		if way.Way == f.Took {
			mark, ink = k.signs.working+" ", Ready
		}
		for i, line := range wrap(wayOut(&way, k), w-4) {
			if i > 0 {
				mark = "  "
			}
			rows = append(rows, []Said{{"  " + mark + line, ink}})
		}
	}
	return rows
}

// wayOut is one way out with its price.
func wayOut(w *lanes.Way, k *Look) string {
	what := w.Way
	switch {
	case w.Heats > 0:
		what = itoa(w.Heats) + " heats"
	case w.Every > 0:
		what = w.Way + " " + measure.Clock(w.Every)
	case w.Distance > 0:
		what = w.Way + ": " + k.Style.Distance(w.Distance)
	case w.PullsEach > 0:
		what = fmt.Sprintf("%s: %d pulls each", w.Way, w.PullsEach)
	}
	if w.Ends > 0 {
		what += ", ends " + measure.Clock(w.Ends)
	}
	if w.Idle > 0 {
		what += fmt.Sprintf(", %.0f of 100 stand idle", w.Idle)
	}
	return what
}

// lanes is who stands where with what, one person a line, by heat, station and sled.
func (b *boardroom) lanes(part int, k *Look, w int) [][]Said {
	pp := &b.plan.Parts[part]
	var rows [][]Said
	for heat := 1; heat <= pp.Heats; heat++ {
		if pp.Heats > 1 {
			rows = append(rows, []Said{{fmt.Sprintf("heat %d", heat), Turn}})
		}
		for st := range pp.Stations {
			if len(pp.Stations) > 1 {
				rows = append(rows, []Said{{clean(pp.Spec.Stations[st].Movement), Dim}})
			}
			for _, on := range pp.Stations[st].On {
				rows = append(rows, b.lane(pp, heat, st, on.Name, k, w)...)
			}
		}
	}
	return rows
}

// lanePeople is who stands at one implement in one heat, in their order.
func (b *boardroom) lanePeople(pp *floor.PartPlan, heat, st int, on string) []int {
	var who []int
	for i := range pp.Places {
		if pl := &pp.Places[i]; pl.Heat == heat && st < len(pl.Spots) && pl.Spots[st].On == on {
			who = append(who, i)
		}
	}
	slices.SortStableFunc(who, func(x, y int) int { return pp.Places[x].Spots[st].Order - pp.Places[y].Spots[st].Order })
	return who
}

// lane is the people of one implement in their order.
func (b *boardroom) lane(pp *floor.PartPlan, heat, st int, on string, k *Look, w int) [][]Said {
	line, est := "%-4s %s %-12s %9s", "  estimated"
	if w < 50 {
		line, est = "%-3s %s %-9s %7s", "  est"
	}
	var rows [][]Said
	for n, i := range b.lanePeople(pp, heat, st, on) {
		spot := &pp.Places[i].Spots[st]
		ink, sled := Body, ""
		if i == b.at {
			ink = Chosen
		}
		if n == 0 {
			sled = clean(on)
		}
		text := fmt.Sprintf(line, sled, b.plan.People[i].Key, clean(b.plan.People[i].Name), k.Style.Mass(spot.Moves))
		row := []Said{{text, ink}, {"  " + stack(spot), Body}}
		if spot.Swap != "" {
			row = append(row, Said{"  " + clean(spot.Swap), Turn})
		}
		if spot.Est {
			row = append(row, Said{est, Warn})
		}
		rows = append(rows, row)
	}
	return rows
}

// findings is what to look out for, worst first. Those that give a max away are
// the coach's own.
func (b *boardroom) findings(k *Look, w int) [][]Said {
	var rows [][]Said
	hidden := 0
	for _, level := range []session.Level{session.Stop, session.Warn, session.Note} {
		for _, f := range b.board.Findings {
			if f.Level != level {
				continue
			}
			if private(&f) && !b.whole {
				hidden++
				continue
			}
			ink, mark := Body, k.signs.knot
			switch level {
			case session.Stop:
				ink, mark = Stopped, k.signs.stopped
			case session.Warn:
				ink, mark = Warn, k.signs.late
			}
			for i, line := range wrap(about(&f), w-2) {
				lead := "  "
				if i == 0 {
					lead = mark + " "
				}
				rows = append(rows, []Said{{lead + line, ink}})
			}
		}
	}
	if hidden > 0 {
		for _, line := range wrap(fmt.Sprintf("%d more for the coach alone: %% shows them", hidden), w) {
			rows = append(rows, []Said{{line, Dim}})
		}
	}
	return rows
}

// private reports whether a finding gives a max away.
func private(f *session.Finding) bool {
	return strings.Contains(f.Text, "%") || strings.Contains(f.Text, " max ")
}

// about is a finding with whom it is about.
func about(f *session.Finding) string { return join(": ", clean(f.Athlete), clean(f.Text)) }

// wrap breaks a sentence into lines of at most w columns.
func wrap(s string, w int) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(s) {
		if line != "" && len([]rune(line+" "+word)) > w {
			lines = append(lines, line)
			line = ""
		}
		line = join(" ", line, word)
	}
	return append(lines, line)
}
