package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"hawser/internal/lanes"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// lanes prints the people of each implement in the order in which they go on it.
func (b *boardPage) lanes(p *lanes.Part, h lanes.Heat) {
	unit := strings.TrimLeft(b.style.Mass(0), "0 ")
	switch {
	case b.paired && h.Number > 1: // said once
	case b.paired:
		b.line("  %s who, plates on each end, moves %s, %s; left goes before right", cell("on", onWidth), unit, b.column())
	default:
		b.line("  %s %s %s %8s %s", cell("on", onWidth), cell("who", whoWidth),
			cell("plates on each end", platesWidth-2), "moves "+unit, b.column())
	}
	for _, lane := range h.Lanes {
		on := shown(lane.On.Name)
		if len(p.Stations) > 1 {
			on = fmt.Sprintf("%d %s", lane.Station, on)
		}
		if b.paired {
			b.pairs(p, lane, on)
			continue
		}
		for _, turn := range lane.Turns {
			b.row(on, b.who(turn.Athlete), plates(turn.Stack.Stamps(b.pile)), b.style.MassFigure(turn.Moves), b.beside(p, lane, turn))
			b.furtherSets(p, lane, turn)
			on = ""
		}
	}
}

// pairs prints a lane with two people to a line, left before right, where both have
// room and one load each.
func (b *boardPage) pairs(p *lanes.Part, lane lanes.Lane, on string) {
	if ansi.StringWidth(on) > onWidth {
		b.line("  %s", on)
		on = ""
	}
	for turns := lane.Turns; len(turns) > 0; on = "" {
		left := b.half(p, lane, turns[0])
		if len(turns) > 1 {
			if right := b.half(p, lane, turns[1]); left.width()+right.width()+2 <= rowWidth {
				at := min(max(left.width(), (rowWidth-2)/2), rowWidth-2-right.width())
				b.line("  %s %s  %s", cell(on, onWidth), left.wide(at), right.wide(rowWidth-2-at))
				turns = turns[2:]
				continue
			}
		}
		b.row(on, b.who(turns[0].Athlete), plates(turns[0].Stack.Stamps(b.pile)), b.style.MassFigure(turns[0].Moves), b.beside(p, lane, turns[0]))
		b.furtherSets(p, lane, turns[0])
		turns = turns[1:]
	}
}

// half is one person on a part of a line: who with which plates, and what that moves.
type half struct{ plates, moves string }

func (h half) width() int { return ansi.StringWidth(h.plates) + 1 + ansi.StringWidth(h.moves) }

// wide is the half in w columns.
func (h half) wide(w int) string {
	return h.plates + strings.Repeat(" ", w-ansi.StringWidth(h.plates)-ansi.StringWidth(h.moves)) + h.moves
}

func (b *boardPage) half(p *lanes.Part, lane lanes.Lane, turn lanes.Turn) half {
	got, _ := loadOf(p, lane, turn)
	h := half{
		b.who(turn.Athlete) + " " + plates(turn.Stack.Stamps(b.pile)),
		strings.TrimRight(b.style.MassFigure(turn.Moves)+" "+b.briefly(turn, got), " "),
	}
	if got.Set > 0 { // the further sets stand below
		h.plates += strings.Repeat(" ", rowWidth)
	}
	return h
}

// briefly is beside, less what stands in the line of the station: what is asked, and
// of what.
func (b *boardPage) briefly(turn lanes.Turn, got load.Got) string {
	switch {
	case b.public && turn.Moved > 0:
		return measure.Clock(turn.Handover) + estimated(got)
	case b.public:
		return strings.TrimSpace(estimated(got))
	case pctOf(got.Basis) != "" && got.Of > 0:
		return strings.Replace(b.style.Percent(counted(got), got.Of), " %", "%", 1) + b.further(got)
	case counted(got) == got.Asked:
		return strings.TrimLeft(b.further(got), ", ")
	}
	return b.of(got)
}

