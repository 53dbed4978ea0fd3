package floor_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

const makeKit = `step = "2.5 kg"
[strip]
length = "25 m"
surface = "turf"
[[sled]]
name = "A"
tare = "27 kg"
[[sled]]
name = "B"
tare = "30 kg"
[[bar]]
name = "bar"
tare = "20 kg"
count = 2
[[plates]]
mass = "20 kg"
count = 8
[[plates]]
mass = "10 kg"
count = 8
[[plates]]
mass = "5 kg"
count = 8
`

const makeRoster = `[[athlete]]
name = "Ada"
key = "a"
body_mass = "60 kg"
[[athlete.best]]
movement = "sled row"
load = "100 kg"
how = "tested"
[[athlete.best]]
movement = "deadlift"
load = "100 kg"
how = "tested"
[[athlete]]
name = "Bo"
key = "b"
body_mass = "80 kg"
[[athlete.best]]
movement = "deadlift"
load = "120 kg"
reps = 5
how = "reps"
[[athlete]]
name = "Cleo"
key = "c"
`

const makeSession = `title = "Slack"
aim = "conditioning"
[[part]]
format = "every"
every = "2:00"
rounds = 4
late = "note"
[[part.station]]
movement = "forward drag"
distance = "40 m"
load = "50% body mass"
expect = "30 s"
[[part]]
format = "sets"
sets = 2
rest = "2:00"
[[part.station]]
movement = "deadlift"
reps = 3
load = ["50% 1RM", "60% 1RM"]
[[part]]
format = "ramp"
[[part.station]]
movement = "sled row"
distance = "20 m"
guess = "110 kg"
[[part]]
format = "ramp"
[[part.station]]
movement = "sled row"
distance = "20 m"
`

// made reads a day and makes the plan of it.
func made(t *testing.T, sessionText string, who []string, accepted ...session.Accepted) *floor.Plan {
	t.Helper()
	return madeBy(t, house.Default(), sessionText, who, accepted...)
}

func madeBy(t *testing.T, h *house.House, sessionText string, who []string, accepted ...session.Accepted) *floor.Plan {
	t.Helper()
	s, err := session.Parse("slack", []byte(sessionText))
	if err != nil {
		t.Fatal(err)
	}
	s.Name = "slack"
	r, err := roster.Parse("roster", []byte(makeRoster))
	if err != nil {
		t.Fatal(err)
	}
	k, err := kit.Parse("kit", []byte(makeKit))
	if err != nil {
		t.Fatal(err)
	}
	b := lanes.Make(lanes.Input{Session: s, Roster: r, Kit: k, House: h, Here: who, Accepted: accepted})
	return floor.MakePlan(b, r, k, h, who)
}

// spots prints where a person stands in each part: "HEAT: ON STACK = MOVES of ASKED", with a
// tilde where that rests on an estimate.
func spots(p *floor.Plan, who string) string {
	i := slices.IndexFunc(p.People, func(x floor.Person) bool { return x.Name == who })
	var parts []string
	for _, part := range p.Parts {
		parts = append(parts, placed(&part.Places[i]))
	}
	return strings.Join(parts, "; ")
}

func placed(pl *floor.Place) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d:", pl.Heat)
	for _, sp := range pl.Spots {
		fmt.Fprintf(&b, " %s %v = %g of %g", sp.On, sp.Stack, sp.Moves.KG(), sp.Asked.KG())
		if sp.Est {
			b.WriteString(" ~")
		}
		for _, set := range sp.Sets {
			fmt.Fprintf(&b, " | %v = %g", set.Stack, set.Moves.KG())
		}
	}
	return b.String()
}

