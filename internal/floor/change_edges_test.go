package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// twoParts is two parts with Ada and Bo in both.
func twoParts(a, b session.Part, on string) *Plan {
	p := one(a, "Ada Bo", on)
	p.Parts = append(p.Parts, one(b, "Ada Bo", on).Parts...)
	if !b.Format.Pulls() {
		p.Parts[1] = PartPlan{Spec: b, Heats: 1, Places: make([]Place, len(p.People))}
	}
	if !a.Format.Pulls() {
		p.Parts[0] = PartPlan{Spec: a, Heats: 1, Places: make([]Place, len(p.People))}
	}
	return p
}

// TestChangesAreForTheirPart: a load is changed in the part that is on, though another follows; in a
// rest after the last part there is nothing to change, and in a warm-up nothing to correct.
func TestChangesAreForTheirPart(t *testing.T) {
	t.Parallel()
	sets := session.Part{Format: session.Sets, Sets: 3, Rest: time.Minute}
	r := begin(t, twoParts(everyMinute(3), sets, "A B"))
	r.must("0:10", Change{Who: "Ada", By: -20 * kg})
	if e, ok := r.log[len(r.log)-1].E.(LoadChanged); !ok || e.Part != 1 || e.Round != 2 {
		t.Errorf("changed: %+v, want round 2 of part 1", e)
	}
	r = begin(t, twoParts(everyMinute(1), session.Part{Format: session.Break, Cap: 2 * time.Minute}, "A B"))
	r.must("1:10", Sleep{})
	if r.s.Part() != 2 {
		t.Fatalf("part %d, want the rest", r.s.Part())
	}
	r.refused("1:20", Change{Who: "Ada", By: -20 * kg}, "Ada is not in this part")
	if f := r.s.Face(r.zero + 80*time.Second); f.Phase != Resting || f.Left != 100*time.Second {
		t.Errorf("in a rest that ends the class the wall says %+v, want 1:40 of it left", f)
	}
	r = begin(t, twoParts(session.Part{Format: session.WarmUp, Cap: 2 * time.Minute}, everyMinute(1), "A B"))
	r.refused("0:20", ByHand{Who: "Ada", Work: time.Second}, "nobody has pulled yet")
}

// TestLatePressInARest: the last round of a part can be finished late in the rest after it, for as
// long as a round; later a rest needs no press.
func TestLatePressInARest(t *testing.T) {
	t.Parallel()
	rest := session.Part{Format: session.Break, Cap: 5 * time.Minute}
	r := begin(t, twoParts(everyMinute(1), rest, "A B"))
	r.must("2:00", Press{"Ada"})
	r.refused("2:00.001", Press{"Bo"}, "no press is needed in a rest")
}

// TestArrivalsAtTheEdge: whoever is warm at the very start of a round is in it; before GO all are; and
// in a later part they arrive in that one. A letter goes to who asks for it first.
func TestArrivalsAtTheEdge(t *testing.T) {
	t.Parallel()
	arrived := func(r *run) Arrived {
		t.Helper()
		e, ok := r.log[len(r.log)-1].E.(Arrived)
		if !ok {
			t.Fatalf("the last event is %+v", r.log[len(r.log)-1])
		}
		return e
	}
	r := begin(t, one(everyMinute(5), "Ada Bo Cleo", "A - -"))
	r.must("0:10", Arrive{Who: "Bo", WarmUp: 110 * time.Second})
	if e := arrived(r); e.Round != 3 || e.Part != 1 {
		t.Errorf("Bo is warm at 2:00: %+v, want round 3", e)
	}
	r.must("0:10", Arrive{Who: "Cleo", WarmUp: 110*time.Second + time.Millisecond})
	if e := arrived(r); e.Round != 4 {
		t.Errorf("Cleo is warm just after 2:00: %+v, want round 4", e)
	}
	for _, at := range []string{"2:05", "2:07.999"} { // late for round 2? he had none
		r := begin(t, one(everyMinute(5), "Ada Bo", "A -"))
		r.must("0:10", Arrive{Who: "Bo", WarmUp: 110 * time.Second})
		r.must(at, Press{"Bo"})
		if e := r.log[len(r.log)-1].E.(Pressed); e.Round != 3 {
			t.Errorf("Bo's first press at %s is of round %d, want 3", at, e.Round)
		}
	}
	early := &run{t: t, s: New()}
	early.keep(Stamped{N: 1, E: Opened{Plan: one(everyMinute(5), "Ada Bo", "A -")}})
	if err := early.do(7*time.Second, Arrive{Who: "Bo", WarmUp: time.Hour}); err != nil || arrived(early).Ready != 7*time.Second {
		t.Errorf("before GO: %v, %+v, want Bo to be warm", err, arrived(early))
	}
	r = begin(t, twoParts(everyMinute(1), everyMinute(9), "A -"))
	r.must("5:00", Arrive{Who: "Bo", WarmUp: time.Minute})
	if e := arrived(r); e.Part != 2 || e.Round != 3 {
		t.Errorf("in part 2 Bo arrives in %+v, want part 2, round 3", e)
	}
	r = begin(t, one(everyMinute(5), "Bo Cleo", "A B"))
	r.must("0:10", Guest{Who: "Aa"})
	if e := r.log[len(r.log)-2].E.(GuestAdded); e.Key != "a" {
		t.Errorf("Aa has the letter %q, want a", e.Key)
	}
}

