package cli

import (
	"fmt"
	"slices"
	"strings"
	"time"

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
	b.line("")
	b.wrapped("", "This is general training arithmetic, not medical advice. A qualified coach decides.")
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
		b.line("  %s %s %s", cell(name, 8), cell(b.who(w.Athlete), 14), strings.Join(steps, ", "))
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
	b.line("  %-8s %-14s %-27s %6s  %s", "on", "who", "plates on each end", "moves", b.column())
	for _, lane := range h.Lanes {
		on := shown(lane.On.Name)
		if len(p.Stations) > 1 {
			on = fmt.Sprintf("%d %s", lane.Station, on)
		}
		for _, turn := range lane.Turns {
			b.line("  %s %s %s %6s  %s", cell(on, 8), cell(b.who(turn.Athlete), 14),
				cell(plates(turn.Stack.Stamps(b.pile)), 27), b.style.MassFigure(turn.Moves), b.beside(p, lane, turn))
			on = ""
		}
	}
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
	return "of"
}

// beside is what stands right of a load.
func (b *boardPage) beside(p *lanes.Part, lane lanes.Lane, turn lanes.Turn) string {
	got, ok := loadOf(p, lane, turn)
	if b.public || !ok {
		if turn.Moved == 0 {
			return ""
		}
		return fmt.Sprintf("%s, %s", plural(turn.Moved, "plate"), measure.Clock(turn.Handover))
	}
	said := b.style.Mass(got.Asked) + " " + got.AskedOf
	if of := pctOf(got.Basis); of != "" && got.Of > 0 {
		said = b.style.Percent(counted(got), got.Of) + " " + of
	}
	if got.Max > 0 && pctOf(got.Basis) != string(session.OfMax) {
		said += ", " + b.style.Percent(got.Moves, got.Max) + " max"
	}
	if got.On.Kind == "handles" {
		said += ", " + b.style.Mass(got.Moves/2) + " each hand"
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

// findings lists what to know before GO, the gravest first, the cautions last.
func (b *boardPage) findings() {
	list := slices.Clone(b.board.Findings)
	grave := func(f session.Finding) int {
		if f.About == "caution" {
			return 3
		}
		return slices.Index([]session.Level{session.Stop, session.Warn, session.Note}, f.Level)
	}
	slices.SortStableFunc(list, func(x, y session.Finding) int { return grave(x) - grave(y) })
	b.line("")
	moved := plural(b.board.PlatesMoved, "plate") + " moved in the class"
	if b.board.Proved {
		b.line("%s; no way to share these sleds is better.", moved)
	} else {
		b.line("%s; not proved best: no way moves fewer than %d.", moved, b.board.Bound)
	}
	for _, f := range list {
		if b.public && tellsTooMuch(f) {
			continue
		}
		b.wrapped(fmt.Sprintf("%-4s ", f.Level), f.About+": "+subject(f)+shown(f.Text))
	}
}

// tellsTooMuch reports whether a finding may hold a max, a body mass or a percentage.
func tellsTooMuch(f session.Finding) bool {
	return slices.Contains([]string{"load", "aim", "estimate", "surface"}, f.About) || strings.Contains(f.Text, "%")
}

func subject(f session.Finding) string {
	if f.Athlete == "" || strings.Contains(f.Text, f.Athlete) {
		return ""
	}
	return shown(f.Athlete) + ", "
}
