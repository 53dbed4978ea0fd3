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
	return table{about: "Loads for next time that were accepted; the program writes them.", keys: doc{"next": list(table{
		about: "A load in place of what a session asks.",
		need:  []string{"athlete", "session", "movement", "load", "date"},
		keys: doc{
			"athlete": name(), "session": name(), "part": whole(1, 99), "station": whole(1, 99),
			"movement": oneOf(movement.Names()...), "load": about("sled or bar and plates together", massText()), "date": day(),
		},
	})}}
}
