package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/session"
)

func (b *boardroom) draw(m *Model) *Page {
	if b.ask != nil {
		return b.drawQuestion(m)
	}
	p := NewPage(m.w, m.h)
	right := b.busy
	if right == "" && b.board != nil {
		if right = "ends " + measure.Clock(b.board.Ends); m.w >= 60 {
			right += " after GO"
		}
	}
	title := "The board: " + clean(b.day.Session.Title)
	if b.board == nil {
		frame(p, &m.look, title, right, b.say, []Hint{{"Esc", "back"}})
		return p
	}
	r := room(p, b.say)
	large := b.drawLarge(p, r, &m.look)
	below := false
	if !large {
		below = b.drawRows(p, r, &m.look)
	}
	frame(p, &m.look, title, right, b.say, b.hints(below))
	return p
}

// hints is the bottom line: what can be done now comes first, for on a small screen
// there is no room for the rest.
func (b *boardroom) hints(below bool) []Hint {
	all := []Hint{{"Enter", "floor"}, {"arrows", "person, lane"}, {"+ -", "load"}, {"/", "movement"}}
	if slices.ContainsFunc(b.plan.Parts, func(pp floor.PartPlan) bool { return pp.Heats > 1 }) {
		all = append(all, Hint{"Tab", "heat"})
	}
	if below {
		all = append(all, Hint{"PgDn", "more"})
	}
	if len(b.day.Edits) > 0 {
		all = append(all, Hint{"Backspace", "undo"})
	}
	return append(all, Hint{"%", "coach's view"}, Hint{"Esc", "back"})
}

// twoColumns is from how many columns on what to look out for stands beside the
// lanes, and rowsWidth what the lanes then have.
const (
	twoColumns = 110
	rowsWidth  = 66
)

// drawRows draws the board as lines, the chosen one among them; it reports whether
// there is more below.
func (b *boardroom) drawRows(p *Page, r Rect, k *Look) bool {
	if r.W < twoColumns {
		rows := append(b.rows(k, r.W), b.findings(k, r.W)...)
		b.top = max(0, min(b.top, len(rows)-r.H))
		if b.follow {
			b.top = following(rows, b.top, r.H)
		}
		p.rows(r, 0, rows[b.top:min(len(rows), b.top+r.H)])
		return b.top+r.H < len(rows)
	}
	lanes := b.rows(k, rowsWidth)
	top := following(lanes, 0, r.H)
	p.rows(Rect{r.X, r.Y, rowsWidth, r.H}, 0, lanes[top:min(len(lanes), top+r.H)])
	right := Rect{r.X + rowsWidth + 2, r.Y, r.W - rowsWidth - 2, r.H}
	notes := b.findings(k, right.W)
	b.top = max(0, min(b.top, len(notes)-r.H))
	p.rows(right, 0, notes[b.top:min(len(notes), b.top+r.H)])
	return b.top+r.H < len(notes)
}

// following is the first row to show of a window of h so that the chosen one is in it.
func following(rows [][]Said, top, h int) int {
	at := slices.IndexFunc(rows, func(row []Said) bool { return len(row) > 0 && row[0].Ink == Chosen })
	if at < 0 || len(rows) <= h || at >= top && at < top+h {
		return top
	}
	return scroll(at, len(rows), h)
}

// rows is the board as lines: the fit, then the lanes of each part and heat.
func (b *boardroom) rows(k *Look, w int) [][]Said {
	var rows [][]Said
	for i := range b.board.Parts {
		rows = append(rows, b.fit(&b.board.Parts[i], k, w)...)
		rows = append(rows, b.lanes(i, k, w)...)
		rows = append(rows, nil)
	}
	return rows
}

// fit says whether a part fits, and what the ways out cost.
func (b *boardroom) fit(part *lanes.Part, k *Look, w int) [][]Said {
	spec := &b.day.Session.Parts[part.Number-1]
	head := fmt.Sprintf("part %d: %s", part.Number, spec.Format)
	if !spec.Format.Pulls() {
		return [][]Said{{{head + " " + measure.Clock(spec.Time), Strong}, {"  " + clean(spec.Title), Dim}}}
	}
	if part.Every > 0 {
		head += " " + measure.Clock(part.Every)
	}
	f := &part.Fit
	if f.Fits {
		fits := "  " + k.signs.knot + " fits"
		if f.Needs > 0 {
			fits += fmt.Sprintf(": %s needs %s, has %s", clean(f.On), measure.Clock(f.Needs), measure.Clock(f.Has))
		}
		return [][]Said{{{head, Strong}, {fits, Rest}}}
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
	case w.Way == lanes.AsWritten:
		what += ": whoever has to wait for a sled starts late"
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
				rows = append(rows, []Said{{fmt.Sprintf("%d %s", st+1, clean(pp.Spec.Stations[st].Movement)), Dim}})
			}
			for _, on := range pp.Stations[st].On {
				rows = append(rows, b.lane(spotAt{part, st, -1}, heat, on.Name, k, w)...)
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

// lane is the people of one implement in their order. An implement with a long name
// has a line of its own.
func (b *boardroom) lane(at spotAt, heat int, on string, k *Look, w int) [][]Said {
	line, est, short := "%-4s %s %-12s %9s", "  estimated", 4
	if w < 50 {
		line, est, short = "%-3s %s %-9s %7s", "  est", 3
	}
	pp, sled := &b.plan.Parts[at.part], clean(on)
	var rows [][]Said
	people := b.lanePeople(pp, heat, at.station, on)
	if len([]rune(sled)) > short && len(people) > 0 {
		rows = append(rows, []Said{{sled, Body}})
		sled = ""
	}
	for _, i := range people {
		at.who = i
		spot := &pp.Places[i].Spots[at.station]
		ink := Body
		if at == b.at {
			ink = Chosen
		}
		text := fmt.Sprintf(line, sled, keyOr(b.plan.People[i].Key), clean(b.plan.People[i].Name), k.Style.Mass(spot.Moves))
		sled = ""
		row := []Said{{text, ink}, {"  " + stack(spot), Body}}
		if spot.Swap != "" {
			row = append(row, Said{"  " + clean(spot.Swap), Turn})
		}
		if spot.Est {
			row = append(row, Said{est, Warn})
		}
		rows = append(rows, flow(row, w)...)
	}
	return rows
}

// flow puts those pieces of a row that have no room in w columns below it.
func flow(row []Said, w int) [][]Said {
	const in = "      "
	rows, x := [][]Said{row[:1:1]}, displaywidth.String(row[0].Text)
	for _, piece := range row[1:] {
		n := displaywidth.String(piece.Text)
		if x+n <= w {
			rows[len(rows)-1] = append(rows[len(rows)-1], piece)
			x += n
			continue
		}
		for _, line := range wrap(piece.Text, w-len(in)) {
			rows, x = append(rows, []Said{{in + line, piece.Ink}}), len(in)+displaywidth.String(line)
		}
	}
	return rows
}

// keyOr is a key, or the room of one where somebody has none.
func keyOr(key string) string { return cmp.Or(key, " ") }

// findings is what to look out for, worst first. Those that give a max away are
// the coach's own.
func (b *boardroom) findings(k *Look, w int) [][]Said {
	var rows [][]Said
	hidden := 0
	for _, level := range []session.Level{session.Stop, session.Warn, session.Note} {
		for _, f := range b.board.Findings {
			if f.Level != level || f.About == "fit" && strings.HasPrefix(f.Text, "does not fit") { // that stands above
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
