package tui

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Scene is a run at one room time, with all that the wall and the desk show of it.
type Scene struct {
	Plan   *floor.Plan
	Face   floor.Face
	Now    time.Duration
	Part   int             // the part shown, from 1
	Tiles  []floor.Tile    // one a person
	Rounds [][]floor.Round // their knots, same order
	Before [][]floor.Round // last time's, with the room times of today's part; may be nil
	Spans  []Span          // of the ropes, by heat: each heat's rope begins anew
	Opened time.Time       // when room time was 0, for the time of day

	Planned time.Duration // from GO to the end as the board has it; 0: not known

	Chosen  int // the tile that the arrows chose, -1
	Blinked int // the person whose second press was ignored, -1
	Say     string
	SayInk  Ink
	Keys    []Hint
	Trouble string // of the log or the sound; "" for none
}

// NewScene looks at a run. The slices of old are used again where they are large enough.
func NewScene(st *floor.State, now time.Duration, old *Scene) *Scene {
	s := &Scene{Plan: st.Plan(), Face: st.Face(now), Now: now, Part: max(1, st.Part()), Chosen: -1, Blinked: -1}
	for s.Part < len(s.Plan.Parts) && !s.spec().Format.Pulls() {
		s.Part++ // in a warm-up or a rest, what comes is what there is to see
	}
	if old != nil {
		s.Tiles, s.Rounds = old.Tiles[:0], old.Rounds[:0]
	}
	s.Tiles = st.Tiles(s.Tiles, s.Part, now)
	s.lookAhead(st)
	for i := range s.Tiles {
		s.Rounds = append(s.Rounds, st.Rounds(s.Part, s.Tiles[i].Person, now))
	}
	s.Spans = s.spans(st)
	return s
}

// lookAhead puts the start of the next part in the place of those who are through with
// this one, so that its plates can be fetched in the changeover. Their ropes stay.
func (s *Scene) lookAhead(st *floor.State) {
	if s.Face.Phase != floor.Changing || st.PartEnd(s.Part) == floor.None || s.Part == len(s.Plan.Parts) {
		return
	}
	for i, next := range st.Tiles(nil, s.Part+1, s.Now) {
		if was := &s.Tiles[i]; was.State == floor.TileOver && next.Place.On != "" {
			next.Heat, next.Last, next.Margin = was.Heat, was.Last, was.Margin
			*was = next
		}
	}
}

// Span is the time that a rope is drawn to.
type Span struct{ From, To time.Duration }

// span is the time of a person's rope.
func (s *Scene) span(person int) Span {
	return s.Spans[min(max(1, s.heat(person)), len(s.Spans))-1]
}

// spans is the time of each heat that has begun, at least of the first.
func (s *Scene) spans(st *floor.State) []Span {
	from := st.Began(s.Part)
	if from == floor.None {
		from = s.Now
	}
	out := []Span{{from, s.ropeEnd(st, from)}}
	starts, rounds := st.Starts(s.Part, s.Now), st.Length(s.Part)
	for h := 1; h < s.Face.Heats && rounds > 0 && h*rounds < len(starts); h++ {
		out = append(out, Span{starts[h*rounds], s.ropeEnd(st, starts[h*rounds])})
	}
	return out
}

// ropeEnd is the room time at the right end of the ropes of a heat that began at
// from: its end where the clock knows it, else a little more than has run.
func (s *Scene) ropeEnd(st *floor.State, from time.Duration) time.Duration {
	spec := s.spec()
	length := spec.Cap
	switch spec.Format {
	case session.Every:
		length = spec.Every * time.Duration(max(1, st.Length(s.Part)))
		if starts := st.Starts(s.Part, s.Now); len(starts) > 0 && s.Face.Heats == 1 { // holds, and another interval before
			n := len(starts)
			length = starts[n-1] - from + spec.Every*time.Duration(st.Length(s.Part)-n+1)
		}
	case session.Intervals:
		length = (spec.Work + spec.Rest) * time.Duration(max(1, st.Length(s.Part)))
	}
	if limit := st.Limit(s.Part); limit > 0 {
		length = limit
	}
	end := from + max(length, time.Minute)
	if s.Face.Heats > 1 {
		return end
	}
	if over := st.PartEnd(s.Part); over != floor.None {
		return max(over, from+time.Minute)
	}
	if run := s.Now - from; s.Now > end-run/8 {
		end = s.Now + run/8
	}
	return end
}

func (s *Scene) spec() *session.Part { return &s.Plan.Parts[s.Part-1].Spec }

// running is the part whose clock runs: that of the tiles, or the warm-up or rest before it.
func (s *Scene) running() *session.Part { return &s.Plan.Parts[max(1, s.Face.Part)-1].Spec }

// heat is the heat of a person in the part shown. The tile knows it, for guests and
// latecomers too; the plan is only of those who were here before GO.
func (s *Scene) heat(person int) int { return s.tileOf(person).Heat }

// phaseWords is the phase as a shape and a word, with its ink.
func (s *Scene) phaseWords(g *signs) (shape, word string, ink Ink) {
	switch s.Face.Phase {
	case floor.CountIn:
		return g.countIn, "GET READY", Ready
	case floor.Working:
		return g.working, "PULL", Work
	case floor.Warming:
		return g.countIn, "WARM UP", Ready
	case floor.Resting:
		return g.resting, "REST", Rest
	case floor.Holding:
		return g.stopped, "CLOCK STOPPED", Stopped
	case floor.Changing:
		return g.changing, "CHANGE OVER", Turn
	case floor.Over:
		return g.over, "DONE", Rest
	default:
		return g.waiting, "NOT STARTED", Body
	}
}

