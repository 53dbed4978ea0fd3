package lanes

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

const (
	kg    = measure.Kilogram
	metre = measure.Metre
)

// rough draws any class at all, sensible or not.
func rough(t *rapid.T) Input {
	k := &kit.Kit{Step: 5 * kg / 2, Strip: kit.Strip{
		Length: measure.Distance(rapid.Int64Range(0, 40).Draw(t, "strip")) * metre, Surface: "turf", Lanes: rapid.IntRange(0, 3).Draw(t, "lanes"),
	}}
	for i := range rapid.IntRange(0, 3).Draw(t, "sleds") {
		k.Sleds = append(k.Sleds, kit.Sled{Name: string(rune('A' + i)), Tare: measure.Mass(rapid.Int64Range(0, 90).Draw(t, "tare")) * kg, Posts: rapid.IntRange(1, 4).Draw(t, "posts")})
	}
	if rapid.Bool().Draw(t, "bar") {
		k.Bars = []kit.Bar{{Name: "bar", Kind: "bar", Tare: 20 * kg, Count: 1}}
	}
	for range rapid.IntRange(0, 2).Draw(t, "ropes") {
		k.Ropes = append(k.Ropes, kit.Rope{Name: "rope", Length: measure.Distance(rapid.Int64Range(0, 20).Draw(t, "rope")) * metre / 2})
	}
	for _, mass := range []measure.Mass{20 * kg, 10 * kg, 5 * kg, 5 * measure.Pound} {
		if rapid.Bool().Draw(t, "has") {
			k.Plates = append(k.Plates, kit.Plates{Stamp: fmt.Sprint(mass.KG()), Mass: mass, Count: rapid.IntRange(0, 6).Draw(t, "count")})
		}
	}
	r := &roster.Roster{}
	for i := range rapid.IntRange(0, 9).Draw(t, "people") {
		a := roster.Athlete{Name: fmt.Sprintf("P%d", i), BodyMass: measure.Mass(rapid.SampledFrom([]int64{0, 68, 90}).Draw(t, "body")) * kg}
		for _, m := range []string{"forward drag", "sled row", "deadlift"} {
			a.Bests = append(a.Bests, roster.Best{Movement: m, Load: measure.Mass(rapid.Int64Range(0, 200).Draw(t, "best")) * kg, How: roster.Tested})
		}
		r.Athletes = append(r.Athletes, a)
	}
	s := &session.Session{Name: "x", Title: "x", Aim: rapid.SampledFrom([]session.Aim{session.Strength, session.Endurance, session.Conditioning}).Draw(t, "aim")}
	for range rapid.IntRange(1, 2).Draw(t, "parts") {
		s.Parts = append(s.Parts, roughPart(t))
	}
	in := Input{Session: s, Kit: k, Roster: r, House: house.Default(), Limit: 4000}
	in.House.WhenItDoesNotFit = rapid.SampledFrom([]string{"heats", "as written", "longer interval"}).Draw(t, "way")
	if n := len(r.Athletes); n > 0 && rapid.Bool().Draw(t, "edited") {
		in.Edits = []Edit{{
			Part: 1, Athlete: r.Athletes[n-1].Name, On: rapid.SampledFrom([]string{"", "A", "C", "no such"}).Draw(t, "on"),
			Heat: rapid.IntRange(0, 3).Draw(t, "heat"), Steps: rapid.IntRange(-2, 2).Draw(t, "steps"),
		}}
	}
	return in
}

func roughPart(t *rapid.T) session.Part {
	p := session.Part{
		Format: rapid.SampledFrom([]session.Format{session.Every, session.Amrap, session.Intervals, session.Ratio, session.Sets, session.LongPull, session.ForTime, session.Ramp}).Draw(t, "format"),
		Every:  minute, Cap: minute, Work: minute / 2, Rest: minute, RestFactor: 2 * measure.Whole, Rounds: rapid.IntRange(1, 8).Draw(t, "rounds"), Sets: 3,
	}
	for range rapid.IntRange(1, 3).Draw(t, "stations") {
		st := session.Station{
			Movement: rapid.SampledFrom([]string{"forward drag", "sled row", "hand over hand pull", "deadlift", "handles carry"}).Draw(t, "movement"),
			Distance: 20 * metre, Times: rapid.IntRange(1, 2).Draw(t, "times"),
		}
		for range rapid.IntRange(0, 2).Draw(t, "loads") {
			st.Loads = append(st.Loads, rapid.SampledFrom([]session.Ask{
				{Basis: session.Plain, Mass: 60 * kg},
				{Basis: session.OfMax, Share: 60 * measure.Percent},
				{Basis: session.OfBody, Share: 50 * measure.Percent},
				{Basis: session.Heaviest},
				{Basis: session.EachHand, Mass: 40 * kg},
			}).Draw(t, "load"))
		}
		p.Stations = append(p.Stations, st)
	}
	return p
}

