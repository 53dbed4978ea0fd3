package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// asked is a command at a time after the first GO.
type asked struct {
	at string
	c  Command
}

// TestRefusals holds that what makes no sense is refused with a word that says why,
// and that nothing is kept of it.
func TestRefusals(t *testing.T) {
	t.Parallel()
	amrap := session.Part{Format: session.Amrap, Cap: 5 * time.Minute}
	sets := session.Part{Format: session.Sets, Sets: 1, Rest: 2 * time.Minute}
	two := session.Part{Format: session.Sets, Sets: 2, Rest: 2 * time.Minute}
	ratio := session.Part{Format: session.Ratio, Rounds: 2, RestFactor: 2 * measure.Whole}
	long := session.Part{Format: session.LongPull, StopCap: time.Minute}
	for _, tt := range []struct {
		part  session.Part
		on    string
		first []asked
		then  asked
		word  string
	}{
		{everyMinute(3), "A B", []asked{{"0:20", Leave{Who: "Ada"}}}, asked{"0:30", Press{"Ada"}}, "Ada has stopped"},
		{everyMinute(3), "A -", nil, asked{"0:30", Press{"Bo"}}, "not here yet"},
		{everyMinute(3), "A B", []asked{{"0:20", Strike{Who: "Ada", Round: 1, Reason: "slip"}}}, asked{"0:30", Press{"Ada"}}, "round 1 is struck"},
		{everyMinute(3), "A B", []asked{{"0:20", Press{"Ada"}}}, asked{"0:30", Press{"Ada"}}, "round 1 already"},
		{everyMinute(3), "A B", []asked{{"1:05", Press{"Ada"}}}, asked{"1:30", Press{"Ada"}}, "sits out round 2"},
		{everyMinute(3), "A A", nil, asked{"0:20", Press{"Bo"}}, "not started yet"},
		{everyMinute(3), "A B", nil, asked{"0:20", LegDone{"Ada"}}, "only a long pull"},
		{everyMinute(3), "A B", nil, asked{"0:20", Miss{Who: "Ada"}}, "only a set or an attempt"},
		{everyMinute(3), "A B", nil, asked{"0:20", Go{}}, "no further part"},
		{everyMinute(3), "A B", []asked{{"0:20", Press{"Ada"}}}, asked{"0:30", Give{Who: "Ada", To: "Ada"}}, "the same person"},
		{everyMinute(3), "A B", []asked{{"0:20", Press{"Ada"}}, {"0:25", Press{"Bo"}}}, asked{"0:30", Give{Who: "Ada", To: "Bo"}}, "Bo has round 1 already"},
		{everyMinute(3), "A B", []asked{{"0:20", Hold{}}}, asked{"0:30", Swap{Who: "Ada", Movement: "rowing"}}, "rowing"},
		{everyMinute(3), "A B", []asked{{"0:20", Change{Who: "Ada", By: -60 * kg}}}, asked{"0:30", Drop{Who: "Ada", Share: 10 * measure.Percent}}, "no lighter load"},
		{everyMinute(3), "A B", []asked{{"0:20", Change{Who: "Ada", By: -60 * kg}}}, asked{"0:30", StepLoad{Who: "Ada"}}, "no other load"},
		{amrap, "A -", []asked{{"0:20", Arrive{Who: "Bo", WarmUp: time.Minute}}}, asked{"0:40", Press{"Bo"}}, "warming up"},
		{sets, "A B", []asked{{"0:20", Press{"Ada"}}, {"0:40", Press{"Ada"}}}, asked{"3:00", Press{"Ada"}}, "through with this part"},
		{sets, "A B", []asked{{"0:20", Hold{}}}, asked{"0:40", Press{"Ada"}}, "the clock is stopped"},
		{sets, "A A", []asked{{"0:20", Press{"Ada"}}}, asked{"0:40", Press{"Bo"}}, "Ada is on A"},
		{sets, "A B", nil, asked{"0:40", Miss{Who: "Ada"}}, "started nothing yet"},
		{two, "A B", []asked{{"0:20", Press{"Ada"}}, {"0:40", Press{"Ada"}}}, asked{"1:00", Press{"Ada"}}, "1:40 of rest left"},
		{ratio, "A B", []asked{{"0:20", Press{"Ada"}}}, asked{"0:30", DoneNow{"Ada"}}, "rests for 0:30 more"},
		{ratio, "A A", nil, asked{"0:20", Press{"Bo"}}, "waits for the sled"},
		{long, "A B", []asked{{"0:20", StopNow{"Ada"}}}, asked{"0:30", StopNow{"Ada"}}, "does that already"},
		{long, "A B", nil, asked{"0:30", GoOn{"Ada"}}, "does that already"},
		{long, "A A", nil, asked{"0:30", StopNow{"Bo"}}, "waits for the sled"},
	} {
		r := begin(t, one(tt.part, "Ada Bo", tt.on))
		for _, a := range tt.first {
			r.must(a.at, a.c)
		}
		kept := len(r.log)
		r.refused(tt.then.at, tt.then.c, tt.word)
		if len(r.log) != kept {
			t.Errorf("%s: %d events are kept of what was refused", tt.word, len(r.log)-kept)
		}
	}
	s := New()
	s.Apply(Stamped{N: 1, E: Opened{Plan: one(everyMinute(3), "Ada", "A")}})
	if _, err := Decide(s, Press{"Ada"}, time.Second); err == nil || err.Error() != "before GO" {
		t.Errorf("a press before GO: %v", err)
	}
}