// round is "3 of 8" as the wall says it, "" where the class has no common round.
func (s *Scene) round() string {
	f := &s.Face
	if f.Round == 0 || f.Phase == floor.Over || f.Phase == floor.Changing || f.Phase == floor.Waiting {
		return ""
	}
	word := "round "
	if s.spec().Format == session.Intervals {
		word = "bout "
	}
	if f.Rounds > 0 {
		return word + itoa(f.Round) + " of " + itoa(f.Rounds)
	}
	return word + itoa(f.Round)
}

// clock is the text of the big digits. A countdown shows the second that has
// begun to run out, so it reaches 0:00 when the time is up and not before.
func (s *Scene) clock() string {
	f := &s.Face
	switch {
	case f.Phase == floor.Waiting:
		spec := s.running()
		return measure.Clock(max(spec.Every, spec.Work, spec.Cap, spec.Time))
	case f.Phase == floor.Over:
		return measure.Clock((s.Now - s.Spans[0].From).Truncate(time.Second))
	case f.Up:
		return measure.Clock(f.Left.Truncate(time.Second))
	default:
		return measure.Clock(ceil(f.Left))
	}
}

// ceil rounds a time up to the second.
func ceil(d time.Duration) time.Duration {
	return (d + time.Second - 1).Truncate(time.Second)
}

// ofDay is a room time as the time of day, "" where it is not known.
func (s *Scene) ofDay(t time.Duration) string {
	if t == floor.None || s.Opened.IsZero() {
		return ""
	}
	return s.Opened.Add(t).Format("15:04")
}

// head is what this part is, in a few words: as many of them as fit into w columns,
// the title at least.
func (s *Scene) head(g *signs, w int) string {
	words := []string{s.title()}
	spec := s.running()
	switch spec.Format {
	case session.WarmUp, session.Break:
		words = append(words, cmp.Or(clean(spec.Title), string(spec.Format))+" "+measure.Clock(spec.Time))
	case session.Every:
		words = append(words, "every "+measure.Clock(spec.Every))
	case session.Intervals:
		words = append(words, measure.Clock(spec.Work)+" work, "+measure.Clock(spec.Rest)+" rest")
	case session.Amrap:
		words = append(words, "most rounds in "+measure.Clock(spec.Cap))
	default:
		words = append(words, string(spec.Format))
	}
	if n := len(s.Plan.Parts); n > 1 {
		words = append(words, "part "+itoa(max(1, s.Face.Part))+" of "+itoa(n))
	}
	if s.Face.Heats > 1 {
		words = append(words, "heat "+itoa(max(1, s.Face.Heat))+" of "+itoa(s.Face.Heats))
	}
	for len(words) > 1 && displaywidth.String(strings.Join(words, g.dot)) > w {
		words = words[:len(words)-1]
	}
	return strings.Join(words, g.dot)
}

func (s *Scene) title() string {
	if s.Plan.Title != "" {
		return clean(s.Plan.Title)
	}
	return clean(s.Plan.Session)
}

// coming is one start to come: who, on what, with what, when.
type coming struct {
	tile *floor.Tile
	spot *floor.Spot
	due  time.Duration // None
}

// coming lists the next start on each sled, soonest first.
func (s *Scene) coming() []coming {
	var out []coming
	for i := range s.Tiles {
		t := &s.Tiles[i]
		c := coming{tile: t, spot: t.Next, due: t.Due}
		switch t.State {
		case floor.TileReady, floor.TileWait, floor.TileRest:
			c.spot = &t.Place
		case floor.TileWork, floor.TileStop:
			c.due = floor.None
		case floor.TileIdle:
			c.spot = &t.Place
			switch heat := s.heat(t.Person); {
			case heat > s.Face.Heat+1 && s.Face.Heats > 1:
				continue
			case heat == s.Face.Heat+1 && s.Face.Phase == floor.Changing:
				c.due = s.Now + s.Face.Left
			}
		case floor.TileDone, floor.TileSatOut:
		default:
			continue
		}
		if c.spot == nil || s.Face.Phase == floor.Over {
			continue
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b coming) int { return a.rank() - b.rank() })
	var sleds []string
	return slices.DeleteFunc(out, func(c coming) bool {
		if slices.Contains(sleds, c.spot.On) {
			return true
		}
		sleds = append(sleds, c.spot.On)
		return false
	})
}

// rank orders starts: those with a time by it, then those that wait for a press,
// then the next round of those who pull.
func (c coming) rank() int {
	const late = 1 << 40
	switch {
	case c.due != floor.None:
		return int(c.due / time.Millisecond)
	case c.tile.State == floor.TileIdle:
		return late + c.tile.Place.Order
	default:
		return 2*late + c.tile.Ahead<<20 + c.spot.Order
	}
}

// tileOf is the tile of a person, nil where they have none.
func (s *Scene) tileOf(person int) *floor.Tile {
	for i := range s.Tiles {
		if s.Tiles[i].Person == person {
			return &s.Tiles[i]
		}
	}
	return nil
}
