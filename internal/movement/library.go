package movement

import "slices"

// All returns the library in the order of the rack: drags, vehicles, rope, floor.
// Patterns, what tires and what can stand in for what are common practice; there
// is no single source.
func All() []Movement { return slices.Clone(library) }

// Cautions that several movements share.
const (
	harness      = "strap, harness and hook are looked over before the first heavy pull"
	knots        = "rope, knot and hook are looked over before the first heavy pull"
	oneDirection = "everyone pulls in one direction and the lane is clear before the sled moves"
	footBlock    = "the foot block is fixed and both feet stand on it before the rope is tight"
	ropeBehind   = "the loose rope runs out beside the puller, never round a foot or a hand"
	flatBack     = "the set ends when the back rounds or the grip opens, whatever the count"
)

// General returns the cautions of every session, whatever is pulled. They are
// training sense, not medical advice.
func General() []string {
	return []string{
		"stop at pain, a slip or dizziness; whoever was stopped starts again only when the coach says so",
		"chest pain or a faint: stop the clock, call for help",
		"in heat: more water, more shade, fewer rounds",
		"a newcomer does half",
		"under 18, pregnant, or with a heart or blood pressure history: cleared by a professional first",
		"this is training arithmetic, not medical advice; the coach and the house decide",
	}
}

// Find returns the movement of that name.
func Find(name string) (Movement, bool) {
	for i := range library {
		if library[i].Name == name {
			return library[i], true
		}
	}
	return Movement{}, false
}

// Names returns every name, in the order of All.
func Names() []string {
	names := make([]string, len(library))
	for i := range library {
		names[i] = library[i].Name
	}
	return names
}

var library = []Movement{
	{
		Name: "forward drag", Pattern: "hinge", Need: Sled,
		Tires:    []string{"hamstrings", "glutes", "calves"},
		StandsIn: []string{"hamstring and glute work on a day without a bar"},
		Cautions: []string{harness, oneDirection},
	},
	{
		Name: "backward drag", Pattern: "squat", Need: Sled,
		Tires:    []string{"front of the thighs", "calves"},
		StandsIn: []string{"squats and step-downs where the knees want slow, even work"},
		Cautions: []string{"nobody stands or walks behind a backward puller", harness, oneDirection},
	},
	{
		Name: "forward drag with rope", Pattern: "hinge", Need: Sled, Grip: true,
		Tires:    []string{"hamstrings", "glutes", "grip"},
		StandsIn: []string{"a forward drag where there is no harness"},
		Cautions: []string{knots, oneDirection},
	},
	{
		Name: vehicle, Pattern: "hinge", Need: Sled,
		Tires:    []string{"hamstrings", "glutes", "calves", "back"},
		StandsIn: []string{"heavy forward drags for those who have done them for months"},
		Cautions: []string{
			"only on the flat, with a driver at the wheel and a foot on the brake",
			"nobody in front of the puller or between puller and vehicle", harness, knots,
		},
	},
	{
		Name: "sled row", Pattern: "pull", Need: Sled, OneWay: true, Grip: true,
		Tires:    []string{"upper back", "arms", "grip"},
		StandsIn: []string{"bar and dumbbell rows", "pulling work where a shoulder needs an easy path"},
		Cautions: []string{harness, "take the slack out before the heave: no jerk on a loose strap", oneDirection},
	},
	{
		Name: "hand over hand pull", Pattern: "pull", Need: SledRope, OneWay: true, Grip: true,
		Tires:    []string{"upper back", "arms", "grip", "trunk"},
		StandsIn: []string{"a rope climb, feet on the floor"},
		Cautions: []string{footBlock, knots, ropeBehind},
	},
	{
		Name: "seated hand over hand pull", Pattern: "pull", Need: SledRope, OneWay: true, Grip: true,
		Tires:    []string{"upper back", "arms", "grip"},
		StandsIn: []string{"a rope climb", "standing rope pulls where the lower back needs rest"},
		Cautions: []string{footBlock, knots, ropeBehind},
	},
	{
		Name: "deadlift", Pattern: "hinge", Need: Bar, Grip: true,
		Tires:    []string{"hamstrings", "glutes", "back", "grip"},
		StandsIn: []string{"heavy drags on a day without turf"},
		Cautions: []string{flatBack, "collars on, toes clear of the plates"},
	},
	{
		Name: "trap bar deadlift", Pattern: "squat", Need: TrapBar, Grip: true,
		Tires:    []string{"front of the thighs", "glutes", "back", "grip"},
		StandsIn: []string{"a deadlift from the floor with a more upright back"},
		Cautions: []string{flatBack, "collars on, both ends loaded before anyone steps in"},
	},
	{
		Name: "handles deadlift", Pattern: "hinge", Need: Handles, Grip: true,
		Tires:    []string{"hamstrings", "glutes", "back", "grip"},
		StandsIn: []string{"a deadlift where no bar is free"},
		Cautions: []string{flatBack, "both handles loaded alike"},
	},
	{
		Name: "handles carry", Pattern: "carry", Need: Handles, Grip: true,
		Tires:    []string{"grip", "trunk", "calves"},
		StandsIn: []string{"trunk work with side bends or planks"},
		Cautions: []string{"set them down, never drop them beside a foot", "the path is clear to its end and back", flatBack},
	},
}
