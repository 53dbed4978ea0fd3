// Package presses reads a presses file, a run written down as text, and plays it
// through the engine: for a coach to try a class out, for a test to script one.
//
// Contract: [Parse] returns every line in order or every fault there is, each with
// its line and column; times never go back, names are those of the cast. [Play]
// keeps no rule of its own: it hands each line to the engine at its time, so a
// rehearsal decides what a live run would. A line that the engine refuses is
// returned with the word, and the run goes on.
//
// A line is "TIME KEY", a press, or "TIME VERB …"; the time is the room clock
// from the first GO, "#" starts a comment, a name with a space stands in double
// quotes:
//
//	0:44.7 m                   # Maren is done
//	1:19   arrive "Jo Ann" warm-up 1:00
//	2:05   hold
package presses

import (
	"time"

	"hawser/internal/floor"
)

// Line is one line that asks for something. Exactly one of Key and Command is set:
// whose key it is shows when it is played, since a guest gets a key on arrival.
type Line struct {
	Number  int           // from 1
	At      time.Duration // room clock from the first GO
	Key     rune          // a letter (shifted: a leg) or a digit
	Command floor.Command
}

// Cast is who and what the lines may name.
type Cast struct {
	People []string
	Sleds  []string
}

// Refused is a line that the engine did not take, and its word for why.
type Refused struct {
	Line Line
	Word string
}

// Played is a run that was played to its end.
type Played struct {
	State   *floor.State
	Events  []floor.Stamped // the opening first
	Refused []Refused
	Warned  []Refused     // lines that were taken, and what the coach should know of what they did
	Now     time.Duration // room time at which nothing more can happen

	held floor.Keys
}