// TestMakePlan: a board becomes a plan. Who is here has a heat and plates; who is not has what
// they would ask for, where that can be told, and so has a guest. Bo's 1RM is Epley's of five
// times 120 kg, 140 kg; whoever has no max starts bare.
func TestMakePlan(t *testing.T) {
	t.Parallel()
	p := made(t, makeSession, []string{"Ada", "Bo"})
	for _, c := range []struct{ who, want string }{
		{"Ada", "1: A [20 kg 10 kg] = 57 of 57; 1: bar [10 kg 5 kg] = 50 of 50 | [10 kg 5 kg] = 50 | [10 kg 5 kg 5 kg] = 60; " +
			"1: A [20 kg 10 kg] = 57 of 55; 1: B [20 kg] = 50 of 50"},
		{"Bo", "1: B [20 kg 20 kg] = 70 of 70; 1: bar 2 [20 kg 5 kg] = 70 of 70 ~ | [20 kg 5 kg] = 70 | [20 kg 5 kg 5 kg] = 80; " +
			"1: B [20 kg 5 kg] = 55 of 55; 1: A [] = 27 of 27"},
		{"Cleo", "0:  [] = 0 of 0; 0:  [] = 0 of 0 | [] = 20 | [] = 20; 0:  [] = 0 of 55; 0:  [] = 0 of 27"},
	} {
		if got := spots(p, c.who); got != c.want {
			t.Errorf("%s stands at\n%s\nwant\n%s", c.who, got, c.want)
		}
	}
	if got := placed(&p.Parts[2].Guest); got != "0:  [] = 0 of 55" {
		t.Errorf("a guest of the ramp asks %s, want half of the guess", got)
	}
	if p.Session != "slack" || p.Title != "Slack" || len(p.People) != 3 || !p.People[0].Here || p.People[2].Here || p.People[1].Key != "b" {
		t.Errorf("the plan is of %s, %q, for %+v", p.Session, p.Title, p.People)
	}
	first := p.Parts[0]
	if first.Spec.Late != session.NoteIt || first.Heats != 1 || first.Stations[0].Legs != 2 || len(first.Stations[0].On) != 2 ||
		first.Stations[0].On[1] != (floor.Thing{Name: "B", Tare: 30_000_000_000, Ends: 1}) {
		t.Errorf("part 1 is %+v", first)
	}
	if late := p.Parts[1].Spec.Late; late != session.SitOut {
		t.Errorf("where nothing is written late is %q, want the house's", late)
	}
	if on := p.Parts[0].Places[2].Spots[0]; on.Tare != 27_000_000_000 || on.Ends != 1 {
		t.Errorf("who may come is planned for %+v, want the first sled", on)
	}
	if everyone := made(t, makeSession, nil); !everyone.People[2].Here {
		t.Error("where nobody is named, not all are here")
	}
}

// TestMakePlanOfThoseWhoMayCome: each asks for what the session says, as it counts for them.
func TestMakePlanOfThoseWhoMayCome(t *testing.T) {
	t.Parallel()
	p := made(t, makeSession, []string{"Cleo"})
	for _, c := range []struct{ who, want string }{
		{"Ada", "0:  [] = 0 of 57; 0:  [] = 0 of 50 | [] = 50 | [] = 60; 0:  [] = 0 of 55; 0:  [] = 0 of 50"},
		{"Bo", "0:  [] = 0 of 67; 0:  [] = 0 of 70 ~ | [] = 70 | [] = 84; 0:  [] = 0 of 55; 0:  [] = 0 of 27"},
	} {
		if got := spots(p, c.who); got != c.want {
			t.Errorf("%s would ask\n%s\nwant\n%s", c.who, got, c.want)
		}
	}
}

// TestMakePlanTakesWhatWasAccepted: for somebody who may come later the load that the coach has
// accepted stands in the plan; that of another session, part, station or movement does not.
func TestMakePlanTakesWhatWasAccepted(t *testing.T) {
	t.Parallel()
	good := session.Accepted{
		Athlete: "Ada", Session: "slack", Part: 1, Station: 1, Movement: "forward drag", Load: 62_000_000_000,
		Date: time.Date(2026, 11, 18, 0, 0, 0, 0, time.UTC),
	}
	for _, c := range []struct {
		says   string
		change func(a *session.Accepted)
		want   float64
	}{
		{"as it is", func(*session.Accepted) {}, 62},
		{"of another session", func(a *session.Accepted) { a.Session = "flood" }, 57},
		{"of a part that is not there", func(a *session.Accepted) { a.Part = 5 }, 57},
		{"of another part", func(a *session.Accepted) { a.Part = 2 }, 57},
		{"of a station that is not there", func(a *session.Accepted) { a.Station = 2 }, 57},
		{"of another movement", func(a *session.Accepted) { a.Movement = "sled row" }, 57},
		{"of somebody else", func(a *session.Accepted) { a.Athlete = "Bo" }, 57},
	} {
		a := good
		c.change(&a)
		p := made(t, makeSession, []string{"Cleo"}, a)
		if got := p.Parts[0].Places[0].Spots[0].Asked.KG(); got != c.want {
			t.Errorf("%s: Ada would ask %g kg, want %g", c.says, got, c.want)
		}
	}
	last := good
	last.Part, last.Movement, last.Load = 4, "sled row", 61_000_000_000
	if got := made(t, makeSession, []string{"Cleo"}, last).Parts[3].Places[0].Spots[0].Asked.KG(); got != 61 {
		t.Errorf("in the last part Ada would ask %g kg, want the 61 accepted", got)
	}
}

