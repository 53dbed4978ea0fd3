package cli

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// boardPage is the board on paper: plain text, 80 columns, the fit first. Where
// it is public it leaves out body mass, maxes and every percentage, since a
// percentage and a load give the max away.
type boardPage struct {
	page
	board  *lanes.Board
	roster *roster.Roster
	pile   []kit.Plates
	style  measure.Style
	public bool
}

func (b *boardPage) String() string {
	b.heading()
	b.fit()
	for i := range b.board.Parts {
		b.part(&b.board.Parts[i])
	}
	b.findings()
	return b.page.String()
}

func (b *boardPage) heading() {
	s := b.board.Session
	ends := "ends " + measure.Clock(b.board.Ends) + " after GO"
	if length := b.board.Length(); length > b.board.Ends {
		ends += ", " + measure.Clock(length) + " with the warm-up"
	}
	b.ends(strings.ToUpper(shown(s.Title)), ends)
	b.rule()
}

// fit says whether the schedule can work at all, and what each way out costs.
func (b *boardPage) fit() {
	p := tightest(b.board)
	if p == nil {
		return
	}
	f := &p.Fit
	switch {
	case f.On == "":
		b.line("FIT  yes")
	case f.Fits:
		b.line("FIT  yes: %s needs %s and has %s", shown(f.On), measure.Clock(f.Needs), measure.Clock(f.Has))
	default:
		took := ""
		if f.Took != "" {
			took = " This board takes: " + f.Took + "."
		}
		b.wrapped("FIT  ", fmt.Sprintf("no: %s needs %s and has %s.%s", shown(f.On), measure.Clock(f.Needs), measure.Clock(f.Has), took))
	}
	for _, w := range f.Ways {
		b.line("     %-17s %-14s %-12s %s", w.Way, b.price(w), ends(w.Ends), b.idle(w))
	}
}

// price is what a way out changes.
func (b *boardPage) price(w lanes.Way) string {
	switch {
	case w.Heats > 0:
		return fmt.Sprintf("%d heats", w.Heats)
	case w.Every > 0:
		return "every " + measure.Clock(w.Every)
	case w.PullsEach > 0:
		return fmt.Sprintf("%d pulls each", w.PullsEach)
	case w.Distance > 0:
		return b.style.Distance(w.Distance)
	}
	return ""
}

func ends(at time.Duration) string {
	if at == 0 {
		return ""
	}
	return "ends " + measure.Clock(at)
}

func (b *boardPage) idle(w lanes.Way) string {
	var said []string
	if w.WorkShare > 0 {
		said = append(said, percent(b.style, w.WorkShare)+" work")
	}
	if w.Idle > 0 {
		said = append(said, percent(b.style, w.Idle)+" idle")
	}
	return strings.Join(said, ", ")
}

func (b *boardPage) part(p *lanes.Part) {
	spec := &b.board.Session.Parts[p.Number-1]
	b.line("")
	b.ends(fmt.Sprintf("PART %d  %s", p.Number, b.clockOf(spec, p)), measure.Clock(p.Starts)+" to "+measure.Clock(p.Ends))
	for i, st := range p.Stations {
		b.line("  %d  %s", st.Number, b.stationOf(&spec.Stations[i], st))
	}
	if !spec.Format.Pulls() {
		return
	}
	for _, h := range p.Heats {
		if len(p.Heats) > 1 {
			b.line("HEAT %d at %s", h.Number, measure.Clock(h.Starts))
		}
		b.lanes(p, h)
	}
	for _, s := range p.Sharing {
		b.wrapped("  ", fmt.Sprintf("%s shared by %d: a cycle takes %s, rest %s, a start waits %s, the last set ends at %s",
			shown(s.On), s.People, measure.Clock(s.Cycle), measure.Clock(s.Rest), measure.Clock(s.Hold), measure.Clock(s.LastSetEnds)))
	}
	b.warmUps(p)
}

// warmUps prints the way up to the first heavy stack, one row a person.
func (b *boardPage) warmUps(p *lanes.Part) {
	if len(p.WarmUps) == 0 {
		return
	}
	b.line("  warm-up, %s before %s: plates on each end, only ever added", measure.Clock(p.WarmUp), measure.Clock(p.Starts))
	on := ""
	for _, w := range p.WarmUps {
		steps := make([]string, len(w.Stacks))
		for i, s := range w.Stacks {
			steps[i] = plates(s.Stamps(b.pile))
		}
		name := shown(w.On.Name)
		if name == on {
			name = ""
		} else {
			on = name
		}
		b.wrapped(fmt.Sprintf("  %s %s ", cell(name, onWidth), cell(b.who(w.Athlete), whoWidth)), strings.Join(steps, ", "))
	}
}

