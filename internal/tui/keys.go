package tui

import (
	"unicode/utf8"

	"charm.land/bubbles/v2/key"

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
	key.Binding // its help is short: the list stands beside the clock on a small screen too
	action      Action
	name        string // in [keys] of house.toml; "": fixed
}

// struck is the binding's key as the terminal library writes it.
func (b *binding) struck() string { return b.Keys()[0] }

// on binds an action to a key.
func on(action Action, name, struck, does string) binding {
	return binding{key.NewBinding(key.WithKeys(struck), key.WithHelp(keyName(struck), does)), action, name}
}

// bindings returns every key of a run but the presses, as they usually are.
func bindings() []binding {
	return []binding{
		on(HoldOrGo, "hold", "space", "GO, stop, go on"),
		on(TakeBack, "undo", "backspace", "undo the last one"),
		on(OpenTile, "changes", "enter", "changes"),
		on(ChangeView, "view", "tab", "both, wall, desk"),
		on(ListKeys, "list", "?", "this list"),
		on(CallHelp, "emergency", "!", "emergency lines"),
		on(HeavierOne, "heavier", "+", "one step heavier"),
		on(LighterOne, "lighter", "-", "one step lighter"),
		on(RoundAgain, "again", "f5", "the round again"),
		on(SkipPart, "skip", "f6", "end this part"),
		on(ShorterPart, "shorter", "f7", "part shorter"),
		on(LongerPart, "longer", "f8", "part longer"),
		on(EndClass, "end", "f9", "twice: end the class"),
		on(TileLeft, "", "left", "choose person, class"),
		on(TileRight, "", "right", ""),
		on(TileUp, "", "up", ""),
		on(TileDown, "", "down", ""),
		on(CloseIt, "", "esc", "close what is open"),
	}
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
	k := &Keys{byKey: map[string]Action{}, list: bindings()}
	known := map[string]bool{}
	for i := range k.list {
		b := &k.list[i]
		known[b.name] = true
		if own, ok := h.Keys[b.name]; ok && b.name != "" {
			if isPress(own) {
				k.wrong = append(k.wrong, "the key "+own+" of house.toml stays a press")
			} else {
				b.SetKeys(own)
				b.SetHelp(keyName(own), b.Help().Desc)
			}
		}
		k.byKey[b.struck()] = b.action
	}
	for name := range h.Keys {
		if !known[name] {
			k.wrong = append(k.wrong, "house.toml names a key for "+clean(name)+", which is not known")
		}
	}
	return k
}

// isPress reports whether a key is a letter or a digit, shifted or not.
func isPress(struck string) bool {
	r, n := utf8.DecodeRuneInString(struck)
	return n == len(struck) && (isLetter(r) || r >= '0' && r <= '9')
}

// keyOf returns the key of an action as people call it.
func (k *Keys) keyOf(a Action) string {
	for i := range k.list {
		if k.list[i].action == a {
			return k.list[i].Help().Key
		}
	}
	return ""
}

// keyName is a key as it is printed on a keyboard.
func keyName(struck string) string {
	switch struck {
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
	if len(struck) > 1 && struck[0] == 'f' {
		return "F" + struck[1:]
	}
	return struck
}

// all lists every key with its help, presses first.
func (k *Keys) all() []Hint {
	hints := []Hint{
		{"a to z", "that person's press"},
		{"1 to 9", "whoever is on it"},
		{"A to Z", "a leg is done"},
	}
	for i := range k.list {
		if h := k.list[i].Help(); h.Desc != "" {
			hints = append(hints, Hint{h.Key, h.Desc})
		}
	}
	return append(hints, Hint{"Ctrl-C", "twice: leave"})
}

// KeyList is every key of a run as this house has bound them, presses first: for
// the help that is read before a class.
func KeyList(h *house.House) []Hint { return NewKeys(h).all() }
