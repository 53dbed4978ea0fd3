package house

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// Place is a screen on which a key of the coach means something.
type Place string

// The places. On the first two letters and digits are people and sleds.
const (
	InRun    Place = "a run"
	WhoIs    Place = "who is here"
	Sessions Place = "the sessions"
	Board    Place = "the board"
	After    Place = "after class"
	Replay   Place = "the replay"
	Watch    Place = "the second screen"
	TheWeek  Place = "the week"
	Making   Place = "a form"
)

// Action is what one of the coach's keys does. Its name stands in [keys] of
// house.toml, its usual key is written as terminals name it.
type Action struct {
	Name, Usual, Does string
	On                []Place // nil: everywhere
}

// Actions returns every action, those of a run first.
func Actions() []Action {
	return []Action{
		{"hold", "space", "GO, stop, go on", []Place{InRun}},
		{"undo", "backspace", "undo the last one", []Place{InRun, Board, After}},
		{"changes", "enter", "changes", []Place{InRun}},
		{"view", "tab", "both, wall, desk", []Place{InRun, Watch}},
		{"list", "?", "this list", nil},
		{"emergency", "!", "emergency lines", []Place{InRun}},
		{"heavier", "+", "one step heavier", []Place{InRun, Board}},
		{"lighter", "-", "one step lighter", []Place{InRun, Board}},
		{"again", "f5", "the round again", []Place{InRun}},
		{"skip", "f6", "end this part", []Place{InRun}},
		{"shorter", "f7", "part shorter", []Place{InRun}},
		{"longer", "f8", "part longer", []Place{InRun}},
		{"end", "f9", "twice: end the class", []Place{InRun}},
		{"left", "left", "the one before", nil},
		{"right", "right", "the next one", nil},
		{"up", "up", "the one above", nil},
		{"down", "down", "the one below", nil},
		{"close", "esc", "close what is open", nil},
		{"choose", "enter", "take it, go on", []Place{WhoIs, Sessions, Board, After, TheWeek, Making}},
		{"search", "/", "search", []Place{Sessions}},
		{"order", "o", "another order", []Place{Sessions}},
		{"week", "tab", "the week", []Place{Sessions}},
		{"new", "n", "make something new", []Place{Sessions}},
		{"write", "ctrl+s", "write what a form holds", []Place{Making}},
		{"guest", "+", "a guest", []Place{WhoIs}},
		{"everyone", "*", "everyone is here", []Place{WhoIs}},
		{"heat", "tab", "to the next heat", []Place{Board}},
		{"movement", "/", "another movement", []Place{Board}},
		{"percentages", "%", "percentages, for the coach alone", []Place{Board}},
		{"play", "space", "play or stand", []Place{Replay}},
		{"page_up", "pgup", "a page or a round back", []Place{Board, Replay, TheWeek}},
		{"page_down", "pgdown", "a page or a round on", []Place{Board, Replay, TheWeek}},
		{"first", "home", "to the start", []Place{Replay}},
		{"last", "end", "to the end", []Place{Replay}},
		{"leave", "q", "leave", []Place{Sessions, After, Replay, Watch, TheWeek}},
	}
}

// OnPlace reports whether the action's key means something there.
func (a *Action) OnPlace(p Place) bool { return a.On == nil || slices.Contains(a.On, p) }

// Bound returns the key of every action of a place by its usual key. A key that
// cannot stand there is passed over: an old log may hold one.
func (h *House) Bound(p Place) map[string]string {
	bound := map[string]string{}
	for _, a := range Actions() {
		if !a.OnPlace(p) {
			continue
		}
		bound[a.Usual] = a.Usual
		if own, ok := h.Keys[a.Name]; ok && taken(&a, own) == "" {
			bound[a.Usual] = own
		}
	}
	return bound
}

// named are the keys that have a name.
var named = []string{
	"space", "tab", "enter", "esc", "backspace", "delete", "insert", "home", "end", "pgup", "pgdown", "up", "down", "left", "right",
	"f1", "f2", "f3", "f4", "f5", "f6", "f7", "f8", "f9", "f10", "f11", "f12",
}

// readKey reads a key: one sign, or a name, with ctrl, alt and shift before it.
func readKey(s string) (string, error) {
	rest := s
	for _, with := range []string{"ctrl+", "alt+", "shift+"} {
		rest = strings.TrimPrefix(rest, with)
	}
	with := strings.TrimSuffix(s, rest)
	r, size := utf8.DecodeRuneInString(rest)
	sign := size > 0 && size == len(rest) && unicode.IsPrint(r) && r != ' '
	switch {
	case slices.Contains([]string{"ctrl+c", "ctrl+z"}, s):
		return "", &measure.Error{What: s + " leaves, or would put the class aside", Write: `another key, "f2" or "ctrl+k"`}
	case slices.Contains([]string{"ctrl+i", "ctrl+m", "ctrl+h", "ctrl+["}, s):
		return "", &measure.Error{What: "a terminal cannot tell " + s + " from Tab, Enter, Backspace or Esc", Write: `another key, "f2" or "ctrl+k"`}
	case slices.Contains(named, rest), sign && (with == "" || !strings.Contains(with, "shift+") && !unicode.IsUpper(r)):
		return s, nil
	}
	return "", &measure.Error{What: fmt.Sprintf("%q is no key", coachfile.Clean(s)), Write: `one sign, or a name like "f2", "insert", "pgup", "space", "ctrl+k"`}
}

// taken says why a key cannot do the action, "" where it can: letters and digits
// are people and sleds, and a few signs are typed where a figure is asked for.
func taken(a *Action, key string) string {
	r, size := utf8.DecodeRuneInString(key)
	if size != len(key) {
		return ""
	}
	switch letter, digit := unicode.IsLetter(r), r >= '0' && r <= '9'; {
	case (letter || digit) && a.OnPlace(InRun):
		return key + " stays a press in a run: letters and digits are presses there, and nothing else"
	case (letter || digit) && a.OnPlace(WhoIs):
		return key + " stays a mark where it is asked who is here: letters are people, digits sleds"
	case digit && a.OnPlace(After):
		return key + " is typed as a figure after class"
	case strings.ContainsRune(".,:*/", r) && a.OnPlace(InRun):
		return key + " is a choice or part of a figure in the changes of a tile"
	}
	return ""
}

// readKeys reads [keys]: each action's own key, none of them on two actions of
// one place.
func (h *House) readKeys(t *coachfile.Table) {
	all := Actions()
	for i := range all {
		a := &all[i]
		if !t.Has(a.Name) {
			continue
		}
		own := coachfile.Get(t, a.Name, readKey)
		if own == "" {
			continue // said already
		}
		if why := taken(a, own); why != "" {
			t.Fault(a.Name, why, `write a sign or a name, "f2" or "insert"`)
			continue
		}
		h.Keys[a.Name] = own
	}
	for i := range all {
		for k := range all {
			a, b := &all[i], &all[k]
			if own, ok := h.Keys[a.Name]; ok && i != k && h.keyOf(b) == own && together(a, b) {
				t.Fault(a.Name, fmt.Sprintf("%s is the key of %q already", own, b.Name), "write another key, or move that one too")
				break
			}
		}
	}
}

func (h *House) keyOf(a *Action) string {
	if own, ok := h.Keys[a.Name]; ok {
		return own
	}
	return a.Usual
}

// together reports whether two actions meet on one screen.
func together(a, b *Action) bool {
	return a.On == nil || b.On == nil || slices.ContainsFunc(a.On, b.OnPlace)
}
