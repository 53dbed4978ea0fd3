package cli

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"hawser/internal/kit"
	"hawser/internal/lanes"
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
	paired bool // two people to a line where they have room
}

// pageLines is what goes on one sheet of paper.
const pageLines = 66

// String is the page. Where one person a line is more than a sheet holds, two stand
// side by side.
func (b *boardPage) String() string {
	text := b.text()
	if strings.Count(text, "\n") > pageLines {
		b.page, b.paired = page{}, true
		text = b.text()
	}
	return text
}

func (b *boardPage) text() string {
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
		b.line("FIT  yes: each lane has its own clock")
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
	share := func(pct float64) string {
		if b.public { // no percentage of anything, so that nobody has to think which
			return fmt.Sprintf("%.0f of 100", pct)
		}
		return percent(b.style, pct)
	}
	if w.WorkShare > 0 && !b.public {
		said = append(said, share(w.WorkShare)+" work")
	}
	if w.Idle > 0 {
		said = append(said, share(w.Idle)+" idle")
	}
	return strings.Join(said, ", ")
}

func (b *boardPage) part(p *lanes.Part) {
	spec := &b.board.Session.Parts[p.Number-1]
	b.gap()
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
		times := strconv.FormatFloat(float64(spec.RestFactor)/float64(measure.Whole), 'f', -1, 64)
		return fmt.Sprintf("%d bouts, rest %s x the own work", spec.Rounds, times)
	case session.Sets:
		return fmt.Sprintf("%d sets, rest %s or more", spec.Sets, measure.Clock(spec.Rest))
	case session.LongPull:
		return "long pull, a stop up to " + measure.Clock(spec.StopCap)
	case session.ForTime:
		if spec.Cap == 0 {
			return "for time, no cap"
		}
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
	if ask := b.asked(spec.Loads); ask != "" {
		said += ", " + ask
	}
	if st.Legs > 1 {
		said += fmt.Sprintf(": %d legs of %s, %d turns", st.Legs, b.style.Distance(st.Leg), st.Turns)
	}
	if st.Pulls > 1 {
		said += fmt.Sprintf(": %d pulls, the rope laid out again %d times", st.Pulls, st.Relays)
	}
	return said
}

// asked is the load that a station asks for; on a public page only where it is a
// mass, the same for all.
func (b *boardPage) asked(loads []session.Ask) string {
	var said []string
	for _, a := range loads {
		switch {
		case a.Basis == session.Plain:
			said = append(said, b.style.Mass(a.Mass))
		case a.Mass > 0:
			said = append(said, b.style.Mass(a.Mass)+" "+string(a.Basis))
		case b.public:
			return ""
		case a.Share > 0:
			said = append(said, b.style.Share(a.Share)+" "+string(a.Basis))
		default:
			said = append(said, string(a.Basis))
		}
	}
	return strings.Join(said, ", ")
}

// gap is a blank line between paragraphs, where there is room for one.
func (b *boardPage) gap() {
	if !b.paired {
		b.line("")
	}
}
