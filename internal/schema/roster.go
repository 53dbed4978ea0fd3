package schema

import (
	"hawser/internal/movement"
	"hawser/internal/roster"
)

func rosterFile() table {
	return table{about: "Who trains here.", keys: doc{"athlete": list(table{
		about: "A person.",
		need:  []string{"name"},
		keys: doc{
			"name":      about("as everyone calls them; no two alike", name()),
			"key":       about("the letter of their presses; without it one is given", doc{"type": "string", "pattern": `^\p{Ll}$`}),
			"body_mass": about(`for loads such as "50% body mass"; shown on no wall`, massText()),
			"newcomer":  about("a newcomer does half", flag()),
			"best":      list(best()),
		},
	})}}
}

func best() table {
	return table{
		about: "A max with its tags; it never stands for another distance, surface or sled without a word.",
		need:  []string{"movement"},
		keys: doc{
			"movement": oneOf(movement.Names()...),
			"load":     about("the whole of it, sled or bar and plates", massText()),
			"counted":  about("plates only: the tare of the sled is added", oneOf(roster.Total, roster.PlatesOnly)),
			"reps":     about(`how many were done with it; write how = "reps"`, whole(1, 100)),
			"formula":  about("makes a max of the repetitions; else the house's", oneOf(roster.Formulas()...)),
			"distance": distanceText(),
			"layout":   about("straight, or with turns", written(layout, "straight", "2 x 15 m")),
			"surface":  name(),
			"sled":     about("by its name in kit.toml", name()),
			"date":     about("2026-10-05, without quotes", day()),
			"how":      about("how it is known; left out: noted", oneOf(roster.Tested, roster.FromReps, roster.TwoPulls, roster.Noted)),
			"pulls": about("two timed pulls over the same distance, in place of a load", doc{
				"type": "array", "minItems": 2, "maxItems": 2,
				"items": table{about: "A timed pull.", need: []string{"load", "time"}, keys: doc{"load": massText(), "time": clockText()}}.doc(),
			}),
		},
		rules: doc{
			"anyOf": []doc{{"required": []string{"load"}}, {"required": []string{"pulls", "distance"}}},
			"dependencies": doc{
				"reps": with("how", roster.FromReps), "formula": with("how", roster.FromReps), "pulls": with("how", roster.TwoPulls),
			},
			"allOf": []doc{where("counted", roster.PlatesOnly, doc{"required": []string{"sled"}})},
		},
	}
}
