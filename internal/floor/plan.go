package floor

import (
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Plan is a run before GO: the board, the people of the day, the kit and the
// house rules. It is all that a replay needs, so it is what Opened records; it
// holds no body mass, no max and no percentage.
type Plan struct {
	Session string       `json:"session"` // the file's name without .toml
	Title   string       `json:"title"`
	Aim     session.Aim  `json:"aim"`
	People  []Person     `json:"people"` // roster order, then guests
	Kit     *kit.Kit     `json:"kit"`
	House   *house.House `json:"house"`
	Parts   []PartPlan   `json:"parts"`
}

// Person is one of the day. Here is false for those who have not come yet.
type Person struct {
	Name  string `json:"name"`
	Key   string `json:"key"`
	Guest bool   `json:"guest,omitempty"`
	Here  bool   `json:"here"`
}

// PartPlan is one part as it will run. Spec is the part as written, with the
// house's defaults in and the interval that is in force. Guest is what somebody of
// whom nothing is known would ask for at each station.
type PartPlan struct {
	Spec     session.Part  `json:"spec"`
	Stations []StationPlan `json:"stations"`
	Heats    int           `json:"heats"`
	Places   []Place       `json:"places"` // one a person of Plan.People, same order
	Guest    Place         `json:"guest"`
}

// StationPlan is what the strip makes of a station, and all that can be used there.
type StationPlan struct {
	On     []Thing          `json:"on"`
	Legs   int              `json:"legs"`
	Leg    measure.Distance `json:"leg_um"`
	Return time.Duration    `json:"return_ns"` // the sled's way back in a handover
}

// Place is where one person stands in a part: the heat (from 1; 0: nowhere yet),
// the side (from 0), and a spot a station.
type Place struct {
	Heat  int    `json:"heat"`
	Side  int    `json:"side"`
	Spots []Spot `json:"spots"`
}

// Spot is one person at one station: on what, the how-manieth there (from 0),
// with which plates on each end, what that moves, and the work it should take.
type Spot struct {
	On     string           `json:"on"`
	Order  int              `json:"order"`
	Swap   string           `json:"swap,omitempty"`      // the movement in place of the station's
	Metres measure.Distance `json:"metres_um,omitempty"` // of a long pull, in place of the station's
	Ends   int              `json:"ends"`
	Tare   measure.Mass     `json:"tare_ug"`
	Stack  []string         `json:"stack"`          // one end, biggest first
	Sets   []Set            `json:"sets,omitempty"` // one a set, the last repeats; then Stack and Moves are the first's
	Moves  measure.Mass     `json:"moves_ug"`
	Asked  measure.Mass     `json:"asked_ug"` // total
	Est    bool             `json:"est,omitempty"`
	Expect time.Duration    `json:"expect_ns"`
}

// Set is the plates of one set and what they move.
type Set struct {
	Stack []string     `json:"stack"`
	Moves measure.Mass `json:"moves_ug"`
}

// Thing is one implement of a station.
type Thing struct {
	Name string       `json:"name"`
	Tare measure.Mass `json:"tare_ug"`
	Ends int          `json:"ends"`
}
