package floor

import (
	"fmt"
	"reflect"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"

	"pgregory.net/rapid"
)

// parts is one part of each format, for random classes.
func parts() []session.Part {
	two := []session.Station{
		{Movement: "forward drag", Distance: 30 * measure.Metre, Times: 1},
		{Movement: "sled row", Distance: 20 * measure.Metre, Times: 1},
	}
	return []session.Part{
		everyMinute(4),
		{Format: session.Every, Every: time.Minute, Rounds: 4, Late: session.NoteIt, Stations: two},
		{Format: session.Every, Every: time.Minute, Rounds: 4, Late: session.DropLoad},
		{Format: session.Every, Every: time.Minute, Rounds: 4, Late: session.StopThem},
		{Format: session.Every, Every: time.Minute, Rounds: 4, Late: session.CutDistance},
		{Format: session.Amrap, Cap: 4 * time.Minute},
		{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 4},
		{Format: session.Ratio, RestFactor: 2 * measure.Whole, Rounds: 3},
		{Format: session.Sets, Sets: 3, Rest: time.Minute},
		{Format: session.LongPull, StopCap: 30 * time.Second},
		{Format: session.ForTime, Cap: 2 * time.Minute, WaveEvery: 30 * time.Second},
		{Format: session.Ramp},
	}
}

var people = []string{"Ada", "Bo", "Cleo", "Dag"}

// anyCommand draws one of all commands there are, names that nobody has among them.
func anyCommand(t *rapid.T) Command {
	who := rapid.SampledFrom([]string{"Ada", "Bo", "Cleo", "Dag", "Nobody"}).Draw(t, "who")
	to := rapid.SampledFrom(people).Draw(t, "to")
	on := rapid.SampledFrom([]string{"A", "B", "C", "Z"}).Draw(t, "on")
	round := rapid.IntRange(-1, 6).Draw(t, "round")
	secs := time.Duration(rapid.IntRange(-5, 120).Draw(t, "secs")) * time.Second
	all := []Command{
		Press{who},
		Press{who},
		Press{who},
		Press{who},
		Press{to},
		PressSled{on},
		LegDone{who},
		StopNow{who},
		GoOn{who},
		DoneNow{who},
		OffSled{who},
		Miss{Who: who, At: 3 * measure.Metre},
		Hold{},
		Resume{},
		Resume{},
		Again{},
		Undo{},
		Undo{},
		Arrive{Who: who, WarmUp: max(0, secs)},
		Guest{Who: "Guest" + on},
		Leave{who},
		Drop{who, 10 * measure.Percent},
		Change{who, measure.Mass(round) * 5 * kg},
		StepLoad{Who: who, Up: round > 2},
		ByHand{who, round, max(0, secs)},
		NoTime{who, round},
		Amount{Who: who, Round: round, Reps: 4},
		Strike{Who: who, Round: round},
		Give{Who: who, Round: round, To: to},
		Swap{who, "sled row"},
		MoveTo{who, on},
		Out{on},
		Back{on},
		Longer{secs},
		Interval{secs},
		Metres{measure.Distance(max(1, round)) * 4 * measure.Metre},
		Sleep{secs},
	}
	if rapid.IntRange(0, 40).Draw(t, "rare") == 0 {
		all = []Command{Skip{}, End{}, Go{}}
	}
	return rapid.SampledFrom(all).Draw(t, "command")
}

// dump is everything that anyone can see of a state at a time.
func dump(s *State, now time.Duration) string {
	out := fmt.Sprintf("%+v\n", s.Face(now))
	for pi := range s.parts {
		for i := range s.people {
			for _, r := range s.Rounds(pi+1, i, now) {
				out += fmt.Sprintf("%d %s %+v\n", pi+1, s.plan.People[i].Name, r)
			}
		}
		for _, tile := range s.Tiles(nil, pi+1, now) {
			next := tile.Next
			tile.Next = nil
			out += fmt.Sprintf("%+v next %+v\n", tile, next)
		}
	}
	return out
}

// A log replayed gives the state of the live run, whole or taken up again in the
// middle, and looking at a state at odd times in between changes nothing.
func TestLiveReplayAndRecoveryAgree(t *testing.T) {
	t.Parallel()
	rapid.Check(t, runsAgree)
}

// FuzzCommands drives the same with whatever commands the fuzzer comes to.
func FuzzCommands(f *testing.F) { f.Fuzz(rapid.MakeFuzz(runsAgree)) }

