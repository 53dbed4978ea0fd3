package floor

import (
	"time"

	"hawser/internal/measure"
)

// RoundState is how a round stands, in the words of files, JSON and screen.
type RoundState string

// The states.
const (
	InTime     RoundState = "in time"
	LateRound  RoundState = "late"
	SatOut     RoundState = "sat out"
	NotHere    RoundState = "not here"
	StruckOut  RoundState = "struck"
	NoPress    RoundState = "no press"
	DoneNoTime RoundState = "done no time"
	Done       RoundState = "done"
	Good       RoundState = "good"
	Missed     RoundState = "missed"
	Capped     RoundState = "capped"
	LeftRound  RoundState = "left"
	Open       RoundState = "open"
)

// None is the time of something that has none.
const None = time.Duration(-1 << 63)

// Round is one round, set, bout, pull or attempt of one person, derived from the
// events at some room time. Every time is room time; None where there is none.
type Round struct {
	Round    int // from 1
	Station  int // from 1
	Movement string
	On       string
	Stack    []string
	Moves    measure.Mass
	Distance measure.Distance // of the pull, as written or cut
	Starts   time.Duration    // own start
	Ends     time.Duration    // the press
	Work     time.Duration    // holds taken out
	Length   time.Duration    // every, intervals: from the start of the class to its next; else 0
	Margin   time.Duration    // every: end of T less finish; negative when late
	Due      time.Duration    // ratio: when rest was over
	Waited   time.Duration    // Starts − Due
	Rest     time.Duration    // since the own last end
	State    RoundState
	ByHand   bool
	Unlikely bool
	Metres   measure.Distance // partial or missed
	Reps     int
	Stops    []Span          // long pull
	Legs     []time.Duration // long pull: when each leg was done
}

// Span is a stretch of room time; To is None while it lasts.
type Span struct{ From, To time.Duration }
