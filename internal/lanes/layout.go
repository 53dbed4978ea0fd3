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

// sidesOf returns the side of each person, from 0: as written; the others go to
// the smallest side. Unwritten, the list is cut into sides as long as each other.
func (p *planner) sidesOf() []int {
	sides := make([]int, len(p.people))
	n := len(p.spec.Stations)
	if n < 2 || p.spec.Format != session.Every && p.spec.Format != session.Intervals {
		return sides
	}
	if len(p.spec.Sides) == 0 {
		for i := range sides {
			sides[i] = part(i, len(sides), n)
		}
		return sides
	}
	size := make([]int, n)
	for i, a := range p.people {
		sides[i] = slices.IndexFunc(p.spec.Sides, func(names []string) bool { return slices.Contains(names, a.Name) })
		if sides[i] >= n {
			sides[i] %= n
		}
		if sides[i] >= 0 {
			size[sides[i]]++
		}
	}
	for i := range sides {
		if sides[i] < 0 {
			sides[i] = slices.Index(size, slices.Min(size))
			size[sides[i]]++
		}
	}
	return sides
}

// part says in which of parts runs, as long as each other, the longer ones first,
// place i of n is.
func part(i, n, parts int) int {
	long := n % parts
	size := n / parts
	if i < long*(size+1) {
		return i / (size + 1)
	}
	return long + (i-long*(size+1))/max(size, 1)
}

// layouts returns the ways to lay out seats in so many heats: one for each choice
// of the implements that take one person more than the others. Where that makes
// more than a few, the first implements take them.
func (p *planner) layouts(heats int) []*layout {
	if len(p.stations) > 1 {
		return []*layout{p.finish(p.seatAll(heats), heats)}
	}
	st := &p.stations[0]
	n, m := len(p.people), len(st.On)
	if m == 0 || n == 0 {
		return []*layout{{heats: 1}}
	}
	long := (n + m - 1) / m
	sizes := make([]int, m)
	var found []*layout
	add := func() {
		if l := p.seatOne(sizes, long, heats); l != nil {
			found = append(found, p.finish(l, heats))
		}
	}
	if pinned := p.pinnedSizes(); pinned != nil {
		copy(sizes, pinned)
		long = slices.Max(sizes)
		add()
		return found
	}
	for _, pattern := range combinations(m, n-(long-1)*m) {
		for j := range sizes {
			sizes[j] = long - 1 + pattern[j]
		}
		if add(); len(found) == mostLayouts {
			break
		}
	}
	if len(found) == 0 { // a person held to a heat that has no place left
		for j := range sizes {
			sizes[j] = long
		}
		add()
	}
	return found
}

const mostLayouts = 6

// combinations returns each choice of k of m as zeros and ones, the first places first.
func combinations(m, k int) [][]int {
	var all [][]int
	row := make([]int, m)
	var from func(i, left int)
	from = func(i, left int) {
		if m-i < left || len(all) == mostLayouts {
			return
		}
		if i == m {
			all = append(all, slices.Clone(row))
			return
		}
		if left > 0 {
			row[i] = 1
			from(i+1, left-1)
		}
		row[i] = 0
		from(i+1, left)
	}
	from(0, k)
	return all
}

// pinnedSizes returns how many people each implement takes where the coach holds
// some to theirs: the others go to whichever has fewest. Nil where nobody is held.
func (p *planner) pinnedSizes() []int {
	st := &p.stations[0]
	sizes := make([]int, len(st.On))
	free := 0
	for _, a := range p.people {
		if j := st.index(p.pinned(1, a.Name)); j >= 0 {
			sizes[j]++
		} else {
			free++
		}
	}
	if free == len(p.people) {
		return nil
	}
	for range free {
		sizes[slices.Index(sizes, slices.Min(sizes))]++
	}
	return sizes
}

// index returns which of a station's implements has that name, -1 for none.
func (st *Station) index(name string) int {
	return slices.IndexFunc(st.On, func(on load.Implement) bool { return on.Name == name })
}

