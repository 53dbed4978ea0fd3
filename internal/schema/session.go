package schema

import (
	"maps"
	"slices"

	"hawser/internal/movement"
	"hawser/internal/session"
)

func sessionFile() table {
	return table{about: "What a class does.", need: []string{"aim", "part"}, keys: doc{
		"title": about("what the wall calls it; else the file's name", line()),
		"aim":   about("what it trains", oneOf(session.Strength, session.Endurance, session.Conditioning)),
		"part":  doc{"type": "array", "items": part(), "minItems": 1},
	}}
}

func part() doc {
	keys := doc{
		"title":    line(),
		"format":   about("how the clock runs", oneOf(formats()...)),
		"count_in": about("before GO; else the house's", clockText()),
		"allocate": about("in order: stations are loaded in list order", oneOf("best", "in order")),
		"station":  doc{"type": "array", "items": station(), "minItems": 1},
		"lane":     list(table{about: "People who stay on one sled.", need: []string{"on", "who"}, keys: doc{"on": name(), "who": oneOrMore(name())}}),
	}
	maps.Copy(keys, clockKeys())
	var rules []doc
	for _, f := range formats() {
		rules = append(rules, where("format", f, format(f)))
	}
	return table{about: "A part of the class.", need: []string{"format"}, keys: keys, rules: doc{"allOf": rules}}.doc()
}

// formats are all that a part may have.
func formats() []session.Format { return slices.Concat(session.Formats(), session.Breaks()) }

// clockKeys are the keys that some formats have.
func clockKeys() doc {
	return doc{
		"every":        about("every: from one start to the next", clockText()),
		"rounds":       about("every: rounds; intervals, ratio: bouts", whole(1, 500)),
		"late":         about("every: what follows a late finish; else the house's", oneOf(session.SitOut, session.NoteIt, session.DropLoad, session.CutDistance, session.StopThem)),
		"sides":        about(`every, intervals: who begins at which station, [["Maren"], ["Eskil"]]`, groups()),
		"time":         about("warm-up, rest: how long", clockText()),
		"cap":          about("no more time than this", clockText()),
		"press":        about("amrap: what is done at a press", oneOf("round", "station")),
		"work":         about("intervals: a bout", clockText()),
		"rest":         about("intervals, sets, ramp: a time; ratio: a multiple of the own last work", written(clock+"|"+factor, "2:00", "2 x work")),
		"sets":         whole(1, 100),
		"rest_ceiling": about("sets: a note when the rest becomes longer", clockText()),
		"stop_cap":     about("long pull: standing still for longer is a long stop", clockText()),
		"waves":        about(`for time: who starts together, [["Maren"], ["Eskil"]]`, groups()),
		"wave_every":   about("for time: from one wave to the next", clockText()),
	}
}

// format is what holds in a part of one format: the keys it needs, none of another
// format's, and what its stations have.
func format(f session.Format) doc {
	mine, needs := session.ClockKeys(f)
	keys := doc{}
	for key := range clockKeys() {
		if !slices.Contains(mine, key) {
			keys[key] = false
		}
	}
	if slices.Contains(mine, "rest") {
		keys["rest"] = map[bool]doc{false: clockText(), true: written(factor, "2 x work")}[f == session.Ratio]
	}
	if !f.Pulls() {
		keys["station"], keys["lane"] = false, false
		return doc{"properties": keys, "required": mine[:needs]}
	}
	st := doc{}
	if f != session.Ramp {
		st["guess"], st["slot"] = false, false
	}
	if f != session.Sets {
		st["load"] = doc{"maxItems": 1}
	}
	stations := doc{"items": doc{"properties": st}}
	if f != session.Ramp && f != session.Intervals { // a bout or an attempt is an amount too
		stations["items"].(doc)["anyOf"] = []doc{{"required": []string{"distance"}}, {"required": []string{"reps"}}, {"required": []string{"time"}}}
	}
	if f == session.Every {
		stations["maxItems"] = 4
	}
	keys["station"] = stations
	return doc{"properties": keys, "required": slices.Concat([]string{"station"}, mine[:needs])}
}

func station() doc {
	return table{about: "What is done, how much of it, with which load.", need: []string{"movement"}, keys: doc{
		"movement": oneOf(movement.Names()...),
		"distance": distanceText(),
		"reps":     whole(1, 1000),
		"time":     clockText(),
		"times":    about("so many times the distance, the sled back each time", whole(1, 100)),
		"load":     about("added on a sled, the whole of a bar; a list for sets", oneOrMore(written(ask, "60 kg", "60% max", "50% body mass", "50% body mass total", "70% 1RM", "44 kg each hand", "88 kg both", "heaviest"))),
		"expect":   about("how long the work takes; left out: from the logs", clockText()),
		"guess":    about("ramp: the heaviest that is expected; left out: everyone's best", massText()),
		"slot":     about("ramp: planned time of an attempt", clockText()),
		"on":       about("this bar, sled or rope, or several, by name", oneOrMore(name())),
	}, rules: doc{
		"not": doc{"anyOf": []doc{
			{"required": []string{"distance", "reps"}}, {"required": []string{"distance", "time"}}, {"required": []string{"reps", "time"}},
		}},
		"if":   doc{"properties": doc{"times": doc{"minimum": 2}}, "required": []string{"times"}},
		"then": doc{"required": []string{"distance"}},
	}}.doc()
}
