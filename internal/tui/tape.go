package tui

import (
	"time"

	"hawser/internal/floor"
)

// tape is the events of a run that is over, played to any time, forwards and back.
type tape struct {
	events  []floor.Stamped
	whole   *floor.State // after the last event
	end     time.Duration
	st      *floor.State // after those up to now
	applied int
	now     time.Duration // room time
}

// newTape takes the events of a log, Opened first.
func newTape(events []floor.Stamped) *tape {
	t := &tape{events: events, whole: floor.New()}
	for _, e := range events {
		t.whole.Apply(e)
		t.end = max(t.end, e.T)
	}
	t.seek(t.end)
	return t
}

// seek brings the state to a room time within the run. Events are only ever
// applied: the way back is from the beginning.
func (t *tape) seek(now time.Duration) {
	t.now = min(max(0, now), t.end)
	if t.st == nil || t.applied > 1 && t.events[t.applied-1].T > t.now {
		t.st, t.applied = floor.New(), 0
	}
	for t.applied < len(t.events) && (t.applied == 0 || t.events[t.applied].T <= t.now) {
		t.st.Apply(t.events[t.applied])
		t.applied++
	}
}

// rounds are those of a person by name in a part, as they stood at now.
func (t *tape) rounds(part int, name string) []floor.Round {
	for i, who := range t.st.Plan().People {
		if who.Name == name && part <= t.st.Part() {
			return t.st.Rounds(part, i, t.now)
		}
	}
	return nil
}

// span is the time of a part.
func (t *tape) span(part int) Span {
	if part < 1 || part > len(t.whole.Plan().Parts) {
		return Span{floor.None, floor.None}
	}
	s := Span{t.whole.Began(part), t.whole.PartEnd(part)}
	if s.To == floor.None {
		s.To = t.end
	}
	return s
}