// seatOne lays out one station: every implement in its heats one after another,
// so that a smaller group has its free place in the last one. Nil where the people
// do not fit.
func (p *planner) seatOne(sizes []int, long, heats int) *layout {
	l := &layout{}
	each := (long + heats - 1) / heats
	for t := range long {
		for j, on := range p.stations[0].On {
			if t < sizes[j] {
				l.seats = append(l.seats, seat{on: on, heat: t / each, turn: t % each})
			}
		}
	}
	people := make([]int, len(p.people))
	for i := range people {
		people[i] = i
	}
	if !p.sit(l, 0, people) {
		return nil
	}
	return l
}

// seatAll lays out several stations: heats and sides are the list cut up; at each
// station the people of a side are dealt to its implements.
func (p *planner) seatAll(heats int) *layout {
	l := &layout{}
	groups := map[[2]int][]int{}
	var keys [][2]int
	for i, a := range p.people {
		heat := p.heatOf(a.Name) - 1
		if heat < 0 || heat >= heats {
			heat = part(i, len(p.people), heats)
		}
		key := [2]int{heat, p.sides[i]}
		if groups[key] == nil {
			keys = append(keys, key)
		}
		groups[key] = append(groups[key], i)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	for s := range p.stations {
		on := p.stations[s].On
		for _, key := range keys {
			if len(on) == 0 {
				continue
			}
			from, people := len(l.seats), groups[key]
			sizes := make([]int, len(on))
			free := 0
			for _, i := range people {
				if j := p.stations[s].index(p.pinned(s+1, p.people[i].Name)); j >= 0 {
					sizes[j]++
				} else {
					free++
				}
			}
			for range free {
				sizes[slices.Index(sizes, slices.Min(sizes))]++
			}
			for t := range slices.Max(sizes) {
				for j := range on {
					if t < sizes[j] {
						l.seats = append(l.seats, seat{station: s, on: on[j], heat: key[0], side: key[1], turn: t, group: from})
					}
				}
			}
			p.sit(l, from, people)
		}
	}
	return l
}

// sit gives people the seats from one on, those held to some first, then in list
// order; it reports whether all found one.
func (p *planner) sit(l *layout, from int, people []int) bool {
	for len(l.start) < len(l.seats) {
		l.start = append(l.start, -1)
	}
	all := true
	for _, held := range []int{1, 0} {
		for _, i := range people {
			s := &l.seats[from]
			if b := p.heatOf(p.people[i].Name) > 0 || p.pinned(s.station+1, p.people[i].Name) != ""; b != (held == 1) {
				continue
			}
			at := from
			for at < len(l.seats) && (l.start[at] >= 0 || !p.may(i, &l.seats[at])) {
				at++
			}
			if at == len(l.seats) {
				all = false
				continue
			}
			l.start[at] = i
		}
	}
	return all
}

// may reports whether the coach's hand lets a person sit there.
func (p *planner) may(who int, s *seat) bool {
	name := p.people[who].Name
	if on := p.pinned(s.station+1, name); on != "" && on != s.on.Name && p.stations[s.station].index(on) >= 0 {
		return false
	}
	heat := p.heatOf(name)
	return heat == 0 || heat > p.heats || heat-1 == s.heat || len(p.stations) > 1
}

// finish works out units, changes and moments of the seats that are laid out.
func (p *planner) finish(l *layout, heats int) *layout {
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
	if !l.lockstep && p.alone(l) {
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

// alone reports whether no implement has two stacks in the part.
func (p *planner) alone(l *layout) bool {
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
	case session.Amrap, session.LongPull, session.ForTime, session.Ramp:
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
	for heat := range l.heats {
		opened := map[string]int{}
		for round := range p.rounds() {
			for name, visits := range l.visits(p, heat, round) {
				for k, i := range visits {
					u := l.first[i] + min(round, p.sets(l.seats[i].station)-1)
					before, used := last[name]
					if used {
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
					if key := [3]int{heat, round, k}; l.lockstep && round < len(p.stations) {
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
