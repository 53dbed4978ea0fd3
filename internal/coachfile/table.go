package coachfile

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"

	"hawser/internal/measure"
)

// get marks a key as known and returns its value, nil where it is not written.
func (t *Table) get(key string) *value {
	if !t.asked[key] {
		t.asked[key] = true
		t.known = append(t.known, key)
	}
	return t.keys[key]
}

// Has tells whether a key is written.
func (t *Table) Has(key string) bool { return t.get(key) != nil }

// Keys returns the keys of a table whose keys are the coach's own names.
func (t *Table) Keys() []string {
	names := make([]string, len(t.order))
	for i, k := range t.order {
		names[i] = k.name
	}
	return names
}

// Fault says that the value of key is wrong; where it is not written, that the table is.
func (t *Table) Fault(key, what, write string) {
	at := t.at
	if v := t.keys[key]; v != nil {
		at = v.at
	}
	t.say(at, what, write)
}

func (t *Table) say(at int, what, write string) {
	if !t.scrap {
		t.file.fault(at, what, write)
	}
}

// Need says that a key is missing, with an example of it. Where part of the file
// could not be read it says nothing: the key may stand there.
func (t *Table) Need(key, example string) bool {
	if t.Has(key) {
		return true
	}
	if !t.file.broken {
		t.say(t.at, fmt.Sprintf("%q is missing", key), "write "+example)
	}
	return false
}

// Get reads a text value with parse, whose error is a [measure.Error]: it says what
// is wrong and what to write. A key that is not written gives the zero value.
func Get[T any](t *Table, key string, parse func(string) (T, error)) T {
	v := t.get(key)
	if v == nil {
		var zero T
		return zero
	}
	got, _ := read(t, v, key, parse)
	return got
}

// All reads a list of texts with parse; one text alone stands for a list of one.
func All[T any](t *Table, key string, parse func(string) (T, error)) []T {
	v := t.get(key)
	if v == nil {
		return nil
	}
	return list(t, v, key, parse)
}

// Lists reads a list of lists of texts.
func Lists[T any](t *Table, key string, parse func(string) (T, error)) [][]T {
	v := t.get(key)
	if v == nil {
		return nil
	}
	if v.kind != unstable.Array || v.open {
		t.say(v.at, key+" is not a list of lists", `write `+key+` = [["…"], ["…"]]`)
		return nil
	}
	var lists [][]T
	for _, element := range v.list {
		lists = append(lists, list(t, element, key, parse))
	}
	return lists
}

func list[T any](t *Table, v *value, key string, parse func(string) (T, error)) []T {
	elements := []*value{v}
	if v.kind == unstable.Array && !v.open {
		elements = v.list
	}
	var all []T
	for _, element := range elements {
		if got, ok := read(t, element, key, parse); ok {
			all = append(all, got)
		}
	}
	return all
}

func read[T any](t *Table, v *value, key string, parse func(string) (T, error)) (T, bool) {
	var zero T
	text, what := v.text, ""
	if v.kind != unstable.String {
		text, what = "", key+" is not a text in double quotes"
	}
	got, err := parse(text) // of nothing, it says what to write
	if err == nil && what == "" {
		return got, true
	}
	write := "write it in double quotes"
	if wrong, ok := errors.AsType[*measure.Error](err); ok {
		write = "write " + wrong.Write
		what = cmp.Or(what, key+": "+wrong.What)
	}
	t.say(v.at, what, write)
	return zero, false
}

// Some makes a parser refuse nothing at all: "0 kg", "0:00".
func Some[T ~int64](parse func(string) (T, error)) func(string) (T, error) {
	return func(s string) (T, error) {
		got, err := parse(s)
		if err == nil && got == 0 {
			return 0, &measure.Error{What: strconv.Quote(s) + " is nothing", Write: "more than 0"}
		}
		return got, err
	}
}

// OneOf makes a parser that takes these words alone.
func OneOf[T ~string](words ...T) func(string) (T, error) {
	return func(s string) (T, error) {
		plain := make([]string, len(words))
		for i, word := range words {
			if T(s) == word {
				return word, nil
			}
			plain[i] = string(word)
		}
		return "", &measure.Error{What: strconv.Quote(Clean(s)) + " is not known here", Write: instead(s, plain)}
	}
}

// Int reads a whole number from lo to hi; 0 where it is not written.
func (t *Table) Int(key string, lo, hi int) int {
	v := t.get(key)
	if v == nil {
		return 0
	}
	n, err := strconv.Atoi(v.text)
	if v.kind != unstable.Integer || err != nil || n < lo || n > hi {
		t.say(v.at, key+" is not a whole number that fits", fmt.Sprintf("write a number from %d to %d, without quotes", lo, hi))
		return 0
	}
	return n
}

// Flag reads true or false.
func (t *Table) Flag(key string) bool {
	v := t.get(key)
	if v == nil {
		return false
	}
	if v.kind != unstable.Bool {
		t.say(v.at, key+" is not a yes or no", "write true or false, without quotes")
	}
	return v.text == "true"
}

// Date reads a day: midnight UTC, zero where it is not written.
func (t *Table) Date(key string) time.Time {
	return t.local(key, unstable.LocalDate, time.DateOnly, "2026-11-02")
}

// TimeOfDay reads a time of the day as the time since midnight.
func (t *Table) TimeOfDay(key string) time.Duration {
	at := t.local(key, unstable.LocalTime, time.TimeOnly, "18:00:00")
	return time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute + time.Duration(at.Second())*time.Second
}

func (t *Table) local(key string, kind unstable.Kind, layout, example string) time.Time {
	v := t.get(key)
	if v == nil {
		return time.Time{}
	}
	at, err := time.Parse(layout, v.text)
	if v.kind != kind || err != nil {
		t.say(v.at, key+" cannot be read", "write "+example+", without quotes")
		return time.Time{}
	}
	return at
}

// Table returns the table under a key, nil where it is not written.
func (t *Table) Table(key string) *Table {
	v := t.get(key)
	if v == nil {
		return nil
	}
	if v.table == nil {
		t.say(v.at, key+" is not a table", "write ["+key+"] on a line of its own, its keys below")
	}
	return v.table
}

// Tables returns the tables of a list: [[key]], or tables in braces.
func (t *Table) Tables(key string) []*Table {
	v := t.get(key)
	if v == nil {
		return nil
	}
	var tables []*Table
	elements := v.list
	if v.kind != unstable.Array {
		elements = []*value{{at: v.at}}
	}
	for _, element := range elements {
		if element.table == nil {
			t.say(element.at, key+" is not a list of tables", "write [["+key+"]] above each of them")
			continue
		}
		tables = append(tables, element.table)
	}
	return tables
}

// unasked names the keys that nobody knows.
func (t *Table) unasked() {
	if len(t.known) == 0 || t.scrap {
		return // never looked into: the table itself is what nobody knows
	}
	for _, k := range t.order {
		if !t.asked[k.name] {
			t.say(k.at, fmt.Sprintf("%q is not a key here", Clean(k.name)), "write "+instead(k.name, t.known))
		}
	}
}
