// Package sound plays cues on time, through whatever device there is or none.
//
// A [Player] is what the rest of the program sees: it takes the moments of the
// next second, again and again, and is asked how the sound stands. Behind it a
// [Timeline] runs for as long as the program does and is never paused. A device
// pulls samples from it; the Timeline works out which sample will be heard when,
// from what the device says of that or else from the times of those pulls, and
// starts each cue at its sample. Waking up
// at the right time and playing at once would be tens of milliseconds late and
// unevenly so, since a device takes its samples in blocks, ahead of time.
//
// Contract: no sound device is an ordinary state with a word for the screen, a
// lost one comes back where the system allows it, and nothing here writes to the
// terminal. Where the machine has a voice, phrases are turned into sound ahead of
// time and played as cues are. What is heard cannot be taken back, but for the device's buffer of
// about 50 ms any cue can be withdrawn until it sounds.
//
//	player, warnings := sound.NewPlayer(ctx, clock, sound.Options{})
//	defer player.Close()
//	player.Schedule(state.Due(nil, now-cue.Together, now+sound.Ahead))
package sound
