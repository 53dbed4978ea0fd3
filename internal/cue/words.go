package cue

import (
	"strconv"
	"strings"

	"hawser/internal/floor"
)

// Next returns the words for a start that comes: who, on what, and the plates of
// one end by what is stamped on them. It says no percentage and no load in all:
// the plates are what a hand can fetch.
//
//	Next: Maren, on A. 2 times 20 kilos and 10 kilos.
func Next(name string, spot floor.Spot) string {
	var b strings.Builder
	b.WriteString("Next: " + name)
	if spot.On != "" {
		b.WriteString(", on " + spot.On)
	}
	b.WriteString(". " + plates(spot.Stack))
	if spot.Ends > 1 && len(spot.Stack) > 0 {
		b.WriteString(", each end")
	}
	b.WriteString(".")
	if spot.Est {
		b.WriteString(" Estimated.")
	}
	return b.String()
}

// plates says a stack, biggest first, equal ones together.
func plates(stack []string) string {
	if len(stack) == 0 {
		return "Empty"
	}
	var said []string
	for i := 0; i < len(stack); {
		n := 1
		for i+n < len(stack) && stack[i+n] == stack[i] {
			n++
		}
		words := spell(stack[i])
		if n > 1 {
			words = strconv.Itoa(n) + " times " + words
		}
		said = append(said, words)
		i += n
	}
	last := len(said) - 1
	if last == 0 {
		return said[0]
	}
	return strings.Join(said[:last], ", ") + " and " + said[last]
}

// spell says the stamp of a plate: "2.5 kg" is "2.5 kilos".
func spell(stamp string) string {
	number, unit, _ := strings.Cut(stamp, " ")
	switch unit {
	case "kg":
		unit = "kilos"
	case "lb":
		unit = "pounds"
	}
	return strings.TrimSpace(strings.Replace(number, ",", ".", 1) + " " + unit)
}
