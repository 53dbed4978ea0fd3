package lanes

import (
	"slices"

	"hawser/internal/measure"
)

// loads is what the loads of some people cost, whichever stacks make them and whoever
// comes after whom.
type loads struct {
	short measure.Mass // missed more than alone
	over  int          // too heavy empty
}

func (a loads) plus(b loads) loads { return loads{a.short + b.short, a.over + b.over} }

// better reports whether there is less of the shortage, or as much and fewer too heavy.
func (a loads) better(b loads) bool {
	return a.short < b.short || a.short == b.short && a.over < b.over
}

// group is people on a column.
type group struct {
	people set
	loads  loads
}

// groups returns, of each column, the groups of people that it has in some arrangement
// whose loads cost no more than those of the best known.
func (e *exact) groups() [][]group {
	n := len(e.p.people)
	own := make([]*grouped, len(e.cols))
	for j := range e.cols {
		own[j] = e.everyGroup(j)
		e.p.work += (n + len(own[j].sets)) * len(own[j].sets) / stepsOfGroups
	}
	return possible(own, n, loads{e.best.cost.short, e.best.cost.over})
}

// stepsOfGroups is how many pairs of groups looked at count as one unit of work.
const stepsOfGroups = 400

// possible returns, of each column, those of its groups with which a crowd of so many can
// be in all columns so that it costs no more than known.
func possible(own []*grouped, crowd int, known loads) [][]group {
	n, all := len(own), set(1)<<crowd-1
	after := make([]*grouped, n+1)
	after[n] = noGroup(crowd)
	after[n].add(0, loads{})
	before := after[n]
	for j := n - 1; j >= 0; j-- {
		after[j] = together(own[j], after[j+1])
	}
	groups := make([][]group, n)
	for j := range n {
		for _, people := range own[j].sets {
			c := own[j].loads[people]
			if slices.ContainsFunc(before.sets, func(others set) bool {
				rest := all &^ people &^ others
				return people&others == 0 && !known.better(c.plus(before.loads[others]).plus(after[j+1].loads[rest]))
			}) {
				groups[j] = append(groups[j], group{people, c})
			}
		}
		before = together(own[j], before)
	}
	return groups
}

// grouped is groups of people and the least that the loads of each cost.
type grouped struct {
	sets  []set
	loads []loads // by set
}

func noGroup(people int) *grouped {
	return &grouped{loads: slices.Repeat([]loads{{short: never}}, 1<<people)}
}

// add notes what the loads of a group come to, if that is the least so far.
func (g *grouped) add(people set, c loads) {
	was := &g.loads[people]
	if was.short == never {
		g.sets = append(g.sets, people)
	}
	if c.better(*was) {
		*was = c
	}
}

// together is the least that two columns, or lists of columns, come to for the people of
// both.
func together(a, b *grouped) *grouped {
	both := &grouped{loads: slices.Repeat([]loads{{short: never}}, len(a.loads))}
	for _, people := range a.sets {
		for _, others := range b.sets {
			if people&others == 0 {
				both.add(people|others, a.loads[people].plus(b.loads[others]))
			}
		}
	}
	return both
}

// everyGroup is the groups of people that a column may have.
func (e *exact) everyGroup(j int) *grouped {
	key := e.shareKey(j, &e.l.seats[e.cols[j].seats[0]].on)
	if found := e.known.groups[key]; found != nil {
		return found
	}
	wants := make([]loads, len(e.p.people))
	for who := range wants {
		wants[who] = e.wants(j, who)
	}
	groups := noGroup(len(wants))
	var from func(first, n int, people set, c loads)
	from = func(first, n int, people set, c loads) {
		if n == 0 {
			groups.add(people, c)
			return
		}
		for i := first; i < len(wants); i++ {
			from(i+1, n-1, people|1<<i, c.plus(wants[i]))
		}
	}
	from(0, len(e.cols[j].seats), 0, loads{})
	e.known.groups[key] = groups
	return groups
}

// wants is what one person's loads cost on column j.
func (e *exact) wants(j, who int) loads {
	var c loads
	for n, u := range e.cols[j].units {
		if e.cols[j].whose[n] == 0 { // all seats of it ask for the same
			one := e.choice(who, u)
			if e.share != nil {
				c.short += e.held(one).miss
			}
			if one.over {
				c.over++
			}
		}
	}
	return c
}