func runsAgree(t *rapid.T) {
	part := rapid.SampledFrom(parts()).Draw(t, "part")
	p := one(part, "Ada Bo Cleo Dag", "A B A -")
	if rapid.Bool().Draw(t, "two parts") {
		p.Parts = append(p.Parts, p.Parts[0])
	}
	live := New()
	var log []Stamped
	keep := func(e Stamped) {
		log = append(log, e)
		live.Apply(e)
	}
	keep(Stamped{N: 1, E: Opened{Plan: p}})
	now := time.Duration(0)
	give := func(c Command) {
		events, _ := Decide(live, c, now)
		for _, e := range events {
			if e.T > now || e.T < 0 {
				t.Fatalf("%T at %v made an event at %v", c, now, e.T)
			}
			keep(e)
		}
	}
	give(Go{})
	for range rapid.IntRange(1, 60).Draw(t, "commands") {
		now += time.Duration(rapid.IntRange(0, 20_000).Draw(t, "gap")) * time.Millisecond
		look := now + time.Duration(rapid.IntRange(0, 90).Draw(t, "look"))*time.Second
		dump(live, look)
		live.Due(nil, now, look)
		give(anyCommand(t))
	}
	now += 20 * time.Minute
	give(Sleep{})
	want := dump(live, now)

	whole := New()
	for _, e := range log {
		whole.Apply(e)
	}
	if got := dump(whole, now); got != want {
		t.Fatalf("replayed:\n%s\nlive:\n%s", got, want)
	}
	cut := rapid.IntRange(1, len(log)).Draw(t, "cut")
	recovered := New()
	for _, e := range log[:cut] {
		recovered.Apply(e)
	}
	dump(recovered, now)
	for _, e := range log[cut:] {
		recovered.Apply(e)
	}
	if got := dump(recovered, now); got != want {
		t.Fatalf("recovered after %d:\n%s\nlive:\n%s", cut, got, want)
	}
	checkRounds(t, live, now)
}

// checkRounds holds what is true of every round of every run.
func checkRounds(t *rapid.T, s *State, now time.Duration) {
	for pi := range s.parts {
		for i := range s.people {
			for n, r := range s.Rounds(pi+1, i, now) {
				if r.Work != None && r.Work < 0 {
					t.Fatalf("part %d %s: round %d has a split of %v", pi+1, s.plan.People[i].Name, r.Round, r.Work)
				}
				if n > 0 && r.Starts != None && r.Starts < 0 {
					t.Fatalf("round %d starts at %v", r.Round, r.Starts)
				}
			}
		}
	}
}

// Moments do not depend on how often one asks: late, doubled and skipped calls
// find the same ones, each once.
func TestDueIsTheSameInAnySteps(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.SampledFrom(parts()).Draw(t, "part")
		r := &run{s: New()}
		r.keep(Stamped{N: 1, E: Opened{Plan: one(part, "Ada Bo Cleo", "A B A")}})
		events, _ := Decide(r.s, Go{}, 0)
		for _, e := range events {
			r.keep(e)
		}
		end := 6 * time.Minute
		want := r.s.Due(nil, 0, end)
		var got []Moment
		for at := time.Duration(0); at < end; {
			to := min(end, at+time.Duration(rapid.IntRange(100, 20_000).Draw(t, "step"))*time.Millisecond)
			got = r.s.Due(got, at, to)
			at = to
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("in steps %v\nat once %v", got, want)
		}
	})
}

// A hold moves every later boundary by exactly its length and its count-in.
func TestHoldsMoveBoundariesExactly(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := &run{s: New()}
		r.keep(Stamped{N: 1, E: Opened{Plan: one(everyMinute(60), "Ada", "A")}})
		events, _ := Decide(r.s, Go{}, 0)
		for _, e := range events {
			r.keep(e)
		}
		now, held := 10*time.Second, time.Duration(0)
		for range rapid.IntRange(0, 20).Draw(t, "holds") {
			now += time.Duration(rapid.IntRange(1, 100_000).Draw(t, "run")) * time.Millisecond
			length := time.Duration(rapid.IntRange(0, 100_000).Draw(t, "hold")) * time.Millisecond
			for _, c := range []Command{Hold{}, Resume{}} {
				events, err := Decide(r.s, c, now)
				if err != nil {
					t.Fatal(err)
				}
				for _, e := range events {
					r.keep(e)
				}
				if _, ok := c.(Hold); ok {
					now += length
				}
			}
			now += 5 * time.Second
			held += length + 5*time.Second
		}
		if got, want := r.s.End(now), 10*time.Second+time.Hour+held; got != want {
			t.Fatalf("end = %v, want %v", got, want)
		}
	})
}
