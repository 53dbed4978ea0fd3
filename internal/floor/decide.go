package floor

import (
	"slices"
	"time"
)

// Refusal is why a command did nothing, in a word for the screen. Blink is a
// second press that came too soon: it is not worth a word.
//
//nolint:errname // a refusal is an answer, not an error
type Refusal struct {
	Word  string
	Blink bool
}

func (r *Refusal) Error() string { return r.Word }

func refuse(word string) error { return &Refusal{Word: word} }

// errTwice is the answer to a second press that came too soon.
var errTwice error = &Refusal{Word: "pressed twice", Blink: true}

// Decide turns a command at room time t into events, numbered on from the last.
// What the clock did by itself up to t comes first. An error is a *[Refusal];
// the events beside it still happened.
func Decide(s *State, c Command, t time.Duration) ([]Stamped, error) {
	return AppendDecide(nil, s, c, t)
}

// AppendDecide appends to dst what [Decide] returns. With room in dst a press
// takes no memory but that of its event.
func AppendDecide(dst []Stamped, s *State, c Command, t time.Duration) ([]Stamped, error) {
	if s.plan == nil {
		return dst, refuse("no run is open")
	}
	if before := Advance(s, t); len(before) > 0 { // decide on what stands after them
		s = s.fork()
		for _, e := range before {
			s.Apply(e)
		}
		dst = append(dst, before...)
	}
	events, err := s.decide(c, t)
	n := s.lastN()
	for _, e := range events {
		st := Stamped{T: t, E: e}
		if !isPrivate(e) {
			n++
			st.N = n
		}
		dst = append(dst, st)
	}
	return dst, err
}

// fork returns a state of its own with the same past.
func (s *State) fork() *State {
	f := New()
	f.log, f.dead = slices.Clone(s.log), slices.Clone(s.dead)
	f.replay()
	return f
}

func (s *State) lastN() int {
	if len(s.log) == 0 {
		return 0
	}
	return s.log[len(s.log)-1].N
}

func isPrivate(e Event) bool {
	switch e.(type) {
	case EffortGiven, PainGiven, Noted:
		return true
	default:
		return false
	}
}

// decide is Decide once the clock has been brought up to t.
func (s *State) decide(c Command, t time.Duration) ([]Event, error) {
	switch x := c.(type) {
	case Go, Hold, Resume, Again, Undo, Skip, Longer, Interval, Metres, End, Sleep:
		return s.decideClock(c, t)
	case Press:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decidePress(i, t, asDone) })
	case PressSled:
		i := s.onSled(x.On, t)
		if i < 0 {
			return nil, refuse("nobody is on " + x.On + " now")
		}
		return s.decidePress(i, t, asDone)
	case LegDone:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideLongPull(i, t, asLeg) })
	case StopNow:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideLongPull(i, t, asStop) })
	case GoOn:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideLongPull(i, t, asGo) })
	case DoneNow:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideDone(i, t) })
	case OffSled:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideOff(i, t) })
	case Miss:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideMiss(i, x, t) })
	case Effort:
		return s.named(x.Who, func(int) ([]Event, error) {
			return []Event{EffortGiven{Who: x.Who, Effort: min(max(x.Effort, 0), 10)}}, nil
		})
	case Pain:
		return s.named(x.Who, func(int) ([]Event, error) {
			return []Event{PainGiven{Who: x.Who, Pain: min(max(x.Pain, 0), 10), Site: x.Site}}, nil
		})
	case Note:
		return s.named(x.Who, func(int) ([]Event, error) { return []Event{Noted(x)}, nil })
	default:
		return s.decideChange(c, t)
	}
}

// named calls f with the index of a person, or refuses a name nobody has.
func (s *State) named(who string, f func(i int) ([]Event, error)) ([]Event, error) {
	i := s.person(who)
	if i < 0 {
		return nil, refuse("nobody here is called " + who)
	}
	return f(i)
}

// decideClock is for the commands about the clock of the class.
func (s *State) decideClock(c Command, t time.Duration) ([]Event, error) {
	house := s.plan.House
	running := s.on >= 0 && s.over == None
	switch x := c.(type) {
	case Go:
		return s.decideGo(t)
	case Hold:
		if !running {
			return nil, refuse("no clock runs")
		}
		if s.stopped() {
			return nil, refuse("the clock is stopped already")
		}
		return []Event{Held{}}, nil
	case Resume:
		if !running || !s.stopped() {
			return nil, refuse("the clock runs")
		}
		return []Event{Resumed{At: t + house.CountBack}}, nil
	case Again:
		if !running || s.parts[s.on].ended != None {
			return nil, refuse("no round runs")
		}
		return []Event{Restarted{Part: s.on + 1, Round: max(1, s.classRound(t)), At: t + house.CountBack}}, nil
	case Undo:
		return s.decideUndo()
	case Skip:
		if !running || s.parts[s.on].ended != None {
			return nil, refuse("no part runs")
		}
		return []Event{PartSkipped{Part: s.on + 1}}, nil
	case Longer:
		if !running || s.parts[s.on].ended != None {
			return nil, refuse("no part runs")
		}
		return []Event{PartLengthened{Part: s.on + 1, By: x.By}}, nil
	case Interval:
		return s.decideInterval(x.Every, t)
	case Metres:
		return s.decideMetres(x.To, t)
	case Sleep:
		return []Event{Slept(x)}, nil
	case End:
		if s.over != None {
			return nil, refuse("the class has ended already")
		}
		if p := s.current(); p != nil && p.ended == None {
			return []Event{PartEnded{Part: s.on + 1}, Ended{}}, nil
		}
		return []Event{Ended{}}, nil
	default:
		return nil, refuse("no such command")
	}
}

