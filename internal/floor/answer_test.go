package floor

import (
	"errors"
	"testing"
	"time"

	"hawser/internal/measure"
)

// A command that the engine forgot would be refused as none.
func TestEveryCommandIsAnswered(t *testing.T) {
	t.Parallel()
	all := []Command{
		Go{},
		Press{},
		PressSled{},
		LegDone{},
		StopNow{},
		GoOn{},
		DoneNow{},
		OffSled{},
		Miss{},
		Hold{},
		Resume{},
		Again{},
		Undo{},
		Arrive{},
		Guest{},
		Leave{},
		Drop{},
		Change{},
		StepLoad{},
		ByHand{},
		NoTime{},
		Amount{},
		Strike{},
		Give{},
		Swap{},
		MoveTo{},
		Out{},
		Back{},
		Skip{},
		Longer{By: time.Minute},
		End{},
		Sleep{},
		Effort{},
		Pain{},
		Note{},
	}
	for _, c := range all {
		r := begin(t, one(everyMinute(3), "Ada", "A"))
		err := r.do(10*time.Second, c)
		if r, ok := errors.AsType[*Refusal](err); ok && r.Word == "no such command" || err != nil && !ok {
			t.Errorf("%T: %v", c, err)
		}
	}
}

// An event about nobody, or about a part or round that is not there, changes
// nothing that can be seen: a damaged log must not bring the program down.
func TestEventsAboutNothingChangeNothing(t *testing.T) {
	t.Parallel()
	for _, where := range []struct {
		who         string
		part, round int
	}{{"Nobody", 1, 1}, {"Ada", 0, 1}, {"Ada", 9, 1}, {"Ada", 1, 0}, {"Ada", 1, -4}, {"Ada", 1, 1 << 40}} {
		who, part, round := where.who, where.part, where.round
		for _, e := range []Event{
			Pressed{who, part, round, asDone},
			AttemptMissed{who, part, round, measure.Metre},
			Struck{Who: who, Part: part, Round: round},
			Typed{Who: who, Part: part, Round: round},
			Partial{Who: who, Part: part, Round: round},
			Given{who, "Bo", part, round},
			LoadChanged{Who: who, Part: part, Station: 7, Round: round},
			Swapped{Who: who, Part: part, Station: -1, Round: round},
			DistanceCut{Who: who, Part: part, Station: 2, Round: round},
			LaneChanged{Who: who, Part: part, Station: 3, Round: round},
			SledLeft{"Nobody", part},
			Left{"Nobody"},
			Arrived{Who: "Nobody", Part: part, Round: round},
			HeatStarted{part, -1},
			Restarted{Part: part, Round: -1},
			PartSkipped{-1},
			PartEnded{99},
			PartLengthened{-3, time.Hour},
			Undone{77},
			Opened{},
			Slept{time.Hour},
			Recovered{Gap: time.Hour},
			Started{Part: 1},
			Started{Part: -2},
		} {
			r := begin(t, one(everyMinute(3), "Ada Bo", "A B"))
			r.at(20*time.Second, Press{"Bo"})
			want := r.sheet("Bo", 90*time.Second)
			if x, ok := e.(Restarted); ok && x.Part == 1 {
				continue // it ends a hold, whatever its round
			}
			r.keep(Stamped{N: 50, T: 40 * time.Second, E: e})
			if got := r.sheet("Bo", 90*time.Second); got != want {
				t.Errorf("%#v:\n%s\nwant\n%s", e, got, want)
			}
			r.s.Tiles(nil, 1, time.Hour)
			r.s.Due(nil, 0, time.Hour)
			r.s.Rounds(1, 0, time.Hour)
			r.s.Face(time.Hour)
		}
	}
}
