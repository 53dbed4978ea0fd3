package tui

import (
	"fmt"
	"slices"
	"strings"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/session"
)

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
	if !spec.Format.Pulls() {
		return [][]Said{{{head + " " + measure.Clock(spec.Time), Strong}, {"  " + clean(spec.Title), Dim}}}
	}
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
