// Package floor is the engine of a class: the rules of presses, rounds, rests and
// clocks, with time as a value and no clock, file, terminal or sound in sight.
//
// Three functions carry it. [Decide] turns a command at a time into events, or
// refuses it with a word; it also returns what the clock did by itself up to
// then. [State.Apply] takes one event; it cannot fail. [State.Due] names the
// moments between two times, for cues and for the screen. A live run, a
// rehearsal, a replay, a recovery and a second screen differ only in where the
// events and the time come from.
//
// Contract: whatever Decide returns is recorded first, then applied, then shown.
// Times are room time, the time since the run was opened; every boundary comes
// from one start moment and the holds so far, so a late, doubled or skipped call
// changes nothing.
//
//	st := floor.New()
//	st.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: plan}})
//	events, err := floor.Decide(st, floor.Go{}, 12*time.Second)
package floor
