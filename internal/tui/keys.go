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
	does   string
	brief  string // for the bottom line; "": not there
}

// bindings is every key of a run but the presses.
var bindings = []binding{
	{HoldOrGo, "hold", "space", "GO, stop the clock, or go on with a count-in", "stop"},
	{TakeBack, "undo", "backspace", "take back the last press or change; it says whose", "undo"},
	{OpenTile, "changes", "enter", "the changes of the chosen person, or of the class", "changes"},
	{ChangeView, "view", "tab", "wall and desk, the wall alone, the desk alone", "view"},
	{ListKeys, "list", "?", "this list, beside the running clock", "keys"},
	{CallHelp, "emergency", "!", "stop clock and sound, show whom to call", "emergency"},
	{HeavierOne, "heavier", "+", "one step more for the chosen person", ""},
	{LighterOne, "lighter", "-", "one step less for the chosen person", ""},
	{RoundAgain, "again", "f5", "the same round again, from zero", ""},
	{SkipPart, "skip", "f6", "end this part; nothing more of it counts", ""},
	{ShorterPart, "shorter", "f7", "this part one minute or one round shorter", ""},
	{LongerPart, "longer", "f8", "this part one minute or one round longer", ""},
	{EndClass, "end", "f9", "end the class; asks for a second time", ""},
	{TileLeft, "", "left", "choose a person; above the first is the class", ""},
	{TileRight, "", "right", "", ""},
	{TileUp, "", "up", "", ""},
	{TileDown, "", "down", "", ""},
	{CloseIt, "", "esc", "close what is open", ""},
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
		{"a to z", "the letter beside a name is that person's press"},
		{"1 to 9", "a sled in the order of the kit: whoever is on it"},
		{"A to Z", "a leg of a long pull is done"},
	}
	for _, b := range k.list {
		if b.does != "" {
			hints = append(hints, Hint{keyName(b.key), b.does})
		}
	}
	return append(hints, Hint{"Ctrl-C", "twice within 3 s: leave; the class is kept"})
}
