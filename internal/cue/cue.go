// Package cue says which sound, and which words, a moment of the class has.
//
// [Pick] takes the moments of a stretch of time and returns the cues of that
// stretch: a name and a room time each. Where moments fall together one sound
// wins, since two at once say nothing. [Words] puts the starts that come
// into words that can be spoken. Nothing here makes a sound; names are turned into
// samples elsewhere.
//
// The same moments give the same cues, whatever else happened. So a player that
// knows a cue by its name and time may be handed the same stretch again and again.
//
//	cues = cue.Pick(cues[:0], state.Due(nil, now-cue.Together, now+time.Second))
package cue

import (
	"cmp"
	"slices"
	"time"

	"hawser/internal/floor"
)

// Name is a sound. A file of that name with .wav behind it holds it.
type Name string

// The sounds. What each means is carried by how many tones there are, how long
// they last and whether they rise or fall, so that neither a bad speaker nor an
// ear that has lost its high notes confuses two of them.
const (
	None     Name = ""
	Tick     Name = "tick"      // one short: 3, 2, 1
	Go       Name = "go"        // one long, rising: GO
	OwnStart Name = "own-start" // two short, rising: one person's GO
	Rest     Name = "rest"      // one long, falling: the bout is over
	Warn     Name = "warn"      // two short, level: ten seconds left
	StopOver Name = "stop-over" // three short, falling: a stop lasts too long
	RestOver Name = "rest-over" // short and long, rising: rested enough
	Over     Name = "over"      // two long, falling: a heat or part is over
	Done     Name = "done"      // three, rising, the last long: all done
)

// Names lists every sound, in the order in which a sound check plays them.
func Names() []Name {
	return []Name{Tick, Go, OwnStart, Rest, Warn, StopOver, RestOver, Over, Done}
}

// Means says in a few words when a sound is played.
func (n Name) Means() string {
	switch n {
	case None:
	case Tick:
		return "3, 2, 1 before a start"
	case Go:
		return "GO"
	case OwnStart:
		return "one person's GO"
	case Rest:
		return "the bout is over"
	case Warn:
		return "ten seconds left"
	case StopOver:
		return "a stop is too long"
	case RestOver:
		return "rested enough"
	case Over:
		return "heat or part is over"
	case Done:
		return "all done"
	}
	return ""
}

// Cue is one sound at one room time.
type Cue struct {
	At   time.Duration
	Name Name
}

// Together is how near two moments may be before only one of them sounds: about
// the time in which an ear takes two sounds for one.
const Together = 150 * time.Millisecond

// Pick appends the cues of some moments to dst, in order of time. Of moments
// less than Together apart the one that matters most keeps its sound and time,
// and the others have none.
func Pick(dst []Cue, moments []floor.Moment) []Cue {
	byRank := slices.SortedStableFunc(slices.Values(moments), func(a, b floor.Moment) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.At, b.At))
	})
	n := len(dst)
	for _, m := range byRank {
		name := Of(m.Kind)
		near := func(c Cue) bool { return max(c.At-m.At, m.At-c.At) < Together }
		if name != None && !slices.ContainsFunc(dst[n:], near) {
			dst = append(dst, Cue{At: m.At, Name: name})
		}
	}
	slices.SortFunc(dst[n:], func(a, b Cue) int { return cmp.Compare(a.At, b.At) })
	return dst
}

// Of returns the sound of a kind of moment.
func Of(k floor.Kind) Name {
	switch k {
	case floor.CountDown:
		return Tick
	case floor.Begin:
		return Go
	case floor.OwnBegin:
		return OwnStart
	case floor.RestBegins:
		return Rest
	case floor.TenLeft, floor.StopSoon:
		return Warn
	case floor.StopOver:
		return StopOver
	case floor.RestOver:
		return RestOver
	case floor.HeatEnds, floor.PartEnds:
		return Over
	case floor.AllDone:
		return Done
	}
	return None
}

// rank orders moments that fall together, lowest first. It is the order of the
// kinds, but that a tick for one person never hides a GO, and that a larger end
// is not hidden by the smaller ones it comes with.
func rank(m floor.Moment) int {
	const step = 10 // room for what goes between two kinds
	switch {
	case m.Kind == floor.CountDown && m.Person >= 0:
		return step*int(floor.OwnBegin) + 1
	case m.Kind == floor.AllDone:
		return step*int(floor.RestBegins) - 3
	case m.Kind == floor.PartEnds:
		return step*int(floor.RestBegins) - 2
	case m.Kind == floor.HeatEnds:
		return step*int(floor.RestBegins) - 1
	}
	return step * int(m.Kind)
}
