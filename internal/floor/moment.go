package floor

import "time"

// Moment is one instant that a cue may sound at or the screen may turn at.
type Moment struct {
	At     time.Duration // room time
	Kind   Kind
	Part   int // from 1
	Round  int // from 1; 0: none
	Person int // index into the people; -1: the class
	Count  int // CountDown: seconds left, 3, 2, 1
}

// Kind says what a Moment is.
type Kind uint8

// The kinds, in the order in which they win where two fall together.
const (
	CountDown  Kind = iota // 3, 2, 1 before a start
	Begin                  // GO, or a round of the class begins
	OwnBegin               // one person's start on a shared sled or a lane clock
	RestBegins             // a bout is over
	TenLeft                // 10 s before the end of a bout, round or cap
	StopSoon               // long pull: 10 s before the cap of a stop
	StopOver               // long pull: a stop is over the cap
	RestOver               // sets and ramp: the floor of the rest is reached
	HeatEnds               //
	PartEnds               //
	AllDone                //
)
