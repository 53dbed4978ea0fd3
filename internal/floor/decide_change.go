package floor

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hawser/internal/movement"
	"hawser/internal/session"
)

// decideChange is for what the coach changes in a class: people, loads, rounds,
// sleds.
func (s *State) decideChange(c Command, t time.Duration) ([]Event, error) {
	switch x := c.(type) {
	case Arrive:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideArrive(i, x, t) })
	case Guest:
		return s.decideGuest(x, t)
	case Leave:
		return s.named(x.Who, func(i int) ([]Event, error) {
			if !s.Here(i) {
				return nil, refuse(x.Who + " is not here")
			}
			return []Event{Left(x)}, nil
		})
	case Drop, Change, StepLoad:
		return s.decideLoad(c, t)
	case ByHand:
		return s.typed(x.Who, s.forgotten(x.Who, x.Round, t), t, func(pi, k int) Event {
			return Typed{Who: x.Who, Part: pi + 1, Round: k, Work: x.Work}
		})
	case NoTime:
		return s.typed(x.Who, s.forgotten(x.Who, x.Round, t), t, func(pi, k int) Event {
			return Typed{Who: x.Who, Part: pi + 1, Round: k, NoTime: true}
		})
	case Amount:
		return s.decideAmount(x, t)
	case Strike:
		return s.typed(x.Who, x.Round, t, func(pi, k int) Event {
			return Struck{Who: x.Who, Part: pi + 1, Round: k, Reason: x.Reason}
		})
	case Give:
		return s.decideGive(x)
	case Swap:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideSwap(i, x, t) })
	case MoveTo:
		return s.named(x.Who, func(i int) ([]Event, error) { return s.decideMove(i, x.On, t) })
	case Out:
		return s.decideOut(x.On, t)
	case Back:
		return s.decideBack(x.On, t)
	default:
		return nil, refuse("no such command")
	}
}

// partFor is the part that a correction is about: the one that is on, in a warm-up
// or a rest the one before it.
func (s *State) partFor(i int) (int, error) {
	pi := s.on
	for pi >= 0 && !s.spec(pi).Format.Pulls() {
		pi--
	}
	switch {
	case s.on < 0:
		return 0, refuse("before GO")
	case pi < 0:
		return 0, refuse("nobody has pulled yet")
	case s.parts[pi].tracks[i].first < 1:
		return 0, refuse(s.plan.People[i].Name + " is not in this part")
	}
	return pi, nil
}

// partAhead is the part that a change of what comes is about: the one that is on, in a
// warm-up or a rest the one after it.
func (s *State) partAhead(i int) (int, error) {
	pi := max(0, s.on)
	for pi+1 < len(s.parts) && !s.spec(pi).Format.Pulls() {
		pi++
	}
	if s.parts[pi].tracks[i].first < 1 {
		return 0, refuse(s.plan.People[i].Name + " is not in this part")
	}
	return pi, nil
}

// forgotten is the round that a split with no number is typed for: in an every part
// the last one before this that nobody pressed, since a forgotten press is noticed
// after the next start; else 0, the one that runs.
func (s *State) forgotten(who string, round int, t time.Duration) int {
	i := s.person(who)
	if round != 0 || i < 0 || s.on < 0 || s.spec(s.on).Format != session.Every {
		return round
	}
	for k := s.begun(s.on, i, t) - 1; k >= 1; k-- {
		if s.open1(s.on, i, k) {
			return k
		}
	}
	return 0
}

// typed makes a correction of a round that has begun; round 0 means the last one
// that has.
func (s *State) typed(who string, round int, t time.Duration, f func(pi, k int) Event) ([]Event, error) {
	return s.named(who, func(i int) ([]Event, error) {
		pi, err := s.partFor(i)
		if err != nil {
			return nil, err
		}
		begun := s.begun(pi, i, t)
		if round == 0 {
			round = begun
		}
		if round < 1 || round > begun || round < s.parts[pi].tracks[i].first {
			return nil, refuse(fmt.Sprintf("%s has not begun round %d", who, round))
		}
		return []Event{f(pi, round)}, nil
	})
}

// begun returns the last round of a person that has begun by t, 0 for none.
func (s *State) begun(pi, i int, t time.Duration) int {
	p := s.view(pi, t)
	tr := &p.tracks[i]
	h := p.heatOf(tr)
	switch f := s.spec(pi).Format; {
	case h == nil || !s.runs(p, t):
		return 0
	case f == session.Amrap:
		return tr.open()
	case classClock(f):
		k := min(h.roundAt(s.clock(t)), len(h.starts)-1)
		if k >= 1 && s.room(h.starts[k-1], t) > t { // in the count-in of a round that begins again
			k--
		}
		if k > 1 && s.clock(t) < s.ownStart(pi, i, k) {
			k--
		}
		return k
	case tr.working:
		return tr.done + 1
	default:
		return tr.done
	}
}

// fresh returns the first round of a person that has not begun at t, from 1; a
// press late for the round before changes nothing of it.
func (s *State) fresh(pi, i int, t time.Duration) int {
	p := s.view(pi, t)
	tr := &p.tracks[i]
	h := p.heatOf(tr)
	switch f := s.spec(pi).Format; {
	case h == nil:
		return max(1, tr.first)
	case f == session.Amrap:
		if s.turn(pi, i) == i && s.runs(p, t) {
			return tr.open() + 1
		}
		return tr.open()
	case classClock(f):
		k := h.roundAt(s.clock(t))
		if k >= 1 && k < len(h.starts) && s.clock(t) < s.ownStart(pi, i, k) {
			return k
		}
		return k + 1
	case tr.working:
		return tr.done + 2
	default:
		return tr.done + 1
	}
}