// furtherSets prints what a person pulls from the second set on, where the
// station has a load for each.
func (b *boardPage) furtherSets(p *lanes.Part, lane lanes.Lane, turn lanes.Turn) {
	for _, got := range p.Loads {
		if got.Athlete == turn.Athlete && got.Station == lane.Station && got.Set > 1 {
			b.row("", fmt.Sprintf("    set %d", got.Set), plates(got.Stack.Stamps(b.pile)), b.style.MassFigure(got.Moves), b.of(got))
		}
	}
}

// The widths of a row's columns.
const (
	onWidth     = 5
	whoWidth    = 13
	platesWidth = 27
	rowWidth    = columns - onWidth - 3
)

// row prints one person's row. Plates are never cut, since somebody loads them:
// where they are too many for their column, the rest of the row stands below. So
// it is with a long name of an implement.
func (b *boardPage) row(on, who, stack, moves, beside string) {
	if ansi.StringWidth(on) > onWidth {
		b.line("  %s", on)
		on = ""
	}
	left := fmt.Sprintf("  %s %s ", cell(on, onWidth), cell(who, whoWidth))
	if whole := fmt.Sprintf("%s%s %s %s", left, stack, moves, beside); ansi.StringWidth(stack) > platesWidth {
		if ansi.StringWidth(whole) <= columns {
			b.line("%s", whole)
			return
		}
		b.line("%s%s", left, stack)
		left, stack = strings.Repeat(" ", ansi.StringWidth(left)), ""
	}
	b.line("%s%s %6s %s", left, cell(stack, platesWidth), moves, beside)
}

// plural is a number with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func (b *boardPage) column() string {
	if b.public {
		return "handover"
	}
	return "of what"
}

// beside is what stands right of a load.
func (b *boardPage) beside(p *lanes.Part, lane lanes.Lane, turn lanes.Turn) string {
	got, ok := loadOf(p, lane, turn)
	switch {
	case ok && !b.public:
		return b.of(got)
	case turn.Moved > 0:
		return plural(turn.Moved, "plate") + ", " + measure.Clock(turn.Handover) + estimated(got)
	}
	return strings.TrimSpace(estimated(got))
}

// of says what was asked, and what the load is a percentage of.
func (b *boardPage) of(got load.Got) string {
	of := pctOf(got.Basis)
	switch {
	case b.public:
		return ""
	case of != "" && got.Of == 0:
		return of + " not known"
	case of != "":
		return b.style.Percent(counted(got), got.Of) + " " + strings.TrimSuffix(of, " mass") + b.further(got)
	}
	return b.style.MassFigure(got.Asked) + " " + got.AskedOf + b.further(got)
}

// further is what else a coach wants to know of a load, to stand behind what it is of.
func (b *boardPage) further(got load.Got) string {
	said := ""
	if got.Max > 0 && pctOf(got.Basis) != string(session.OfMax) {
		said += ", " + b.style.Percent(got.Moves, got.Max) + " max"
	}
	if got.On.Kind == "handles" {
		said += ", " + b.style.MassFigure(got.Moves/2) + " a hand"
	}
	return said + estimated(got)
}

// estimated marks what rests on an estimate, also where a neighbour reads it.
func estimated(got load.Got) string {
	if got.Est {
		return " est"
	}
	return ""
}

// loadOf finds the load of a turn, the first set's where there are several.
func loadOf(p *lanes.Part, lane lanes.Lane, turn lanes.Turn) (load.Got, bool) {
	i := slices.IndexFunc(p.Loads, func(g load.Got) bool { return g.Athlete == turn.Athlete && g.Station == lane.Station })
	if i < 0 {
		return load.Got{}, false
	}
	return p.Loads[i], true
}

// who is a name with the key of its presses, where there was a letter left.
func (b *boardPage) who(name string) string {
	if a := b.roster.Find(name); a != nil && a.Key != "" {
		return "(" + a.Key + ") " + shown(name)
	}
	return shown(name)
}
