package tui

import (
	"fmt"
	"slices"
	"strings"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// short is the fit in the top line: the only room for it on a small screen.
func (s *sessionSheet) short() string {
	switch {
	case s.fault != "" || s.board == nil:
		return ""
	}
	for i := range s.board.Parts {
		if f := &s.board.Parts[i].Fit; !f.Fits {
			return "no fit: " + f.Took + ", takes " + measure.Clock(s.board.Ends)
		}
	}
	return "fits, takes " + measure.Clock(s.board.Ends)
}

// panel is the board that the rows make, as it goes: does it fit, who pulls what,
// what to look out for, percentages too: whoever makes a session is the coach.
func (s *sessionSheet) panel(m *Model, w int) [][]Said {
	switch {
	case s.fault != "":
		return folded("", "no board yet: "+clean(s.fault), w, Warn)
	case s.board == nil:
		return [][]Said{{{"dealing…", Dim}}}
	}
	b := &boardroom{day: s.day, board: s.board, plan: s.plan, at: spotAt{who: -1}, whole: true}
	var rows, lanes [][]Said
	for i := range s.board.Parts {
		if len(s.board.Parts) > 1 {
			head := []Said{{"part " + itoa(i+1), Turn}}
			rows, lanes = append(rows, head), append(lanes, head)
		}
		rows = append(rows, b.fitFolded(i, w, &m.look)...)
		lanes = append(lanes, b.lanesFolded(i, w, &m.look)...)
	}
	grave, notes := split(s.board.Findings)
	rows = append(append(rows, b.told(grave, w, &m.look)...), nil)
	return append(append(append(rows, lanes...), nil), b.told(notes, w, &m.look)...)
}

// split sets apart what a coach has to know at once. The fit is left out: it has been
// said; and a note that is of several parts is said once.
func split(all []session.Finding) (grave, notes []session.Finding) {
	for _, f := range all {
		switch {
		case f.About == "fit", slices.ContainsFunc(notes, func(n session.Finding) bool { return n.Text == f.Text && n.Athlete == f.Athlete }):
		case f.Level == session.Note:
			notes = append(notes, f)
		default:
			grave = append(grave, f)
		}
	}
	return grave, notes
}

// told is some of the findings as the board tells them.
func (b *boardroom) told(some []session.Finding, w int, k *Look) [][]Said {
	board := *b.board
	board.Findings = some
	return (&boardroom{board: &board, whole: true}).findings(k, w)
}

// folded is a text over as many lines as it takes, the further ones indented as
// wide as its head.
func folded(head, text string, w int, ink Ink) [][]Said {
	var rows [][]Said
	for _, line := range wrap(text, w-len([]rune(head))) {
		rows = append(rows, []Said{{head + line, ink}})
		head = strings.Repeat(" ", len([]rune(head)))
	}
	return rows
}

// fitFolded is the fit of a part, and the ways out with their price, in w columns.
func (b *boardroom) fitFolded(part, w int, k *Look) [][]Said {
	takes := "takes " + measure.Clock(b.board.Ends) + " from GO"
	f := &b.board.Parts[part].Fit
	if f.Fits {
		text := "fits; " + takes
		if f.Needs > 0 {
			text = fmt.Sprintf("fits: %s needs %s, has %s; %s", clean(f.On), measure.Clock(f.Needs), measure.Clock(f.Has), takes)
		}
		return folded(k.signs.knot+" ", text, w, Rest)
	}
	rows := folded(k.signs.late+" ", fmt.Sprintf("does not fit: %s needs %s, has %s", clean(f.On), measure.Clock(f.Needs), measure.Clock(f.Has)), w, Stopped)
	for _, way := range f.Ways {
		mark, ink := "  ", Dim
		if way.Way == f.Took {
			mark, ink = k.signs.working+" ", Ready
		}
		rows = append(rows, folded("  "+mark, wayOut(&way, k), w, ink)...)
	}
	return append(rows, folded("  ", "so it "+takes, w, Body)...)
}

// lanesFolded is who pulls what on which sled, one person a line.
func (b *boardroom) lanesFolded(part, w int, k *Look) [][]Said {
	pp := &b.plan.Parts[part]
	var rows [][]Said
	for heat := 1; heat <= pp.Heats; heat++ {
		if pp.Heats > 1 {
			rows = append(rows, []Said{{"heat " + itoa(heat), Turn}})
		}
		for st := range pp.Stations {
			if len(pp.Stations) > 1 {
				rows = append(rows, []Said{{clean(pp.Spec.Stations[st].Movement), Dim}})
			}
			for _, on := range pp.Stations[st].On {
				for _, i := range b.lanePeople(pp, heat, st, on.Name) {
					spot := &pp.Places[i].Spots[st]
					load := k.Style.Mass(spot.Moves) + ", " + stack(spot)
					if pp.Spec.Format == session.Ramp {
						load = "up to what is good"
					}
					head := fmt.Sprintf("  %s  %s ", clean(on.Name), b.plan.People[i].Key)
					rows = append(rows, folded(head, clean(b.plan.People[i].Name)+": "+load, w, Body)...)
				}
			}
		}
	}
	if len(b.plan.People) == 0 {
		rows = append(rows, folded("", "nobody is in the roster yet; this is the clock alone", w, Warn)...)
	}
	return rows
}
