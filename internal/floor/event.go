package floor

import (
	"time"

	"hawser/internal/measure"
)

// Stamped is an event with its number, from 1, and its room time: the time since
// the run was opened, holds and sleep included.
type Stamped struct {
	N int
	T time.Duration
	E Event
}

// Event is a fact of the floor, named in the past tense. No field holds a
// rendered string. The JSON names are part of the log format; do not change them.
//
//sumtype:decl
type Event interface{ event() }

// The events. Part, Round, Heat and Station count from 1; people and sleds are named.
type (
	// Opened begins every log and carries all that a replay needs.
	Opened struct {
		Run  string    `json:"run"` // ULID
		Wall time.Time `json:"wall"`
		Plan *Plan     `json:"plan"`
	}
	// Started is the coach's GO: after the count-in, the clock of that part runs from At.
	Started struct {
		Part int           `json:"part"`
		At   time.Duration `json:"at_ns"`
	}
	// HeatStarted is the GO of a later heat.
	HeatStarted struct {
		Part int `json:"part"`
		Heat int `json:"heat"`
	}
	// Pressed is a press and the round it was found to belong to. As is one of
	// done, start, stop, go, leg, good.
	Pressed struct {
		Who   string `json:"who"`
		Part  int    `json:"part"`
		Round int    `json:"round"`
		As    string `json:"as"`
	}
	// AttemptMissed ends a ramp attempt, or the last done or open set, as missed.
	AttemptMissed struct {
		Who   string           `json:"who"`
		Part  int              `json:"part"`
		Round int              `json:"round"`
		At    measure.Distance `json:"at_um,omitempty"`
	}
	// Undone takes back event Of.
	Undone struct {
		Of int `json:"of"`
	}
	// Held stops the clock.
	Held struct{}
	// Resumed starts the count-in after a hold; the clock runs at At.
	Resumed struct {
		At time.Duration `json:"at_ns"`
	}
	// Restarted is "again": the same round from zero, its clock at At.
	Restarted struct {
		Part  int           `json:"part"`
		Round int           `json:"round"`
		At    time.Duration `json:"at_ns"`
	}
	// Struck voids a round.
	Struck struct {
		Who    string `json:"who"`
		Part   int    `json:"part"`
		Round  int    `json:"round"`
		Reason string `json:"reason,omitempty"`
	}
	// Given moves a press to another person.
	Given struct {
		Who   string `json:"who"`
		To    string `json:"to"`
		Part  int    `json:"part"`
		Round int    `json:"round"`
	}
	// Arrived is a latecomer, warm at Ready: the first round of Part that they are
	// in, and their place in every part, in order (heat 0: none in that part).
	Arrived struct {
		Who    string        `json:"who"`
		Part   int           `json:"part"`
		Round  int           `json:"round"`
		Ready  time.Duration `json:"ready_ns"`
		Places []Place       `json:"places"`
	}
	// GuestAdded is a person by name alone.
	GuestAdded struct {
		Who string `json:"who"`
		Key string `json:"key"`
	}
	// Left is someone who stops for good. The program never restarts them.
	Left struct {
		Who string `json:"who"`
	}
	// LoadChanged is a new stack from the first round not yet begun on.
	LoadChanged struct {
		Who     string       `json:"who"`
		Part    int          `json:"part"`
		Station int          `json:"station"`
		Round   int          `json:"round"` // the first it holds for
		Stack   []string     `json:"stack"`
		Moves   measure.Mass `json:"moves_ug"`
		Added   measure.Mass `json:"added_ug"`
	}
	// DistanceCut is a shorter pull for one person, from a round on.
	DistanceCut struct {
		Who     string           `json:"who"`
		Part    int              `json:"part"`
		Station int              `json:"station"`
		Round   int              `json:"round"`
		To      measure.Distance `json:"to_um"`
	}
	// Swapped is another movement for one person, from a round on.
	Swapped struct {
		Who      string `json:"who"`
		Part     int    `json:"part"`
		Station  int    `json:"station"`
		Round    int    `json:"round"`
		Movement string `json:"movement"`
	}
	// SledOut takes a sled off the floor.
	SledOut struct {
		On string `json:"on"`
	}
	// SledBack brings it back.
	SledBack struct {
		On string `json:"on"`
	}
	// SledLeft is a for-time puller off the sled: it is free for the next wave.
	SledLeft struct {
		Who  string `json:"who"`
		Part int    `json:"part"`
	}
	// LaneChanged moves a person to another implement, from a round on.
	LaneChanged struct {
		Who     string `json:"who"`
		Part    int    `json:"part"`
		Station int    `json:"station"`
		Round   int    `json:"round"`
		Place   Spot   `json:"place"`
	}
	// Typed is a split by hand, or with NoTime a round that was done, no time.
	Typed struct {
		Who    string        `json:"who"`
		Part   int           `json:"part"`
		Round  int           `json:"round"`
		Work   time.Duration `json:"work_ns,omitempty"`
		NoTime bool          `json:"no_time,omitempty"`
	}
	// Partial is an amount done of a round that has no split, or of a bout.
	Partial struct {
		Who    string           `json:"who"`
		Part   int              `json:"part"`
		Round  int              `json:"round"`
		Metres measure.Distance `json:"metres_um,omitempty"`
		Reps   int              `json:"reps,omitempty"`
	}
	// PartSkipped ends a part with nothing more of it counted.
	PartSkipped struct {
		Part int `json:"part"`
	}
	// PartLengthened moves the part's end; By may be negative.
	PartLengthened struct {
		Part int           `json:"part"`
		By   time.Duration `json:"by_ns"`
	}
	// IntervalChanged is another time from one start to the next, from a round on.
	IntervalChanged struct {
		Part  int           `json:"part"`
		Round int           `json:"round"`
		Every time.Duration `json:"every_ns"`
	}
	// PullCut is a shorter pull for everyone, from a round on.
	PullCut struct {
		Part    int              `json:"part"`
		Station int              `json:"station"`
		Round   int              `json:"round"`
		To      measure.Distance `json:"to_um"`
	}
	// PartEnded is the end of a part's last round, cap or work.
	PartEnded struct {
		Part int `json:"part"`
	}
	// Slept is a laptop that slept and woke; room time went on.
	Slept struct {
		For time.Duration `json:"for_ns"`
	}
	// Recovered is a run taken up again after a crash; room time went on by the
	// wall clock over the gap, and Cut bytes of a torn line were set aside.
	Recovered struct {
		Gap time.Duration `json:"gap_ns"`
		Cut int           `json:"cut,omitempty"`
	}
	// Ended is the end of the run.
	Ended struct{}

	// EffortGiven is 0–10. It and the two after it stand in the private file only.
	EffortGiven struct {
		Who    string  `json:"who"`
		Effort float64 `json:"effort"`
	}
	// PainGiven is 0–10 with the site.
	PainGiven struct {
		Who  string `json:"who"`
		Pain int    `json:"pain"`
		Site string `json:"site,omitempty"`
	}
	// Noted is a coach's note about a person.
	Noted struct {
		Who  string `json:"who"`
		Text string `json:"text"`
	}
)

func (Opened) event()          {}
func (Started) event()         {}
func (HeatStarted) event()     {}
func (Pressed) event()         {}
func (AttemptMissed) event()   {}
func (Undone) event()          {}
func (Held) event()            {}
func (Resumed) event()         {}
func (Restarted) event()       {}
func (Struck) event()          {}
func (Given) event()           {}
func (Arrived) event()         {}
func (GuestAdded) event()      {}
func (Left) event()            {}
func (LoadChanged) event()     {}
func (DistanceCut) event()     {}
func (Swapped) event()         {}
func (SledOut) event()         {}
func (SledBack) event()        {}
func (SledLeft) event()        {}
func (LaneChanged) event()     {}
func (Typed) event()           {}
func (Partial) event()         {}
func (PartSkipped) event()     {}
func (PartLengthened) event()  {}
func (IntervalChanged) event() {}
func (PullCut) event()         {}
func (PartEnded) event()       {}
func (Slept) event()           {}
func (Recovered) event()       {}
func (Ended) event()           {}
func (EffortGiven) event()     {}
func (PainGiven) event()       {}
func (Noted) event()           {}
