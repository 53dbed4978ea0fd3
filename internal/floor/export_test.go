package floor

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// StoryPlan is the plan of a story: see testdata/README.md.
func StoryPlan(part session.Part, names, on string) *Plan { return one(part, names, on) }

// StorySheet prints the rounds of one person, times from the first GO.
func StorySheet(tb testing.TB, s *State, who string, now time.Duration) string {
	tb.Helper()
	r := &run{t: tb, s: s, zero: s.first}
	return r.sheet(who, now-s.first)
}

// ScenePlan is the plan of a scene: see testdata/README.md.
func ScenePlan(tb testing.TB, parts []session.Part, people []string) *Plan {
	tb.Helper()
	var names, sleds []string
	heats, plates := make([]int, len(people)), make([]int, len(people))
	for i, who := range people {
		name, where, _ := strings.Cut(who, "=")
		where, mass, heavier := strings.Cut(where, ",")
		sled, heat, later := strings.Cut(where, "/")
		names, sleds = append(names, name), append(sleds, sled)
		heats[i], plates[i] = 1, 40
		if later {
			heats[i], _ = strconv.Atoi(heat)
		}
		if heavier {
			plates[i], _ = strconv.Atoi(mass)
		}
	}
	var plan *Plan
	for _, part := range parts {
		p := one(part, strings.Join(names, " "), strings.Join(sleds, " "))
		pp := &p.Parts[0]
		if !part.Format.Pulls() {
			*pp = PartPlan{Spec: part, Places: make([]Place, len(people))}
		}
		pp.Heats = max(1, slices.Max(heats))
		for i := range pp.Places {
			if pp.Places[i].Heat == 0 {
				continue
			}
			pp.Places[i].Heat = heats[i]
			for k := range pp.Places[i].Spots {
				sp := &pp.Places[i].Spots[k]
				sp.Stack, sp.Moves = slices.Repeat([]string{"20 kg"}, plates[i]/20), sp.Tare+kg*measure.Mass(plates[i]/20*20)
				if plates[i]%20 >= 10 {
					sp.Stack, sp.Moves = append(sp.Stack, "10 kg"), sp.Moves+10*kg
				}
				sp.Asked = sp.Moves
			}
		}
		if plan == nil {
			plan = p
			continue
		}
		plan.Parts = append(plan.Parts, *pp)
	}
	return plan
}
