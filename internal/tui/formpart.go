package tui

import (
	"cmp"
	"strings"
	"time"

	"hawser/internal/aim"
	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// partSheet is a part of a new session. The aim, the format, the minutes and the
// movements bring the usual numbers with them; what the coach has written over one
// of these stays.
type partSheet struct {
	answers map[string]*string
	filled  map[string]string // what we filled in last
}

const (
	mostStations = 4 // alternate on one clock
	asHouse      = "as the house does"
)

func newPartSheet() *partSheet {
	s := &partSheet{answers: map[string]*string{}, filled: map[string]string{}}
	*s.at("format"), *s.at("minutes"), *s.at("movement 1") = none, "12", movement.Names()[0]
	return s
}

// at is the answer of that name.
func (s *partSheet) at(name string) *string {
	if s.answers[name] == nil {
		s.answers[name] = new(string)
	}
	return s.answers[name]
}

// fill writes a usual number where the coach has written none.
func (s *partSheet) fill(name, text string) {
	if before, was := s.filled[name]; !was || *s.at(name) == before {
		*s.at(name), s.filled[name] = text, text
	}
}

// answer is what stands in a row; own is that only where the coach wrote it.
func (s *partSheet) answer(name string) string { return *s.at(name) }

func (s *partSheet) own(name string) string {
	if *s.at(name) == s.filled[name] {
		return ""
	}
	return *s.at(name)
}

// format is "" where there is no such part.
func (s *partSheet) format() session.Format {
	if f := *s.at("format"); f != none {
		return session.Format(f)
	}
	return ""
}

// length is the minutes, a usual figure while they do not hold.
func (s *partSheet) length() time.Duration {
	if n := given(*s.at("minutes"), countTo(180)); n > 0 {
		return time.Duration(n) * time.Minute
	}
	return 12 * time.Minute
}

// movements are those that were chosen, in order.
func (s *partSheet) movements() []movement.Movement {
	var chosen []movement.Movement
	for i := range mostStations {
		m, ok := movement.Find(*s.at("movement " + itoa(i+1)))
		if !ok {
			break
		}
		chosen = append(chosen, m)
	}
	return chosen
}

// rows is what is asked of the part, its format left out.
func (s *partSheet) rows(w *World, goal session.Aim) []row {
	if !s.format().Pulls() {
		return []row{{name: "minutes", value: s.at("minutes"), check: need(countTo(180)), hint: "the next part begins when they are up"}}
	}
	moves := s.movements()
	part := aim.Usual(aim.Start{Aim: goal, Format: s.format(), Length: s.length(), Movements: moves, Written: s.part(w, s.own)}, w.House)
	rows := []row{{name: "minutes", value: s.at("minutes"), check: need(countTo(180)), hint: "about how long; rounds and caps follow from it"}}
	rows = append(rows, s.clock(&part)...)
	for i := range min(len(moves)+1, mostStations) {
		rows = append(rows, s.station(w, goal, i, moves, part)...)
	}
	return append(rows, s.groups(w, &part)...)
}

// clock is the rows of the format's clock, filled with the usual part's.
func (s *partSheet) clock(p *session.Part) []row {
	span := coachfile.Some(measure.ParseClock)
	timed := func(name string, usual time.Duration, hint string) row {
		s.fill(name, measure.Notation(usual))
		return row{name: name, value: s.at(name), check: need(span), hint: hint}
	}
	counted := func(name string, usual, most int) row {
		s.fill(name, itoa(usual))
		return row{name: name, value: s.at(name), check: need(countTo(most)), hint: "from the minutes, unless you write over it"}
	}
	switch p.Format {
	case session.Every:
		late := row{name: "who is late", value: s.at("late"), hint: "what follows a late finish", options: []string{
			asHouse, string(session.SitOut), string(session.NoteIt), string(session.DropLoad), string(session.CutDistance), string(session.StopThem),
		}}
		return []row{timed("every", p.Every, `from one start to the next: "1:15"`), counted("rounds", p.Rounds, 500), late}
	case session.Intervals:
		return []row{timed("work", p.Work, `a bout: "30 s"`), timed("rest", p.Rest, `between bouts: "30 s"`), counted("rounds", p.Rounds, 500)}
	case session.Ratio:
		s.fill("ratio", strings.TrimSuffix((p.RestFactor/100).String(), "%")+" x work")
		return []row{{name: "rest", value: s.at("ratio"), check: need(session.Factor), hint: `a multiple of the own last work: "2 x work"`}, counted("rounds", p.Rounds, 500)}
	case session.Sets:
		s.fill("most rest", optional(p.RestCeiling))
		return []row{
			timed("least rest", p.Rest, "from the end of a set; no start before it is over"),
			{name: "most rest", value: s.at("most rest"), check: may(span), empty: "no matter", hint: "a note when it becomes more"},
			counted("sets", p.Sets, 100),
		}
	case session.LongPull:
		s.fill("long stop", measure.Notation(cmp.Or(p.StopCap, time.Minute)))
		return []row{{name: "long stop", value: s.at("long stop"), check: need(span), hint: "standing still for longer than this is a long stop"}}
	case session.Ramp:
		return []row{timed("least rest", p.Rest, "between two attempts")}
	case session.Amrap:
		if len(p.Stations) > 1 {
			return []row{{name: "a press", value: s.at("press"), options: []string{"round", "station"}, hint: "what is done at a press: the whole round, or a station of it"}}
		}
	case session.ForTime, session.WarmUp, session.Break:
	}
	return nil
}

func optional(d time.Duration) string {
	if d == 0 {
		return ""
	}
	return measure.Notation(d)
}

// station is the rows of station i, from 0; the one behind the last offers another.
func (s *partSheet) station(w *World, goal session.Aim, i int, moves []movement.Movement, part session.Part) []row {
	n := itoa(i + 1)
	choice := row{name: "movement", value: s.at("movement " + n), options: movement.Names(), card: *s.at("movement " + n)}
	if i > 0 {
		choice.name, choice.options = "and then", append([]string{none}, choice.options...)
		choice.hint = "another station; none: that is all"
	}
	if i >= len(moves) {
		return []row{choice}
	}
	m := moves[i]
	choice.hint = m.Pattern + "; tires " + strings.Join(m.Tires, ", ")
	rows := []row{choice}
	if part.Format != session.Intervals {
		s.fill("much "+n, muchOf(part.Stations[i], w.House.Style()))
		rows = append(rows, row{name: "  how much", value: s.at("much " + n), check: need(readAmount), hint: `"20 m", "4 x 20 m", "5 reps" or "1:00"`})
	}
	if part.Format == session.Ramp {
		return append(rows, row{name: "  guess", value: s.at("guess " + n), check: may(coachfile.Some(measure.ParseMass)), empty: "the best of each", hint: `the heaviest you expect, sled or bar in it: "100 kg"; empty: everyone's best`})
	}
	load, why := s.usualLoad(w, m, goal)
	s.fill("load "+n, load)
	return append(rows, row{name: "  load", value: s.at("load " + n), check: need(loads(part.Format)), hint: join(" ", why, `"40 kg", "55% max", "50% body mass"`+map[bool]string{true: `; set by set "40 kg; 60 kg"`}[part.Format == session.Sets])})
}

// usualLoad is a share of the max where everybody's is known, else what is bare.
func (s *partSheet) usualLoad(w *World, m movement.Movement, goal session.Aim) (load, why string) {
	unknown := 0
	for i := range w.Roster.Athletes {
		if !known(&w.Roster.Athletes[i], m.Name, goal) {
			unknown++
		}
	}
	share := aim.UsualShare(goal).String()
	bars := m.Need == movement.Bar || m.Need == movement.TrapBar || m.Need == movement.Handles
	switch {
	case unknown == 0 && len(w.Roster.Athletes) > 0 && bars:
		return share + " 1RM", ""
	case unknown == 0 && len(w.Roster.Athletes) > 0:
		return share + " max", ""
	case m.Need == movement.Handles && len(w.Kit.Handles) > 0:
		load = w.Kit.Handles[0].Tare.String() + " each hand"
	case bars && len(w.Kit.Bars) > 0:
		load = w.Kit.Bars[0].Tare.String()
	default:
		load = "0 " + w.House.Show
	}
	return load, "Bare first: not every max is known."
}

// part is the part that the rows say, as far as read gives them.
func (s *partSheet) part(w *World, read func(name string) string) session.Part {
	p := session.Part{Format: s.format()}
	clock := func(name string) time.Duration { return given(read(name), measure.ParseClock) }
	count := func(name string) int { return given(read(name), countTo(500)) }
	switch p.Format {
	case session.Every:
		p.Every, p.Rounds = clock("every"), count("rounds")
		if late := read("late"); late != asHouse {
			p.Late = session.Late(late)
		}
	case session.Intervals:
		p.Work, p.Rest, p.Rounds = clock("work"), clock("rest"), count("rounds")
	case session.Ratio:
		p.RestFactor, p.Rounds = given(read("ratio"), session.Factor), count("rounds")
	case session.Sets:
		p.Rest, p.RestCeiling, p.Sets = clock("least rest"), clock("most rest"), count("sets")
	case session.LongPull:
		p.StopCap, p.Cap = clock("long stop"), s.length()
	case session.Ramp:
		p.Rest, p.Cap = clock("least rest"), s.length()
	case session.Amrap:
		p.PressAt, p.Cap = cmp.Or(read("press"), "round"), s.length()
	case session.ForTime:
		p.Cap = s.length()
		p.Waves, p.WaveEvery = given(read("waves"), readGroups(w)), clock("wave every")
	case session.WarmUp, session.Break:
		p.Time = s.length()
		return p
	}
	for i, m := range s.movements() {
		n := itoa(i + 1)
		st := session.Station{}
		if p.Format != session.Intervals {
			st = given(read("much "+n), readAmount)
		}
		st.Movement = m.Name
		if p.Format == session.Ramp {
			st.Guess = given(read("guess "+n), measure.ParseMass)
		} else {
			st.Loads = given(read("load "+n), loads(p.Format))
		}
		p.Stations = append(p.Stations, st)
	}
	if len(p.Stations) > 1 && (p.Format == session.Every || p.Format == session.Intervals) {
		p.Sides = given(read("sides"), readGroups(w))
	}
	return p
}