// TestLateTakesOff holds what each policy takes off the first round that has not
// begun when a press comes 5 s late.
func TestLateTakesOff(t *testing.T) {
	t.Parallel()
	for policy, want := range map[session.Late]Event{
		session.CutDistance: DistanceCut{Who: "Ada", Part: 1, Station: 1, Round: 3, To: 45 * measure.Metre / 2},
		session.StopThem:    Left{Who: "Ada"},
	} {
		part := everyMinute(4)
		part.Late = policy
		r := begin(t, one(part, "Ada", "A"))
		r.must("1:05", Press{"Ada"})
		if got := r.log[len(r.log)-1].E; got != want {
			t.Errorf("%s: %+v, want %+v", policy, got, want)
		}
	}
}

// TestGuestTakesTheSmallerSide holds that who comes without a side evens them out.
func TestGuestTakesTheSmallerSide(t *testing.T) {
	t.Parallel()
	part := everyMinute(4)
	part.Stations = []session.Station{{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}, {Movement: "sled row", Distance: 20 * measure.Metre, Times: 1}}
	part.Sides = [][]string{{"Ada", "Bo"}, {"Cleo"}}
	p := one(part, "Ada Bo Cleo", "A B C")
	p.Parts[0].Places[2].Side = 1
	r := begin(t, p)
	r.must("0:20", Guest{Who: "Dag"})
	if got := r.s.parts[0].tracks[3].Side; got != 1 {
		t.Errorf("the guest is on side %d, want the smaller one, 1", got)
	}
}

// TestLastUndoable names what an undo would take back before it does.
func TestLastUndoable(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada Bo", "A B"))
	if e, ok := r.s.LastUndoable(); ok {
		t.Errorf("after GO alone %+v could be undone", e)
	}
	r.must("0:20", Press{"Ada"})
	if e, ok := r.s.LastUndoable(); !ok || e.E != (Pressed{Who: "Ada", Part: 1, Round: 1, As: asDone}) {
		t.Errorf("LastUndoable = %+v, %v, want Ada's press", e, ok)
	}
	r.must("0:25", Undo{})
	if e, ok := r.s.LastUndoable(); ok {
		t.Errorf("after the undo %+v could be undone", e)
	}
}

