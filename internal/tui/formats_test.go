package tui

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// format is a part of one format in its middle.
type format struct {
	part session.Part
	n    int // people
	do   []struct {
		sec int
		c   floor.Command
	}
	now time.Duration // after the first GO
}

// run is the class of a format at its time.
func (f *format) run(t *testing.T) *run {
	t.Helper()
	f.part.CountIn = ten
	r := begin(t, class(f.part, f.n, min(4, f.n)))
	for _, d := range f.do {
		r.do(time.Duration(d.sec)*time.Second, d.c)
	}
	return r.to(f.now)
}

// formats is each format by name.
func formats() map[string]*format {
	type at = []struct {
		sec int
		c   floor.Command
	}
	press := func(who string) floor.Command { return floor.Press{Who: who} }
	return map[string]*format{
		"amrap": {
			session.Part{Format: session.Amrap, Cap: 10 * time.Minute},
			6,
			at{{40, press("Maren")}, {48, press("Eskil")}, {95, press("Ragna")}, {101, press("Halvard")}},
			130 * time.Second,
		},
		"intervals": {
			session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 6}, 4, nil, 90 * time.Second,
		},
		"ratio": {
			session.Part{Format: session.Ratio, RestFactor: 2 * measure.Whole, Rounds: 4},
			6,
			at{{35, press("Maren")}, {38, press("Eskil")}, {44, press("Tuva")}, {80, press("Ragna")}},
			100 * time.Second,
		},
		"sets": {
			session.Part{Format: session.Sets, Sets: 4, Rest: 2 * time.Minute, RestCeiling: 4 * time.Minute},
			4,
			at{{5, press("Maren")}, {15, press("Maren")}, {20, press("Eskil")}},
			60 * time.Second,
		},
		"longpull": {
			session.Part{Format: session.LongPull, StopCap: 30 * time.Second, Stations: []session.Station{{Movement: "forward drag", Distance: 200 * measure.Metre, Times: 1}}},
			4,
			at{{40, press("Maren")}, {52, press("Maren")}, {70, press("Tuva")}, {80, floor.LegDone{Who: "Odd"}}},
			90 * time.Second,
		},
		"fortime": {
			session.Part{Format: session.ForTime, Cap: 4 * time.Minute, WaveEvery: 2 * time.Minute},
			6,
			at{{66, press("Eskil")}},
			90 * time.Second,
		},
		"ramp": {
			session.Part{Format: session.Ramp, Rest: 3 * time.Minute, Stations: []session.Station{{Movement: "forward drag", Distance: 20 * measure.Metre, Times: 1, Guess: 120 * kg}}},
			3,
			at{{5, press("Maren")}, {17, press("Maren")}, {30, press("Eskil")}},
			60 * time.Second,
		},
	}
}

// TestFormats draws each format of a part in its middle.
func TestFormats(t *testing.T) {
	t.Parallel()
	for name, f := range formats() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := sceneOf(f.run(t), f.now)
			l := Lay(100, 30, Ask{Tiles: f.n})
			var big Raster
			golden(t, name, s.Draw(100, 30, &l, &plainLook, &big))
		})
	}
}

// betweenHeats is a class between its first heat and its second.
func betweenHeats(t *testing.T) *run {
	t.Helper()
	plan := class(everyPart(), 8, 4)
	pp := &plan.Parts[0]
	pp.Heats = 2
	for i := 4; i < 8; i++ {
		pp.Places[i].Heat, pp.Places[i].Spots[0].Order = 2, 0
	}
	r := begin(t, plan)
	for i := range 4 {
		r.do(time.Duration(31+3*i)*time.Second, floor.Press{Who: crew[i]})
	}
	return r.to(11 * time.Minute)
}

// twoParts is a class of two parts, the second on other plates and in another order.
func twoParts(t *testing.T) *run {
	t.Helper()
	part := everyPart()
	part.Rounds = 1
	plan := class(part, 8, 4)
	next := class(formats()["ratio"].part, 8, 4).Parts[0]
	for i := range next.Places {
		sp := &next.Places[i].Spots[0]
		sp.Order = 1 - sp.Order
		sp.Stack, sp.Moves = append(slices.Clone(sp.Stack), "10 kg"), sp.Moves+10*kg
	}
	plan.Parts = append(plan.Parts, next)
	return begin(t, plan)
}

// TestPlatesToCome draws the count-in, the way from one heat to the next and that from one
// part to the next: who comes, on what, with what, and which plates go on and off.
func TestPlatesToCome(t *testing.T) {
	t.Parallel()
	counted, changed := twoParts(t), twoParts(t)
	for i := range 8 {
		changed.do(time.Duration(31+3*i)*time.Second+time.Duration(i/4)*30*time.Second, floor.Press{Who: crew[i]})
	}
	for name, c := range map[string]struct {
		run *run
		at  time.Duration
	}{
		"countin":    {counted, -4 * time.Second},
		"heats":      {betweenHeats(t), 11 * time.Minute},
		"changeover": {changed.to(2 * time.Minute), 2 * time.Minute},
	} {
		s := sceneOf(c.run, c.at)
		for _, size := range sizes {
			l := Lay(size[0], size[1], Ask{Tiles: 8})
			var big Raster
			golden(t, name, s.Draw(size[0], size[1], &l, &plainLook, &big))
		}
	}
}
