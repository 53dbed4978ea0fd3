package tui

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/colorprofile"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

const kg = measure.Kilogram

// crew is the invented crew of a harbour boathouse, in roster order.
var crew = []string{
	"Maren", "Eskil", "Tuva", "Odd", "Ragna", "Halvard", "Signe", "Birk",
	"Ylva", "Jorunn", "Njord", "Astrid", "Frode", "Liv", "Kåre", "Peder",
}

// class is a plan with one part for the first n of the crew on sleds A, B, C, D in
// turn, with the defaults of the house.
func class(part session.Part, n, sleds int) *floor.Plan {
	h := house.Default()
	p := &floor.Plan{Session: "slack-water", Title: "Slack water", Aim: session.Conditioning, House: h, Kit: &kit.Kit{Step: 2500 * measure.Gram}}
	if len(part.Stations) == 0 {
		part.Stations = []session.Station{{Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}
	}
	pp := floor.PartPlan{Spec: part, Heats: 1}
	for _, s := range "ABCD"[:sleds] {
		p.Kit.Sleds = append(p.Kit.Sleds, kit.Sled{Name: string(s), Tare: 27 * kg, Posts: 1})
	}
	for _, stamp := range []string{"20 kg", "10 kg", "5 kg"} {
		p.Kit.Plates = append(p.Kit.Plates, kit.Plates{Stamp: stamp, Mass: mass(stamp), Count: 6})
	}
	for range part.Stations {
		st := floor.StationPlan{Legs: 1, Leg: 20 * measure.Metre}
		for _, s := range p.Kit.Sleds {
			st.On = append(st.On, floor.Thing{Name: s.Name, Tare: s.Tare, Ends: 1})
		}
		pp.Stations = append(pp.Stations, st)
	}
	stacks := [][]string{{"20 kg", "20 kg"}, {"20 kg", "10 kg"}, {"20 kg"}, {"10 kg", "5 kg"}, {}}
	for i, name := range crew[:n] {
		key := strings.ToLower(name[:1])
		p.People = append(p.People, floor.Person{Name: name, Key: key, Here: true})
		st := stacks[i%len(stacks)]
		moves := 27 * kg
		for _, plate := range st {
			moves += mass(plate)
		}
		pl := floor.Place{Heat: 1}
		for range part.Stations {
			pl.Spots = append(pl.Spots, floor.Spot{
				On: p.Kit.Sleds[i%sleds].Name, Order: i / sleds, Ends: 1, Tare: 27 * kg,
				Stack: st, Moves: moves, Asked: moves, Est: i == 2, Expect: 30 * time.Second,
			})
		}
		pp.Places = append(pp.Places, pl)
	}
	p.Parts = []floor.PartPlan{pp}
	return p
}

func mass(stamp string) measure.Mass {
	m, err := measure.ParseMass(stamp)
	if err != nil {
		panic(err) // a table of this test is wrong
	}
	return m
}

func everyPart() session.Part {
	return session.Part{Format: session.Every, Every: 75 * time.Second, Rounds: 8, Late: session.SitOut, CountIn: 10 * time.Second}
}

// run is a state that a plan and commands made; each command is at a room time
// counted from the first GO, which is at 0:10.
type run struct {
	t    testing.TB
	st   *floor.State
	kept []floor.Stamped
}

const ten = 10 * time.Second

func begin(t testing.TB, p *floor.Plan) *run {
	t.Helper()
	r := &run{t: t, st: floor.New()}
	r.st.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: p}})
	r.do(-ten, floor.Go{})
	return r
}

func (r *run) do(at time.Duration, c floor.Command) {
	r.t.Helper()
	events, err := floor.Decide(r.st, c, at+ten)
	if err != nil {
		r.t.Fatalf("%v at %v: %v", c, at, err)
	}
	r.take(events)
}

func (r *run) take(events []floor.Stamped) {
	for _, e := range events {
		r.st.Apply(e)
		r.kept = append(r.kept, e)
	}
}

// to lets the clock run.
func (r *run) to(at time.Duration) *run {
	r.take(floor.Advance(r.st, at+ten))
	return r
}

// midClass is a class of n in its third round: two have finished, one was late in
// the round before and sits this one out.
func midClass(t *testing.T, n, sleds int) *run {
	t.Helper()
	r := begin(t, class(everyPart(), n, sleds))
	at := 30 * time.Second
	for k := range 2 {
		for i := range min(n, sleds) {
			r.do(time.Duration(k)*75*time.Second+at+time.Duration(i)*4*time.Second, floor.Press{Who: crew[i]})
		}
	}
	if n > 1 {
		r.do(150*time.Second+31*time.Second, floor.Press{Who: crew[1]})
	}
	return r.to(150*time.Second + 40*time.Second)
}

var plainLook = Look{Profile: colorprofile.TrueColor}.ready()
