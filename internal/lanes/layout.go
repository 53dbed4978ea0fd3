package lanes

import (
	"cmp"
	"slices"

	"hawser/internal/load"
	"hawser/internal/session"
)

// seat is a place for one person on an implement of a station. All from 0.
type seat struct {
	station    int
	on         load.Implement
	heat, side int
	turn       int // on this implement, in this heat and side
	group      int // people change seats only within a group
}

// unit is a stack to be chosen: a seat in one set. A station with one load has one set.
type unit struct{ seat, set int }

// change is a handover from one unit to the next on an implement, times over the part.
type change struct{ from, to, times int }

// layout is the seats of a part, in list order, and what follows from them alone,
// whoever sits where.
type layout struct {
	heats    int
	seats    []seat
	start    []int // the person who sits there to begin with
	units    []unit
	first    []int    // the unit of a seat's first set
	changes  []change // over the whole part
	before   []int    // the seat before on the same implement, as the rotation repeats; -1: none
	moments  [][]int  // units that stand on the floor together
	lockstep bool     // they do; else each implement has its own clock
}

// finish works out units, changes and moments of the seats that are laid out.
func (p *planner) finish(l *layout) *layout {
	l.heats = 1
	for i, s := range l.seats {
		l.heats = max(l.heats, s.heat+1)
		l.first = append(l.first, len(l.units))
		for set := range p.sets(s.station) {
			l.units = append(l.units, unit{i, set})
		}
	}
	l.lockstep = classClock(p.spec.Format)
	l.before = make([]int, len(l.seats))
	for i := range l.before {
		l.before[i] = -1
	}
	l.walk(p)
	if !l.lockstep && p.oneEach(l) {
		all := make([]int, len(l.units))
		for i := range all {
			all[i] = i
		}
		l.moments, l.lockstep = [][]int{all}, true
	}
	return l
}

// classClock reports whether the class shares one clock.
func classClock(f session.Format) bool {
	return f == session.Every || f == session.Amrap || f == session.Intervals
}

// oneEach reports whether no implement has two stacks in the part.
func (p *planner) oneEach(l *layout) bool {
	seen := map[string]bool{}
	for _, u := range l.units {
		name := l.seats[u.seat].on.Name
		if seen[name] {
			return false
		}
		seen[name] = true
	}
	return true
}

// sets returns how many stacks one person has at a station.
func (p *planner) sets(station int) int {
	if p.spec.Format != session.Sets {
		return 1
	}
	return max(1, min(len(p.spec.Stations[station].Loads), p.spec.Sets))
}

// rounds returns how often each person goes, as far as the plan knows.
func (p *planner) rounds() int {
	switch p.spec.Format {
	case session.Every, session.Intervals, session.Ratio:
		return max(1, p.spec.Rounds)
	case session.Sets:
		return max(1, p.spec.Sets)
	case session.Amrap, session.LongPull, session.ForTime, session.Ramp, session.WarmUp, session.Break:
	}
	return 1
}

// walk goes through the part as it will run, implement by implement.
func (l *layout) walk(p *planner) {
	times := map[[2]int]int{}
	var order [][2]int
	count := func(from, to int) {
		if from == to {
			return
		}
		key := [2]int{from, to}
		if times[key] == 0 {
			order = append(order, key)
		}
		times[key]++
	}
	moments := map[[3]int][]int{}
	var keys [][3]int
	last := map[string]int{}
	period := 1
	if p.alternate() {
		period = len(p.stations)
	}
	for heat := range l.heats {
		opened := map[string]int{}
		for round := range max(p.rounds(), period) { // in one period everyone stands everywhere
			for name, visits := range l.visits(p, heat, round) {
				for k, i := range visits {
					u := l.first[i] + min(round, p.sets(l.seats[i].station)-1)
					before, used := last[name]
					if used && round < p.rounds() {
						count(before, u)
					}
					seat, begun := opened[name]
					if !begun {
						opened[name] = i
					}
					if from := l.units[max(before, 0)].seat; used && from != i && (l.before[i] < 0 || begun && seat == i) {
						l.before[i] = from
					}
					last[name] = u
					if key := [3]int{heat, round, k}; l.lockstep && round < period {
						if moments[key] == nil {
							keys = append(keys, key)
						}
						moments[key] = append(moments[key], u)
					}
				}
			}
		}
		if p.spec.Format == session.Amrap {
			for name, i := range opened {
				count(last[name], l.first[i])
				if from := l.units[last[name]].seat; from != i {
					l.before[i] = from
				}
			}
		}
	}
	for _, key := range order {
		l.changes = append(l.changes, change{key[0], key[1], times[key]})
	}
	slices.SortFunc(l.changes, func(a, b change) int { return cmp.Or(a.from-b.from, a.to-b.to) })
	slices.SortFunc(keys, func(a, b [3]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1], a[2]-b[2]) })
	for _, key := range keys {
		slices.Sort(moments[key])
		l.moments = append(l.moments, moments[key])
	}
}

// visits returns, by implement, the seats that are used in one round of a heat, in
// their order: by station, then by turn.
func (l *layout) visits(p *planner, heat, round int) map[string][]int {
	found := map[string][]int{}
	n := len(p.stations)
	for i := range l.seats {
		s := &l.seats[i]
		if s.heat != heat || p.alternate() && (round+s.side)%n != s.station {
			continue
		}
		found[s.on.Name] = append(found[s.on.Name], i)
	}
	for _, visits := range found {
		slices.SortStableFunc(visits, func(a, b int) int {
			return cmp.Or(l.seats[a].station-l.seats[b].station, l.seats[a].turn-l.seats[b].turn)
		})
	}
	return found
}

// alternate reports whether sides take turns at the stations.
func (p *planner) alternate() bool {
	return len(p.stations) > 1 && (p.spec.Format == session.Every || p.spec.Format == session.Intervals)
}
