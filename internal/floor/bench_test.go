package floor

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hawser/internal/session"
)

// sixteen is a class of sixteen, sharing three sleds.
func sixteen(part session.Part) *Plan {
	var names, sleds []string
	for i := range 16 {
		names = append(names, fmt.Sprintf("P%d", i))
		sleds = append(sleds, string(rune('A'+i%3)))
	}
	return one(part, strings.Join(names, " "), strings.Join(sleds, " "))
}

// steadyParts go on for an hour and more, one of each clock.
var steadyParts = []session.Part{
	{Format: session.Every, Every: 4 * time.Minute, Rounds: 400, Late: session.NoteIt},
	{Format: session.Amrap, Cap: 24 * time.Hour},
	{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 400},
}

// steady is a class of sixteen that goes on as classes do: every 40 s each of the three
// sleds is pressed for. A press takes no time to look up and what it appends to is there.
type steady struct {
	*run

	at      time.Duration
	n       int
	sleds   [3]Command
	events  []Stamped
	moments []Moment
}

func goOn(tb testing.TB, part session.Part) *steady {
	tb.Helper()
	return &steady{
		run: begin(tb, sixteen(part)), at: -10 * time.Second, sleds: [3]Command{PressSled{On: "A"}, PressSled{On: "B"}, PressSled{On: "C"}},
		events: make([]Stamped, 0, 8), moments: make([]Moment, 0, 64),
	}
}

// press is the next press: decided, applied, and the next second looked at. It reports
// whether the press counted.
func (s *steady) press() bool {
	if s.n%3 == 0 {
		s.at += 40 * time.Second
	}
	at := s.zero + s.at + time.Duration(s.n%3)*time.Second
	s.events, _ = AppendDecide(s.events[:0], s.s, s.sleds[s.n%3], at)
	for _, e := range s.events {
		s.s.Apply(e)
	}
	s.moments = s.s.Due(s.moments[:0], at, at+time.Second)
	s.n++
	return len(s.events) > 0
}

// BenchmarkSteadyState is one press of a class of sixteen, in its first hour.
func BenchmarkSteadyState(b *testing.B) {
	for _, part := range steadyParts {
		b.Run(string(part.Format), func(b *testing.B) {
			s := goOn(b, part)
			b.ReportAllocs()
			for b.Loop() {
				if s.press(); s.at > time.Hour {
					b.StopTimer()
					s = goOn(b, part)
					b.StartTimer()
				}
			}
		})
	}
}

// A press takes the memory of its event, which the log keeps; one that comes twice takes none.
//
//nolint:paralleltest // it counts allocations
func TestPressTakesItsEvent(t *testing.T) {
	for _, part := range steadyParts {
		s := goOn(t, part)
		counted := 0
		if n := testing.AllocsPerRun(200, func() {
			if s.press() {
				counted++
			}
		}); n != 1 || counted < 150 {
			t.Errorf("%s: a press takes %v allocations, want 1; %d of 201 counted", part.Format, n, counted)
		}
		for !s.press() { // until one counts
			continue
		}
		var twice Command = Press{Who: s.events[0].E.(Pressed).Who}
		at := s.events[0].T + time.Second
		if n := testing.AllocsPerRun(10, func() { s.events, _ = AppendDecide(s.events[:0], s.s, twice, at) }); n != 0 || len(s.events) != 0 {
			t.Errorf("%s: a press that comes twice takes %v allocations and makes %d events, want none", part.Format, n, len(s.events))
		}
	}
}

// A second of the clock takes no memory, whether something is due in it or not; only what
// the clock does by itself, at the end of a heat or a part, does.
//
//nolint:paralleltest // it counts allocations
func TestTickTakesNoMemory(t *testing.T) {
	for _, part := range append(steadyParts, everyMinute(4),
		session.Part{Format: session.Intervals, Work: 40 * time.Second, Rest: 20 * time.Second, Rounds: 4},
		session.Part{Format: session.LongPull, Cap: 3 * time.Minute},
		session.Part{Format: session.ForTime, Cap: 2 * time.Minute}) {
		p := sixteen(part)
		p.Parts[0].Heats = 2
		for i := range p.Parts[0].Places {
			p.Parts[0].Places[i].Heat = 1 + i%2
		}
		p.Parts = append(p.Parts, p.Parts[0])
		r := begin(t, p)
		moments := make([]Moment, 0, 64)
		due, did := 0, 0
		for at := r.zero; at < 30*time.Minute; at += time.Second {
			var events []Stamped
			if n := testing.AllocsPerRun(2, func() { // of two, so that what Go itself takes once is none of each
				events = Advance(r.s, at)
				moments = r.s.Due(moments[:0], at-time.Second, at)
			}); n != 0 && len(events) == 0 {
				t.Fatalf("%s: a look at %v takes %v allocations, %d are due", part.Format, at, n, len(moments))
			}
			for _, e := range events {
				r.keep(e)
			}
			due, did = due+len(moments), did+len(events)
		}
		if due == 0 || did == 0 && part.Rounds == 4 {
			t.Errorf("%s: %d moments were due, and the clock did %d things by itself", part.Format, due, did)
		}
	}
}
