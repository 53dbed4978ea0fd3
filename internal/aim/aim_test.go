package aim

import (
	"strings"
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/session"
)

const metre = measure.Metre

// TestFindings holds each edge of the bands. The bands are common practice of the
// trade, with no single source; 85 % and up with 6 repetitions or fewer and 2 to 5
// minutes of rest for strength also stand in the goal tables of Essentials of
// Strength Training and Conditioning, 4th ed., ch. 17.
func TestFindings(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		aim  session.Aim
		pull Pull
		says []string // "level about: words" of each finding, in order
	}{
		{"nothing known", session.Strength, Pull{}, nil},
		{"heavy, short, rested", session.Strength, Pull{Distance: 30 * metre, Bout: time.Minute, Rest: 2 * time.Minute, Pct: 85}, nil},
		{"a point under", session.Strength, Pull{Pct: 84}, nil},
		{"more than a point under", session.Strength, Pull{Pct: 83.9}, []string{"warn aim: 83.9 % of max is heavy conditioning: neither"}},
		{"a point over 60", session.Strength, Pull{Pct: 61}, []string{"warn aim: 61.0 % of max is too light for strength"}},
		{"between", session.Strength, Pull{Pct: 61.1}, []string{"warn aim: heavy conditioning"}},
		{"long", session.Strength, Pull{Distance: 30*metre + 1}, []string{"warn aim: is long for strength"}},
		{"six", session.Strength, Pull{Reps: 6}, nil},
		{"seven", session.Strength, Pull{Reps: 7}, []string{"warn aim: 7 repetitions are many"}},
		{"about a minute", session.Strength, Pull{Bout: 65 * time.Second}, nil},
		{"over it", session.Strength, Pull{Bout: 66 * time.Second}, []string{"note aim: 1:06 is long"}},
		{"short of rest", session.Strength, Pull{Rest: 2*time.Minute - time.Second}, []string{"warn rest: 1:59"}},
		{"four minutes", session.Strength, Pull{Rest: 4 * time.Minute}, nil},
		{"more", session.Strength, Pull{Rest: 4*time.Minute + time.Second}, []string{"note rest: 4:01"}},

		{"light, long", session.Endurance, Pull{Distance: 100 * metre, Bout: 61 * time.Second, Rest: 59 * time.Second, Pct: 51}, nil},
		{"a little heavy", session.Endurance, Pull{Pct: 51.1}, []string{"warn aim: 51.1 % of max is too heavy for endurance"}},
		{"heavy", session.Endurance, Pull{Pct: 70}, []string{"warn aim: heavy conditioning: neither"}},
		{"strength", session.Endurance, Pull{Pct: 90}, []string{"warn aim: too heavy"}},
		{"short", session.Endurance, Pull{Distance: 99 * metre}, []string{"warn aim: 99 m is short"}},
		{"few", session.Endurance, Pull{Reps: 19}, []string{"warn aim: 19 repetitions are few"}},
		{"twenty", session.Endurance, Pull{Reps: 20}, nil},
		{"a minute is not over it", session.Endurance, Pull{Bout: time.Minute}, []string{"note aim: 1:00 is short"}},
		{"rested", session.Endurance, Pull{Rest: time.Minute}, []string{"warn rest: 1:00"}},

		{"in the guide", session.Conditioning, Pull{Distance: 20 * metre, Reps: 5, Bout: 10 * time.Second, Pct: 55}, nil},
		{"its edges", session.Conditioning, Pull{Pct: 49}, nil},
		{"its other edge", session.Conditioning, Pull{Pct: 61}, nil},
		{"light", session.Conditioning, Pull{Pct: 48.9}, []string{"note aim: 48.9 % of max is outside"}},
		{"heavy conditioning", session.Conditioning, Pull{Pct: 61.1}, []string{"note aim: heavy conditioning: neither"}},
		{"strength in it", session.Conditioning, Pull{Pct: 90}, []string{"note aim: 90.0 % of max is outside"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			c.pull.Part, c.pull.Station, c.pull.Athlete = 2, 1, "Eskil"
			got := Findings(c.aim, c.pull, house.Default())
			if len(got) != len(c.says) {
				t.Fatalf("Findings(%s, %+v) = %v, want %d", c.aim, c.pull, got, len(c.says))
			}
			for i, f := range got {
				head, words, _ := strings.Cut(c.says[i], ": ")
				if string(f.Level)+" "+f.About != head || !strings.Contains(f.Text, words) || f.Part != 2 || f.Station != 1 || f.Athlete != "Eskil" {
					t.Errorf("finding %+v, want %q", f, c.says[i])
				}
			}
		})
	}
}

func TestDecimal(t *testing.T) {
	t.Parallel()
	h := house.Default()
	h.Decimal = ","
	if got := Findings(session.Conditioning, Pull{Pct: 30.25}, h)[0].Text; !strings.HasPrefix(got, "30,3 %") {
		t.Errorf("with a decimal comma: %q", got)
	}
}
