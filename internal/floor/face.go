package floor

import "time"

// Phase is what the clock of the room is doing.
type Phase uint8

// The phases.
const (
	Waiting  Phase = iota // before GO: nothing runs
	CountIn               // counting in to a start
	Working               // a round, bout or part runs
	Warming               // a warm-up part runs
	Resting               // intervals: between bouts; a rest part
	Holding               // the clock is stopped by the coach
	Changing              // between heats or parts
	Over                  // the run has ended
)

// Face is what the wall shows of the clock at one room time.
type Face struct {
	Phase  Phase
	Part   int           // from 1
	Heat   int           // from 1
	Heats  int           //
	Round  int           // from 1; 0 where the class has no common round
	Rounds int           // 0: not counted
	Left   time.Duration // to the next boundary of the class; where Up, what has run
	Up     bool          // Left counts up (long pull, sets, ramp, for time without a cap)
	Next   time.Duration // room time of that boundary; None
	Ends   time.Duration // room time the class will end; moves with a hold
}

// TileState is what one person's tile says.
type TileState uint8

// The tile states.
const (
	TileIdle   TileState = iota // nothing to do in this heat
	TileReady                   // has a start coming: Tile.Due
	TileWork                    // pulling since Tile.Since
	TileDone                    // done with this round; rests until Tile.Due
	TileRest                    // lane clock: rest until Tile.Due
	TileWait                    // due, but the sled is busy or the rest too short
	TileStop                    // long pull: standing since Tile.Since
	TileSatOut                  //
	TileAway                    // not here yet
	TileLeft                    // stopped for good
	TileOver                    // finished the part
)

// Tile is one person at one room time.
type Tile struct {
	Person  int // index into the people
	Place   Spot
	Heat    int // from 1; 0: no place in this part
	Station int // from 1
	Round   int // from 1
	Rounds  int // 0: not counted
	State   TileState
	Since   time.Duration // room time; None
	Due     time.Duration // room time of the next own start or end of rest; None
	Last    time.Duration // the last split; None
	Margin  time.Duration // of the last split; None
	Ahead   int           // most rounds: how many on the same sled pull before this one
	Legs    int           // long pull: legs done
	AllLegs int
	Next    *Spot    // the spot of the next round; nil: none
	More    *Offer   // what is proposed for it, see [State.BareFirst]; nil: nothing
	On, Off []string // plates to put on and take off in the handover before Next
}
