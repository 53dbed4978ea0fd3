package floor

import (
	"slices"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// State is a run, made by its events alone. One goroutine owns it. The zero
// State is not usable; see [New].
type State struct {
	plan    *Plan
	log     []Stamped      // all but private events, in order
	dead    []bool         // undone, by index into log
	moved   map[int]string // presses given to another person, by event number
	holds   []hold
	people  []status
	parts   []part
	on      int           // index of the part that began last; -1 before the first GO
	first   time.Duration // room time of the first GO; None
	over    time.Duration // room time of Ended; None
	out     []string      // sleds off the floor
	private []Stamped
	peek    part    // scratch of view
	events  []Event // scratch of pressed
}

// status is one person of the day. ready is when a latecomer is warm.
type status struct {
	here  bool
	ready time.Duration
	left  time.Duration // None
}

// part is one part as it runs. Times in heats are of the session clock, in
// tracks and lanes of the room.
type part struct {
	began  time.Duration // room time of GO; None
	ended  time.Duration // room time; None
	again  time.Duration // amrap: where the open rounds were begun anew; None
	rounds int           // in force; 0: not counted
	limit  time.Duration // the cap in force; 0: none
	heats  []heat
	tracks []track // one a person
	lanes  []lane  // one an implement, where lanes keep their own clock
	cuts   []cut   // of everyone's pulls
}

// heat is one group's go at a part. starts holds the session clock at the start
// of each round of the class and, last, at its end; empty before the heat begins.
type heat struct {
	starts []time.Duration
	was    []stretch // the intervals before the one in force
}

// track is one person in one part.
type track struct {
	Place
	first   int           // first round they are in; 0: in none
	with    []int         // who else may stand on one of their implements, by list: [part.share]
	cells   []cell        // by round
	changes []change      // from a round on
	last    time.Duration // the last press that counted; None
	due     time.Duration // lane clocks: room time when the next start is due
	done    int           // lane clocks: rounds that are over
	working bool          // lane clocks: cells[done] runs
}

// cell is what is known of one round.
type cell struct {
	start  time.Duration // where a press or a lane clock gave it; None
	press  time.Duration // the end; None
	due    time.Duration // lane clocks: when the rest was over; None
	waited time.Duration // sets and ramp: how long after that the sled was taken
	work   time.Duration // typed
	typed  bool
	noTime bool
	struck bool
	missed bool
	capped bool
	metres measure.Distance
	reps   int
	stops  []Span
	legs   []time.Duration
}

// change is a new spot or movement at one station from a round on.
type change struct {
	round, station int
	spot           Spot
	movement       string           // "" as before
	distance       measure.Distance // 0 as before
}

// spots reports whether the change is one of spot.
func (c *change) spots() bool { return c.movement == "" && c.distance == 0 }

// blank returns a round of which nothing is known.
func blank() cell { return cell{start: None, press: None, due: None} }

// New returns a state that waits for Opened.
func New() *State { return &State{on: -1, first: None, over: None} }

// Plan returns what Opened brought, guests added; nil before.
func (s *State) Plan() *Plan { return s.plan }

// Part returns the part that is on, from 1; 0 before the first GO.
func (s *State) Part() int { return s.on + 1 }

// First returns the room time of the first GO, None before it.
func (s *State) First() time.Duration { return s.first }

// Over returns the room time at which the run ended, None before.
func (s *State) Over() time.Duration { return s.over }

// Here reports whether the person of that index is in the room and has not left.
func (s *State) Here(person int) bool {
	p := s.people[person]
	return p.here && p.left == None
}

// Came reports whether the person of that index has been in the room.
func (s *State) Came(person int) bool { return s.people[person].here }

// Private returns the effort, pain and notes given in this run, in order.
func (s *State) Private() []Stamped { return s.private }

// person returns the index of a name, -1 where nobody has it.
func (s *State) person(name string) int {
	if s.plan == nil {
		return -1
	}
	return slices.IndexFunc(s.plan.People, func(p Person) bool { return p.Name == name })
}

// spec returns the part as it was written.
func (s *State) spec(pi int) *session.Part { return &s.plan.Parts[pi].Spec }

// current returns the part that began last, or nil before the first GO.
func (s *State) current() *part {
	if s.on < 0 {
		return nil
	}
	return &s.parts[s.on]
}

// get returns what is known of round k, from 1.
func (t *track) get(k int) cell {
	if k < 1 || k > len(t.cells) {
		return blank()
	}
	return t.cells[k-1]
}

// at returns the cell of round k, from 1, to write to.
func (t *track) at(k int) *cell {
	for len(t.cells) < k {
		t.cells = append(t.cells, blank())
	}
	return &t.cells[k-1]
}

// open returns the round of most rounds that is open: the one after the last that
// was done. An amount alone does not end it.
func (t *track) open() int {
	n := len(t.cells)
	if n > 0 && !t.cells[n-1].has() && !t.cells[n-1].struck {
		return n
	}
	return n + 1
}

// station returns the station of round k, as an index.
func (s *State) station(pi int, t *track, k int) int {
	n := len(s.plan.Parts[pi].Stations)
	switch f := s.spec(pi).Format; {
	case n < 2:
		return 0
	case f == session.Amrap && s.spec(pi).PressAt != "station":
		return 0
	default:
		return (k - 1 + t.Side) % n
	}
}

// spot returns where a person stands at a station in round k, with which plates.
func (t *track) spot(k, station int) Spot { return *t.look(k, station) }

// look is spot for reading only.
func (t *track) look(k, station int) *Spot {
	for i := len(t.changes) - 1; i >= 0; i-- {
		if c := &t.changes[i]; c.station == station && c.round <= k && c.spots() {
			return &c.spot
		}
	}
	if station < len(t.Spots) {
		return &t.Spots[station]
	}
	return new(Spot)
}

// share notes who may share an implement with whom in some round. It has to be done
// anew when anybody comes to stand elsewhere.
func (p *part) share() {
	for i := range p.tracks {
		t := &p.tracks[i]
		t.with = t.with[:0]
		for j := range p.tracks {
			if q := &p.tracks[j]; j != i && q.Heat == t.Heat && t.shares(q) {
				t.with = append(t.with, j)
			}
		}
	}
}

// shares reports whether two people may stand on one implement in some round.
func (t *track) shares(q *track) bool {
	return slices.ContainsFunc(t.Spots, func(sp Spot) bool { return q.meets(sp.On) }) ||
		slices.ContainsFunc(t.changes, func(c change) bool { return q.meets(c.spot.On) })
}

// meets reports whether a person stands on an implement in any round.
func (t *track) meets(on string) bool {
	return slices.ContainsFunc(t.Spots, func(sp Spot) bool { return sp.On == on }) ||
		slices.ContainsFunc(t.changes, func(c change) bool { return c.spot.On == on })
}

// movement returns what a person does at a station in round k.
func (s *State) movement(pi int, t *track, k, station int) string {
	for i := len(t.changes) - 1; i >= 0; i-- {
		if c := &t.changes[i]; c.station == station && c.round <= k && c.movement != "" {
			return c.movement
		}
	}
	if sp := t.look(k, station); sp.Swap != "" {
		return sp.Swap
	}
	if st := s.spec(pi).Stations; station < len(st) {
		return st[station].Movement
	}
	return ""
}

// distance returns what the pull of round k was cut to, or is for this person, 0 where
// it is the station's.
func (t *track) distance(k, station int) measure.Distance {
	for i := len(t.changes) - 1; i >= 0; i-- {
		if c := &t.changes[i]; c.station == station && c.round <= k && c.distance != 0 {
			return c.distance
		}
	}
	return t.look(k, station).Metres
}

// set returns the plates of round k and what they move: a list of loads gives
// each set its own, and the last repeats.
func (sp *Spot) set(k int) ([]string, measure.Mass) {
	if n := len(sp.Sets); n > 0 {
		set := sp.Sets[min(max(k, 1), n)-1]
		return set.Stack, set.Moves
	}
	return sp.Stack, sp.Moves
}