// stopped reports whether the clock stands and nobody has resumed it.
func (s *State) stopped() bool {
	h := s.lastHold()
	return h != nil && h.to == None
}

// decideGo begins the first part after its count-in, or the next one at once.
func (s *State) decideGo(t time.Duration) ([]Event, error) {
	next := s.on + 1
	switch {
	case s.over != None:
		return nil, refuse("the class has ended")
	case next >= len(s.parts):
		return nil, refuse("there is no further part")
	case s.on >= 0 && s.parts[s.on].ended == None:
		return nil, refuse("the part still runs")
	case s.stopped():
		return nil, refuse("the clock is stopped")
	}
	return []Event{Started{Part: next + 1, At: t + s.countIn(next)}}, nil
}

// countIn returns the count-in of a part: as written, or long enough to walk for
// one person alone.
func (s *State) countIn(pi int) time.Duration {
	if pi < len(s.parts) && s.spec(pi).CountIn > 0 {
		return s.spec(pi).CountIn
	}
	if s.Alone() >= 0 {
		return s.plan.House.CountInAlone
	}
	return s.plan.House.CountIn
}

// Alone returns the index of the one person here, -1 where there are more or none.
func (s *State) Alone() int {
	alone := -1
	for i := range s.people {
		if s.Here(i) {
			if alone >= 0 {
				return -1
			}
			alone = i
		}
	}
	return alone
}

// classRound returns the round of the class that runs at t, 0 for none.
func (s *State) classRound(t time.Duration) int {
	p := s.current()
	if p == nil || !classClock(s.spec(s.on).Format) {
		return 0
	}
	h := &p.heats[p.heatOn()]
	k := h.roundAt(s.clock(t))
	return min(k, len(h.starts)-1)
}

// undoable reports whether an event can be taken back: what people did, not what
// the clock did.
func undoable(e Event) bool {
	switch e.(type) {
	case Pressed, AttemptMissed, Struck, Given, Arrived, GuestAdded, Left, LoadChanged, DistanceCut, Swapped,
		SledOut, SledBack, SledLeft, LaneChanged, Typed, Partial, PartLengthened, IntervalChanged, PullCut:
		return true
	default:
		return false
	}
}

// follows reports whether e was made by the event before it, at the same instant.
func follows(before, e Event) bool {
	switch e.(type) {
	case LoadChanged, DistanceCut, Left:
		_, ok := before.(Pressed)
		return ok
	case PullCut:
		_, ok := before.(PullCut)
		return ok
	case Arrived:
		_, ok := before.(GuestAdded)
		return ok
	case LaneChanged:
		_, out := before.(SledOut)
		_, back := before.(SledBack)
		_, another := before.(LaneChanged)
		return out || back || another
	default:
		return false
	}
}

// LastUndoable returns the event that Undo would take back.
func (s *State) LastUndoable() (Stamped, bool) {
	i := s.lastUndoable()
	if i < 0 {
		return Stamped{}, false
	}
	return s.log[i], true
}

func (s *State) lastUndoable() int {
	for i := len(s.log) - 1; i >= 0; i-- {
		if !s.dead[i] && undoable(s.log[i].E) {
			for i > 0 && s.together(i) {
				i--
			}
			return i
		}
	}
	return -1
}

// together reports whether event i of the log came of the one before it, and both
// stand.
func (s *State) together(i int) bool {
	before, e := s.log[i-1], s.log[i]
	if s.dead[i] || s.dead[i-1] {
		return false
	}
	if why, ok := e.E.(Struck); ok { // the reason of a strike that was made before
		was, ok := before.E.(Struck)
		return ok && why.Who == was.Who && why.Part == was.Part && why.Round == was.Round
	}
	return before.T == e.T && follows(before.E, e.E)
}

// decideUndo takes back the last thing that was done, with what followed from it
// at the same instant.
func (s *State) decideUndo() ([]Event, error) {
	i := s.lastUndoable()
	if i < 0 {
		return nil, refuse("nothing to undo")
	}
	events := []Event{Undone{Of: s.log[i].N}}
	for j := i + 1; j < len(s.log) && s.together(j); j++ {
		events = append(events, Undone{Of: s.log[j].N})
	}
	slices.Reverse(events)
	return events, nil
}
