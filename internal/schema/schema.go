// Package schema describes the coach's files to an editor, as JSON Schema (draft 7),
// so that it completes keys, shows what each is for and marks a slip as it is typed.
//
// Contract: a schema never marks what the reader of the file takes. It marks fewer
// slips than the reader, which alone knows whether two keys go together or a name
// exists. Words and limits come from the packages that read the files; what is
// written here by hand is held by a test to what each reader says when it meets a
// key, a word or a number it does not know.
//
//	page, ok := schema.Of("kit")
package schema

import (
	"encoding/json"
	"maps"
)

// doc is a schema, or a piece of one.
type doc map[string]any

// table is one kind of file or table: its keys and which of them are needed.
type table struct {
	about string
	keys  doc
	need  []string
	rules doc // what goes together, beside the keys
}

// Files returns what there is a schema of, by the name of the file without .toml;
// "session" is for every file in the folder sessions.
func Files() []string { return []string{"roster", "kit", "house", "session", "week", "next"} }

// Of returns the schema of one of Files as JSON.
func Of(file string) ([]byte, bool) {
	top, ok := map[string]func() table{
		"roster": rosterFile, "kit": kitFile, "house": houseFile, "session": sessionFile, "week": weekFile, "next": nextFile,
	}[file]
	if !ok {
		return nil, false
	}
	d := top().doc()
	d["$schema"] = "http://json-schema.org/draft-07/schema#"
	page, err := json.MarshalIndent(d, "", "  ")
	if err != nil {
		panic(err) // a doc holds nothing that JSON has no word for
	}
	return append(page, '\n'), true
}

func (t table) doc() doc {
	d := doc{"type": "object", "description": t.about, "properties": t.keys, "additionalProperties": false}
	if len(t.need) > 0 {
		d["required"] = t.need
	}
	maps.Copy(d, t.rules)
	return d
}

// list is the tables that stand under [[key]].
func list(t table) doc { return doc{"type": "array", "items": t.doc()} }

// about puts what a key is for beside what it takes.
func about(text string, d doc) doc {
	d["description"] = text
	return d
}

// oneOf takes these words alone.
func oneOf[T ~string](words ...T) doc { return doc{"enum": words} }

// whole takes a whole number.
func whole(lo, hi int) doc { return doc{"type": "integer", "minimum": lo, "maximum": hi} }

func flag() doc { return doc{"type": "boolean"} }

// oneOrMore takes a text, or a list of such.
func oneOrMore(d doc) doc { return doc{"anyOf": []doc{d, {"type": "array", "items": d}}} }

// groups takes a list of lists of names.
func groups() doc {
	return doc{"type": "array", "items": doc{"type": "array", "items": name()}}
}

// where is what holds in a table in which a key has a value.
func where(key string, value any, then doc) doc {
	return doc{"if": doc{"properties": doc{key: doc{"const": value}}, "required": []string{key}}, "then": then}
}

// with is what else must stand in a table that has a key.
func with(key string, value any) doc {
	return doc{"properties": doc{key: doc{"const": value}}, "required": []string{key}}
}
