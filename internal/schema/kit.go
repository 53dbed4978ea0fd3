package schema

func kitFile() table {
	tare := about("its mass with no plate on it", massText())
	named := about("its name in sessions; no two things share one", name())
	return table{about: "What stands on the floor.", keys: doc{
		"step": about("on a sled, lighter plates stay in the pile", massText()),
		"strip": table{about: "Where sleds move.", need: []string{"length"}, keys: doc{
			"length":  about("usable: the room to stop is taken off already", distanceText()),
			"surface": name(),
			"lanes":   about("how many sleds may move at once", whole(1, 100)),
		}}.doc(),
		"sled": list(table{about: "A sled; the first one has the digit 1.", need: []string{"name", "tare"}, keys: doc{
			"name": named, "tare": tare, "posts": about("every post carries the same plates", whole(1, 8)),
		}}),
		"bar": list(table{about: "Bars of one kind.", need: []string{"tare"}, keys: doc{
			"name": named, "tare": tare, "count": whole(0, 100), "kind": oneOf("bar", "trap bar"),
		}}),
		"handles": list(table{about: "Pairs of handles.", need: []string{"tare"}, keys: doc{
			"name": named, "tare": about("of one handle", massText()), "count": about("pairs", whole(0, 100)),
		}}),
		"rope": list(table{about: "A rope.", need: []string{"length"}, keys: doc{"name": named, "length": distanceText()}}),
		"plates": list(table{about: "Plates of one kind; all of them are the pile.", need: []string{"mass", "count"}, keys: doc{
			"mass": about("as it is stamped on them", massText()), "count": about("single plates, not pairs", whole(0, 1000)),
		}}),
		"surface": list(table{about: "How hard a surface pulls, measured.", need: []string{"name", "pull_here", "pull_on"}, keys: doc{
			"name":      name(),
			"pull_here": about("a hanging scale, the same loaded sled, a steady walk", massText()),
			"pull_on":   about("the same on other surfaces, by name", doc{"type": "object", "additionalProperties": massText(), "propertyNames": name()}),
		}}),
	}}
}
