package lanes

import (
	"slices"
	"time"

	"hawser/internal/aim"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// lanesLimit says where more sleds would move at once than the strip has lanes.
func (p *planner) lanesLimit() {
	most := p.in.Kit.Strip.Lanes
	moving := map[string]bool{}
	for _, st := range p.stations {
		for _, on := range st.On[:min(len(st.On), len(p.people))] {
			if on.Kind == load.Sled {
				moving[on.Name] = true
			}
		}
	}
	if most > 0 && len(moving) > most {
		p.say(session.Warn, "strip", "", 0, "%d sleds would move at once and the strip has %d lanes: leave a sled out, or name those in use at each station", len(moving), most)
	}
}

// judge says what a coach should know about the arrangement that is in force.
func (p *planner) judge(a *answer, part *Part) {
	p.noPlates(a)
	guessed := false
	for u, at := range a.layout.units {
		s, got := &a.layout.seats[at.seat], a.got[u]
		who := a.who[at.seat]
		p.findings = append(p.findings, p.asked(who, s, at.set, &got)...)
		p.findings = append(p.findings, load.Findings(got, p.movement(who, s.station), p.in.Kit.Step, p.in.House, p.in.Past)...)
		work, from := p.expected(who, s.station, got.Moves)
		guessed = guessed || from == HouseDefault
		if p.heaviest(a, u) {
			p.aim(&got, s, work, part)
			p.reps(&got, s)
		}
	}
	if guessed {
		p.say(session.Note, "estimate", "", 0, "expected work is at the house's default speed where nobody has a split yet; write expect at the station, or run it once")
	}
	if p.spec.Format == session.Intervals {
		if late := p.lastTurn(a); late > 0 {
			p.say(session.Note, "rest", "", 0, "who shares pulls in the rest of the one before: their last bout ends %s after that of the class", measure.Clock(late))
		}
	}
	for _, s := range part.Sharing {
		if s.Hold > 0 {
			p.say(session.Note, "rest", "", 0, "%s: sharing gives %s of rest; each start waits %s more", s.On, measure.Clock(s.Rest), measure.Clock(s.Hold))
		}
	}
	if p.in.Session.Aim == session.Strength && p.spec.Format != session.Ramp {
		for _, s := range part.Sharing {
			if ceiling := p.spec.RestCeiling; ceiling > 0 && s.Rest > ceiling {
				p.say(session.Note, "rest", "", 0, "%s: sharing gives %s of rest, over the ceiling of %s", s.On, measure.Clock(s.Rest), measure.Clock(ceiling))
			}
		}
	}
}

// asked is what there is to know about what a person is asked for. Where the coach's
// hand has taken the load below what is refused on an estimate, it is not refused.
func (p *planner) asked(who int, s *seat, set int, got *load.Got) []session.Finding {
	findings := p.choose(who, s, set).findings
	pct, known := got.PctMax()
	stepped := slices.ContainsFunc(p.in.Edits, func(e Edit) bool {
		return e.Steps < 0 && e.about(p.number, s.station+1, p.people[who].Name)
	})
	if !stepped || !known || pct >= float64(load.Refuse)/float64(measure.Percent) {
		return findings
	}
	return slices.DeleteFunc(slices.Clone(findings), func(f session.Finding) bool { return f.Level == session.Stop && f.About == "estimate" })
}

// noPlates says where everything stands bare because there is no plate at all.
func (p *planner) noPlates(a *answer) {
	asked := slices.ContainsFunc(a.got, func(g load.Got) bool { return g.Total > g.On.Tare })
	if asked && slices.Max(append(counts(p.in.Kit.Plates), 0)) == 0 {
		p.say(session.Warn, "pile", "", 0, "there are no plates: everything stands empty; add plates to kit.toml, or ask for what is empty too")
	}
}

// heaviest reports whether a unit is the heaviest of its seat's sets, the first of
// equals: of a list of loads the others lead up to it, and are not what it is for.
func (p *planner) heaviest(a *answer, u int) bool {
	for v, at := range a.layout.units {
		more := a.got[v].Moves - a.got[u].Moves
		if at.seat == a.layout.units[u].seat && (more > 0 || more == 0 && v < u) {
			return false
		}
	}
	return true
}

// reps says where a lift asks for more repetitions than most people have at that
// share of their 1RM, by the textbook's table.
func (p *planner) reps(got *load.Got, s *seat) {
	n := p.spec.Stations[s.station].Reps
	most, listed := load.ShareAtReps(n)
	pct, known := got.PctMax()
	if n < 2 || !listed || !known || got.On.Kind == load.Sled {
		return
	}
	slack := float64(p.in.House.AimTolerance) / float64(measure.Percent)
	if table := float64(most) / float64(measure.Percent); pct > table+slack {
		style := p.in.House.Style()
		p.say(session.Warn, "load", got.Athlete, s.station+1, "%d repetitions at %s of the 1RM; the textbook's table gives %s for so many, and not one more",
			n, style.Percent(got.Moves, got.Max), style.Share(most))
	}
}

// aim says where a pull leaves the band of the session's aim. What is the same for
// everyone is said once, what depends on the load for each.
func (p *planner) aim(got *load.Got, s *seat, work time.Duration, part *Part) {
	spec := &p.spec.Stations[s.station]
	pct, _ := got.PctMax()
	if len(spec.Loads) == 0 {
		pct = 0
	}
	pull := aim.Pull{Part: p.number, Station: s.station + 1, Distance: spec.Distance, Reps: spec.Reps, Bout: work}
	switch p.spec.Format {
	case session.Every:
		pull.Rest = max(0, part.Every-work)
	case session.Intervals, session.Sets:
		pull.Rest = p.spec.Rest
	case session.Ratio:
		pull.Rest = p.restFloor(work)
	case session.Ramp:
		return
	case session.Amrap, session.LongPull, session.ForTime, session.WarmUp, session.Break:
	}
	p.findings = append(p.findings, aim.Findings(p.in.Session.Aim, pull, p.in.House)...)
	p.findings = append(p.findings, aim.Findings(p.in.Session.Aim, aim.Pull{Athlete: got.Athlete, Part: p.number, Station: s.station + 1, Pct: pct}, p.in.House)...)
}

// half is the caution of every session that is about some people only.
const half = "a newcomer does half"

// cautions are the newcomers by name, then those of the movements in the session, at
// the first station that has them, then those of every session.
func cautions(in *Input) []session.Finding {
	var list []session.Finding
	said := map[string]bool{}
	add := func(part, station int, text string) {
		if !said[text] {
			said[text] = true
			list = append(list, session.Finding{Level: session.Note, About: "caution", Part: part, Station: station, Text: text})
		}
	}
	for _, a := range in.people() {
		if a.Newcomer {
			list = append(list, session.Finding{Level: session.Note, About: "caution", Athlete: a.Name, Text: half})
		}
	}
	for i := range in.Session.Parts {
		for j, st := range in.Session.Parts[i].Stations {
			m, _ := movement.Find(st.Movement)
			for _, text := range m.Cautions {
				add(i+1, j+1, text)
			}
		}
	}
	for _, text := range movement.General() {
		if text != half {
			add(0, 0, text)
		}
	}
	return list
}
