package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

func TestRatioOnOneSled(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: 2 * measure.Whole, Rounds: 4}
	r := begin(t, one(part, "Maren Tove", "A A"))
	r.play(`
		0:31 m
		1:08 t
		2:06 m
		2:43 t
		3:46 m
		4:25 t
		5:30 m
		6:10 t`)
	r.want("Maren", 370*time.Second, `
		1 0 31 done
		2 93 33 done due 93 waited 0
		3 192 34 done due 192 waited 0
		4 294 36 done due 294 waited 0`)
	r.want("Tove", 370*time.Second, `
		1 41 27 done
		2 136 27 done due 122 waited 14
		3 236 29 done due 217 waited 19
		4 340 30 done due 323 waited 17`)
	r.at(400*time.Second, Sleep{})
	if got := r.s.PartEnd(1) - r.zero; got != 370*time.Second {
		t.Errorf("part end = %v, want 6m10s", got)
	}
}

func TestRatioRestRunsOnInAHold(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2}
	r := begin(t, one(part, "Maren", "A"))
	r.play(`
		0:30 m
		0:40 hold
		1:10 resume`)
	// rest is over at 1:00, in the hold; the clock runs again at 1:15
	r.want("Maren", 80*time.Second, `
		1 0 30 done
		2 75 - open due 60 waited 15`)
}

func TestLongPull(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.LongPull, StopCap: time.Minute}, "Maren", "A"))
	for _, x := range []struct {
		at string
		c  Command
	}{
		{"1:35", StopNow{"Maren"}},
		{"1:57", GoOn{"Maren"}},
		{"4:00", StopNow{"Maren"}},
		{"4:31", GoOn{"Maren"}},
		{"6:30", StopNow{"Maren"}},
		{"7:36", GoOn{"Maren"}},
		{"9:00", DoneNow{"Maren"}},
	} {
		if err := r.do(clockOf(t, x.at), x.c); err != nil {
			t.Errorf("%s %T: %v", x.at, x.c, err)
		}
	}
	got := r.s.Rounds(1, 0, r.zero+10*time.Minute)
	if len(got) != 1 || got[0].State != Done || got[0].Work != 9*time.Minute || len(got[0].Stops) != 3 {
		t.Fatalf("Rounds = %+v, want one done round of 9:00 with 3 stops", got)
	}
	if longest := got[0].Stops[2].To - got[0].Stops[2].From; longest != 66*time.Second {
		t.Errorf("third stop = %v, want 1m6s", longest)
	}
}

func TestSetsHoldTheRest(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Sets, Sets: 2, Rest: 2 * time.Minute}
	r := begin(t, one(part, "Maren Tove", "A A"))
	r.play(`
		0:05 m
		0:06 t wait: Maren is on A
		0:15 m
		0:20 t
		0:30 t
		1:00 m wait: Maren has 1:15 of rest left
		2:15 m
		2:27 m
		2:31 t
		2:40 t`)
	r.want("Maren", 3*time.Minute, `
		1 5 10 done
		2 135 12 done due 135 waited 0`)
	r.at(4*time.Minute, Sleep{})
	if got := r.s.PartEnd(1) - r.zero; got != 160*time.Second {
		t.Errorf("part end = %v, want 2m40s", got)
	}
}

func TestForTimeWaves(t *testing.T) {
	t.Parallel()
	part := session.Part{
		Format: session.ForTime, Cap: 2 * time.Minute, WaveEvery: time.Minute,
		Waves: [][]string{{"Maren", "Tove"}, {"Ida"}},
	}
	r := begin(t, one(part, "Maren Tove Ida", "A B A"))
	r.at(70*time.Second, OffSled{"Maren"}) // 10 s late off the sled: only that lane shifts
	r.at(100*time.Second, DoneNow{"Maren"})
	r.want("Maren", 5*time.Minute, `1 0 100 done`)
	r.want("Tove", 5*time.Minute, `1 0 120 capped`)
	r.want("Ida", 5*time.Minute, `1 80 120 capped`)
}

