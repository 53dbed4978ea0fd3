package cue_test

import (
	"slices"
	"testing"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

func TestNext(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		spot floor.Spot
		want string
	}{
		{"Maren", floor.Spot{On: "A", Ends: 1, Stack: []string{"20 kg", "20 kg", "10 kg"}}, "Maren, A. 2 times 20 and 10 kilos."},
		{"Eskil", floor.Spot{On: "B", Ends: 1}, "Eskil, B. Empty."},
		{"Eskil", floor.Spot{On: "trap bar", Ends: 2, Stack: []string{"45 lb", "2.5 kg"}}, "Eskil, trap bar. 45 pounds and 2.5 kilos, each end."},
		{"Maren", floor.Spot{On: "C", Ends: 2, Est: true}, "Maren, C. Empty. Estimated."},
		{"Maren", floor.Spot{On: "C", Ends: 1, Stack: []string{"15 kg", "10 kg", "5 kg"}}, "Maren, C. 15, 10 and 5 kilos."},
		{"Maren", floor.Spot{}, "Maren. Empty."},
	}
	for _, tt := range tests {
		if got := cue.Next(tt.name, tt.spot); got != tt.want {
			t.Errorf("Next(%q, %+v) = %q, want %q", tt.name, tt.spot, got, tt.want)
		}
	}
}

// Words names the starts that come: those that are news to the room, soonest first.
func TestWords(t *testing.T) {
	t.Parallel()
	plan := &floor.Plan{People: []floor.Person{{Name: "Maren"}, {Name: "Eskil"}, {Name: "Tuva"}, {Name: "Odd"}}}
	on := func(sled string) floor.Spot { return floor.Spot{On: sled, Ends: 1, Stack: []string{"20 kg"}} }
	next := on("C")
	const done = 30 * s
	tiles := []floor.Tile{
		{Person: 0, State: floor.TileReady, Place: on("A"), Due: 120 * s, Last: done, On: []string{"20 kg"}}, // other plates
		{Person: 1, State: floor.TileReady, Place: on("B"), Due: 110 * s, Last: floor.None},                  // the first
		{Person: 2, State: floor.TileDone, Place: on("C"), Next: &next, Due: 115 * s, Last: done},            // the same again
		{Person: 3, State: floor.TileWork, Place: on("D"), Next: &next, Due: floor.None, Last: done},         // pulls
	}
	want := []cue.Said{
		{Text: "Eskil, B. 20 kilos.", Brief: "Eskil, B.", Before: 107 * s},
		{Text: "Maren, A. 20 kilos.", Brief: "Maren, A.", Before: 117 * s},
		{Text: "Tuva, C. 20 kilos.", Brief: "Tuva, C.", Before: floor.None},
		{Text: "Odd, C. 20 kilos.", Brief: "Odd, C.", Before: floor.None},
	}
	if got := cue.Words(plan, tiles, 100*s); !slices.Equal(got, want) {
		t.Errorf("Words = %v, want %v", got, want)
	}
	if got := cue.Words(plan, tiles, 60*s); got[0].Before != floor.None {
		t.Errorf("Words a minute before = %v, want none that is to be said", got)
	}
	tiles[3].Place = on("C") // somebody else was on it
	if got := cue.Words(plan, tiles, 100*s); got[1] != (cue.Said{Text: "Tuva, C. 20 kilos.", Brief: "Tuva, C.", Before: 112 * s}) {
		t.Errorf("Words = %v, want Tuva's start second", got)
	}
}
