package lanes

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// read makes an Input of the coach's files as text.
func read(t testing.TB, sessionText, kitText, rosterText string) Input {
	t.Helper()
	s, err := session.Parse("session.toml", []byte(sessionText))
	if err != nil {
		t.Fatal(err)
	}
	k, err := kit.Parse("kit.toml", []byte(kitText))
	if err != nil {
		t.Fatal(err)
	}
	r, err := roster.Parse("roster.toml", []byte(rosterText))
	if err != nil {
		t.Fatal(err)
	}
	return Input{Session: s, Kit: k, Roster: r, House: house.Default()}
}

// archive reads an instance file: session.toml, kit.toml and roster.toml in one.
func archive(t testing.TB, name string) Input {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, f := range txtar.Parse(data).Files {
		files[f.Name] = string(f.Data)
	}
	return read(t, files["session.toml"], files["kit.toml"], files["roster.toml"])
}

// crew is n invented people with a best of so many kilograms each, over 20 m.
func crew(movement string, bests ...float64) string {
	names := []string{"Maren", "Eskil", "Tove", "Ivar", "Sunniva", "Odd", "Ragna", "Leif", "Astrid", "Birk", "Dagny", "Einar", "Frida", "Gunnar", "Hedda", "Jorunn"}
	var b strings.Builder
	for i, kg := range bests {
		fmt.Fprintf(&b, "[[athlete]]\nname = %q\n[[athlete.best]]\nmovement = %q\nload = \"%g kg\"\n", fmt.Sprintf("%s%s", names[i%len(names)], strings.Repeat("x", i/len(names))), movement, kg)
	}
	return b.String()
}

// sleds is a kit with a sled for each tare, in kilograms.
func sleds(tares ...float64) string {
	var b strings.Builder
	b.WriteString("[strip]\nlength = \"25 m\"\nsurface = \"turf\"\n")
	for i, kg := range tares {
		fmt.Fprintf(&b, "[[sled]]\nname = %q\ntare = \"%g kg\"\nposts = 1\n", string(rune('A'+i)), kg)
	}
	return b.String()
}

// pile writes plates, "20 kg" and how many.
func pile(plates ...any) string {
	var b strings.Builder
	for i := 0; i < len(plates); i += 2 {
		fmt.Fprintf(&b, "[[plates]]\nmass = %q\ncount = %d\n", plates[i], plates[i+1])
	}
	return b.String()
}
