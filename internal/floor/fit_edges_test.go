package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestFitAtTheEdge: two of 30 s on a sled need 80 s with the handovers, one alone no handover but
// the sled's way back. A pull is made shorter to whole metres, 5 m at least.
func TestFitAtTheEdge(t *testing.T) {
	t.Parallel()
	two := []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}, {Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}
	byTime := []session.Station{{Movement: "forward drag", Time: 30 * time.Second, Times: 1}}
	for _, c := range []struct {
		says     string
		on       string // of Ada, Bo and Cleo
		every    int    // s
		stations []session.Station
		back     int // s
		first    []asked
		at       string
		fit      string // sled
		people   int
		needs    int // s; 0: it fits
		metres   int
	}{
		{says: "just enough", on: "A A -", every: 80, at: "0:10"},
		{says: "a second short", on: "A A -", every: 79, at: "0:10", fit: "A", people: 2, needs: 80, metres: 29},
		{says: "5 m", on: "A A -", every: 30, at: "0:10", fit: "A", people: 2, needs: 80, metres: 5},
		{says: "less than 5 m is none", on: "A A -", every: 29, at: "0:10", fit: "A", people: 2, needs: 80},
		{says: "no time left to pull", on: "A A -", every: 20, at: "0:10", fit: "A", people: 2, needs: 80},
		{says: "two stations are not made shorter", on: "A A -", every: 70, stations: two, at: "0:10", fit: "A", people: 2, needs: 80},
		{says: "by time neither", on: "A A -", every: 70, stations: byTime, at: "0:10", fit: "A", people: 2, needs: 80},
		{says: "alone, the sled comes back", on: "A B -", every: 34, back: 4, at: "0:10"},
		{says: "alone, it does not come back in time", on: "A B -", every: 33, back: 4, at: "0:10", fit: "A", people: 1, needs: 34, metres: 29},
		{says: "who has left needs nothing", on: "A A A", every: 80, first: []asked{{"0:05", Leave{"Cleo"}}}, at: "0:10"},
		{says: "three", on: "A A A", every: 80, at: "0:10", fit: "A", people: 3, needs: 120, metres: 16},
		{says: "in the last round", on: "A A A", every: 80, at: "2:50"},
		{says: "in the last but one", on: "A A A", every: 80, at: "2:30", fit: "A", people: 3, needs: 120, metres: 16},
		{says: "of two alike the first in the kit", on: "B B C", every: 60, at: "0:10", fit: "B", people: 2, needs: 80, metres: 20},
	} {
		part := everyMinute(3)
		part.Every, part.Stations = time.Duration(c.every)*time.Second, c.stations
		p := one(part, "Ada Bo Cleo", c.on)
		for i := range p.Parts[0].Stations {
			p.Parts[0].Stations[i].Return = time.Duration(c.back) * time.Second
		}
		r := begin(t, p)
		for _, a := range c.first {
			r.must(a.at, a.c)
		}
		got := r.s.Fit(r.zero + clockOf(t, c.at))
		if got == nil {
			got = &Fit{}
		}
		if got.On != c.fit || got.People != c.people || got.Needs != time.Duration(c.needs)*time.Second || got.Metres != measure.Distance(c.metres)*measure.Metre {
			t.Errorf("%s: %+v, want %d on %q who need %d s, or %d m", c.says, got, c.people, c.fit, c.needs, c.metres)
		}
	}
	waiting := New()
	waiting.Apply(Stamped{N: 1, E: Opened{Plan: one(everyMinute(3), "Ada", "A")}})
	if got := waiting.Fit(time.Second); got != nil {
		t.Errorf("before GO the fit check says %v", got)
	}
	over := begin(t, one(everyMinute(3), "Ada Bo Cleo", "A A A"))
	over.must("0:10", Skip{})
	if got := over.s.Fit(over.zero + 20*time.Second); got != nil {
		t.Errorf("of a part that has ended the fit check says %v", got)
	}
}

// TestWarnings: the coach is told of what does not fit after somebody came or a sled went, and who is
// stranded: those who are here and not through, and nobody before GO.
func TestWarnings(t *testing.T) {
	t.Parallel()
	alone := func(part session.Part, on string) *Plan {
		p := one(part, "Ada Bo Cleo", on)
		p.Parts[0].Stations[0].On = p.Parts[0].Stations[0].On[:1]
		return p
	}
	const left = ": no other implement of that station is left; bring one back or end the part"
	r := begin(t, alone(everyMinute(9), "A - -"))
	if got := r.warned("0:10", Arrive{Who: "Bo", WarmUp: 20 * time.Second}); got == "" {
		t.Error("two on a sled by the minute fit")
	}
	if got, want := r.warned("0:20", Out{On: "A"}), "Ada, Bo"+left; got != want {
		t.Errorf("warned %q, want %q", got, want)
	}
	r = begin(t, alone(everyMinute(9), "A A -"))
	r.must("0:10", Leave{"Ada"})
	if got, want := r.warned("0:20", Out{On: "A"}), "Bo"+left; got != want {
		t.Errorf("warned %q, want %q", got, want)
	}
	r = begin(t, alone(session.Part{Format: session.Sets, Sets: 1, Rest: time.Minute}, "A A -"))
	r.must("0:10", Press{"Ada"})
	r.must("0:30", Press{"Ada"})
	if got, want := r.warned("0:40", Out{On: "A"}), "Bo"+left; got != want {
		t.Errorf("warned %q, want %q", got, want)
	}
	r = begin(t, one(everyMinute(9), "Ada Bo Cleo", "A A A"))
	if got := r.warned("0:10", Out{On: "C"}); got == "" {
		t.Error("three on a sled by the minute fit, once another sled is out")
	}
	ready := &run{t: t, s: New()}
	ready.keep(Stamped{N: 1, E: Opened{Plan: alone(everyMinute(9), "A A A")}})
	if got := ready.warned("0:00", Out{On: "A"}); got != "" {
		t.Errorf("before GO: warned %q", got)
	}
	for at, want := range map[string]bool{"7:00": false, "7:00.001": true} { // round 9 begins at 8:00, all are over at 9:00
		r := begin(t, one(everyMinute(9), "Ada Bo", "A -"))
		if got := r.warned(at, Arrive{Who: "Bo", WarmUp: time.Minute}); (got != "") != want {
			t.Errorf("arrived at %s, warm a minute later: warned %q, want a warning: %v", at, got, want)
		}
	}
}
