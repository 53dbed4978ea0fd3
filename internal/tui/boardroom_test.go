package tui

import (
	"fmt"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// boathouse is a world whose board is really dealt: four people at two stations, on
// two sleds each, and as many plates as anybody can want. The plan of the run that
// is opened goes to *ran.
func boathouse(t *testing.T, log *notebook, ran **floor.Plan) *World {
	t.Helper()
	s, err := session.Parse("slack-water.toml", []byte(`title = "Slack water"
aim = "conditioning"
[[part]]
format = "every"
every = "3:00"
rounds = 2
[[part.station]]
movement = "forward drag"
distance = "20 m"
load = "30 kg"
expect = "20 s"
on = ["A", "B"]
[[part.station]]
movement = "sled row"
distance = "20 m"
load = "20 kg"
expect = "20 s"
on = ["C", "D"]
`))
	if err != nil {
		t.Fatal(err)
	}
	var kitText strings.Builder
	kitText.WriteString("step = \"2.5 kg\"\n[strip]\nlength = \"25 m\"\nsurface = \"turf\"\nlanes = 4\n[[plates]]\nmass = \"10 kg\"\ncount = 20\n[[plates]]\nmass = \"5 kg\"\ncount = 20\n")
	for _, name := range "ABCD" {
		fmt.Fprintf(&kitText, "[[sled]]\nname = \"%c\"\ntare = \"20 kg\"\nposts = 1\n", name)
	}
	k, err := kit.Parse("kit.toml", []byte(kitText.String()))
	if err != nil {
		t.Fatal(err)
	}
	r := &roster.Roster{}
	for _, name := range crew[:4] {
		r.Athletes = append(r.Athletes, roster.Athlete{Name: name, Key: strings.ToLower(name[:1])})
	}
	w := world(s.Parts[0], 4, 4, log)
	w.Roster, w.Kit, w.House, w.Sessions = r, k, house.Default(), []*session.Session{s}
	w.Board = func(d Day) (*lanes.Board, *floor.Plan, error) {
		b := lanes.Make(lanes.Input{Session: d.Session, Kit: d.Kit, Roster: r, House: w.House, Here: d.Who, Edits: d.Edits})
		return b, floor.MakePlan(b, r, d.Kit, w.House, d.Who), nil
	}
	open := w.Open
	w.Open = func(p *floor.Plan) (*Log, error) {
		*ran = p
		return open(p)
	}
	return w
}

// TestBoardIsWhatRuns: what the coach changes on the board, at each station, is
// priced at once, and is what stands in the log and what the presses count for.
func TestBoardIsWhatRuns(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		log, ran := &notebook{}, (*floor.Plan)(nil)
		play(t, boathouse(t, log, &ran), 80, 24, func(s *stage) {
			s.keys("enter", "enter")
			s.want("1 forward drag", "2 sled row", "A    m Maren", "+ - load   / movement")
			s.keys("+") // Maren's drag: 30 kg and a step of 5
			s.want("ends as before: Maren a step heavier", "55 kg  10+10+10+5 kg")
			s.keys("down", "down", "down", "down", "-") // the first at the second station
			s.want("a step lighter", "35 kg  10+5 kg")
			s.keys("/")
			s.want("does a forward drag", "10+5 kg  forward drag")
			s.keys("right")
			s.want("Maren to D", "moves too: Eskil")
			s.keys("up", "up", "up", "right") // Odd, from B to A
			s.want("Odd to A; moves too: Tuva")
			s.keys("enter", "space")
			s.wait(12 * time.Second)
			s.keys("m")
			s.wait(3 * time.Minute)
			s.keys("m")
		})
		if ran == nil {
			t.Fatal("the run was not opened")
		}
		drag, row := ran.Parts[0].Places[0].Spots[0], ran.Parts[0].Places[0].Spots[1]
		if drag.Moves != 55*kg || strings.Join(drag.Stack, " ") != "10 kg 10 kg 10 kg 5 kg" || drag.Swap != "" {
			t.Errorf("at the drag the log has %+v, want 55 kg", drag)
		}
		if row.Moves != 35*kg || row.Swap != "forward drag" || row.On != "D" {
			t.Errorf("at the row the log has %+v, want 35 kg on D, a forward drag", row)
		}
		st := floor.New()
		st.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: ran}})
		for _, e := range log.kept {
			st.Apply(e)
		}
		rounds := st.Rounds(1, 0, 10*time.Minute)
		if len(rounds) != 2 || rounds[0].Work == 0 || rounds[1].Work == 0 {
			t.Fatalf("rounds %+v, want two with a time", rounds)
		}
		for _, r := range rounds {
			if want := ran.Parts[0].Places[0].Spots[r.Station-1]; r.Moves != want.Moves || r.On != want.On {
				t.Errorf("round %d at station %d moves %v on %s, want %v on %s", r.Round, r.Station, r.Moves, r.On, want.Moves, want.On)
			}
		}
	})
}