// TestTypedEndsARunningSet holds that a time typed for a set that still runs ends it
// there, and the rest counts from that end.
func TestTypedEndsARunningSet(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Sets, Sets: 2, Rest: 2 * time.Minute}, "Ada", "A"))
	r.must("0:10", Press{"Ada"})
	r.must("0:50", ByHand{Who: "Ada", Round: 1, Work: 25 * time.Second})
	r.refused("2:34", Press{"Ada"}, "0:01 of rest left")
	r.must("2:35", Press{"Ada"})
	r.must("3:30", NoTime{Who: "Ada", Round: 2})
	r.want("Ada", 4*time.Minute, `
		1 10 25 done
		2 155 - done no time due 155 waited 0`)
}

// TestChangesInMostRounds gives most rounds what else a class may bring: a lighter
// load, a press that was another's, more time, and the round again.
func TestChangesInMostRounds(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Amrap, Cap: 5 * time.Minute}, "Ada Bo", "A B"))
	r.must("0:20", StepLoad{Who: "Ada"})
	if e, ok := r.log[len(r.log)-1].E.(LoadChanged); !ok || e.Round != 2 || e.Moves >= 67*kg {
		t.Errorf("a step down in round 1 is kept as %+v, want a lighter round 2", r.log[len(r.log)-1].E)
	}
	r.must("0:40", Press{"Ada"})
	r.must("0:45", Give{Who: "Ada", To: "Bo"})
	r.want("Bo", 50*time.Second, `
		1 0 40 done
		2 40 - open`)
	r.must("1:00", Longer{By: time.Minute})
	if got := r.s.End(r.zero+time.Minute) - r.zero; got != 6*time.Minute {
		t.Errorf("a minute longer it ends at %v, want 6m", got)
	}
	r.must("1:10", Again{})
	r.want("Bo", 80*time.Second, `
		1 0 40 done
		2 75 - open`)
}

// TestPressAtEachStation ends a station of most rounds by each press, and the round
// by the last of them.
func TestPressAtEachStation(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Amrap, Cap: 5 * time.Minute, PressAt: "station", Stations: []session.Station{
		{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1}, {Movement: "sled row", Distance: 20 * measure.Metre, Times: 1},
	}}
	r := begin(t, one(part, "Ada Bo", "A B"))
	r.must("0:20", Press{"Ada"})
	r.must("0:50", Press{"Ada"})
	stations := []int{}
	for _, q := range r.s.Rounds(1, 0, r.zero+time.Minute) {
		stations = append(stations, q.Station)
	}
	if !slices.Equal(stations, []int{1, 2, 1}) {
		t.Errorf("the presses end stations %v, want 1, 2 and 1 again", stations)
	}
}

// TestRampMissedAtOnce proposes no attempt above a first one that was missed.
func TestRampMissedAtOnce(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Ramp}, "Ada", "A"))
	r.must("0:10", Press{"Ada"})
	r.must("0:30", Miss{Who: "Ada"})
	first := r.s.Rounds(1, 0, r.zero+time.Minute)[0]
	if sp, ok := r.s.Propose(0, 0); ok && sp.Moves >= first.Moves {
		t.Errorf("after a first miss at %v µg the tool proposes %v µg", first.Moves, sp.Moves)
	}
}

// TestAgainOnLaneClocks begins the set that runs anew, from the end of the count-in.
func TestAgainOnLaneClocks(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Sets, Sets: 2, Rest: 2 * time.Minute}, "Ada", "A"))
	r.must("0:10", Press{"Ada"})
	r.must("0:20", Again{})
	r.must("0:45", Press{"Ada"})
	r.want("Ada", time.Minute, "1 25 20 done")
}

// TestCuesOfAStop are 10 s before a stop is over its cap, and at the cap.
func TestCuesOfAStop(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.LongPull, StopCap: 30 * time.Second}, "Ada", "A"))
	r.must("0:40", Press{"Ada"})
	got := map[Kind]time.Duration{}
	for _, m := range r.s.Due(nil, r.zero+41*time.Second, r.zero+2*time.Minute) {
		got[m.Kind] = m.At - r.zero
	}
	if got[StopSoon] != time.Minute || got[StopOver] != 70*time.Second {
		t.Errorf("a stop at 0:40 with 0:30 allowed is told at %v and %v, want 1:00 and 1:10", got[StopSoon], got[StopOver])
	}
}
