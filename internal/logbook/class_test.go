package logbook

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

var update = flag.Bool("update", false, "write the golden files anew")

const run = "01KB0000000000000000000001"

// opening is a wall clock with an offset and a fraction of a millisecond.
func opening() time.Time {
	return time.Date(2026, 11, 25, 18, 2, 0, 123_456_789, time.FixedZone("", 3600))
}

// long reports whether every suite runs its long count: HAWSER_LONG=1 go test
// -timeout 0 . does that.
func long() bool { return os.Getenv("HAWSER_LONG") != "" }

// count is how often a suite tries: few, or many in the long count.
func count(few, many int) int {
	switch {
	case long():
		return many
	case testing.Short():
		return 1 + few/8
	}
	return few
}

// spent reports whether the time that a long count was given is as good as over: it
// then ends with what it has reached.
func spent(t *testing.T) bool {
	t.Helper()
	end, ok := t.Deadline()
	return ok && long() && time.Until(end) < time.Minute
}

// stride is the step of a suite that is exhaustive in the long count.
func stride(wide int) int {
	switch {
	case long():
		return 1
	case testing.Short():
		return 8 * wide
	}
	return wide
}

// openedBy is a run with a small plan.
func openedBy(id string, wall time.Time) floor.Opened {
	return floor.Opened{Run: id, Wall: wall, Plan: &floor.Plan{
		Session: "slack-water", Title: "Slack water <with> Maren & crew", Aim: session.Conditioning,
		People: []floor.Person{{Name: "Maren", Key: "m", Here: true}, {Name: "Eskil", Key: "e", Here: true}, {Name: "Åse Ø", Key: "a"}},
		Kit: &kit.Kit{
			Step: 2500 * measure.Gram, Sleds: []kit.Sled{{Name: "A", Tare: 27 * measure.Kilogram, Posts: 1}},
			Surfaces: []kit.Surface{{Name: "rubber", PullHere: 40 * measure.Kilogram, PullOn: map[string]measure.Mass{"turf": 28 * measure.Kilogram}}},
		},
		House: &house.House{Show: "kg", WarmUp: 5 * time.Minute},
		Parts: []floor.PartPlan{{
			Spec:     session.Part{Format: session.Every, Every: 75 * time.Second, Rounds: 8, Sides: [][]string{{"Maren"}, {"Eskil", "Åse Ø"}}},
			Stations: []floor.StationPlan{{On: []floor.Thing{{Name: "A", Tare: 27 * measure.Kilogram, Ends: 1}}, Legs: 1, Leg: 20 * measure.Metre}},
			Heats:    1,
			Places:   []floor.Place{{Heat: 1, Spots: []floor.Spot{{On: "A", Ends: 1, Tare: 27 * measure.Kilogram, Stack: []string{"20 kg"}}}}},
		}},
	}}
}

// firstFormat is how many of the public ones there were in the first format.
const firstFormat = 29

