package load

import (
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// TestHeaviestIsWhatWasPulled: the heaviest ever moved counts each of two timed pulls, and
// not the max that was worked out of them.
func TestHeaviestIsWhatWasPulled(t *testing.T) {
	t.Parallel()
	q := Question{Movement: "sled row", Athlete: &roster.Athlete{Name: "Maren", Bests: []roster.Best{
		{Movement: "sled row", How: roster.TwoPulls, Load: 150 * kg, Pulls: []roster.TimedPull{{Load: 40 * kg}, {Load: 80 * kg}}},
		{Movement: "sled row", How: roster.Tested, Load: 70 * kg},
		{Movement: "deadlift", How: roster.Tested, Load: 120 * kg},
	}}}
	if got := heaviest(q, nil); got != 80*kg {
		t.Errorf("heaviest = %v, want the 80 kg of the second pull", got)
	}
	if got := heaviest(q, logged(90*kg)); got != 90*kg {
		t.Errorf("heaviest = %v, want the 90 kg of the log", got)
	}
}

// TestAcceptedLoad: what the coach has accepted stands in place of what the session asks,
// counted as the session counts, and what was asked is still said.
func TestAcceptedLoad(t *testing.T) {
	t.Parallel()
	day := time.Date(2026, 11, 18, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		says     string
		movement string
		on       Implement
		ask      session.Ask
		accepted measure.Mass // in all
		asked    measure.Mass
		of       string
		more     []string
	}{
		{"in place of a share of the max", "sled row", sledA, part(session.OfMax, 55), 70 * kg, 70 * kg, "total", []string{"note load: 70 kg in all was accepted on 2026-11-18; the session asks 66 kg"}},
		{"in place of plates on the sled", "sled row", sledA, added(60 * kg), 92 * kg, 65 * kg, "added", []string{"note load: the session asks 87 kg"}},
		{"the bare sled", "sled row", sledA, added(50 * kg), 20 * kg, 0, "added", []string{"note load: 20 kg in all"}},
		{"in place of what nobody can work out", "vehicle pull", sledA, part(session.OfMax, 55), 70 * kg, 70 * kg, "total", []string{"note load: cannot be worked out"}},
		{"84.9 % of an estimate", "deadlift", bar, part(session.Of1RM, 60), 95_512 * kg / 1000, 95_512 * kg / 1000, "total", []string{"note load: was accepted", "note estimate: 84.9 %"}},
		{"85 % of an estimate is refused all the same", "deadlift", bar, part(session.Of1RM, 60), 95_625 * kg / 1000, 95_625 * kg / 1000, "total", []string{"note load: was accepted", "stop estimate: 85.0 %"}},
	} {
		q := Question{
			Athlete: maren(), Part: 1, Station: 2, Movement: c.movement, Distance: 20 * metre, Legs: 1, Surface: "turf", On: c.on, Ask: c.ask,
			Accepted: &session.Accepted{Load: c.accepted, Date: day},
		}
		w, findings := Resolve(q, harbour(), house.Default(), nil)
		if w.Total != c.accepted || w.Asked != c.asked || w.AskedOf != c.of || !w.Accepted.Equal(day) {
			t.Errorf("%s: %v in all, asked %v of %s, accepted %v; want %v, %v of %s", c.says, w.Total, w.Asked, w.AskedOf, w.Accepted, c.accepted, c.asked, c.of)
		}
		wantFindings(t, findings, c.more)
	}
}
