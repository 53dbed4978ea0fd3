package presses_test

import (
	"bytes"
	"fmt"
	"slices"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/presses"
	"hawser/internal/session"
)

// pair is two people on a sled each, two rounds of a minute.
func pair() floor.Opened {
	things := []floor.Thing{{Name: "A", Tare: 27 * measure.Kilogram, Ends: 1}, {Name: "B", Tare: 27 * measure.Kilogram, Ends: 1}}
	plan := &floor.Plan{
		Session: "storm", House: house.Default(), Kit: &kit.Kit{Step: 2500 * measure.Gram},
		People: []floor.Person{{Name: "Maren", Key: "m", Here: true}, {Name: "Eskil", Key: "e", Here: true}},
		Parts: []floor.PartPlan{{
			Spec:     session.Part{Format: session.Every, Every: time.Minute, Rounds: 2, Stations: []session.Station{{Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}},
			Stations: []floor.StationPlan{{On: things, Legs: 1, Leg: 20 * measure.Metre}},
			Heats:    1,
		}},
	}
	for _, on := range things {
		plan.Kit.Sleds = append(plan.Kit.Sleds, kit.Sled{Name: on.Name, Tare: on.Tare, Posts: 1})
		plan.Parts[0].Places = append(plan.Parts[0].Places, floor.Place{Heat: 1, Spots: []floor.Spot{{On: on.Name, Ends: 1, Tare: on.Tare, Moves: on.Tare, Expect: 30 * time.Second}}})
	}
	return floor.Opened{Plan: plan}
}

var pairCast = presses.Cast{People: []string{"Maren", "Eskil"}, Sleds: []string{"A", "B"}}

func play(t *testing.T, text string) presses.Played {
	t.Helper()
	lines, err := presses.Parse("storm", []byte(text), pairCast)
	if err != nil {
		t.Fatal(err)
	}
	return presses.Play(pair(), lines)
}

// Ten thousand presses in one second: each is recorded or refused with its line and a
// word, and two of them count, one for each person.
func TestTenThousandPressesASecond(t *testing.T) {
	t.Parallel()
	var text bytes.Buffer
	const n = 10_000
	for i := range n {
		fmt.Fprintf(&text, "0:%06.3f %c\n", 30+float64(i)/n, "mex12"[i%5])
	}
	played := play(t, text.String())
	var pressed []string
	for _, e := range played.Events {
		if x, ok := e.E.(floor.Pressed); ok {
			pressed = append(pressed, x.Who)
		}
	}
	if want := []string{"Maren", "Eskil"}; !slices.Equal(pressed, want) {
		t.Errorf("counted are %v, want %v", pressed, want)
	}
	if got := len(pressed) + len(played.Refused); got != n {
		t.Errorf("%d lines are accounted for, want %d", got, n)
	}
	words := map[string]int{}
	for i, r := range played.Refused {
		if i > 0 && r.Line.Number <= played.Refused[i-1].Line.Number {
			t.Fatalf("line %d is refused after line %d", r.Line.Number, played.Refused[i-1].Line.Number)
		}
		words[r.Word]++
	}
	// each of the five keys comes every half a millisecond: all but its first is held down
	if held := words["a key that is held down is one press"]; held != n-5 {
		t.Errorf("%d are a held key, want %d; in all %v", held, n-5, words)
	}
}

// Presses in the count-in cannot be written, those after the end and by nobody are refused,
// and two things at one instant count in the order of the lines.
func TestOddPresses(t *testing.T) {
	t.Parallel()
	played := play(t, "0:30 m\n0:30 undo\n0:30 undo\n0:31 hold\n0:31 resume\n0:40 x\n1:50 9\n5:00 m\n5:00 end\n5:00 e\n")
	var got []string
	for _, r := range played.Refused {
		got = append(got, fmt.Sprintf("%d %s", r.Line.Number, r.Word))
	}
	want := []string{
		"3 nothing to undo", "6 this key is nobody's", "7 this key is nobody's", "8 the part is over",
		"9 the class has ended already", "10 the part is over",
	}
	if !slices.Equal(got, want) {
		t.Errorf("refused are\n%q\nwant\n%q", got, want)
	}
}
