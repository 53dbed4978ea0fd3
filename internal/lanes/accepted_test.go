package lanes

import (
	"strings"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestAccepted holds that a load the coach has accepted stands in place of what the
// session asks, for that person at that station of that session alone, and is said.
func TestAccepted(t *testing.T) {
	t.Parallel()
	const rows = "aim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"2:00\"\nrounds = 4\n" +
		"[[part.station]]\nmovement = \"sled row\"\ndistance = \"20 m\"\nload = \"50% max\"\n"
	of := func(change func(*session.Accepted)) session.Accepted {
		a := session.Accepted{
			Athlete: "Maren", Session: "session", Part: 1, Station: 1, Movement: "sled row",
			Load: 57 * measure.Kilogram, Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		}
		change(&a)
		return a
	}
	for _, tt := range []struct {
		name   string
		change func(*session.Accepted)
		want   measure.Mass // 50 % of 100 kg is 50 kg; 27 kg of it is the sled
	}{
		{"this one", func(*session.Accepted) {}, 57 * measure.Kilogram},
		{"another's", func(a *session.Accepted) { a.Athlete = "Eskil" }, 52 * measure.Kilogram},
		{"of another session", func(a *session.Accepted) { a.Session = "ebb-tide" }, 52 * measure.Kilogram},
		{"of another part", func(a *session.Accepted) { a.Part = 2 }, 52 * measure.Kilogram},
		{"of another movement", func(a *session.Accepted) { a.Movement = "forward drag" }, 52 * measure.Kilogram},
	} {
		in := read(t, rows, sleds(27, 27)+"[[plates]]\nmass = \"5 kg\"\ncount = 20\n", crew("sled row", 100, 100))
		in.Accepted = []session.Accepted{of(tt.change)}
		b := Make(in)
		got := b.Parts[0].Loads[0]
		said := false
		for _, f := range b.Findings {
			said = said || f.Athlete == "Maren" && strings.Contains(f.Text, "57 kg in all was accepted on 2026-11-25; the session asks 50 kg")
		}
		if mine := tt.want == 57*measure.Kilogram; got.Moves != tt.want || said != mine || got.Accepted.IsZero() == mine {
			t.Errorf("%s: moves %v, want %v; said %v, accepted %v", tt.name, got.Moves, tt.want, said, got.Accepted)
		}
	}
}

// TestAcceptedEstimate holds that accepting is no way around the refusal of heavy
// loads on an estimate, and that a load needs no max once it is accepted.
func TestAcceptedEstimate(t *testing.T) {
	t.Parallel()
	const rows = "aim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"2:00\"\nrounds = 4\n" +
		"[[part.station]]\nmovement = \"sled row\"\ndistance = \"20 m\"\nload = \"50% max\"\n"
	for _, tt := range []struct {
		best string
		load measure.Mass
		stop string
	}{
		{"how = \"two pulls\"\nload = \"100 kg\"\n", 70 * measure.Kilogram, ""},
		{"how = \"two pulls\"\nload = \"100 kg\"\n", 87 * measure.Kilogram, "it must be tested"},
		{"how = \"tested\"\nload = \"100 kg\"\n", 87 * measure.Kilogram, ""},
		{"", 87 * measure.Kilogram, ""},
	} {
		roster := "[[athlete]]\nname = \"Maren\"\n"
		if tt.best != "" {
			roster += "[[athlete.best]]\nmovement = \"sled row\"\n" + tt.best
		}
		in := read(t, rows, sleds(27)+"[[plates]]\nmass = \"5 kg\"\ncount = 20\n", roster)
		in.Accepted = []session.Accepted{{Athlete: "Maren", Session: "session", Part: 1, Station: 1, Movement: "sled row", Load: tt.load}}
		stop := ""
		for _, f := range Make(in).Findings {
			if f.Level == session.Stop {
				stop = f.Text
			}
		}
		if tt.stop == "" && stop != "" || !strings.Contains(stop, tt.stop) {
			t.Errorf("%v accepted with %q: stops with %q, want %q", tt.load, tt.best, stop, tt.stop)
		}
	}
}