// TestMakePlanTakesMetresAccepted: of a long pull it is the metres that are accepted.
func TestMakePlanTakesMetresAccepted(t *testing.T) {
	t.Parallel()
	const long = `title = "Slack"
aim = "endurance"
[[part]]
format = "%s"
%s
[[part.station]]
movement = "forward drag"
distance = "100 m"
load = "20 kg"
`
	a := session.Accepted{Athlete: "Ada", Session: "slack", Part: 1, Station: 1, Movement: "forward drag", Distance: 120 * measure.Metre}
	for format, want := range map[string]measure.Distance{"long pull": 120 * measure.Metre, "for time": 0} {
		p := made(t, fmt.Sprintf(long, format, map[string]string{"for time": `cap = "5:00"`}[format]), []string{"Cleo"}, a)
		if got := p.Parts[0].Places[0].Spots[0].Metres; got != want {
			t.Errorf("in a %s Ada would pull %v µm, want %v", format, got, want)
		}
	}
}

// TestMakePlanKeepsTheWayOut: the heats that the board has taken are in force.
func TestMakePlanKeepsTheWayOut(t *testing.T) {
	t.Parallel()
	const tight = `title = "Slack"
aim = "conditioning"
[[part]]
format = "every"
every = "0:30"
rounds = 4
[[part.station]]
movement = "forward drag"
distance = "40 m"
load = "30 kg"
expect = "30 s"
on = "A"
`
	longer := house.Default()
	longer.WhenItDoesNotFit = "longer interval"
	if p := madeBy(t, longer, tight, nil); p.Parts[0].Heats != 1 || p.Parts[0].Spec.Every <= 90*time.Second {
		t.Errorf("with a longer interval: %d heats of %v, want one, of 1:30 and the handovers", p.Parts[0].Heats, p.Parts[0].Spec.Every)
	}
	p := made(t, tight, nil)
	if p.Parts[0].Heats != 3 || p.Parts[0].Spec.Every != 30*time.Second {
		t.Errorf("in heats: %d of %v, want 3 of 30 s", p.Parts[0].Heats, p.Parts[0].Spec.Every)
	}
	for i, want := range []int{1, 2, 3} {
		if got := p.Parts[0].Places[i].Heat; got != want {
			t.Errorf("%s is in heat %d, want %d", p.People[i].Name, got, want)
		}
	}
}

// TestMakePlanOfWhatCannotBeTold: who may come asks for nothing where the session asks for no load, nor where one of the
// sets is more than an estimated max may be asked for.
func TestMakePlanOfWhatCannotBeTold(t *testing.T) {
	t.Parallel()
	const text = `title = "Slack"
aim = "conditioning"
[[part]]
format = "every"
every = "2:00"
rounds = 4
[[part.station]]
movement = "sled row"
distance = "20 m"
[[part]]
format = "sets"
sets = 2
rest = "2:00"
[[part.station]]
movement = "deadlift"
reps = 3
load = ["50% 1RM", "90% 1RM"]
`
	p := made(t, text, []string{"Cleo"})
	for _, c := range []struct{ who, want string }{
		{"Ada", "0:  [] = 0 of 0; 0:  [] = 0 of 50 | [] = 50 | [] = 90"}, // her max is tested
		{"Bo", "0:  [] = 0 of 0; 0:  [] = 0 of 0"},
	} {
		if got := spots(p, c.who); got != c.want {
			t.Errorf("%s would ask\n%s\nwant\n%s", c.who, got, c.want)
		}
	}
}
