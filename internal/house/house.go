// Package house reads and writes house.toml: every number that is a habit of
// this house and not a rule of the trade, under a plain name.
package house

import (
	"time"

	"hawser/internal/measure"
)

// House is the house rules. Default gives each its value.
type House struct {
	Path string

	Show         string // kg or lb
	ShowDistance string // m, yd or ft
	Decimal      string // "." or ","
	Mouse        bool
	Speech       bool // names and loads spoken before a start

	HandoverBase  time.Duration // 10 s
	HandoverPlate time.Duration // 5 s a plate moved
	RopeLay       time.Duration // 10 s more to lay a rope out again
	BetweenHeats  time.Duration // 3:00
	BetweenParts  time.Duration // 3:00
	WarmUp        time.Duration // 5:00, a latecomer's
	CountIn       time.Duration // 10 s
	CountInAlone  time.Duration // 20 s, one person alone
	CountBack     time.Duration // 5 s, after a hold or again

	Late         string        // sit out
	LateGrace    time.Duration // 0 s
	LatePress    time.Duration // 8 s
	DoublePress  time.Duration // 2 s
	DoubleTap    time.Duration // 1 s, where presses alternate
	HeldKey      time.Duration // 120 ms
	Margin       measure.Share // 25 % of T
	LateDrop     measure.Share // 10 % of what moves, late = "drop load"
	UnlikelyLow  measure.Share // 60 %
	UnlikelyHigh measure.Share // 160 %

	RampStart measure.Share // 50 % of the guess
	RampRest  time.Duration // 180 s

	AimTolerance     measure.Share    // 1.0 point
	TwoPullUse       measure.Share    // 90 % of a two-pull estimate is used
	Formula          string           // 1RM from reps
	LighterEvery     int              // weeks
	WhenItDoesNotFit string           // heats, as written, longer interval
	DragSpeed        measure.Distance // metres a second expected where nothing is known
	RopeSpeed        measure.Distance
	RepTime          time.Duration // a repetition where nothing is known

	Emergency     string
	Address       string
	Defibrillator string

	ScreenHeight measure.Distance // for the reading distance; 0: not known
	Keys         map[string]string
}
