package schema

import (
	"hawser/internal/movement"
	"hawser/internal/week"
)

func weekFile() table {
	return table{about: "A usual week.", keys: doc{
		"block_starts": about("the first day of the block, 2026-11-02, without quotes: lighter weeks are counted from it", day()),
		"day": list(table{about: "A day; a weekday can stand twice.", need: []string{"day"}, keys: doc{
			"day":  oneOf(week.Weekdays()...),
			"main": about("patterns of the day's main lifts", oneOrMore(oneOf(week.Patterns()...))),
			"at":   about("18:00:00, without quotes", hour()),
			"pull": about("a session by name, or several", oneOrMore(name())),
		}}),
	}}
}

func nextFile() table {
	return table{about: "What was accepted for next time; the program writes it.", keys: doc{
		"next": list(table{
			about: "A load or metres of one person in place of what a session says: one of the two.",
			need:  []string{"athlete", "session", "movement", "date"},
			keys: doc{
				"athlete": name(), "session": name(), "part": whole(1, 99), "station": whole(1, 99),
				"movement": oneOf(movement.Names()...), "load": about("sled or bar and plates together", massText()),
				"distance": about("long pull: all of it", distanceText()), "date": day(),
			},
			rules: doc{"oneOf": []doc{{"required": []string{"load"}}, {"required": []string{"distance"}}}},
		}),
		"class": list(table{
			about: "An interval or a week's rounds of a part in place of what a session says: one of the two.",
			need:  []string{"session", "date"},
			keys: doc{
				"session": name(), "part": whole(1, 99), "every": about("from one start to the next", clockText()),
				"rounds": about("or sets", whole(1, 500)), "week": about("the Monday of the week that the rounds are for", day()), "date": day(),
			},
			rules: doc{
				"oneOf":        []doc{{"required": []string{"every"}}, {"required": []string{"rounds"}}},
				"dependencies": doc{"rounds": []string{"week"}},
			},
		}),
	}}
}
