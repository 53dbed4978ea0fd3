package tui

import (
	"slices"
	"strings"
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

// actions are those of a run by the names that house.toml has for them.
var actions = map[string]Action{
	"hold": HoldOrGo, "undo": TakeBack, "view": ChangeView, "changes": OpenTile, "list": ListKeys, "emergency": CallHelp,
	"heavier": HeavierOne, "lighter": LighterOne, "again": RoundAgain, "skip": SkipPart, "shorter": ShorterPart, "longer": LongerPart, "end": EndClass,
	"left": TileLeft, "right": TileRight, "up": TileUp, "down": TileDown, "close": CloseIt,
}

// Keys is the keys in force on one screen. A screen knows the usual keys only:
// what was struck is made usual before the screen sees it, and what the screen
// says of a key is made the house's own before the coach sees it.
type Keys struct {
	own   map[string]string // by usual key; nil: all are as usual
	usual map[string]string // by own key
}

// NewKeys takes the house's own keys of a place over the usual ones; no house, the
// usual ones.
func NewKeys(h *house.House, p house.Place) *Keys {
	k := &Keys{}
	if h == nil || len(h.Keys) == 0 {
		return k
	}
	k.own, k.usual = h.Bound(p), map[string]string{}
	for usual, own := range k.own {
		k.usual[own] = usual
	}
	return k
}

// Usual is the usual key for the one that was struck; "" for a usual key whose
// action has moved elsewhere.
func (k *Keys) Usual(struck string) string {
	if usual, ok := k.usual[struck]; ok {
		return usual
	}
	if _, moved := k.own[struck]; moved {
		return ""
	}
	return struck
}

// Name is the key for a usual one as it is printed on a keyboard.
func (k *Keys) Name(usual string) string {
	if own, ok := k.own[usual]; ok {
		usual = own
	}
	return keyName(usual)
}

// said replaces the keys in a text by the house's own. The keys are words of it;
// "arrows" stands for all four.
func (k *Keys) said(text string) string {
	if k == nil || k.own == nil {
		return text
	}
	names := map[string]string{}
	for usual := range k.own {
		names[keyName(usual)] = k.Name(usual)
	}
	if arrows := []string{k.Name("left"), k.Name("right"), k.Name("up"), k.Name("down")}; !slices.Equal(arrows, []string{"left", "right", "up", "down"}) {
		names["arrows"] = strings.Join(arrows, ", ")
	}
	words := strings.Split(text, " ")
	for i, word := range words {
		bare := strings.TrimRight(word, ",;")
		if own, ok := names[bare]; ok {
			words[i] = own + word[len(bare):]
		}
	}
	return strings.Join(words, " ")
}

// hints replaces the keys of hints by the house's own.
func (k *Keys) hints(usual []Hint) []Hint {
	own := slices.Clone(usual)
	for i := range own {
		own[i].Key = k.said(own[i].Key)
	}
	return own
}

// keyName is a key as it is printed on a keyboard.
func keyName(struck string) string {
	with, name := "", struck
	for _, m := range []string{"ctrl+", "alt+", "shift+"} {
		if rest, ok := strings.CutPrefix(name, m); ok {
			with, name = with+strings.ToUpper(m[:1])+m[1:len(m)-1]+"-", rest
		}
	}
	switch {
	case name == "pgup":
		name = "PgUp"
	case name == "pgdown":
		name = "PgDn"
	case slices.Contains([]string{"left", "right", "up", "down"}, name):
	case with != "", len(name) > 1 && name[0] < utf8.RuneSelf:
		name = strings.ToUpper(name[:1]) + name[1:]
	}
	return with + name
}

// placeOf is where a screen's keys stand in house.toml.
func placeOf(s screen) house.Place {
	switch s := s.(type) {
	case *classroom:
		return house.InRun
	case *muster:
		return house.WhoIs
	case *boardroom:
		return house.Board
	case *after:
		return house.After
	case *Replay:
		return house.Replay
	case *watcher:
		return house.Watch
	case *picker, *offer:
		return house.Sessions
	case *form, *menu:
		return house.Making
	case *weekPage:
		return house.TheWeek
	case *keyList:
		return placeOf(s.back)
	}
	return "" // only what is the same everywhere moves
}

// bindings returns every key of a run but the presses, as they usually are. The
// list of them stands beside the clock on a small screen too, so its words are short.
func bindings() []key.Binding {
	var all []key.Binding
	for _, a := range house.Actions() {
		if a.OnPlace(house.InRun) {
			all = append(all, key.NewBinding(key.WithKeys(a.Usual), key.WithHelp(keyName(a.Usual), a.Does)))
		}
	}
	return all
}

// actionOf is what a usual key asks for in a run.
func actionOf(usual string) Action {
	for _, a := range house.Actions() {
		if a.Usual == usual && a.OnPlace(house.InRun) {
			return actions[a.Name]
		}
	}
	return NoAction
}

// isPress reports whether a key is a letter or a digit, shifted or not.
func isPress(struck string) bool {
	r, n := utf8.DecodeRuneInString(struck)
	return n == len(struck) && (isLetter(r) || r >= '0' && r <= '9')
}

// inRun lists every key of a run with its help, presses first.
func (k *Keys) inRun() []Hint {
	hints := []Hint{
		{"a to z", "that person's press"},
		{"1 to 9", "whoever is on it"},
		{"A to Z", "a leg is done"},
	}
	for _, b := range bindings() {
		switch name := b.Help().Key; name {
		case "left":
			hints = append(hints, Hint{k.said("arrows"), "choose person, class"})
		case "right", "up", "down":
		default:
			hints = append(hints, Hint{k.said(name), b.Help().Desc})
		}
	}
	return append(hints, Hint{"Ctrl-C", "twice: leave"})
}

// KeyList is every key of a run as this house has bound them, presses first: for
// the help that is read before a class.
func KeyList(h *house.House) []Hint { return NewKeys(h, house.InRun).inRun() }