// Whatever the class, the board is made, nobody gets plates that are not there,
// and everyone who is here has a place.
func TestMakeOfAnything(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := rough(t)
		b := Make(in)
		if len(b.Parts) != len(in.Session.Parts) {
			t.Fatalf("%d parts, want %d", len(b.Parts), len(in.Session.Parts))
		}
		for i := range b.Parts {
			p := &b.Parts[i]
			if p.Ends < p.Starts || len(p.Heats) == 0 || len(p.Stations) != len(in.Session.Parts[i].Stations) {
				t.Fatalf("part %d: %v to %v, %d heats, %d stations", i+1, p.Starts, p.Ends, len(p.Heats), len(p.Stations))
			}
			stands(t, in, p)
			seats := map[string]int{}
			for _, heat := range p.Heats {
				for _, lane := range heat.Lanes {
					for _, turn := range lane.Turns {
						seats[turn.Athlete]++
						if turn.Handover < 0 || turn.Moved < 0 || turn.Expected < 0 {
							t.Fatalf("turn %+v", turn)
						}
					}
				}
			}
			for _, a := range in.Roster.Athletes {
				if n := seats[a.Name]; n != len(p.Stations) && len(p.Heats[0].Lanes) > 0 {
					t.Fatalf("%s has %d places at %d stations", a.Name, n, len(p.Stations))
				}
			}
		}
		if b.Proved && b.Bound != b.PlatesMoved {
			t.Fatalf("proved, bound %d, moved %d", b.Bound, b.PlatesMoved)
		}
	})
}

// stands checks that the k-th of each lane of one station can stand at once.
func stands(t *rapid.T, in Input, p *Part) {
	if len(p.Stations) > 1 || !classClock(in.Session.Parts[p.Number-1].Format) {
		return
	}
	for _, heat := range p.Heats {
		for turn := range in.Roster.Athletes {
			used := make([]int, len(in.Kit.Plates))
			for _, lane := range heat.Lanes {
				if turn < len(lane.Turns) {
					take(used, lane.Turns[turn].Stack, -lane.On.Ends)
				}
			}
			for k, n := range used {
				if n > max(0, in.Kit.Plates[k].Count) || n < 0 {
					t.Fatalf("heat %d, turn %d: %d of %d plates %s", heat.Number, turn+1, n, in.Kit.Plates[k].Count, in.Kit.Plates[k].Stamp)
				}
			}
		}
	}
}

func TestRoughCases(t *testing.T) {
	t.Parallel()
	row := station("format = \"every\"\nevery = \"2:00\"\nrounds = 5", "movement = \"sled row\"\ndistance = \"20 m\"\nload = \"55% max\"")
	rope := strings.Replace(row, "sled row", "hand over hand pull", 1)
	strip := "[strip]\nlength = \"25 m\"\n"
	for _, c := range []struct {
		name, session, kit, roster string
		level                      session.Level
		about                      string
	}{
		{"no sled", row, strip + pile("20 kg", 2), crew("sled row", 100), session.Stop, "load"},
		{"no plates", row, sleds(25), crew("sled row", 100), session.Warn, "pile"},
		{"plates with count 0", row, sleds(25) + pile("20 kg", 0), crew("sled row", 100), session.Warn, "pile"},
		{"40 m on a strip of 3 m", strings.Replace(row, "20 m", "40 m", 1), strings.Replace(sleds(25), "25 m", "3 m", 1) + pile("20 kg", 2), crew("sled row", 100), session.Warn, "strip"},
		{"1RM of a sled", strings.Replace(row, "55% max", "50% 1RM", 1), sleds(25) + pile("20 kg", 2), crew("sled row", 100), session.Stop, "load"},
		{"1RM of another lift", strings.NewReplacer("sled row", "deadlift", `distance = "20 m"`, "reps = 5", "55% max", "50% 1RM").Replace(row), sleds(25) + "[[bar]]\nname = \"bar\"\ntare = \"20 kg\"\n" + pile("20 kg", 2), crew("trap bar deadlift", 100), session.Warn, "load"},
		{"tare over every target", row, sleds(90) + pile("20 kg", 2), crew("sled row", 100), session.Stop, "load"},
		{"no max", row, sleds(25) + pile("20 kg", 2), crew("forward drag", 100), session.Warn, "load"},
		{"no rope", rope, sleds(25) + pile("20 kg", 2), crew("hand over hand pull", 100), session.Stop, "rope"},
		{"rope of half a metre", rope, sleds(25) + pile("20 kg", 2) + "[[rope]]\nlength = \"0.5 m\"\n", crew("hand over hand pull", 100), session.Stop, "rope"},
		{"strip of 3 m", row, strings.Replace(sleds(25), "25 m", "3 m", 1) + pile("20 kg", 2), crew("sled row", 100), session.Warn, "strip"},
		{"more sleds than lanes", row, strings.Replace(sleds(25, 25), "surface", "lanes = 1\nsurface", 1) + pile("20 kg", 4), crew("sled row", 100, 100), session.Warn, "strip"},
		{"short pile", row, sleds(25, 25) + pile("20 kg", 1), crew("sled row", 100, 100), session.Warn, "pile"},
	} {
		b := Make(read(t, c.session, c.kit, c.roster))
		found := false
		for _, f := range b.Findings {
			found = found || f.Level == c.level && f.About == c.about
		}
		if !found {
			t.Errorf("%s: findings %v, want a %s about %s", c.name, b.Findings, c.level, c.about)
		}
	}
}

