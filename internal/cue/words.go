package cue

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"hawser/internal/floor"
)

// Said is words that are to be out before a room time; before [floor.None] they
// need only be ready. Brief is what is said where there is no time for all of Text.
type Said struct {
	Text, Brief string
	Before      time.Duration
}

const (
	// spoken is how long before a start its words may begin: somebody walks to the
	// sled, and plates are changed.
	spoken = 30 * time.Second
	// count is what the ticks before a start take.
	count = 3 * time.Second
)

// Words returns the words for the starts that come, soonest first, and for those
// further off, so that they can be made ready. Where the same person goes again on
// the same sled with the same plates nobody needs telling, and nothing is said.
func Words(plan *floor.Plan, tiles []floor.Tile, now time.Duration) []Said {
	var out []Said
	for i := range tiles {
		t := &tiles[i]
		spot, due := comes(t)
		if spot == nil || spot.On == "" {
			continue
		}
		before := floor.None
		if due != floor.None && due > now && due <= now+spoken && isNews(tiles, t, spot) {
			before = due - count
		}
		name := plan.People[t.Person].Name
		out = append(out, Said{Next(name, *spot), name + ", " + spot.On + ".", before})
	}
	slices.SortStableFunc(out, func(a, b Said) int { return cmp.Compare(a.rank(), b.rank()) })
	return out
}

// rank orders words by their time, those without one last.
func (s Said) rank() time.Duration {
	if s.Before == floor.None {
		return math.MaxInt64
	}
	return s.Before
}

// comes is the spot of a person's next start and its time, as far as they are known.
func comes(t *floor.Tile) (*floor.Spot, time.Duration) {
	switch t.State {
	case floor.TileReady, floor.TileRest, floor.TileWait:
		return &t.Place, t.Due
	case floor.TileDone, floor.TileSatOut:
		return t.Next, t.Due
	case floor.TileIdle:
		return &t.Place, floor.None
	case floor.TileWork, floor.TileStop:
		return t.Next, floor.None
	case floor.TileAway, floor.TileLeft, floor.TileOver:
	}
	return nil, floor.None
}

// isNews reports whether the room needs to be told of a start: the first, one with
// other plates, one after another person on that sled.
func isNews(tiles []floor.Tile, t *floor.Tile, spot *floor.Spot) bool {
	if t.Last == floor.None || len(t.On)+len(t.Off) > 0 {
		return true
	}
	return slices.ContainsFunc(tiles, func(o floor.Tile) bool {
		return o.Person != t.Person && o.Heat == t.Heat && o.Place.On == spot.On
	})
}

// Next returns the words for a start that comes: who, on what, and the plates of
// one end by what is stamped on them. It says no percentage and no load in all:
// the plates are what a hand can fetch. Short, since all of a heat must be out before
// the count.
//
//	Maren, A. 2 times 20 and 10 kilos.
func Next(name string, spot floor.Spot) string {
	var b strings.Builder
	b.WriteString(name)
	if spot.On != "" {
		b.WriteString(", " + spot.On)
	}
	b.WriteString(". " + plates(spot.Stack))
	if spot.Ends > 1 && len(spot.Stack) > 0 {
		b.WriteString(", each end")
	}
	b.WriteString(".")
	if spot.Est {
		b.WriteString(" Estimated.")
	}
	return b.String()
}

// plates says a stack, biggest first, equal ones together.
func plates(stack []string) string {
	if len(stack) == 0 {
		return "Empty"
	}
	var said []string
	for i := 0; i < len(stack); {
		n := 1
		for i+n < len(stack) && stack[i+n] == stack[i] {
			n++
		}
		words, unit := spell(stack[i])
		if n > 1 {
			words = strconv.Itoa(n) + " times " + words
		}
		i += n
		if i < len(stack) {
			if _, next := spell(stack[i]); next == unit {
				unit = "" // said once, with the last of its kind
			}
		}
		said = append(said, strings.TrimSpace(words+" "+unit))
	}
	last := len(said) - 1
	if last == 0 {
		return said[0]
	}
	return strings.Join(said[:last], ", ") + " and " + said[last]
}

// spell says the stamp of a plate: "2.5 kg" is "2.5" and "kilos".
func spell(stamp string) (number, unit string) {
	number, unit, _ = strings.Cut(stamp, " ")
	switch unit {
	case "kg":
		unit = "kilos"
	case "lb":
		unit = "pounds"
	}
	return strings.Replace(number, ",", ".", 1), unit
}
