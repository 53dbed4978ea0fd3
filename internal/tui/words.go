package tui

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"hawser/internal/coachfile"
	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

func itoa(n int) string { return strconv.Itoa(n) }

// clean makes a name or title from a file or a log safe to draw on one line: what
// an escape sequence holds goes with it, what cannot be shown is a mark.
func clean(s string) string {
	if isPlain(s) {
		return s
	}
	return coachfile.Clean(strings.NewReplacer("\n", " ", "\t", " ").Replace(ansi.Strip(s)))
}

// isPlain reports whether there is nothing to clean: most names are.
func isPlain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// load is what moves, as the wall says it.
func (k *Look) load(spot *floor.Spot) string {
	if spot.On == "" {
		return "no load"
	}
	text := k.Style.Mass(spot.Moves)
	if spot.Est {
		text += " estimated"
	}
	return text
}

// stack is the plates on one end as they are stamped, "empty sled" where there
// are none: "20 + 10 kg", "45 lb + 10 kg", "10 kg each end".
func stack(spot *floor.Spot) string {
	plates := plates(spot.Stack)
	switch {
	case plates == "" && spot.On == "":
		return ""
	case plates == "" && spot.Ends == 1:
		return "empty sled"
	case plates == "":
		return "empty"
	case spot.Ends > 1:
		return plates + " each end"
	}
	return plates
}

// plates joins stamps; neighbours of one unit share it: "20+10 kg", "45 lb + 5+2.5 kg".
func plates(stamps []string) string {
	var b strings.Builder
	for i, s := range stamps {
		n, unit, _ := strings.Cut(s, " ")
		_, next, _ := strings.Cut(stamps[min(i+1, len(stamps)-1)], " ")
		b.WriteString(n)
		switch {
		case i == len(stamps)-1:
			b.WriteString(" " + unit)
		case next == unit:
			b.WriteByte('+')
		default:
			b.WriteString(" " + unit + " + ")
		}
	}
	return clean(b.String())
}

// handover is what the coach's helpers do on the sled before this person.
func handover(t *floor.Tile) string {
	var words []string
	if len(t.Off) > 0 {
		words = append(words, "take off "+plates(t.Off))
	}
	if len(t.On) > 0 {
		words = append(words, "put on "+plates(t.On))
	}
	return strings.Join(words, ", ")
}

// soon is from when on a tile counts the seconds to a start: before that nobody reads them.
const soon = 2 * time.Minute

// doing is a tile's state in words, with its ink: what a person does and since
// when or until when.
func (s *Scene) doing(t *floor.Tile, k *Look) (shape, words string, ink Ink) {
	g := k.signs
	due, start := "", ""
	if t.Due != floor.None {
		due = " " + measure.Clock(ceil(max(0, t.Due-s.Now)))
		start = "starts in" + due
		if left := t.Due - s.Now; left > soon {
			start = "starts in " + itoa(int(left.Round(time.Minute)/time.Minute)) + " min"
		}
	}
	since := ""
	if t.Since != floor.None && t.Since <= s.Now {
		since = " " + measure.Clock((s.Now - t.Since).Truncate(time.Second))
	}
	switch t.State {
	case floor.TileReady:
		if t.Due == floor.None || t.Due <= s.Now {
			return g.countIn, "press to start", Ready
		}
		return g.countIn, start, Ready
	case floor.TileWork:
		return g.working, "pulls" + since, Work
	case floor.TileDone:
		return g.knot, "done", Rest
	case floor.TileRest:
		if s.spec().Format == session.ForTime { // a later wave
			return g.countIn, start, Ready
		}
		return g.resting, "rest" + due, Rest
	case floor.TileWait:
		if t.Due > s.Now { // the plates are being changed
			return g.waiting, "waits" + due, Warn
		}
		return g.waiting, "waits", Warn
	case floor.TileStop:
		return g.stopped, "stands" + since, Warn
	case floor.TileSatOut:
		return g.out, "sits out", Warn
	case floor.TileAway:
		return g.out, "not here", Dim
	case floor.TileLeft:
		return g.stopped, "stopped", Dim
	case floor.TileOver:
		return g.over, "finished", Rest
	default:
		if h := s.heat(t.Person); h > 0 && s.Face.Heats > 1 {
			return g.waiting, "heat " + itoa(h), Dim
		}
		return g.waiting, "waits", Dim
	}
}

// thin reports whether a margin is under the house's share of the interval.
func (s *Scene) thin(margin time.Duration) bool {
	every := s.spec().Every
	return every > 0 && int64(margin)*int64(measure.Whole) < int64(every)*int64(s.Plan.House.Margin)
}

// join puts the pieces that are not empty beside each other.
func join(between string, pieces ...string) string {
	return strings.Join(slices.DeleteFunc(pieces, func(s string) bool { return s == "" }), between)
}