// Sixteen people at three stations with four sleds: the whole board, not proved.
func BenchmarkSixteen(b *testing.B) {
	text := "title = \"x\"\naim = \"conditioning\"\n[[part]]\nformat = \"every\"\nevery = \"3:00\"\nrounds = 9\n"
	for _, m := range []string{"forward drag", "backward drag", "forward drag with rope"} {
		text += fmt.Sprintf("[[part.station]]\nmovement = %q\ndistance = \"20 m\"\nload = \"50 kg\"\nexpect = \"20 s\"\n", m)
	}
	in := read(b, text, sleds(27, 31.5, 24, 36)+pile("45 lb", 4, "20 kg", 6, "15 kg", 4, "25 lb", 4, "10 kg", 8, "10 lb", 4, "5 kg", 6, "2.5 kg", 4),
		crew("forward drag", 121, 98.5, 143, 87, 132, 110, 154, 101.5, 119, 137, 126, 93, 120, 105, 99, 140))
	b.ReportAllocs()
	for b.Loop() {
		Make(in)
	}
}

func TestFortyPeople(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a search for forty")
	}
	bests := make([]float64, 40)
	for i := range bests {
		bests[i] = float64(80 + 7*i%60)
	}
	in := read(t, station("format = \"amrap\"\ncap = \"12:00\"", "movement = \"forward drag\"\ndistance = \"20 m\"\nload = \"55% max\""), sleds(27, 30, 24)+pile("20 kg", 6, "10 kg", 6, "5 kg", 6), crew("forward drag", bests...))
	in.Limit = 20_000
	b := Make(in)
	if got := len(b.Parts[0].Loads); got != 40 {
		t.Errorf("%d loads, want 40", got)
	}
}

// What the coach does by hand shows in the board that is made next, with its price.
func TestEdits(t *testing.T) {
	t.Parallel()
	in := read(t, station("format = \"every\"\nevery = \"4:00\"\nrounds = 5", "movement = \"forward drag\"\ndistance = \"30 m\"\nload = \"50% max\""),
		sleds(20, 20)+pile("20 kg", 4, "10 kg", 4), crew("forward drag", 80, 80, 120, 120))
	b := Make(in)
	if b.PlatesMoved != 0 {
		t.Fatalf("likes share a sled: %d plates moved, want 0", b.PlatesMoved)
	}
	in.Edits = []Edit{{Part: 1, Athlete: "Maren", On: "A"}, {Part: 1, Athlete: "Tove", On: "A"}}
	moved := Make(in)
	if moved.PlatesMoved == 0 || moved.Parts[0].Fit.Needs <= b.Parts[0].Fit.Needs {
		t.Errorf("moved by hand: %d plates, needs %v, want more than 0 and %v", moved.PlatesMoved, moved.Parts[0].Fit.Needs, b.Parts[0].Fit.Needs)
	}
	in.Edits = []Edit{{Part: 1, Athlete: "Maren", Steps: 1}}
	up := Make(in)
	if was, is := b.Parts[0].Loads[0].Moves, up.Parts[0].Loads[0].Moves; is != was+10*kg {
		t.Errorf("a step up: %v, want 10 kg over %v", is, was)
	}
	in.Roster.Athletes[0].Bests[0].How = roster.TwoPulls // 90 % of 80 kg is used; 90 % of that is refused
	in.Session.Parts[0].Stations[0].Loads[0].Share = 90 * measure.Percent
	in.Edits = nil
	if got := says(Make(in), "estimate"); len(got) == 0 || !strings.HasPrefix(got[0], "stop Maren") {
		t.Errorf("90 %% of an estimate: %q, want a stop", got)
	}
	in.Edits = []Edit{{Part: 1, Athlete: "Maren", Steps: -1}}
	if got := says(Make(in), "estimate"); len(got) > 0 && strings.HasPrefix(got[0], "stop") {
		t.Errorf("a step below that: %q, want no stop", got)
	}
	in.Roster.Athletes[0].Bests[0].How = roster.Tested
	in.Session.Parts[0].Stations[0].Loads[0].Share = 50 * measure.Percent
	in.Edits = []Edit{{Part: 1, Athlete: "Maren", Movement: "backward drag"}}
	warned := false
	swapped := Make(in)
	if turn := swapped.Parts[0].Heats[0].Lanes; turn[0].Turns[0].Movement == turn[1].Turns[0].Movement {
		t.Errorf("one swaps, and the first of both sleds do %q", turn[0].Turns[0].Movement)
	}
	for _, f := range swapped.Findings {
		warned = warned || f.Level == session.Warn && f.Athlete == "Maren" && strings.Contains(f.Text, "starts bare")
	}
	if !warned {
		t.Error("swapped to a movement without a max, and nothing is said")
	}
}
