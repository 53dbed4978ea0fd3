package lanes

import (
	"slices"

	"hawser/internal/load"
	"hawser/internal/movement"
)

// bringIn adds an implement that somebody is held to and the station does not have.
func (p *planner) bringIn(st *Station, station int, name string) {
	if name == "" || st.index(name) >= 0 {
		return
	}
	m, _ := movement.Find(p.spec.Stations[station].Movement)
	all, _ := load.Implements(p.in.Kit, m.Need)
	taken := slices.ContainsFunc(p.stations, func(s Station) bool { return s.index(name) >= 0 })
	if i := slices.IndexFunc(all, func(on load.Implement) bool { return on.Name == name }); i >= 0 && !taken {
		st.On = append(st.On, all[i])
	}
}

// stepped takes loads up or down by the coach's hand, to the next that exists with
// what is left of the pile at that moment; the price follows.
func (p *planner) stepped(a *answer) {
	for _, e := range p.in.Edits {
		if e.Steps == 0 || e.Part != p.number {
			continue
		}
		for u, at := range a.layout.units {
			s := &a.layout.seats[at.seat]
			if e.about(p.number, s.station+1, p.people[a.who[at.seat]].Name) {
				p.step(a, u, e.Steps)
			}
		}
	}
}

// step changes one unit by so many loads that exist.
func (p *planner) step(a *answer, u, steps int) {
	got := &a.got[u]
	free := counts(p.in.Kit.Plates)
	for v := range a.got {
		if v != u && p.together(a.layout, u, v) {
			take(free, a.got[v].Stack, a.got[v].On.Ends)
		}
	}
	for k := range free {
		free[k] = max(0, free[k])
	}
	for range max(steps, -steps) {
		down, up, hasDown, hasUp := load.Beside(got.On, got.Moves, p.in.Kit.Plates, free)
		switch {
		case steps > 0 && hasUp:
			got.Stack = up
		case steps < 0 && hasDown:
			got.Stack = down
		default:
			p.say("note", "pile", got.Athlete, got.Station, "no plates for another step on %s", got.On.Name)
			p.reprice(a)
			return
		}
		got.Moves = got.Stack.On(got.On, p.in.Kit.Plates)
		got.Short = 0
	}
	p.reprice(a)
}

// together reports whether two units may stand on the floor at one moment.
func (p *planner) together(l *layout, u, v int) bool {
	a, b := &l.seats[l.units[u].seat], &l.seats[l.units[v].seat]
	if !l.lockstep {
		return a.heat == b.heat && a.on.Name != b.on.Name
	}
	return slices.ContainsFunc(l.moments, func(m []int) bool { return slices.Contains(m, u) && slices.Contains(m, v) })
}

// reprice counts the plates moved anew.
func (p *planner) reprice(a *answer) {
	short := a.cost.short
	a.cost = cost{short: short}
	for _, ch := range a.layout.changes {
		a.cost.swap(a.got[ch.from].Stack, a.got[ch.to].Stack, a.got[ch.from].On.Ends, p.in.Kit.Plates, ch.times)
	}
	for u := range a.got {
		a.cost.use(a.got[u].Stack, a.got[u].On.Ends)
	}
	p.bound = min(p.bound, a.cost.plates)
	if p.proved { // the best for the loads that the coach chose
		p.bound = a.cost.plates
	}
}
