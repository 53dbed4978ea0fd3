package tui

import (
	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// pains asks how much and then where. The first digit is kept at once; where it
// hurts is a second event, for whoever has the time.
func pains(who string) []item {
	var list []item
	for n := range 11 {
		key := itoa(n)
		if n == 10 {
			key = "+"
		}
		pain := item{key: key, does: "", command: floor.Pain{Who: who, Pain: n}}
		if n > 0 {
			pain.then = sites(who, n)
		}
		if n == 0 || n == 10 {
			pain.does = "pain " + itoa(n)
		}
		list = append(list, pain)
	}
	return list
}

func sites(who string, pain int) []item {
	var list []item
	for i, site := range []string{"foot", "knee", "hip", "back", "chest", "shoulder", "elbow", "hand", "head"} {
		list = append(list, item{key: itoa(i + 1), does: site, command: floor.Pain{Who: who, Pain: pain, Site: site}})
	}
	return list
}

// lastBegun is the round of a person that began last, 0 for whichever that is.
func lastBegun(scene *Scene, t *floor.Tile) int {
	if rounds := scene.Rounds[t.Person]; len(rounds) > 0 {
		return rounds[len(rounds)-1].Round
	}
	return 0
}

// reasons is why a round is not counted: kept with it, after it has been struck.
func reasons(who string, round int) []item {
	var list []item
	for i, why := range []string{"cut short", "wrong load", "false start", "helped", "not theirs"} {
		list = append(list, item{key: itoa(i + 1), does: why, command: floor.Strike{Who: who, Round: round, Reason: why}})
	}
	return list
}

// waysOut is another time from one start to the next, long enough where the sleds are
// too few for the one in force, else a step longer; and the metres that would fit.
func waysOut(r *Live, scene *Scene) []item {
	spec := scene.running()
	f := r.st.Fit(scene.Now)
	every, rest := spec.Every+session.IntervalStep, spec.Rest+session.IntervalStep
	if f != nil {
		every, rest = f.Every, f.Rest
	}
	does := "every " + measure.Clock(every)
	switch spec.Format {
	case session.Every:
	case session.Intervals:
		every, does = spec.Work+rest, "rest "+measure.Clock(rest)
	default:
		return nil
	}
	if f == nil {
		return []item{{key: "*", does: does, command: floor.Interval{Every: every}}}
	}
	list := []item{{key: "*", does: does + ", ends " + measure.Clock(f.Later) + " later", command: floor.Interval{Every: every}}}
	if f.Metres > 0 {
		list = append(list, item{key: "/", does: "all pull " + styleOf(r.st).Distance(f.Metres), command: floor.Metres{To: f.Metres}})
	}
	return list
}

// offers is the ways out where the sleds are too few, and a step more for those who
// began with the empty sled.
func offers(r *Live, scene *Scene) []item {
	var list []item
	if r.st.Fit(scene.Now) != nil {
		list = waysOut(r, scene)
	}
	keys := []string{".", ",", ":"}
	for i := range scene.Tiles {
		t := &scene.Tiles[i]
		if t.More != nil && len(keys) > 0 {
			who := scene.Plan.People[t.Person].Name
			does := clean(who) + ": " + styleOf(r.st).Mass(t.More.Moves) + " from round " + itoa(t.More.Round) + " on"
			list = append(list, item{key: keys[0], does: does, command: floor.Change{Who: who, By: t.More.By}})
			keys = keys[1:]
		}
	}
	return list
}

// offer opens what there is to offer once: the ways out after a change that does not
// fit, a step more after a press. It closes when there is nothing left of it.
func (c *classroom) offer(s *Scene) {
	ask := c.live.unfit
	c.live.unfit = false
	for i := range s.Tiles {
		t := &s.Tiles[i]
		if t.More == nil {
			continue
		}
		at := [2]int{s.Part, lastBegun(s, t)}
		ask = ask || c.offered[t.Person] != at
		if c.offered == nil {
			c.offered = map[int][2]int{}
		}
		c.offered[t.Person] = at
	}
	if ask && c.strip == nil {
		c.strip = &strip{who: -1, offers: true}
	}
	if c.strip != nil && c.strip.offers && len(offers(c.live, s)) == 0 {
		c.strip = nil
	}
}
