package tui

import (
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestFormats draws each format of a part in its middle.
func TestFormats(t *testing.T) {
	t.Parallel()
	type at struct {
		sec int
		c   floor.Command
	}
	press := func(who string) floor.Command { return floor.Press{Who: who} }
	for name, tt := range map[string]struct {
		part session.Part
		n    int
		do   []at
		now  int
	}{
		"amrap": {
			session.Part{Format: session.Amrap, Cap: 10 * time.Minute},
			6,
			[]at{{40, press("Maren")}, {48, press("Eskil")}, {95, press("Ragna")}, {101, press("Halvard")}},
			130,
		},
		"intervals": {
			session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 6}, 4, nil, 90,
		},
		"ratio": {
			session.Part{Format: session.Ratio, RestFactor: 2 * measure.Whole, Rounds: 4},
			6,
			[]at{{35, press("Maren")}, {38, press("Eskil")}, {44, press("Tuva")}, {80, press("Ragna")}},
			100,
		},
		"sets": {
			session.Part{Format: session.Sets, Sets: 4, Rest: 2 * time.Minute, RestCeiling: 4 * time.Minute},
			4,
			[]at{{5, press("Maren")}, {15, press("Maren")}, {20, press("Eskil")}},
			60,
		},
		"longpull": {
			session.Part{Format: session.LongPull, StopCap: 30 * time.Second, Stations: []session.Station{{Movement: "forward drag", Distance: 200 * measure.Metre, Times: 1}}},
			4,
			[]at{{40, press("Maren")}, {52, press("Maren")}, {70, press("Tuva")}, {80, floor.LegDone{Who: "Odd"}}},
			90,
		},
		"fortime": {
			session.Part{Format: session.ForTime, Cap: 4 * time.Minute, WaveEvery: 2 * time.Minute},
			6,
			[]at{{66, press("Eskil")}},
			90,
		},
		"ramp": {
			session.Part{Format: session.Ramp, Rest: 3 * time.Minute, Stations: []session.Station{{Movement: "forward drag", Distance: 20 * measure.Metre, Times: 1, Guess: 120 * kg}}},
			3,
			[]at{{5, press("Maren")}, {17, press("Maren")}, {30, press("Eskil")}},
			60,
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			tt.part.CountIn = ten
			r := begin(t, class(tt.part, tt.n, min(4, tt.n)))
			for _, d := range tt.do {
				r.do(time.Duration(d.sec)*time.Second, d.c)
			}
			now := time.Duration(tt.now) * time.Second
			s := sceneOf(r.to(now), now)
			l := Lay(100, 30, Ask{Tiles: tt.n})
			var big Raster
			golden(t, name, s.Draw(100, 30, &l, &plainLook, &big))
		})
	}
}

// TestHeats draws the way from one heat to the next: who comes, on what, with what.
func TestHeats(t *testing.T) {
	t.Parallel()
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
	now := 11 * time.Minute
	s := sceneOf(r.to(now), now)
	for _, size := range sizes {
		l := Lay(size[0], size[1], Ask{Tiles: 8})
		var big Raster
		golden(t, "heats", s.Draw(size[0], size[1], &l, &plainLook, &big))
	}
}
