package schema

import (
	"encoding/json"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
)

// house is made from the rules themselves.
func houseFile() table {
	keys := doc{}
	for _, r := range house.Rules() {
		d := about(r.About, value(r))
		if usual := r.Value(); usual != "" {
			d["default"] = json.RawMessage(usual) // a text, a number, true: TOML writes them as JSON does
		}
		keys[r.Key] = d
	}
	own := doc{}
	for _, a := range house.Actions() {
		own[a.Name] = about(a.Does, doc{"type": "string", "pattern": `^\S+$`, "default": a.Usual})
	}
	keys["keys"] = table{about: "Other keys than the usual ones: a sign or a name, never a letter or a digit in a run.", keys: own}.doc()
	return table{about: "The habits of this house; a key left out has its usual value.", keys: keys}
}

// value is what the rule takes.
func value(r house.Rule) doc {
	switch r.Field.(type) {
	case *time.Duration:
		return clockText()
	case *measure.Share:
		return shareText()
	case *measure.Distance:
		return distanceText()
	case *int:
		return whole(0, 1000)
	case *bool:
		return flag()
	}
	if r.Words != nil {
		return oneOf(r.Words...)
	}
	return line()
}
