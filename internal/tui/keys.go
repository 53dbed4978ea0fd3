package tui

import (
	"unicode/utf8"

	"hawser/internal/house"
)

// Hint is one key and what it does, for the bottom line and the list of keys.
type Hint struct{ Key, Does string }

// Action is what a coach's key asks for in a run. Unshifted letters and digits
// are presses in every state and never actions.
type Action uint8

// The actions. The ones from RoundAgain on stand on keys that are hard to hit.
const (
	NoAction   Action = iota
	HoldOrGo          // GO, stop, go on
	TakeBack          // undo
	ChangeView        // both, wall, desk
	OpenTile          // the chosen tile's changes
	ListKeys
	CallHelp // emergency
	HeavierOne
	LighterOne
	RoundAgain
	SkipPart
	ShorterPart
	LongerPart
	EndClass
	TileLeft
	TileRight
	TileUp
	TileDown
	CloseIt
)

// binding is an action with its key, the name that house.toml gives it, and its help.
type binding struct {
	action Action
	name   string // in [keys] of house.toml; "": fixed
	key    string // as the terminal library writes it
	does   string // short: the list stands beside the clock on a small screen too
}

// bindings is every key of a run but the presses.
var bindings = []binding{
	{HoldOrGo, "hold", "space", "GO, stop, go on"},
	{TakeBack, "undo", "backspace", "undo the last one"},
	{OpenTile, "changes", "enter", "changes"},
	{ChangeView, "view", "tab", "both, wall, desk"},
	{ListKeys, "list", "?", "this list"},
	{CallHelp, "emergency", "!", "emergency lines"},
	{HeavierOne, "heavier", "+", "one step heavier"},
	{LighterOne, "lighter", "-", "one step lighter"},
	{RoundAgain, "again", "f5", "the round again"},
	{SkipPart, "skip", "f6", "end this part"},
	{ShorterPart, "shorter", "f7", "part shorter"},
	{LongerPart, "longer", "f8", "part longer"},
	{EndClass, "end", "f9", "twice: end the class"},
	{TileLeft, "", "left", "choose person, class"},
	{TileRight, "", "right", ""},
	{TileUp, "", "up", ""},
	{TileDown, "", "down", ""},
	{CloseIt, "", "esc", "close what is open"},
}

// Keys is the keys in force.
type Keys struct {
	byKey map[string]Action
	list  []binding
	wrong []string // of house.toml: keys that would be presses, or unknown names
}

// NewKeys takes the house's own keys over the usual ones. A letter or a digit
// cannot be given away: it stays a press, and Wrong says so.
func NewKeys(h *house.House) *Keys {
	k := &Keys{byKey: map[string]Action{}, list: append([]binding(nil), bindings...)}
	known := map[string]bool{}
	for i := range k.list {
		b := &k.list[i]
		known[b.name] = true
		if own, ok := h.Keys[b.name]; ok && b.name != "" {
			if isPress(own) {
				k.wrong = append(k.wrong, "the key "+own+" of house.toml stays a press")
			} else {
				b.key = own
			}
		}
		k.byKey[b.key] = b.action
	}
	for name := range h.Keys {
		if !known[name] {
			k.wrong = append(k.wrong, "house.toml names a key for "+clean(name)+", which is not known")
		}
	}
	return k
}

// isPress reports whether a key is a letter or a digit, shifted or not.
func isPress(key string) bool {
	r, n := utf8.DecodeRuneInString(key)
	return n == len(key) && (isLetter(r) || r >= '0' && r <= '9')
}

// key returns the key of an action as people call it.
func (k *Keys) key(a Action) string {
	for _, b := range k.list {
		if b.action == a {
			return keyName(b.key)
		}
	}
	return ""
}

// keyName is a key as it is printed on a keyboard.
func keyName(key string) string {
	switch key {
	case "space":
		return "Space"
	case "backspace":
		return "Backspace"
	case "enter":
		return "Enter"
	case "tab":
		return "Tab"
	case "esc":
		return "Esc"
	case "left":
		return "arrows"
	}
	if len(key) > 1 && key[0] == 'f' {
		return "F" + key[1:]
	}
	return key
}

// all lists every key with its help, presses first.
func (k *Keys) all() []Hint {
	hints := []Hint{
		{"a to z", "that person's press"},
		{"1 to 9", "whoever is on it"},
		{"A to Z", "a leg is done"},
	}
	for _, b := range k.list {
		if b.does != "" {
			hints = append(hints, Hint{keyName(b.key), b.does})
		}
	}
	return append(hints, Hint{"Ctrl-C", "twice: leave"})
}

// KeyList is every key of a run as this house has bound them, presses first: for
// the help that is read before a class.
func KeyList(h *house.House) []Hint { return NewKeys(h).all() }
