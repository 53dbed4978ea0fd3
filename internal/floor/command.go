package floor

import (
	"time"

	"hawser/internal/measure"
)

// Command is something a person at the keyboard, or a presses file, asks for.
//
//sumtype:decl
type Command interface{ command() }

// The commands about the clock.
type (
	// Go starts the next part: the first, or one that waits for the coach.
	Go struct{}
	// Hold stops the clock.
	Hold struct{}
	// Resume starts it again after a count-in.
	Resume struct{}
	// Again begins the same round from zero, and ends a hold.
	Again struct{}
	// Undo takes back the last thing that can be taken back.
	Undo struct{}
	// Skip ends the part that is on.
	Skip struct{}
	// Longer moves the end of the part; By may be negative.
	Longer struct{ By time.Duration }
	// Interval makes the time from one start to the next another one.
	Interval struct{ Every time.Duration }
	// Metres cuts the pulls of everyone that are longer.
	Metres struct{ To measure.Distance }
	// End ends the class.
	End struct{}
	// Sleep is said by the shell when the wall clock ran ahead of the machine's.
	Sleep struct{ For time.Duration }
)

// The presses. LegDone and those after it say exactly what a press would have to guess.
type (
	// Press is a person's own key.
	Press struct{ Who string }
	// PressSled is a digit: whoever is on that sled.
	PressSled struct{ On string }
	// LegDone ends a leg of a long pull.
	LegDone struct{ Who string }
	// StopNow is someone who stands still inside a long pull.
	StopNow struct{ Who string }
	// GoOn is the same person pulling again.
	GoOn struct{ Who string }
	// DoneNow ends whatever the person works on.
	DoneNow struct{ Who string }
	// OffSled is a for-time puller who has left the sled to the next.
	OffSled struct{ Who string }
	// Miss ends a set or an attempt as missed, At so far into it; 0: not known.
	Miss struct {
		Who string
		At  measure.Distance
	}
)

// The changes. Round counts from 1; 0 means the one that fits now.
type (
	// Arrive is a latecomer; WarmUp 0 means the house's.
	Arrive struct {
		Who    string
		WarmUp time.Duration
	}
	// Guest is a person by name alone.
	Guest struct{ Who string }
	// Leave is someone who stops for good.
	Leave struct{ Who string }
	// Drop takes a share of what moves off, from the first round not yet begun.
	Drop struct {
		Who   string
		Share measure.Share
	}
	// Change moves a load by By, to the nearest that exists.
	Change struct {
		Who string
		By  measure.Mass
	}
	// StepLoad moves a load to the next one that exists, Up or down.
	StepLoad struct {
		Who string
		Up  bool
	}
	// ByHand types a split.
	ByHand struct {
		Who   string
		Round int
		Work  time.Duration
	}
	// NoTime says that a round was done, and no more.
	NoTime struct {
		Who   string
		Round int
	}
	// Amount is the part of a round that was done, or what a bout came to.
	Amount struct {
		Who    string
		Round  int
		Metres measure.Distance
		Reps   int
	}
	// Strike voids a round.
	Strike struct {
		Who    string
		Round  int
		Reason string
	}
	// Give moves a press to the person whose it was.
	Give struct {
		Who   string
		Round int
		To    string
	}
	// Swap gives a person another movement.
	Swap struct {
		Who      string
		Movement string
	}
	// MoveTo takes a person to another implement.
	MoveTo struct {
		Who string
		On  string
	}
	// Out takes a sled off the floor.
	Out struct{ On string }
	// Back brings it back.
	Back struct{ On string }
)

// What is said of a person. It is kept in the private file.
type (
	// Effort is 0 to 10, halves too.
	Effort struct {
		Who    string
		Effort float64
	}
	// Pain is 0 to 10, with the site.
	Pain struct {
		Who  string
		Pain int
		Site string
	}
	// Note is in the coach's own words.
	Note struct {
		Who  string
		Text string
	}
)

func (Go) command()        {}
func (Press) command()     {}
func (PressSled) command() {}
func (LegDone) command()   {}
func (StopNow) command()   {}
func (GoOn) command()      {}
func (DoneNow) command()   {}
func (OffSled) command()   {}
func (Miss) command()      {}
func (Hold) command()      {}
func (Resume) command()    {}
func (Again) command()     {}
func (Undo) command()      {}
func (Arrive) command()    {}
func (Guest) command()     {}
func (Leave) command()     {}
func (Drop) command()      {}
func (Change) command()    {}
func (StepLoad) command()  {}
func (ByHand) command()    {}
func (NoTime) command()    {}
func (Amount) command()    {}
func (Strike) command()    {}
func (Give) command()      {}
func (Swap) command()      {}
func (MoveTo) command()    {}
func (Out) command()       {}
func (Back) command()      {}
func (Skip) command()      {}
func (Longer) command()    {}
func (End) command()       {}
func (Interval) command()  {}
func (Metres) command()    {}
func (Sleep) command()     {}
func (Effort) command()    {}
func (Pain) command()      {}
func (Note) command()      {}