// clockOf says the format of a part in its own words.
func (b *boardPage) clockOf(spec *session.Part, p *lanes.Part) string {
	switch spec.Format {
	case session.Every:
		return fmt.Sprintf("every %s, %d rounds", measure.Clock(p.Every), spec.Rounds)
	case session.Amrap:
		return "most rounds in " + measure.Clock(spec.Cap)
	case session.Intervals:
		return fmt.Sprintf("%d bouts, %s work, %s rest", spec.Rounds, measure.Clock(spec.Work), measure.Clock(spec.Rest))
	case session.Ratio:
		return fmt.Sprintf("%d bouts, rest %s of the work", spec.Rounds, b.style.Share(spec.RestFactor))
	case session.Sets:
		return fmt.Sprintf("%d sets, rest %s or more", spec.Sets, measure.Clock(spec.Rest))
	case session.LongPull:
		return "long pull, a stop up to " + measure.Clock(spec.StopCap)
	case session.ForTime:
		return "for time, cap " + measure.Clock(spec.Cap)
	case session.Ramp:
		return "ramp to a heaviest good pull"
	case session.WarmUp, session.Break:
		return cmp.Or(shown(spec.Title), string(spec.Format)) + ", " + measure.Clock(spec.Time)
	}
	return string(spec.Format)
}

// stationOf says what is done at a station and what the strip makes of it.
func (b *boardPage) stationOf(spec *session.Station, st lanes.Station) string {
	said := shown(spec.Movement)
	switch {
	case spec.Distance > 0:
		said += " " + b.style.Distance(spec.Distance)
		if spec.Times > 1 {
			said += fmt.Sprintf(" x %d", spec.Times)
		}
	case spec.Reps > 0:
		said += fmt.Sprintf(" x %d", spec.Reps)
	case spec.Time > 0:
		said += " for " + measure.Clock(spec.Time)
	}
	if st.Legs > 1 {
		said += fmt.Sprintf(": %d legs of %s, %d turns", st.Legs, b.style.Distance(st.Leg), st.Turns)
	}
	if st.Pulls > 1 {
		said += fmt.Sprintf(": %d pulls, the rope laid out again %d times", st.Pulls, st.Relays)
	}
	return said
}

// lanes prints one row a person, in the order in which they go on each implement.
func (b *boardPage) lanes(p *lanes.Part, h lanes.Heat) {
	unit := strings.TrimLeft(b.style.Mass(0), "0 ")
	b.line("  %s %s %s %8s %s", cell("on", onWidth), cell("who", whoWidth),
		cell("plates on each end", platesWidth-2), "moves "+unit, b.column())
	for _, lane := range h.Lanes {
		on := shown(lane.On.Name)
		if len(p.Stations) > 1 {
			on = fmt.Sprintf("%d %s", lane.Station, on)
		}
		for _, turn := range lane.Turns {
			b.row(on, b.who(turn.Athlete), plates(turn.Stack.Stamps(b.pile)), b.style.MassFigure(turn.Moves), b.beside(p, lane, turn))
			b.furtherSets(p, lane, turn)
			on = ""
		}
	}
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
	if ansi.StringWidth(stack) > platesWidth {
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
	if got, ok := loadOf(p, lane, turn); ok && !b.public {
		return b.of(got)
	}
	if turn.Moved == 0 {
		return ""
	}
	return fmt.Sprintf("%s, %s", plural(turn.Moved, "plate"), measure.Clock(turn.Handover))
}

// of says what was asked, and what the load is a percentage of.
func (b *boardPage) of(got load.Got) string {
	if b.public {
		return ""
	}
	said := b.style.MassFigure(got.Asked) + " " + got.AskedOf
	switch of := pctOf(got.Basis); {
	case of != "" && got.Of == 0:
		return of + " not known"
	case of != "":
		said = b.style.Percent(counted(got), got.Of) + " " + strings.TrimSuffix(of, " mass")
	}
	if got.Max > 0 && pctOf(got.Basis) != string(session.OfMax) {
		said += ", " + b.style.Percent(got.Moves, got.Max) + " max"
	}
	if got.On.Kind == "handles" {
		said += ", " + b.style.MassFigure(got.Moves/2) + " a hand"
	}
	if got.Est {
		said += " est"
	}
	return said
}

// loadOf finds the load of a turn, the first set's where there are several.
func loadOf(p *lanes.Part, lane lanes.Lane, turn lanes.Turn) (load.Got, bool) {
	i := slices.IndexFunc(p.Loads, func(g load.Got) bool { return g.Athlete == turn.Athlete && g.Station == lane.Station })
	if i < 0 {
		return load.Got{}, false
	}
	return p.Loads[i], true
}

// who is a name with the key of its presses.
func (b *boardPage) who(name string) string {
	if a := b.roster.Find(name); a != nil {
		return "(" + a.Key + ") " + shown(name)
	}
	return shown(name)
}