// TestGuestAsksWhatThePlanSays: a guest has the load that the plan has for guests, in plates
// that are free.
func TestGuestAsksWhatThePlanSays(t *testing.T) {
	t.Parallel()
	p := one(everyMinute(5), "Ada", "A")
	p.Parts[0].Guest.Spots = []Spot{{Asked: 47 * kg, Tare: 27 * kg, Ends: 1}}
	r := begin(t, p)
	r.must("0:10", Guest{Who: "Ask"})
	if sp := r.s.parts[0].tracks[1].spot(1, 0); sp.On != "B" || sp.Moves != 47*kg {
		t.Errorf("Ask stands on %s with %v µg, want B with 47 kg", sp.On, sp.Moves)
	}
}

// TestGuestOnAnotherSled: what counts without the sled is as much on a heavier one.
func TestGuestOnAnotherSled(t *testing.T) {
	t.Parallel()
	for movement, want := range map[string]measure.Mass{"forward drag": 50, "hand over hand pull": 50, "trap bar deadlift": 47} {
		part := everyMinute(5)
		part.Stations = []session.Station{{Movement: movement, Distance: 20 * measure.Metre, Loads: []session.Ask{{Basis: session.Plain, Mass: 20 * kg}}}}
		p := one(part, "Ada", "A")
		p.Parts[0].Guest.Spots = []Spot{{Asked: 47 * kg, Tare: 27 * kg, Ends: 1}}
		for i := range p.Parts[0].Stations[0].On {
			p.Parts[0].Stations[0].On[i].Tare = 30 * kg
		}
		r := begin(t, p)
		r.must("0:10", Guest{Who: "Ask"})
		if sp := r.s.parts[0].tracks[1].spot(1, 0); sp.Asked != want*kg {
			t.Errorf("%s: a guest asks %v µg on 30 kg, want %d kg", movement, sp.Asked, want)
		}
	}
}

// TestEmptyStackIsKept: no plates are an empty list in the log, and not nothing.
func TestEmptyStackIsKept(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(5), "Ada", "A"))
	r.must("0:10", Change{Who: "Ada", By: -40 * kg})
	if e := r.log[len(r.log)-1].E.(LoadChanged); e.Stack == nil || len(e.Stack) > 0 || e.Moves != 27*kg {
		t.Errorf("%+v, want an empty stack and the sled", e)
	}
}

// TestPlatesOfOthers: plates that somebody of another heat has, or who has left, or who stands on the
// sled before or after oneself, are free.
func TestPlatesOfOthers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says   string
		people []string
		do     []asked
		who    string
		want   string // refusal
	}{
		{"all plates are Bo's", []string{"Ada=A,0", "Bo=B,40"}, nil, "Ada", "no other load exists for Ada"},
		{"Bo is in another heat", []string{"Ada=A,0", "Bo=B/2,40"}, nil, "Ada", ""},
		{"Bo has left", []string{"Ada=A,0", "Bo=B,40"}, []asked{{"0:05", Leave{"Bo"}}}, "Ada", ""},
		{"Cleo has them when Ada pulls", []string{"Ada=A,0", "Bo=A,0", "Cleo=B,40", "Dag=B,0"}, nil, "Ada", "no other load exists for Ada"},
		{"Dag has none when Bo pulls", []string{"Ada=A,0", "Bo=A,0", "Cleo=B,40", "Dag=B,0"}, nil, "Bo", ""},
	} {
		p := ScenePlan(t, []session.Part{everyMinute(5)}, c.people)
		p.Kit.Plates = p.Kit.Plates[:1]
		p.Kit.Plates[0].Count = 2
		r := begin(t, p)
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		got := ""
		if err := r.do(10*time.Second, Change{Who: c.who, By: 20 * kg}); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.says, got, c.want)
		}
	}
}

// TestOrderOnAnotherSled: whoever is moved comes behind those of their heat who are there.
func TestOrderOnAnotherSled(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		says   string
		people []string
		do     []asked
		want   int
	}{
		{"nobody", []string{"Bo=B"}, nil, 0},
		{"one is there", []string{"Ada=A", "Bo=B"}, nil, 1},
		{"one of another heat", []string{"Ada=A/2", "Bo=B"}, nil, 0},
		{"one, and one of another heat", []string{"Ada=A", "Cleo=A/2", "Bo=B"}, nil, 1},
		{"one who has left", []string{"Ada=A", "Bo=B"}, []asked{{"0:05", Leave{"Ada"}}}, 0},
	} {
		r := begin(t, ScenePlan(t, []session.Part{everyMinute(5)}, c.people))
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		r.must("0:10", MoveTo{Who: "Bo", On: "A"})
		if e, ok := r.log[len(r.log)-1].E.(LaneChanged); !ok || e.Place.Order != c.want {
			t.Errorf("%s: %+v, want place %d", c.says, e, c.want)
		}
	}
}

