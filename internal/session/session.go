// Package session reads and writes the coach's session files and next.toml, the loads
// for next time that were accepted, and holds the Finding that every later step
// speaks in.
package session

import (
	"time"

	"hawser/internal/measure"
)

// Aim is what a session trains.
type Aim string

// The aims.
const (
	Strength     Aim = "strength"
	Endurance    Aim = "endurance"
	Conditioning Aim = "conditioning"
)

// IntervalStep is what an interval is made longer or shorter by, once or several times.
const IntervalStep = 15 * time.Second

// Format is how a part runs its clock.
type Format string

// The formats, as files and JSON write them.
const (
	Every     Format = "every"
	Amrap     Format = "amrap"
	Intervals Format = "intervals"
	Ratio     Format = "ratio"
	Sets      Format = "sets"
	LongPull  Format = "long pull"
	ForTime   Format = "for time"
	Ramp      Format = "ramp"
	WarmUp    Format = "warm-up" // nobody pulls yet; the next part begins when its time is up
	Break     Format = "rest"    // nobody pulls, all rest; it stands in place of the changeover
)

// Pulls reports whether people pull in a part of that format. Where they do not, the
// part is a stretch of time with no station.
func (f Format) Pulls() bool { return f != WarmUp && f != Break }

// Late is what follows a late finish in an every part.
type Late string

// The late policies.
const (
	SitOut      Late = "sit out"
	NoteIt      Late = "note"
	DropLoad    Late = "drop load"
	CutDistance Late = "cut distance"
	StopThem    Late = "stop"
)

// Session is one session file.
type Session struct {
	Path  string // "" when it did not come from a file
	Name  string // the file's name without .toml
	Title string
	Aim   Aim
	Parts []Part
}

// Part is one [[part]]. Zero means "not written" unless said otherwise; after
// Parse the fields that the format needs are set.
type Part struct {
	Title       string
	Format      Format
	Every       time.Duration // every: the interval T
	Cap         time.Duration
	Time        time.Duration // warm-up, rest: how long
	Work        time.Duration // intervals: length of a bout
	Rest        time.Duration // intervals, sets: rest; ramp: floor
	RestFactor  measure.Share // ratio: rest = this share of the own last work ("2 x work" = 200 %)
	RestCeiling time.Duration // sets
	Rounds      int           // every: rounds; intervals, ratio: bouts
	Sets        int           // sets
	Late        Late          // "": the house's
	StopCap     time.Duration // long pull
	Waves       [][]string    // for time
	Sides       [][]string    // every
	WaveEvery   time.Duration
	PressAt     string        // amrap: "round" or "station"
	Allocate    string        // "best" or "in order"
	CountIn     time.Duration // 0: the house's 10 s
	Stations    []Station
	Lanes       []LanePin
}

// Station is one [[part.station]]. One of Distance, Reps, Time is set.
type Station struct {
	Movement string
	Distance measure.Distance
	Reps     int
	Time     time.Duration
	Times    int           // Times × Distance, the sled back each time; at least 1
	Loads    []Ask         // one, or one a set, the last repeats; empty: nothing to load
	Expect   time.Duration // 0: not written
	Guess    measure.Mass  // ramp; 0: the noted best
	Slot     time.Duration // ramp: planned time of an attempt
	On       []string      // names; empty: dealt
}

// LanePin holds people to one sled.
type LanePin struct {
	On  string
	Who []string
}

// Basis is what an asked load counts.
type Basis string

// The bases.
const (
	Plain       Basis = "plain"           // added on a sled, total on a bar, both handles in all
	EachHand    Basis = "each hand"       // Mass is one handle in all; twice it is asked
	BothHands   Basis = "both"            // total of the pair
	OfMax       Basis = "max"             // share of total
	OfBody      Basis = "body mass"       // share, counts added
	OfBodyTotal Basis = "body mass total" // share, counts total
	Of1RM       Basis = "1RM"             // share, counts total
	Heaviest    Basis = "heaviest"        // the heaviest that was ever logged or noted
)

// Ask is a load as the session writes it: a Mass or a Share, by Basis.
type Ask struct {
	Basis Basis
	Mass  measure.Mass
	Share measure.Share
}

// Level is how grave a finding is. Only Stop stops.
type Level string

// The levels.
const (
	Note Level = "note"
	Warn Level = "warn"
	Stop Level = "stop"
)

// Finding is one thing a coach should know before GO. About is one of load, aim,
// fit, rest, strip, rope, surface, estimate, pile, hand, caution. Part and
// Station count from 1, 0 where it is about none.
type Finding struct {
	Level   Level  `json:"level"`
	About   string `json:"about"`
	Athlete string `json:"athlete,omitempty"`
	Part    int    `json:"part,omitempty"`
	Station int    `json:"station,omitempty"`
	Text    string `json:"text"`
}
