// Package tui draws hawser on a terminal and takes its keys: picker, who is here,
// board, the run with its wall and desk, the page after class, and the replay.
//
// A screen is a pure function of a size, a [Look], the run and a room time: see
// [Layout] for what stands where, and [Page] for how it becomes text. Only the
// shell (model.go and what it calls) knows the clock, the keyboard and the log.
// It holds instants, never counters, and it records first: a key becomes events,
// the events go to the log, and only then does the screen show them.
//
//	keys ─▶ stamp ─▶ floor.Decide ─▶ Keeper.Append ─▶ State.Apply ─▶ Page
//	ticks ─────────▶ floor.Advance ─┘                        └──────▶ Cues
//
// Nothing here blinks more than three times a second, no meaning is carried by
// colour alone, and no screen that a class can see bears a body mass, a max or
// a percentage.
package tui
