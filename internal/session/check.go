package session

import (
	"fmt"
	"slices"

	"hawser/internal/coachfile"
	"hawser/internal/kit"
	"hawser/internal/movement"
	"hawser/internal/roster"
)

// Check says which names of a session are not in the roster or the kit, and which
// implements cannot do the movement they are named for. That the kit has something
// for every movement at all is for the board to say. The faults have no line: a
// session may come from a form as well as from a file.
func Check(s *Session, r *roster.Roster, k *kit.Kit) coachfile.Faults {
	c := checker{file: s.Path}
	if c.file == "" {
		c.file = s.Title
	}
	for _, a := range r.Athletes {
		c.people = append(c.people, a.Name)
	}
	for i, p := range s.Parts {
		c.where = fmt.Sprintf("part %d", i+1)
		for _, wave := range p.Waves {
			c.known("waves", "roster.toml", wave, c.people)
			if n := len(k.Sleds); n > 0 && len(wave) > n {
				c.say(fmt.Sprintf("waves: there are more people in one (%d) than sleds (%d)", len(wave), n), "write shorter waves: one person a sled, in the order of kit.toml")
			}
		}
		for _, side := range p.Sides {
			c.known("sides", "roster.toml", side, c.people)
		}
		for _, lane := range p.Lanes {
			c.known("lane", "roster.toml", lane.Who, c.people)
			c.known("lane", "kit.toml", []string{lane.On}, k.Names())
		}
		for j, station := range p.Stations {
			c.where = fmt.Sprintf("part %d, station %d", i+1, j+1)
			c.implements(station, k)
		}
	}
	return c.faults
}

type checker struct {
	file, where string
	people      []string
	faults      coachfile.Faults
}

func (c *checker) say(what, write string) {
	c.faults = append(c.faults, coachfile.Fault{File: c.file, What: c.where + ": " + what, Write: write})
}

func (c *checker) known(key, file string, names, all []string) {
	for _, name := range names {
		if slices.Contains(all, name) {
			continue
		}
		write := "add it there, or leave it out here"
		if near := coachfile.Nearest(name, all); near != "" {
			write = fmt.Sprintf("did you mean %q?", near)
		}
		c.say(fmt.Sprintf("%s: %q is not in %s", key, name, file), write)
	}
}

// implements checks the names of on: each exists, and can do the movement.
func (c *checker) implements(s Station, k *kit.Kit) {
	c.known("on", "kit.toml", s.On, k.Names())
	m, ok := movement.Find(s.Movement)
	if !ok {
		return
	}
	can := able(m.Need, k)
	for _, name := range s.On {
		if slices.Contains(k.Names(), name) && !slices.Contains(can, name) {
			c.say(fmt.Sprintf("on: %q is not for a %s", name, m.Name), "name a "+string(m.Need))
		}
	}
}

// able returns the names that can do what is needed.
func able(need movement.Need, k *kit.Kit) []string {
	names := k.Names()
	bars, handles := len(k.Sleds), len(k.Sleds)+len(k.Bars)
	ropes := handles + len(k.Handles)
	switch need {
	case movement.Sled:
		return names[:bars]
	case movement.SledRope:
		return slices.Concat(names[:bars], names[ropes:])
	case movement.Bar, movement.TrapBar:
		return names[bars:handles]
	case movement.Handles:
		return names[handles:ropes]
	}
	return nil
}
