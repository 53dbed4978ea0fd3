// Package lanes makes the board: who pulls where, when, with which stack, who
// shares a sled in which order, and whether the schedule fits these sleds at all.
//
// [Make] never fails and never takes long: what does not work is a finding with
// its ways out, and a search that its limit cuts short gives the best found, with
// Proved false and Bound the least that is proved. The same Input makes the same
// Board. Where the trade has no rule, this is what the package does:
//
//   - sides that are not written are the list cut up, the first ones longer;
//   - in heats the people of a sled go one after another, so that the free place
//     of a smaller group is in the last heat; with several stations the list is
//     cut up into heats;
//   - someone alone on a sled has no handover, but the sled's way back counts;
//   - plates are counted as they move over the whole part, round after round,
//     and in most rounds over one round with the change back to its first;
//   - where lanes keep their own clock and the pile is short, the pile is dealt to the
//     sleds for the whole part: for up to twelve people at the least that any deal costs
//     and, of those deals, at the one that moves the fewest plates, as far as the limit
//     lasts; for many people at a good one, shown beside the least;
//   - most rounds fit where everyone on an implement can go once within the cap;
//   - before a heavy part (aim strength, in sets or as a ramp) everyone warms up at
//     about 40, 60 and 80 % of the first load, with plates that are only ever added.
//     [Part.WarmUp] is how long that takes. It stands before GO, as does the first
//     loading, and so is in no room time; [Board.Length] has it in. A warm-up part
//     before it is time for it;
//   - a warm-up part and a rest part stand in place of the changeover;
//   - standing idle are, of all who are here, those not in the heat, or waiting
//     for their turn on a shared sled.
//
// For example:
//
//	b := lanes.Make(lanes.Input{Session: s, Kit: k, Roster: r, House: house.Default()})
//	b.Parts[0].Fit.Fits // false: b.Parts[0].Fit.Ways has each way out and its price
package lanes

import (
	"slices"
	"time"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Board is one session planned for the people, the sleds and the pile of a day.
type Board struct {
	Session     *session.Session // with fewer metres, where that is the way out that a part takes
	Parts       []Part
	Ends        time.Duration // room clock from the first GO
	PlatesMoved int
	Handovers   time.Duration // of all parts, added up
	Proved      bool
	Short       measure.Mass // what the pile's shortage costs: the misses there are less the misses alone
	ShortBound  measure.Mass // the least of that, proved: Short where Proved
	Bound       int          // least plates moved that is proved: PlatesMoved where Proved
	Findings    []session.Finding
	Accepted    []session.Accepted // as Input has them, for those who come later
}

// Length is how long the class takes in all: from the first warm-up pull to the end.
func (b *Board) Length() time.Duration {
	length := b.Ends
	for i := range b.Parts {
		w := b.Parts[i].WarmUp
		if i > 0 && b.Session.Parts[i-1].Format == session.WarmUp { // there is time for it
			w = max(0, w-b.Session.Parts[i-1].Time)
		}
		length += w
	}
	return length
}

// Stops returns the findings that stop the class, and whether it is refused: with
// 85 % and more on an estimate it must not go, and with a part that nobody can
// stand in it cannot. All else is for the coach to decide.
func (b *Board) Stops() (stops []session.Finding, refused bool) {
	for _, f := range b.Findings {
		if f.Level == session.Stop {
			stops = append(stops, f)
			refused = refused || f.About == "estimate"
		}
	}
	for i := range b.Parts {
		empty := !slices.ContainsFunc(b.Parts[i].Heats, func(h Heat) bool { return len(h.Lanes) > 0 })
		refused = refused || empty && len(stops) > 0 && b.Session.Parts[b.Parts[i].Number-1].Format.Pulls()
	}
	return stops, refused
}

// Part is one part on the board. Heats holds at least one heat.
type Part struct {
	Number    int           // from 1
	Starts    time.Duration // room clock from the first GO
	Ends      time.Duration
	Every     time.Duration // the interval in force: a way out may have made it longer
	Stations  []Station
	Loads     []load.Got // list order: people, then stations, then sets
	Heats     []Heat
	Sharing   []Sharing
	Handovers time.Duration // all of them added up, over the whole part
	Fit       Fit
	WarmUps   []WarmUp      // of a heavy part: in the order of the lanes
	WarmUp    time.Duration // that these take before Starts
}

// WarmUp is one person's way up to the first heavy stack, lightest first. Each
// stack is part of the next; the first may be bare.
type WarmUp struct {
	Athlete string
	Station int // from 1
	On      load.Implement
	Stacks  []load.Stack
	Moves   []measure.Mass // with each
}

// Station is what a station's distance comes to on this strip.
type Station struct {
	Number int // from 1
	On     []load.Implement
	Legs   int
	Leg    measure.Distance
	Turns  int
	Pulls  int // of a rope
	Relays int
	Return time.Duration // the sled's way back in a handover, rope laying included
}

// Heat is the lanes that go together.
type Heat struct {
	Number int           // from 1
	Starts time.Duration // room clock from the first GO
	Lanes  []Lane
}

// Lane is one implement at one station with the people on it, in their order.
type Lane struct {
	Station int // from 1
	On      load.Implement
	Turns   []Turn
}

// Turn is one person on a lane. Moved and Handover are from the person before on
// this lane (wrapping from last to first in a repeating rotation); Expected is
// the work, and From where that figure is from: "written", "logged" or "house default".
type Turn struct {
	Athlete  string
	Movement string           // by the coach's hand in place of the station's; else ""
	Distance measure.Distance // of a long pull, accepted in place of the station's; else 0
	Side     int              // from 0
	Stack    load.Stack
	Moves    measure.Mass
	Moved    int
	Handover time.Duration
	Expected time.Duration
	From     string
}

// Sharing is the cycle of one shared implement whose people rest by their own clock.
type Sharing struct {
	On          string
	People      int
	Cycle       time.Duration
	Rest        time.Duration // got when sharing, before the hold
	Hold        time.Duration // what the start waits
	LastSetEnds time.Duration // room clock from the first GO, the holds in
}

// Fit answers whether the schedule fits. Needs and Has are of the tightest implement, On.
type Fit struct {
	Fits  bool
	Needs time.Duration
	Has   time.Duration
	On    string
	Ways  []Way
	Took  string // the way out that the board took, "" for none
}

// The ways out of a part that does not fit. To rotate over stations is for the
// coach to write into the session; the others the board can take.
const (
	InHeats        = "heats"
	LongerInterval = "longer interval"
	FewerMetres    = "fewer metres"
	RotateStations = "rotate stations"
	AsWritten      = "as written" // none
)

// Way is one way out, priced. Fields that it has no figure for are 0.
type Way struct {
	Way       string
	Heats     int
	Every     time.Duration
	Ends      time.Duration
	WorkShare float64 // per cent
	Idle      float64 // share of people standing idle, per cent
	PullsEach int
	Distance  measure.Distance
}
