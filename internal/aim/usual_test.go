package aim_test

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/aim"
	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// What a new session begins from stays inside the bands of its own aim, reads back
// from a file as it was, and is over when the coach has said.
func TestUsual(t *testing.T) {
	t.Parallel()
	aims := []session.Aim{session.Strength, session.Endurance, session.Conditioning}
	rapid.Check(t, func(t *rapid.T) {
		h := house.Default()
		h.ShowDistance = rapid.SampledFrom([]string{"m", "yd", "ft"}).Draw(t, "unit")
		s := aim.Start{
			Aim:       rapid.SampledFrom(aims).Draw(t, "aim"),
			Format:    rapid.SampledFrom(session.Formats()).Draw(t, "format"),
			Length:    time.Duration(rapid.IntRange(1, 90).Draw(t, "minutes")) * time.Minute,
			Movements: rapid.SliceOfN(rapid.SampledFrom(movement.All()), 1, 4).Draw(t, "movements"),
		}
		p := aim.Usual(s, h)
		src := session.Write(&session.Session{Title: "New", Aim: s.Aim, Parts: []session.Part{p}})
		back, err := session.Parse("new.toml", src)
		if err != nil {
			t.Fatalf("%v\n%s", err, src)
		}
		part := back.Parts[0]
		for i, st := range part.Stations {
			if s.Format == session.LongPull || s.Format == session.Ramp {
				break // a pull on its own, and a test of what the most is
			}
			pull := aim.Pull{Part: 1, Station: i + 1, Distance: st.Distance, Reps: st.Reps, Bout: st.Time, Rest: restOf(part, workOf(st, h))}
			if len(part.Stations) > 1 {
				pull.Rest = 0 // the longest station rules the clock; the others rest longer
			}
			for _, f := range aim.Findings(s.Aim, pull, h) {
				if f.Level != session.Note {
					t.Errorf("%s, %s, %s: %s\n%s", s.Aim, s.Format, st.Movement, f.Text, src)
				}
			}
		}
		if d := lengthOf(part, workOf(part.Stations[0], h)); len(part.Stations) == 1 && d > s.Length && part.Rounds > 1 {
			t.Errorf("%s, %s: takes %v of %v", s.Aim, s.Format, d, s.Length)
		}
	})
}

// TestUsualRestIsShort: in endurance each rest stays under a minute, however long the
// pull (a row of 120 m takes four minutes at the house's speed).
func TestUsualRestIsShort(t *testing.T) {
	t.Parallel()
	row, _ := movement.Find("sled row")
	for metres, want := range map[measure.Distance]measure.Share{50: measure.Whole / 2, 60: measure.Whole / 4, 120: measure.Whole / 8, 500: measure.Whole / 32} {
		settled := session.Part{Stations: []session.Station{{Distance: metres * measure.Metre, Times: 1}}}
		s := aim.Start{Aim: session.Endurance, Format: session.Ratio, Length: 20 * time.Minute, Movements: []movement.Movement{row}, Written: settled}
		if p := aim.Usual(s, house.Default()); p.RestFactor != want {
			t.Errorf("%d m: rest = %v x work, want %v", metres, p.RestFactor, want)
		}
	}
}

// workOf is the work at the house's speeds.
func workOf(st session.Station, h *house.House) time.Duration {
	m, _ := movement.Find(st.Movement)
	speed := h.DragSpeed
	if m.Pattern == "pull" {
		speed = h.RopeSpeed
	}
	return st.Time + time.Duration(st.Reps)*h.RepTime + time.Duration(st.Distance.Metres()/speed.Metres()*float64(time.Second))
}

// restOf is the rest between two efforts of one person, 0 where the format has none.
func restOf(p session.Part, work time.Duration) time.Duration {
	switch p.Format {
	case session.Every:
		return p.Every - work
	case session.Ratio:
		return time.Duration(float64(work) * float64(p.RestFactor) / float64(measure.Whole))
	case session.Intervals, session.Sets:
		return p.Rest
	case session.Amrap, session.LongPull, session.ForTime, session.Ramp, session.WarmUp, session.Break:
	}
	return 0
}

// lengthOf is how long a part takes somebody alone.
func lengthOf(p session.Part, work time.Duration) time.Duration {
	rest := restOf(p, work)
	n := time.Duration(max(p.Rounds, p.Sets))
	if p.Format == session.Every || p.Format == session.Ratio {
		return n * (work + rest)
	}
	return n*(work+rest) - rest
}