// everyEvent is one of each, with every field set, in the order of a class; those
// that came after the first format stand behind all others.
func everyEvent() []floor.Event {
	return []floor.Event{
		openedBy(run, opening().Truncate(time.Millisecond)),
		floor.Started{Part: 1, At: 22 * time.Second},
		floor.HeatStarted{Part: 1, Heat: 2},
		floor.Pressed{Who: "Maren", Part: 1, Round: 1, As: "done"},
		floor.AttemptMissed{Who: "Maren", Part: 1, Round: 2, At: 22 * measure.Metre},
		floor.Undone{Of: 4},
		floor.Held{},
		floor.Resumed{At: 99 * time.Second},
		floor.Restarted{Part: 1, Round: 2, At: 3 * time.Minute},
		floor.Struck{Who: "Eskil", Part: 1, Round: 2, Reason: "Maren stood in the lane"},
		floor.Given{Who: "Maren", To: "Eskil", Part: 1, Round: 1},
		floor.Arrived{Who: "Åse Ø", Part: 1, Round: 3, Ready: 5 * time.Minute, Places: []floor.Place{{Heat: 1, Side: 1, Spots: []floor.Spot{{On: "A"}}}}},
		floor.GuestAdded{Who: `Ole "the Rope" Berg`, Key: "o"},
		floor.LoadChanged{Who: "Maren", Part: 1, Station: 1, Round: 3, Stack: []string{"20 kg", "5 kg"}, Moves: 52 * measure.Kilogram, Added: 25 * measure.Kilogram},
		floor.DistanceCut{Who: "Maren", Part: 1, Station: 1, Round: 3, To: 15 * measure.Metre},
		floor.Swapped{Who: "Maren", Part: 1, Station: 1, Round: 4, Movement: "sled row"},
		floor.SledOut{On: "A"},
		floor.SledBack{On: "A"},
		floor.SledLeft{Who: "Maren", Part: 1},
		floor.LaneChanged{Who: "Maren", Part: 1, Station: 1, Round: 4, Place: floor.Spot{On: "A", Order: 1, Sets: []floor.Set{{Stack: []string{"5 kg"}, Moves: 1}}}},
		floor.Typed{Who: "Maren", Part: 1, Round: 4, Work: 31400 * time.Millisecond, NoTime: true},
		floor.Partial{Who: "Maren", Part: 1, Round: 5, Metres: 20 * measure.Metre, Reps: 14},
		floor.PartSkipped{Part: 1},
		floor.PartLengthened{Part: 1, By: -time.Minute},
		floor.PartEnded{Part: 1},
		floor.Slept{For: 40 * time.Second},
		floor.Recovered{Gap: 75 * time.Second, Cut: 17},
		floor.Left{Who: "Maren"},
		floor.EffortGiven{Who: "Maren", Effort: 7},
		floor.PainGiven{Who: "Maren", Pain: 3, Site: "knee"},
		floor.Noted{Who: "Maren", Text: "Maren leads with the left, \"c\":\"00000000\"}\n{} \x1b[31m"},
		floor.Ended{},
		floor.IntervalChanged{Part: 1, Round: 4, Every: 90 * time.Second},
		floor.PullCut{Part: 1, Station: 1, Round: 4, To: 15 * measure.Metre},
	}
}

// class stamps every event: public ones by number, 1.25 s and a little apart.
func class() []floor.Stamped {
	var out []floor.Stamped
	n := 0
	for i, e := range everyEvent() {
		s := floor.Stamped{T: time.Duration(i) * 1250 * time.Millisecond, E: e}
		if !private(e) {
			n++
			s.N = n
		}
		out = append(out, s)
	}
	return out
}

// part returns the public or the private events.
func part(events []floor.Stamped, wantPrivate func(floor.Event) bool) []floor.Stamped {
	var out []floor.Stamped
	for _, e := range events {
		if wantPrivate(e.E) {
			out = append(out, e)
		}
	}
	return out
}

func public(e floor.Event) bool { return !private(e) }

// equal reports whether two runs of events are the same; wall clocks by their instant.
func equal(a, b []floor.Stamped) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].N != b[i].N || a[i].T != b[i].T || !equalEvent(a[i].E, b[i].E) {
			return false
		}
	}
	return true
}

func equalEvent(a, b floor.Event) bool {
	x, ok := a.(floor.Opened)
	y, also := b.(floor.Opened)
	if ok && also {
		same := x.Wall.Equal(y.Wall)
		x.Wall, y.Wall = time.Time{}, time.Time{}
		return same && reflect.DeepEqual(x, y)
	}
	return reflect.DeepEqual(a, b)
}

// must returns v, or ends the test.
func must[T any](t *testing.T) func(v T, err error) T {
	t.Helper()
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// keptClass writes a class to a file system and returns its one run.
func keptClass(t *testing.T, f files, events []floor.Stamped) Run {
	t.Helper()
	h := &Home{files: f}
	w := must[*Writer](t)(h.Create(events[0]))
	if err := w.Append(events[1:]...); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	all := must[[]Run](t)(h.Runs())
	if len(all) != 1 {
		t.Fatalf("%d runs, want 1", len(all))
	}
	return all[0]
}

// say makes a case readable.
func say(events []floor.Stamped) string {
	s := fmt.Sprintf("%d events", len(events))
	if len(events) > 0 {
		s += fmt.Sprintf(", the last %d", events[len(events)-1].N)
	}
	return s
}