func (s *State) decideAmount(x Amount, t time.Duration) ([]Event, error) {
	return s.named(x.Who, func(i int) ([]Event, error) {
		pi, err := s.partFor(i)
		if err != nil {
			return nil, err
		}
		k := x.Round
		if k == 0 {
			k = s.amountRound(pi, i, t)
		}
		if k < 1 || k > maxRound {
			return nil, refuse(x.Who + " has begun nothing yet")
		}
		return []Event{Partial{Who: x.Who, Part: pi + 1, Round: k, Metres: x.Metres, Reps: x.Reps}}, nil
	})
}

// amountRound is the round that an amount with no number is about: the bout that
// is over or runs; the open round of most rounds; the last round elsewhere.
func (s *State) amountRound(pi, i int, t time.Duration) int {
	k := s.begun(pi, i, t)
	if s.spec(pi).Format != session.Intervals || k < 2 {
		return k
	}
	if p := &s.parts[pi]; p.tracks[i].get(k).metres == 0 && p.tracks[i].get(k).reps == 0 &&
		s.clock(t) < s.ownStart(pi, i, k)+s.spec(pi).Work && p.tracks[i].get(k-1).metres == 0 && p.tracks[i].get(k-1).reps == 0 {
		return k - 1
	}
	return k
}

func (s *State) decideGive(x Give) ([]Event, error) {
	if s.person(x.To) < 0 {
		return nil, refuse("nobody here is called " + x.To)
	}
	return s.named(x.Who, func(i int) ([]Event, error) {
		pi, err := s.partFor(i)
		if err != nil {
			return nil, err
		}
		k := x.Round
		if k == 0 {
			k = s.lastPressed(pi, i)
		}
		c := s.parts[pi].tracks[i].get(k)
		to := s.person(x.To)
		switch {
		case c.press == None || c.typed:
			return nil, refuse(fmt.Sprintf("%s has no press in round %d", x.Who, k))
		case to == i:
			return nil, refuse("that is the same person")
		case s.spec(pi).Format == session.Every && s.parts[pi].tracks[to].get(k).has():
			return nil, refuse(fmt.Sprintf("%s has round %d already", x.To, k))
		}
		return []Event{Given{Who: x.Who, To: x.To, Part: pi + 1, Round: k}}, nil
	})
}

func (s *State) lastPressed(pi, i int) int {
	t := &s.parts[pi].tracks[i]
	for k := len(t.cells); k > 0; k-- {
		if t.cells[k-1].press != None {
			return k
		}
	}
	return 0
}

func (s *State) decideSwap(i int, x Swap, t time.Duration) ([]Event, error) {
	pi, err := s.partAhead(i)
	if err != nil {
		return nil, err
	}
	if _, ok := movement.Find(x.Movement); !ok {
		return nil, refuse("no movement is called " + x.Movement)
	}
	k := s.fresh(pi, i, t)
	st := s.station(pi, &s.parts[pi].tracks[i], k)
	return []Event{Swapped{Who: x.Who, Part: pi + 1, Station: st + 1, Round: k, Movement: x.Movement}}, nil
}

// decideArrive gives a latecomer a free lane, else the free place of a group, and
// their first round: the first to start when they are warm.
func (s *State) decideArrive(i int, x Arrive, t time.Duration) ([]Event, error) {
	if s.people[i].here {
		return nil, refuse(x.Who + " is here already")
	}
	warm := x.WarmUp
	if warm == 0 {
		warm = s.plan.House.WarmUp
	}
	e := Arrived{Who: x.Who, Part: max(1, s.on+1), Round: 1, Ready: t + warm, Places: make([]Place, len(s.parts))}
	if s.on < 0 {
		e.Ready = t
	}
	for pi := max(0, s.on); pi < len(s.parts); pi++ {
		e.Places[pi] = s.freePlace(pi, i)
	}
	if s.on >= 0 {
		e.Round = s.firstRound(s.on, e.Places[s.on].Heat, e.Ready, t)
	}
	return []Event{e}, nil
}

// firstRound is the first round of the class that starts at ready or later, as
// things stand at now; one more than there are where none does.
func (s *State) firstRound(pi, heat int, ready, now time.Duration) int {
	p := &s.parts[pi]
	if f := s.spec(pi).Format; heat < 1 || f != session.Every && f != session.Intervals || len(p.heats[heat-1].starts) == 0 {
		return 1
	}
	starts := p.heats[heat-1].starts
	for k := 1; k < len(starts); k++ {
		if s.room(starts[k-1], now) >= ready {
			return k
		}
	}
	return len(starts)
}

func (s *State) decideGuest(x Guest, t time.Duration) ([]Event, error) {
	name := strings.TrimSpace(x.Who)
	if name == "" {
		return nil, refuse("a guest needs a name")
	}
	if s.person(name) >= 0 {
		return nil, refuse(name + " is on the list already")
	}
	added := GuestAdded{Who: name, Key: s.freeKey(name)}
	after := s.fork()
	after.Apply(Stamped{N: s.lastN() + 1, T: t, E: added})
	events, err := after.decideArrive(len(s.people), Arrive{Who: name}, t)
	return append([]Event{added}, events...), err
}

// freeKey deals a letter that nobody has: the first free one of the name, else of
// the alphabet.
func (s *State) freeKey(name string) string {
	taken := func(r rune) bool {
		return slices.ContainsFunc(s.plan.People, func(p Person) bool { return p.Key == string(r) })
	}
	for _, r := range strings.ToLower(name) + "abcdefghijklmnopqrstuvwxyz" {
		if r >= 'a' && r <= 'z' && !taken(r) {
			return string(r)
		}
	}
	return ""
}
