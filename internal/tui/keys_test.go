package tui

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/house"
)

// TestEveryKeyIsListed holds that each action of a run has a key of its own that
// is no press, does something, and has help.
func TestEveryKeyIsListed(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, b := range bindings() {
		struck := b.Keys()[0]
		if seen[struck] || isPress(struck) || actionOf(struck) == NoAction || b.Help().Desc == "" {
			t.Errorf("%s: twice %v, a press %v, action %d, help %q", struck, seen[struck], isPress(struck), actionOf(struck), b.Help().Desc)
		}
		seen[struck] = true
	}
	if len(seen) != len(actions) {
		t.Errorf("%d keys of a run, %d actions", len(seen), len(actions))
	}
}

func TestKeyName(t *testing.T) {
	t.Parallel()
	for struck, want := range map[string]string{
		"space": "Space", "f2": "F2", "pgup": "PgUp", "pgdown": "PgDn", "left": "left", "ctrl+k": "Ctrl-K",
		"ctrl+left": "Ctrl-left", "alt+shift+f5": "Alt-Shift-F5", "shift+tab": "Shift-Tab", "?": "?", "q": "q", "§": "§",
	} {
		if got := keyName(struck); got != want {
			t.Errorf("keyName(%s) = %s, want %s", struck, got, want)
		}
	}
}

// strange gives every action of a place a key that nobody usually has.
func strange(p house.Place) *house.House {
	h := house.Default()
	for _, a := range house.Actions() {
		if a.OnPlace(p) {
			h.Keys[a.Name] = "alt+" + "abcdefghijklmnopqrstuvwxyz"[len(h.Keys):][:1]
		}
	}
	return h
}

// stroke is a key with Alt held, which no screen usually takes.
func stroke(own string) tea.KeyPressMsg {
	return tea.KeyPressMsg{Code: rune(own[len(own)-1]), Mod: tea.ModAlt}
}

// usually strikes a key by its usual name.
func usually(name string) tea.KeyPressMsg {
	codes := map[string]rune{
		"space": tea.KeySpace, "backspace": tea.KeyBackspace, "enter": tea.KeyEnter, "tab": tea.KeyTab, "esc": tea.KeyEscape,
		"left": tea.KeyLeft, "right": tea.KeyRight, "up": tea.KeyUp, "down": tea.KeyDown, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown,
		"home": tea.KeyHome, "end": tea.KeyEnd, "f5": tea.KeyF5, "f6": tea.KeyF6, "f7": tea.KeyF7, "f8": tea.KeyF8, "f9": tea.KeyF9,
	}
	if code, ok := codes[name]; ok {
		k := tea.KeyPressMsg{Code: code}
		if code == tea.KeySpace {
			k.Text = " "
		}
		return k
	}
	return tea.KeyPressMsg{Code: rune(name[0]), Text: name}
}

