package floor

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// rules is the house rules that the tests run under: the defaults of the design.
func rules() *house.House {
	return &house.House{
		HandoverBase: 10 * time.Second, HandoverPlate: 5 * time.Second, RopeLay: 10 * time.Second,
		BetweenHeats: 3 * time.Minute, BetweenParts: 3 * time.Minute, WarmUp: 5 * time.Minute,
		CountIn: 10 * time.Second, CountInAlone: 20 * time.Second, CountBack: 5 * time.Second,
		Late: "sit out", LatePress: 8 * time.Second, DoublePress: 2 * time.Second, DoubleTap: time.Second,
		HeldKey: 120 * time.Millisecond, Margin: 25 * measure.Percent, LateDrop: 10 * measure.Percent,
		UnlikelyLow: 60 * measure.Percent, UnlikelyHigh: 160 * measure.Percent,
		RampStart: 50 * measure.Percent, RampRest: 180 * time.Second,
	}
}

const kg = measure.Kilogram

// floorKit has sleds A, B, C of 27 kg and plates of 20, 10, 5 and 2.5 kg.
func floorKit() *kit.Kit {
	k := &kit.Kit{Step: 2500 * measure.Gram, Strip: kit.Strip{Length: 25 * measure.Metre, Surface: "turf"}}
	for _, n := range []string{"A", "B", "C"} {
		k.Sleds = append(k.Sleds, kit.Sled{Name: n, Tare: 27 * kg, Posts: 1})
	}
	for _, p := range []struct {
		stamp string
		mass  measure.Mass
		n     int
	}{{"20 kg", 20 * kg, 6}, {"10 kg", 10 * kg, 4}, {"5 kg", 5 * kg, 4}, {"2.5 kg", 2500 * measure.Gram, 4}} {
		k.Plates = append(k.Plates, kit.Plates{Stamp: p.stamp, Mass: p.mass, Count: p.n})
	}
	return k
}

// one is a plan with one part: each of names stands on the sled of the same
// position in on ("A", "B", …; "-" for somebody who is not here), with 40 kg.
func one(part session.Part, names, on string) *Plan {
	p := &Plan{Session: "test", Aim: session.Conditioning, Kit: floorKit(), House: rules()}
	if len(part.Stations) == 0 {
		part.Stations = []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}}
	}
	pp := PartPlan{Spec: part, Heats: 1}
	for range part.Stations {
		st := StationPlan{Legs: 2, Leg: 15 * measure.Metre}
		for _, sl := range p.Kit.Sleds {
			st.On = append(st.On, Thing{Name: sl.Name, Tare: sl.Tare, Ends: 1})
		}
		pp.Stations = append(pp.Stations, st)
	}
	order := map[string]int{}
	sleds := strings.Fields(on)
	for i, name := range strings.Fields(names) {
		sled := sleds[i]
		p.People = append(p.People, Person{Name: name, Key: strings.ToLower(name[:1]), Here: sled != "-"})
		spot := Spot{Asked: 67 * kg, Tare: 27 * kg, Ends: 1, Expect: 30 * time.Second}
		pl := Place{}
		if sled != "-" {
			spot.On, spot.Order, spot.Stack, spot.Moves = sled, order[sled], []string{"20 kg", "20 kg"}, 67*kg
			pl.Heat = 1
			order[sled]++
		}
		for range part.Stations {
			pl.Spots = append(pl.Spots, spot)
		}
		pp.Places = append(pp.Places, pl)
	}
	p.Parts = []PartPlan{pp}
	return p
}

// run is a run in simulated time; zero is the room time of the first GO.
type run struct {
	t    testing.TB
	s    *State
	zero time.Duration
	log  []Stamped
}

func begin(tb testing.TB, p *Plan) *run {
	tb.Helper()
	r := &run{t: tb, s: New()}
	r.keep(Stamped{N: 1, E: Opened{Plan: p}})
	r.zero = r.s.countIn(0)
	r.at(-r.zero, Go{})
	return r
}

func (r *run) keep(e Stamped) {
	r.log = append(r.log, e)
	r.s.Apply(e)
}

// do gives a command at a time after the first GO and returns the refusal.
func (r *run) do(at time.Duration, c Command) error {
	events, err := Decide(r.s, c, r.zero+at)
	for _, e := range events {
		r.keep(e)
	}
	return err
}

// at gives a command that cannot be refused.
func (r *run) at(at time.Duration, c Command) {
	r.t.Helper()
	if err := r.do(at, c); err != nil {
		r.t.Errorf("%T at %v: %v", c, at, err)
	}
}

// play runs lines of "TIME KEY" and of the few verbs that have no name in them.
func (r *run) play(script string) {
	r.t.Helper()
	for line := range strings.Lines(script) {
		f := strings.Fields(line)
		if len(f) < 2 {
			continue
		}
		at := clockOf(r.t, f[0])
		var err error
		switch f[1] {
		case "hold":
			err = r.do(at, Hold{})
		case "resume":
			err = r.do(at, Resume{})
		case "again":
			err = r.do(at, Again{})
		case "undo":
			err = r.do(at, Undo{})
		default:
			who := ""
			for _, p := range r.s.Plan().People {
				if p.Key == f[1] {
					who = p.Name
				}
			}
			err = r.do(at, Press{Who: who})
		}
		want := strings.Join(f[2:], " ")
		if got := ""; err != nil && err.Error() != want || err == nil && want != got {
			r.t.Errorf("%s: refusal %v, want %q", strings.TrimSpace(line), err, want)
		}
	}
}

func clockOf(tb testing.TB, text string) time.Duration {
	tb.Helper()
	var m int
	var s float64
	if _, err := fmt.Sscanf(text, "%d:%f", &m, &s); err != nil {
		tb.Fatal(err)
	}
	return time.Duration(m)*time.Minute + time.Duration(s*1000+0.5)*time.Millisecond
}

// sheet prints a person's rounds as "round start work state", times after GO.
func (r *run) sheet(who string, now time.Duration) string {
	var b strings.Builder
	for _, x := range r.s.Rounds(r.s.Part(), r.s.person(who), r.zero+now) {
		fmt.Fprintf(&b, "%d %s %s %s", x.Round, secs(x.Starts-r.zero, x.Starts), secs(x.Work, x.Work), x.State)
		if x.Margin != None {
			fmt.Fprintf(&b, " margin %s", secs(x.Margin, 0))
		}
		if x.Due != None {
			fmt.Fprintf(&b, " due %s waited %s", secs(x.Due-r.zero, 0), secs(x.Waited, 0))
		}
		if x.Unlikely {
			b.WriteString(" unlikely")
		}
		b.WriteString("\n")
	}
	return b.String()
}

func secs(d, none time.Duration) string {
	if none == None {
		return "-"
	}
	return fmt.Sprintf("%.4g", d.Seconds())
}

func (r *run) want(who string, now time.Duration, want string) {
	r.t.Helper()
	var lines []string
	for line := range strings.Lines(want) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	if got := strings.TrimSpace(r.sheet(who, now)); got != strings.Join(lines, "\n") {
		r.t.Errorf("%s:\ngot\n%s\nwant\n%s", who, got, strings.Join(lines, "\n"))
	}
}