func TestRampProposesAndStops(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ramp}
	p := one(part, "Maren", "A")
	p.Parts[0].Places[0].Spots[0].Asked = 60 * kg // half of a guess of 120 kg
	p.Parts[0].Places[0].Spots[0].Moves = 57 * kg
	p.Parts[0].Places[0].Spots[0].Stack = []string{"20 kg", "10 kg"}
	r := begin(t, p)
	r.play(`
		0:00 m
		0:12 m
		1:00 m wait: Maren has 2:12 of rest left
		3:12 m
		3:32 m
		6:32 m`)
	if err := r.do(clockOf(t, "7:00"), Miss{Who: "Maren"}); err != nil {
		t.Fatal(err)
	}
	r.play(`
		10:00 m`)
	r.at(clockOf(t, "10:30"), Miss{Who: "Maren"})
	r.play(`
		14:00 m the part is over`)
	var moves []measure.Mass
	for _, x := range r.s.Rounds(1, 0, r.zero+14*time.Minute) {
		moves = append(moves, x.Moves/kg)
	}
	// 57; +20 after 12 s: 77; +10 after 20 s: 87; missed; half the last jump on the last good: 82
	want := []measure.Mass{57, 77, 87, 82}
	if len(moves) != 4 || moves[0] != want[0] || moves[1] != want[1] || moves[2] != want[2] || moves[3] != want[3] {
		t.Errorf("loads = %v kg, want %v", moves, want)
	}
}

// TestMovedBehindThoseOfTheSled: whoever is moved to another sled before the start goes behind those who
// stand there, whatever their order was where they come from.
func TestMovedBehindThoseOfTheSled(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}, "Ada Cleo Dag", "A B B"))
	r.at(-5*time.Second, MoveTo{Who: "Ada", On: "B"})
	r.must("0:30", Press{"Cleo"})
	r.must("1:10", Press{"Dag"}) // who began at 0:40
	r.want("Dag", 80*time.Second, "1 40 30 done")
	r.want("Ada", 90*time.Second, "1 80 - open")
}

// TestMovedAtAnotherStation: on a clock of their own people stand in the queue of their first station's sled;
// another sled at the second moves nobody into another queue.
func TestMovedAtAnotherStation(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2, Stations: make([]session.Station, 2)}
	r := begin(t, one(part, "Ada Bo", "A B"))
	r.must("0:10", MoveTo{Who: "Ada", On: "B"})
	r.must("0:30", Press{"Ada"})
	r.want("Ada", 70*time.Second, `
		1 0 30 done
		2 60 - open due 60 waited 0`)
}

// TestNothingBeginsAfterThePart: a part that is skipped in a rest has no round after it, and no cap ends the
// one that ran.
func TestNothingBeginsAfterThePart(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3, Cap: 40 * time.Second}
	r := begin(t, one(part, "Ada Bo", "A B"))
	r.must("0:30", Press{"Ada"}) // round 2 at 1:00
	r.must("0:35", Skip{})
	r.want("Ada", 2*time.Minute, "1 0 30 done")
	r.want("Bo", 2*time.Minute, "1 0 - open")
	for _, m := range r.s.Due(nil, r.zero+36*time.Second, r.zero+2*time.Minute) {
		if m.Kind == OwnBegin || m.Kind == TenLeft {
			t.Errorf("after the part %+v is heard", m)
		}
	}
}

// TestDueAtOneInstant: of two who are due on one sled in the same instant whoever has yet to do a first round goes
// by the queue, whatever the list says; a latecomer stands at its end, and so does who is moved there.
func TestDueAtOneInstant(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}
	r := begin(t, one(part, "Cleo Ada", "- A"))
	r.must("0:10", Arrive{Who: "Cleo", WarmUp: 50 * time.Second})
	for _, e := range []asked{{"0:12", MoveTo{Who: "Cleo", On: "A"}}, {"0:30", Press{"Ada"}}} { // both are due at 1:00
		r.must(e.at, e.c)
	}
	r.want("Ada", 65*time.Second, `
		1 0 30 done
		2 60 - open due 60 waited 0`)
	r.want("Cleo", 65*time.Second, "")
	r = begin(t, one(part, "Ada Cleo", "B -"))
	r.must("0:10", Arrive{Who: "Cleo", WarmUp: 50 * time.Second}) // on A
	r.must("0:30", Press{"Ada"})
	r.must("0:40", MoveTo{Who: "Ada", On: "A"})
	r.want("Cleo", 65*time.Second, "1 60 - open")
	r.want("Ada", 65*time.Second, "1 0 30 done")
}

// TestStopIsNotEndedByALook: who looks ahead to the cap of a long pull does not end the stop that lasts.
func TestStopIsNotEndedByALook(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.LongPull, Cap: 2 * time.Minute}, "Ada", "A"))
	r.must("1:50", StopNow{"Ada"})
	r.s.Tiles(nil, 1, r.zero+3*time.Minute)
	r.must("1:55", GoOn{"Ada"})
	stops := r.s.Rounds(1, 0, r.zero+118*time.Second)[0].Stops
	if len(stops) != 1 || stops[0].To != r.zero+115*time.Second {
		t.Errorf("she stood %+v, want up to 1:55", stops)
	}
}