// TestEveryKeyMoves: on every screen an action that was given another key does the
// same by it, its usual key does nothing any more, and neither the bottom line nor
// the list of keys names the old one.
func TestEveryKeyMoves(t *testing.T) {
	t.Parallel()
	over := finished(t)
	events := append([]floor.Stamped{{N: 1, E: floor.Opened{Plan: over.st.Plan()}}}, over.kept...)
	for name, on := range map[string]func(m *Model) screen{
		"picker": func(m *Model) screen { return m.on },
		"muster": func(m *Model) screen { return newMuster(m.world, m.world.Sessions[0]) },
		"board": func(m *Model) screen {
			b := newBoardroom(newMuster(m.world, m.world.Sessions[0]), Day{Session: m.world.Sessions[0]})
			board, plan, _ := m.world.Board(Day{})
			b.take(boarded{day: b.day, board: board, plan: plan}, m.world)
			return b
		},
		"class": func(*Model) screen { return roomOf(midClass(t, 4, 4), 190*time.Second) },
		"changes": func(*Model) screen {
			c := roomOf(midClass(t, 4, 4), 190*time.Second)
			c.chosen, c.strip = 1, &strip{who: 1}
			return c
		},
		"after": func(*Model) screen { return newAfter(roomOf(over, 12*time.Minute)) },
		"replay": func(*Model) screen {
			r := NewReplay(Replayed{Events: events})
			r.seek(ten + 190*time.Second)
			return r
		},
		"week": func(m *Model) screen {
			v := &weekPage{back: m.on}
			v.take(weekMade{text: strings.Repeat("line\n", 10) + strings.Repeat("more\n", 40)})
			return v
		},
		"watch": func(*Model) screen { return &watcher{st: over.st, past: map[int]floor.Stamped{}, opened: time.Now()} },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			synctest.Test(t, func(t *testing.T) { // the clock of a classroom stands still
				stand := func(h *house.House) *Model {
					w := world(everyPart(), 4, 4, &notebook{})
					if h != nil {
						w.House = h
					}
					m := modelOn(w, sizes[1])
					m.on = on(m)
					m.on.draw(m) // a classroom looks at its class first
					return m
				}
				place := placeOf(stand(nil).on)
				moved := strange(place)
				for _, a := range house.Actions() {
					if own := moved.Keys[a.Name]; own != "" {
						theSame(t, a, stand, moved, own)
					}
				}
			})
		})
	}
}

// theSame strikes one action by its usual key on a usual screen, and by both its
// own and its usual key on one where all have moved.
func theSame(t *testing.T, a house.Action, stand func(*house.House) *Model, moved *house.House, own string) {
	t.Helper()
	page := func(m *Model, keys ...tea.KeyPressMsg) (string, bool) {
		asked := false
		for _, k := range keys {
			asked = m.struck(k) != nil || asked
		}
		m.look.keys = nil
		return m.on.draw(m).Plain(), asked
	}
	want, wantAsked := page(stand(nil), usually(a.Usual))
	if got, asked := page(stand(moved), stroke(own)); got != want || asked != wantAsked {
		t.Errorf("%s by %s, asked %v:\n%s\nwant, asked %v:\n%s", a.Name, own, asked, got, wantAsked, want)
	}
	still, _ := page(stand(moved))
	if got, asked := page(stand(moved), usually(a.Usual)); got != still || asked {
		t.Errorf("%s is still on %s, asked %v:\n%s\nwant\n%s", a.Name, a.Usual, asked, got, still)
	}
	m := stand(moved)
	m.struck(stroke(moved.Keys["list"]))
	for _, m := range []*Model{stand(moved), m} {
		m.View()
		drawn := m.on.draw(m).Plain()
		name := keyName(a.Usual)
		if name == strings.ToLower(name) { // "up the page" may stand in a list
			lines := strings.Split(strings.TrimSpace(drawn), "\n")
			drawn = lines[len(lines)-1]
		}
		for word := range strings.FieldsSeq(drawn) {
			if len(name) > 1 && name == strings.TrimRight(word, ",;") || word == "arrows" {
				t.Errorf("%s still says %s:\n%s", a.Name, word, drawn)
			}
		}
	}
}

// TestLettersAreTyped: where text is typed, a letter that some screen has as a key
// of its own stays a letter.
func TestLettersAreTyped(t *testing.T) {
	t.Parallel()
	w := world(everyPart(), 2, 2, &notebook{})
	w.House.Keys = map[string]string{"search": "s", "leave": "x"}
	m := modelOn(w, sizes[1])
	for _, k := range []string{"/", "q", "s", "s", "x"} { // two keys that have moved, then the search for "sx"
		m.struck(usually(k))
	}
	p, ok := m.on.(*picker)
	if !ok || p.search.text != "sx" {
		t.Fatalf("after / q s s x: %+v, want the search for sx", m.on)
	}
	if got := m.on.draw(m).Plain(); !strings.Contains(got, "sx") {
		t.Errorf("the search is not shown:\n%s", got)
	}
}
