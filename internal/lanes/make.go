package lanes

import (
	"fmt"
	"slices"
	"time"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// planner makes one part of a board.
type planner struct {
	in       *Input
	number   int // of the part, from 1
	spec     *session.Part
	people   []*roster.Athlete
	sides    []int // of each person, from 0
	stations []Station
	findings []session.Finding

	heats   int // that the search now lays out
	choices map[choiceKey]*choice
	lists   map[loadKey]listed
	deals   map[string]dealt
	near    map[string]load.Stack // by choice and share of the pile
	dealt   map[*layout]dealtApart
	racks   *racks
	alone   map[takes]*nearby // with the whole pile
	shared  nearby            // with the share looked at last
	work    int               // of the search so far
	proved  bool
	bound   int

	shortBound measure.Mass // the least that the pile's shortage costs
}

// newPlanner is for the part of that number, from 1.
func newPlanner(in *Input, number int) *planner {
	p := &planner{
		in: in, number: number, spec: &in.Session.Parts[number-1], people: in.people(),
		choices: map[choiceKey]*choice{}, lists: map[loadKey]listed{}, deals: map[string]dealt{}, near: map[string]load.Stack{},
		dealt: map[*layout]dealtApart{}, alone: map[takes]*nearby{},
	}
	p.racks = newRacks(p)
	return p
}

// another plans the same part with notes of its own, at the same time.
func (p *planner) another() *planner {
	q := newPlanner(p.in, p.number)
	q.spec, q.people, q.sides, q.stations, q.heats = p.spec, p.people, p.sides, p.stations, p.heats
	return q
}

// Make plans a session for the people, the sleds and the pile of a day. It never
// fails: what does not work is a finding with its ways out, and the board is made
// as well as it can be.
func Make(in Input) *Board {
	written := in.Session
	var taken []session.Accepted
	in.Session, taken = written.With(in.Accepted)
	b := &Board{Session: in.Session, Proved: true, Findings: []session.Finding{}, Accepted: in.Accepted}
	for i := range taken {
		b.Findings = append(b.Findings, instead(written, &taken[i]))
	}
	here := in.people()
	if len(here) == 0 {
		b.Findings = append(b.Findings, session.Finding{Level: session.Warn, About: "fit", Text: "nobody is here: say who is with --who, or add people to roster.toml"})
	}
	b.Findings = append(b.Findings, letters(here)...)
	drafts := draft(&in)
	starts := time.Duration(0)
	for i := range drafts {
		p := drafts[i].p
		if i > 0 {
			starts = b.Ends + p.changeover()
		}
		part, cost := p.write(&drafts[i], starts)
		b.Parts = append(b.Parts, part)
		if p.spec != &in.Session.Parts[i] { // the way out changed it
			s := *b.Session
			s.Parts = slices.Clone(s.Parts)
			s.Parts[i], b.Session = *p.spec, &s
		}
		b.PlatesMoved += cost.plates
		b.Handovers += part.Handovers
		b.Short += cost.short
		b.ShortBound += p.shortBound
		b.Bound += p.bound
		b.Proved = b.Proved && p.proved
		b.Ends = part.Ends
		b.Findings = append(b.Findings, p.findings...)
	}
	for i := range b.Parts {
		part := &b.Parts[i]
		for j := range part.Fit.Ways {
			if w := &part.Fit.Ways[j]; w.Ends > 0 { // so far the length of the part
				w.Ends += b.Ends - (part.Ends - part.Starts)
			}
		}
		slices.SortStableFunc(part.Fit.Ways, func(a, b Way) int { return int((a.Ends - b.Ends) / time.Millisecond) })
	}
	b.Findings = append(b.Findings, cautions(&in)...)
	b.Findings = distinct(b.Findings)
	return b
}

// instead says what was accepted for a class in place of what its session says.
func instead(s *session.Session, a *session.Accepted) session.Finding {
	p := &s.Parts[a.Part-1]
	text := fmt.Sprintf("every %s was accepted on %s; the session says %s", measure.Clock(a.Every), a.Date.Format(time.DateOnly), measure.Clock(p.Every))
	if a.Rounds > 0 {
		text = fmt.Sprintf("%d rounds were accepted on %s for this week; the session says %d", a.Rounds, a.Date.Format(time.DateOnly), p.Rounds+p.Sets)
	}
	return session.Finding{Level: session.Note, About: NextTime, Part: a.Part, Text: text}
}

// NextTime is what a finding is about that says what else than a load was accepted.
const NextTime = "next time"

// changeover is the time from the end of the part before to the start of this one.
func (p *planner) changeover() time.Duration {
	if before := &p.in.Session.Parts[p.number-2]; !p.spec.Format.Pulls() || !before.Format.Pulls() {
		return 0
	}
	return p.in.House.BetweenParts
}

// distinct drops what was said before, in the same words about the same thing.
func distinct(findings []session.Finding) []session.Finding {
	seen := map[session.Finding]bool{}
	return slices.DeleteFunc(findings, func(f session.Finding) bool {
		was := seen[f]
		seen[f] = true
		return was
	})
}

// drafted is a part with the arrangement that was found for it.
type drafted struct {
	p    *planner
	part Part
	best *answer // nil: nobody pulls
}

// draft finds the arrangements of all parts. No part has to do with another one.
func draft(in *Input) []drafted {
	drafts := make([]drafted, len(in.Session.Parts))
	all := make([]func(), len(drafts))
	for i := range drafts {
		all[i] = func() { drafts[i] = newPlanner(in, i+1).draft() }
	}
	atOnce(all...)
	return drafts
}

// draft finds the arrangement of the part.
func (p *planner) draft() drafted {
	d := drafted{p: p, part: Part{Number: p.number, Every: p.spec.Every, Fit: Fit{Fits: true}, Loads: []load.Got{}}}
	if !p.spec.Format.Pulls() {
		return d
	}
	p.sides = p.sidesOf()
	p.lay()
	p.lanesLimit()
	if len(p.people) == 0 || slices.ContainsFunc(p.stations, func(s Station) bool { return len(s.On) == 0 }) {
		return d
	}
	d.best = p.best(1)
	d.part.Fit = p.fit(d.best, d.part.Every)
	if !d.part.Fit.Fits {
		d.best = p.wayOut(&d.part, d.best)
	}
	p.stepped(d.best)
	return d
}

// write writes a part down from starts on.
func (p *planner) write(d *drafted, starts time.Duration) (Part, cost) {
	part, a := d.part, d.best
	part.Starts, part.Stations = starts, p.stations
	if a == nil {
		part.Heats, part.Ends, p.proved = []Heat{{Number: 1, Starts: starts}}, starts+p.length(nil, 1, part.Every), true
		return part, cost{}
	}
	part.Ends = starts + p.length(a, a.layout.heats, part.Every)
	part.Loads = p.loads(a)
	part.Heats = p.heatsOf(a, part.Every, starts)
	part.Handovers = p.handovers(a)
	part.Sharing = p.sharing(a, starts)
	p.warmUps(a, &part)
	p.crowd(a, &part)
	p.judge(a, &part)
	return part, a.cost
}

// lay works out the stations and what is on them.
func (p *planner) lay() {
	on := p.implements()
	for i := range p.spec.Stations {
		st := Station{Number: i + 1, On: on[i]}
		for _, a := range p.people { // the coach's hand may bring in another one of the kind
			p.bringIn(&st, i, p.pinned(i+1, a.Name))
		}
		p.strip(&st, &p.spec.Stations[i])
		p.stations = append(p.stations, st)
	}
}

// heatsOf writes the arrangement down as heats and lanes.
func (p *planner) heatsOf(a *answer, every, starts time.Duration) []Heat {
	l := a.layout
	length := p.length(a, 1, every)
	heats := make([]Heat, l.heats)
	for h := range heats {
		heats[h] = Heat{Number: h + 1, Starts: starts + time.Duration(h)*(length+p.in.House.BetweenHeats)}
	}
	for i, s := range l.seats {
		heat := &heats[s.heat]
		at := slices.IndexFunc(heat.Lanes, func(lane Lane) bool { return lane.Station == s.station+1 && lane.On.Name == s.on.Name })
		if at < 0 {
			at = len(heat.Lanes)
			heat.Lanes = append(heat.Lanes, Lane{Station: s.station + 1, On: s.on})
		}
		heat.Lanes[at].Turns = append(heat.Lanes[at].Turns, p.turn(a, i))
	}
	for h := range heats {
		slices.SortStableFunc(heats[h].Lanes, func(a, b Lane) int { return a.Station - b.Station })
	}
	return heats
}

// turn is the person on seat i.
func (p *planner) turn(a *answer, i int) Turn {
	s, got := &a.layout.seats[i], &a.got[a.layout.first[i]]
	t := Turn{Athlete: got.Athlete, Side: s.side, Stack: got.Stack, Moves: got.Moves}
	t.Expected, t.From = p.expected(a.who[i], s.station, got.Moves)
	if m := p.movement(a.who[i], s.station); m != p.spec.Stations[s.station].Movement {
		t.Movement = m
	}
	if m := p.metres(a.who[i], s.station); m != nil {
		t.Distance = m.Distance
		style := p.in.House.Style()
		p.say(session.Note, NextTime, t.Athlete, s.station+1, "%s were accepted on %s; the session says %s",
			style.Distance(m.Distance), m.Date.Format(time.DateOnly), style.Distance(p.spec.Stations[s.station].Distance))
	}
	if before := a.layout.before[i]; before >= 0 {
		t.Moved = moved(a.got[a.layout.first[before]].Stack, got.Stack, s.on.Ends)
		t.Handover = p.handover(a, before, i)
	}
	return t
}

// handover is the time to change from the person and plates of one seat to those
// of the next on the same implement.
func (p *planner) handover(a *answer, from, to int) time.Duration {
	h, l := p.in.House, a.layout
	n := moved(a.got[l.first[from]].Stack, a.got[l.first[to]].Stack, l.seats[to].on.Ends)
	return h.HandoverBase + time.Duration(n)*h.HandoverPlate + p.back(a, from)
}

// back is the sled's way back after the person on seat i.
func (p *planner) back(a *answer, i int) time.Duration {
	at := a.layout.seats[i].station
	st, spec := &p.stations[at], &p.spec.Stations[at]
	name := p.movement(a.who[i], at)
	if name == spec.Movement || spec.Time > 0 {
		return st.Return
	}
	m, _ := movement.Find(name)
	return Back(m, spec.Distance, st.Legs, p.in.House.RopeLay)
}

// handovers is all handovers of the part added up.
func (p *planner) handovers(a *answer) time.Duration {
	var sum time.Duration
	l, h := a.layout, p.in.House
	for _, ch := range l.changes {
		from, to := l.units[ch.from].seat, l.units[ch.to].seat
		one := time.Duration(moved(a.got[ch.from].Stack, a.got[ch.to].Stack, l.seats[to].on.Ends)) * h.HandoverPlate
		if from != to {
			one += h.HandoverBase + p.back(a, from)
		}
		sum += time.Duration(ch.times) * one
	}
	return sum
}

// loads lists who moves what: people in list order, then stations, then sets.
func (p *planner) loads(a *answer) []load.Got {
	list := []load.Got{}
	for who := range p.people {
		for s := range p.stations {
			if len(p.spec.Stations[s].Loads) == 0 && p.spec.Format != session.Ramp {
				continue
			}
			for u, at := range a.layout.units {
				if a.who[at.seat] == who && a.layout.seats[at.seat].station == s {
					list = append(list, a.got[u])
				}
			}
		}
	}
	return list
}

// say adds a finding about this part.
func (p *planner) say(level session.Level, about, athlete string, station int, format string, args ...any) {
	p.findings = append(p.findings, session.Finding{
		Level: level, About: about, Athlete: athlete, Part: p.number, Station: station, Text: fmt.Sprintf(format, args...),
	})
}
