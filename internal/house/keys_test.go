package house_test

import (
	"strings"
	"testing"

	"hawser/internal/house"
)

// Each row is a [keys] table and what is said of it, the table's header being line 1.
func TestKeys(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ table, want string }{
		{`hold = "f2"`, ""},
		{`heavier = "="`, ""},
		{`search = "s"`, ""},
		{`hold = "ctrl+k"`, ""},
		{"hold = \"tab\"\nview = \"space\"", ""},
		{`hold = "u"`, `2:8: u stays a press in a run: letters and digits are presses there, and nothing else; write a sign or a name, "f2" or "insert"`},
		{`undo = "7"`, `2:8: 7 stays a press in a run: letters and digits are presses there, and nothing else; write a sign or a name, "f2" or "insert"`},
		{`hold = "Ø"`, `2:8: Ø stays a press in a run: letters and digits are presses there, and nothing else; write a sign or a name, "f2" or "insert"`},
		{`guest = "g"`, `2:9: g stays a mark where it is asked who is here: letters are people, digits sleds; write a sign or a name, "f2" or "insert"`},
		{`leave = "0"`, `2:9: 0 is typed as a figure after class; write a sign or a name, "f2" or "insert"`},
		{`hold = "."`, `2:8: . is a choice or part of a figure in the changes of a tile; write a sign or a name, "f2" or "insert"`},
		{`hald = "f2"`, `2:1: "hald" is not a key here; write "hold"`},
		{`hold = "F2"`, `2:8: hold: "F2" is no key; write one sign, or a name like "f2", "insert", "pgup", "space", "ctrl+k"`},
		{`hold = "spacebar"`, `2:8: hold: "spacebar" is no key; write one sign, or a name like "f2", "insert", "pgup", "space", "ctrl+k"`},
		{`hold = ""`, `2:8: hold: "" is no key; write one sign, or a name like "f2", "insert", "pgup", "space", "ctrl+k"`},
		{`hold = 2`, `2:8: hold is not a text in double quotes; write one sign, or a name like "f2", "insert", "pgup", "space", "ctrl+k"`},
		{`hold = "ctrl+c"`, `2:8: hold: ctrl+c leaves, or would put the class aside; write another key, "f2" or "ctrl+k"`},
		{`hold = "ctrl+i"`, `2:8: hold: a terminal cannot tell ctrl+i from Tab, Enter, Backspace or Esc; write another key, "f2" or "ctrl+k"`},
		{`hold = "tab"`, `2:8: tab is the key of "view" already; write another key, or move that one too`},
		{`play = "tab"`, ""}, // the replay has no view to change
	} {
		_, err := house.Parse("house.toml", []byte("[keys]\n"+tt.table))
		got := ""
		if err != nil {
			got = strings.TrimPrefix(err.Error(), "house.toml:")
		}
		if got != tt.want {
			t.Errorf("%s: %s, want %s", tt.table, got, tt.want)
		}
	}
}

// No two actions of one place are usually on one key, and none on a press.
func TestUsualKeys(t *testing.T) {
	t.Parallel()
	var table strings.Builder
	for _, a := range house.Actions() {
		table.WriteString(a.Name + " = \"" + a.Usual + "\"\n")
	}
	if _, err := house.Parse("house.toml", []byte("[keys]\n"+table.String())); err != nil {
		t.Errorf("the usual keys, written out: %v", err)
	}
}

func TestBound(t *testing.T) {
	t.Parallel()
	h := house.Default()
	h.Keys = map[string]string{"hold": "f2", "undo": "u", "play": "p"} // u: of an old log
	run, replay := h.Bound(house.InRun), h.Bound(house.Replay)
	if run["space"] != "f2" || run["backspace"] != "backspace" || replay["space"] != "p" || replay["tab"] != "" {
		t.Errorf("Bound = %v in a run, %v in the replay", run, replay)
	}
}
