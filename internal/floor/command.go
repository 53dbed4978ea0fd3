package floor

import (
	"time"

	"hawser/internal/measure"
)

// Command is something a person at the keyboard, or a presses file, asks for.
//
//sumtype:decl
type Command interface{ command() }

// The commands. People and sleds are named; Round counts from 1, 0 where it
// means "the one that fits now".
type (
	// Go starts the next part (the first, or one that waits for the coach).
	Go struct{}
	// Press is a person's own key.
	Press struct{ Who string }
	// PressSled is a digit: whoever is on that sled.
	PressSled struct{ On string }
	// LegDone, StopNow, GoOn, DoneNow, OffSled and Miss say exactly what a press
	// would have to guess.
	LegDone struct{ Who string }
	StopNow struct{ Who string }
	GoOn    struct{ Who string }
	DoneNow struct{ Who string }
	OffSled struct{ Who string }
	Miss    struct {
		Who string
		At  measure.Distance
	}
	// Hold stops the clock; Resume and Again start it again.
	Hold   struct{}
	Resume struct{}
	Again  struct{}
	// Undo takes back the last thing that can be taken back.
	Undo struct{}
	// Arrive is a latecomer; WarmUp 0 means the house's.
	Arrive struct {
		Who    string
		WarmUp time.Duration
	}
	// Guest is a person by name alone.
	Guest struct{ Who string }
	// Leave is for good.
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
	// StepLoad moves a load to the next one that exists: Up or down.
	StepLoad struct {
		Who string
		Up  bool
	}
	// ByHand types a split; NoTime says done.
	ByHand struct {
		Who   string
		Round int
		Work  time.Duration
	}
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
	Strike struct {
		Who    string
		Round  int
		Reason string
	}
	Give struct {
		Who   string
		Round int
		To    string
	}
	Swap struct {
		Who      string
		Movement string
	}
	MoveTo struct {
		Who string
		On  string
	}
	Out    struct{ On string }
	Back   struct{ On string }
	Skip   struct{}
	Longer struct{ By time.Duration }
	End    struct{}
	// Sleep is said by the shell when the wall clock ran ahead of the machine's.
	Sleep struct{ For time.Duration }

	// Effort, Pain and Note are private.
	Effort struct {
		Who    string
		Effort int
	}
	Pain struct {
		Who  string
		Pain int
		Site string
	}
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
func (Sleep) command()     {}
func (Effort) command()    {}
func (Pain) command()      {}
func (Note) command()      {}
