package lanes

import (
	"cmp"
	"slices"

	"hawser/internal/load"
	"hawser/internal/roster"
	"hawser/internal/session"
)

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
		return []*layout{p.finish(p.seatAll(heats))}
	}
	st := &p.stations[0]
	n, m := len(p.people), len(st.On)
	if m == 0 || n == 0 {
		return []*layout{{heats: 1}}
	}
	long := (n + m - 1) / m
	sizes := make([]int, m)
	var found, spare []*layout
	add := func() {
		if l, ok := p.seatOne(sizes, long, heats); ok {
			found = append(found, p.finish(l))
		} else if spare == nil {
			spare = append(spare, p.finish(l))
		}
	}
	if pinned := p.pinnedSizes(); pinned != nil {
		copy(sizes, pinned)
		long = slices.Max(sizes)
		add()
	} else {
		for _, pattern := range combinations(m, n-(long-1)*m) {
			for j := range sizes {
				sizes[j] = long - 1 + pattern[j]
			}
			add()
		}
	}
	if len(found) == 0 { // what the coach's hand asks for cannot be had all at once
		return spare
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
// so that a smaller group has its free place in the last one. It reports whether
// everyone sits where the coach's hand lets them.
func (p *planner) seatOne(sizes []int, long, heats int) (*layout, bool) {
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
	ok := p.sit(l, 0, people)
	return l, ok
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
// order. Whoever can have none that they are held to gets another; it reports
// whether nobody had to.
func (p *planner) sit(l *layout, from int, people []int) bool {
	for len(l.start) < len(l.seats) {
		l.start = append(l.start, -1)
	}
	free := func(who int, anywhere bool) bool {
		for at := from; at < len(l.seats); at++ {
			if l.start[at] < 0 && (anywhere || p.may(who, &l.seats[at])) {
				l.start[at] = who
				return true
			}
		}
		return false
	}
	var held, others, left []int
	for _, i := range people {
		name := p.people[i].Name
		if p.heatOf(name) > 0 || p.pinned(l.seats[from].station+1, name) != "" {
			held = append(held, i)
		} else {
			others = append(others, i)
		}
	}
	for _, i := range slices.Concat(held, others) {
		if !free(i, false) {
			left = append(left, i)
		}
	}
	for _, i := range left {
		free(i, true)
	}
	return len(left) == 0
}

// may reports whether the coach's hand lets a person sit there.
func (p *planner) may(who int, s *seat) bool {
	name := p.people[who].Name
	if on := p.pinned(s.station+1, name); on != "" && on != s.on.Name && p.stations[s.station].index(on) >= 0 {
		return false
	}
	if w, _, ok := p.wave(name); ok && s.turn != p.turnOf(w, s) {
		return false
	}
	heat := p.heatOf(name)
	return heat == 0 || heat > p.heats || heat-1 == s.heat || len(p.stations) > 1
}

// turnOf is the turn that a wave has on a seat's implement: one for each earlier
// wave with somebody there.
func (p *planner) turnOf(wave int, s *seat) int {
	turn := 0
	j := p.stations[s.station].index(s.on.Name)
	for _, names := range p.spec.Waves[:wave] {
		if j < len(names) && slices.ContainsFunc(p.people, func(a *roster.Athlete) bool { return a.Name == names[j] }) {
			turn++
		}
	}
	return turn
}