// TestLatePolicyAtTheEdge: just in time changes no load, and after the last round there is none
// to change.
func TestLatePolicyAtTheEdge(t *testing.T) {
	t.Parallel()
	for _, late := range []session.Late{session.DropLoad, session.CutDistance} {
		for _, c := range []struct {
			at      string
			rounds  int
			changes bool
		}{{"1:00", 3, false}, {"1:00.001", 3, true}, {"1:05", 3, true}, {"1:05", 2, false}, {"1:05", 1, false}} {
			part := everyMinute(c.rounds)
			part.Late = late
			r := begin(t, one(part, "Ada", "A"))
			r.must(c.at, Press{"Ada"})
			_, only := r.log[len(r.log)-1].E.(Pressed)
			_, ended := r.log[len(r.log)-1].E.(PartEnded)
			if only = only || ended; only == c.changes {
				t.Errorf("%s, pressed at %s of %d rounds: %+v, want a change: %v", late, c.at, c.rounds, r.log[len(r.log)-1], c.changes)
			}
		}
	}
}

// TestNextOfATile: what somebody pulls next stands on their tile until the last round, and for ever
// in a part that counts none; whose turn it is alternates on a shared sled.
func TestNextOfATile(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(2), "Ada", "A"))
	for at, want := range map[string]bool{"0:10": true, "1:10": false} {
		if got := r.s.Tiles(nil, 1, r.zero+clockOf(t, at))[0].Next; (got != nil) != want {
			t.Errorf("at %s the next is %+v, want one: %v", at, got, want)
		}
	}
	most := session.Part{Format: session.Amrap, Cap: 5 * time.Minute, PressAt: "station"}
	r = begin(t, one(most, "Ada Bo", "A A"))
	tiles := r.s.Tiles(nil, 1, r.zero+10*time.Second)
	if tiles[0].Next == nil || tiles[0].State != TileWork || tiles[1].State != TileWait {
		t.Errorf("most rounds: %+v, want Ada at work, and Bo behind her", tiles)
	}
	if rounds := r.s.Rounds(1, 1, r.zero+10*time.Second); len(rounds) > 0 {
		t.Errorf("Bo waits and has %+v", rounds)
	}
}

// TestWaitsForTheSled: at the very end of the rest somebody waits for the sled, and no longer rests.
func TestWaitsForTheSled(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 3}, "Ada Bo", "A A"))
	r.must("0:30", Press{"Ada"}) // due at 1:00; Bo starts at 0:40
	r.refused("0:59.999", Press{"Ada"}, "Ada rests for 0:01 more")
	r.refused("1:00", Press{"Ada"}, "Ada waits for the sled")
}

// TestPressEndsAStop: whoever is done while standing stood until then.
func TestPressEndsAStop(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.LongPull}, "Ada", "A"))
	r.must("0:20", StopNow{"Ada"})
	r.must("0:50", DoneNow{"Ada"})
	if got := r.s.Rounds(1, 0, r.zero+time.Minute)[0].Stops; len(got) != 1 || got[0].To-got[0].From != 30*time.Second {
		t.Errorf("stops %+v, want one of 30 s", got)
	}
}

// TestWarmInALaterHeat: whoever comes for the second heat of the next part, and is warm before that, is
// in its first round, though the first heat begins while they warm up.
func TestWarmInALaterHeat(t *testing.T) {
	t.Parallel()
	p := twoParts(everyMinute(1), everyMinute(3), "A -")
	p.Parts[1].Heats = 2
	r := begin(t, p)
	r.must("3:00", Arrive{Who: "Bo", WarmUp: 3 * time.Minute}) // part 2: 4:00, and 10:00
	r.must("11:00", Sleep{})
	if rounds := r.s.Rounds(2, 1, r.zero+11*time.Minute); len(rounds) != 2 || rounds[0].State == NotHere {
		t.Errorf("Bo's rounds are %+v, want two that he is there for", rounds)
	}
}

// TestAgainBetweenHeats: between two heats the last round is the one that begins again.
func TestAgainBetweenHeats(t *testing.T) {
	t.Parallel()
	r := begin(t, inTwoHeats(everyMinute(2)))
	r.must("2:10", Again{})
	if e, ok := r.log[len(r.log)-1].E.(Restarted); !ok || e.Round != 2 {
		t.Errorf("%+v, want round 2 again", e)
	}
}
