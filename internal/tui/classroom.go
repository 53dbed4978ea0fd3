package tui

import (
	"slices"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/kit"
)

// classroom is the screen of a run: wall, desk, strip, list of keys.
type classroom struct {
	live    *Live
	sleds   []kit.Sled                               // by digit, also those that are not on the floor today
	before  func(part int, who string) []floor.Round // last time, from its first GO; nil
	faint   [][]floor.Round                          // the same for the part that is on, in today's room time
	faintOf [2]time.Duration                         // the part and its start that faint is of
	planned time.Duration                            // from GO to the end, as the board has it
	share   Share
	chosen  int // tile, -1: the class
	strip   *strip
	offered map[int][2]int // by person: the part and round of the last offer
	list    int            // page of the list of keys, from 1; 0: closed
	alarm   bool           // emergency lines
	ending  time.Duration
	held    floor.Keys
	scene   *Scene
	big     Raster
	layout  Layout
}

// sure is within what time a second press of "end" counts.
const sure = 3 * time.Second

func newClassroom(live *Live, sleds []kit.Sled) *classroom {
	return &classroom{live: live, sleds: sleds, chosen: -1, ending: floor.None}
}

// look makes the scene anew for now.
func (c *classroom) look() *Scene {
	now := c.live.shown()
	c.live.settle(now)
	s := NewScene(c.live.st, now, c.scene)
	s.Opened = c.live.clock.Opened()
	s.Planned = c.planned
	s.Chosen, s.Blinked = c.chosen, c.live.blinked
	s.Say, s.SayInk = c.live.say, c.live.sayInk
	s.Trouble = join(", ", c.live.log.Trouble(), c.live.cues.Trouble())
	s.Before = c.lastTime(s)
	s.Keys = c.hints(s)
	c.scene = s
	c.offer(s)
	return s
}

// lastTime is last time's rounds of the part that is on, moved so that its part
// begins when today's did; nil where there was no last time.
func (c *classroom) lastTime(s *Scene) [][]floor.Round {
	from := s.Spans[0].From
	of := [2]time.Duration{time.Duration(s.Part), from}
	if c.before == nil || c.faintOf == of {
		return c.faint
	}
	c.faint, c.faintOf = nil, of
	first := floor.None
	known := false
	for _, t := range s.Tiles {
		rounds := slices.Clone(c.before(s.Part, s.Plan.People[t.Person].Name))
		for _, q := range rounds {
			if q.Starts != floor.None && (first == floor.None || q.Starts < first) {
				first = q.Starts
			}
		}
		known = known || len(rounds) > 0
		c.faint = append(c.faint, rounds)
	}
	if !known {
		c.faint = nil
	}
	for _, rounds := range c.faint {
		for i := range rounds {
			rounds[i].Starts = moved(rounds[i].Starts, from-first)
			rounds[i].Ends = moved(rounds[i].Ends, from-first)
		}
	}
	return c.faint
}

// moved is a time by so much later, None where it is none.
func moved(t, by time.Duration) time.Duration {
	if t == floor.None {
		return t
	}
	return t + by
}

// draw is the screen at a size.
func (c *classroom) draw(m *Model) *Page {
	w, h, k := m.w, m.h, &m.look
	s := c.look()
	s.Keys = k.keys.hints(s.Keys)
	ask := Ask{Share: c.share, Mode: k.Mode, Tiles: len(s.Tiles), Knots: s.Before != nil}
	if c.strip != nil {
		ask.Strip = c.strip.rows(w, h, c.live, s, k)
	}
	if c.alarm || c.list > 0 {
		ask.Share = DeskAlone // the digits keep their third, the rest is for what was asked for
	}
	c.layout = Lay(w, h, ask)
	p := s.Draw(w, h, &c.layout, k, &c.big)
	if c.strip != nil && !c.layout.TextOnly {
		c.strip.draw(p, c.layout.Strip, c.live, s, k)
	}
	switch {
	case c.alarm:
		c.drawAlarm(p, c.below(), k, c.layout.Times)
	case c.list > 0:
		hints, r := k.keys.inRun(), c.below()
		if each := r.H * listColumns(r, hints); each*(c.list-1) < len(hints) {
			p.list(r, hints[each*(c.list-1):])
		} else {
			c.list = 0
		}
	}
	return p
}

// below is where the emergency lines and the list of keys go: the desk, or where
// that is small everything under the digits.
func (c *classroom) below() Rect {
	l := &c.layout
	if l.Tiles.H >= 6 {
		return l.Tiles
	}
	y := l.Digits.Y + l.Digits.H
	return Rect{0, y, l.Head.W, l.Foot.Y - y}
}

// list writes keys with their help into r, in as many columns as it has room for.
func (p *Page) list(r Rect, hints []Hint) {
	p.Fill(r, " ", Body)
	columns := listColumns(r, hints)
	w := r.W / columns
	names, _ := listWidths(hints)
	for i, h := range hints {
		x, y := i/max(1, r.H), i%max(1, r.H)
		if x >= columns {
			return
		}
		at := Rect{r.X + x*w, r.Y + y, w - 1, 1}
		p.Say(at, 1, 0, Said{h.Key, KeyInk})
		p.Text(at, names+2, 0, h.Does, Body)
	}
}

// listColumns is how many columns of keys stand side by side.
func listColumns(r Rect, hints []Hint) int {
	names, does := listWidths(hints)
	return max(1, min(4, r.W/(names+does+4)))
}

// listWidths is the columns that keys, and what they do, take in a list.
func listWidths(hints []Hint) (names, does int) {
	names = 9
	for _, h := range hints {
		names, does = max(names, displaywidth.String(h.Key)), max(does, displaywidth.String(h.Does))
	}
	return names, does
}

// hints is the keys of the moment.
func (c *classroom) hints(s *Scene) []Hint {
	hold := "stop"
	switch s.Face.Phase {
	case floor.Waiting:
		hold = "GO"
	case floor.Holding:
		hold = "go on"
	case floor.Changing:
		hold = "start now"
	case floor.Over:
		return []Hint{{"Enter", "page after class"}, {"Backspace", "undo"}, {"letters", "late finishes"}, {"?", "keys"}}
	}
	return []Hint{
		{"Space", hold}, {"Backspace", "undo"}, {"arrows", "choose"}, {"Enter", "changes"}, {"Tab", "view"}, {"?", "keys"}, {"!", "emergency"},
	}
}

// press is a key at the instant it was struck. The second result asks for the
// page after class.
func (c *classroom) press(key, text string, at time.Duration) (tea.Cmd, bool) {
	if c.held.Repeat(key, at, c.live.house.HeldKey) && actionOf(key) < TileLeft {
		return nil, false
	}
	if c.strip != nil && c.scene != nil {
		cmd, used, done := c.strip.key(key, c.live, c.scene, at)
		if done {
			c.strip = nil
		}
		if used {
			return cmd, false
		}
	}
	if a := actionOf(key); a != NoAction {
		return c.act(a, at)
	}
	return c.mark(text, at), false
}

// mark is a press: a letter, a shifted letter, a digit.
func (c *classroom) mark(text string, at time.Duration) tea.Cmd {
	r := []rune(text)
	if len(r) != 1 {
		return nil
	}
	p := c.live.st.Plan()
	if who, ok := c.alone(); ok && isLetter(r[0]) {
		return c.live.ask(at, floor.Press{Who: who})
	}
	if press := pressOf(text, p, c.sleds); press != nil {
		return c.live.ask(at, press)
	}
	if isLetter(r[0]) || r[0] >= '0' && r[0] <= '9' {
		c.live.tell("nobody has the key "+text, Warn)
	}
	return nil
}

// pressOf is what a letter or a digit means: a person, a shifted letter their leg,
// a digit the sled of that place in the kit; nil where nobody has the key.
func pressOf(text string, p *floor.Plan, sleds []kit.Sled) floor.Command {
	r := []rune(text)[0]
	if n := int(r - '1'); n >= 0 && n < min(9, len(sleds)) {
		return floor.PressSled{On: sleds[n].Name}
	}
	for _, q := range p.People {
		switch {
		case q.Key == text:
			return floor.Press{Who: q.Name}
		case isUpper(r) && q.Key == string(lower(r)):
			return floor.LegDone{Who: q.Name}
		}
	}
	return nil
}

// alone returns the name of the only person in the room.
func (c *classroom) alone() (string, bool) {
	name, n := "", 0
	for i, q := range c.live.st.Plan().People {
		if c.live.st.Here(i) {
			name, n = q.Name, n+1
		}
	}
	return name, n == 1
}

// act does what a coach's key asks for.
func (c *classroom) act(a Action, at time.Duration) (tea.Cmd, bool) {
	live := c.live
	face := live.st.Face(live.shown())
	switch a {
	case HoldOrGo:
		return live.ask(at, c.turnClock(face)), false
	case TakeBack:
		return live.ask(at, floor.Undo{}), false
	case ChangeView:
		c.share = (c.share + 1) % 3
	case ListKeys:
		c.list++ // the next page; past the last it closes
	case CallHelp:
		c.alarm = true
		live.cues.Hold(at)
		if face.Phase != floor.Holding && face.Phase != floor.Waiting && face.Phase != floor.Over {
			return live.ask(at, floor.Hold{}), false
		}
	case CloseIt:
		c.list, c.alarm, c.strip = 0, false, nil
	case OpenTile:
		return c.open(face, at)
	case HeavierOne, LighterOne:
		if t := c.chosenTile(); t != nil {
			return live.ask(at, floor.StepLoad{Who: live.st.Plan().People[t.Person].Name, Up: a == HeavierOne}), false
		}
		live.tell("choose a person with the arrows first", Warn)
	case RoundAgain:
		return live.ask(at, floor.Again{}), false
	case SkipPart:
		return live.ask(at, floor.Skip{}), false
	case LongerPart, ShorterPart:
		by := lengthen(c.scene)
		if a == ShorterPart {
			by = -by
		}
		return live.ask(at, floor.Longer{By: by}), false
	case EndClass:
		if c.ending != floor.None && at-c.ending < sure {
			return live.ask(at, floor.End{}), false
		}
		c.ending = at
		live.tell("once more within 3 s ends the class", Warn)
	case TileLeft, TileRight, TileUp, TileDown:
		c.choose(a)
	}
	return nil, false
}

// turnClock is GO before a part that waits for it, else stop, else go on.
func (c *classroom) turnClock(f floor.Face) floor.Command {
	switch f.Phase {
	case floor.Waiting:
		return floor.Go{}
	case floor.Changing:
		if c.live.st.PartEnd(f.Part) != floor.None {
			return floor.Go{}
		}
	case floor.Holding:
		return floor.Resume{}
	}
	return floor.Hold{}
}

// open opens the changes of the chosen tile; for one person alone Enter is the
// press, and after the end it leads on to the page after class.
func (c *classroom) open(f floor.Face, at time.Duration) (tea.Cmd, bool) {
	if f.Phase == floor.Over {
		return nil, true
	}
	if who, ok := c.alone(); ok && c.chosen < 0 {
		return c.live.ask(at, floor.Press{Who: who}), false
	}
	c.alarm, c.list = false, 0
	c.strip = &strip{who: -1}
	if t := c.chosenTile(); t != nil {
		c.strip.who = t.Person
	}
	return nil, false
}

func (c *classroom) chosenTile() *floor.Tile {
	if c.scene == nil || c.chosen < 0 || c.chosen >= len(c.scene.Tiles) {
		return nil
	}
	return &c.scene.Tiles[c.chosen]
}

// choose moves the choice over the tiles as they stand; above the first is the class.
func (c *classroom) choose(a Action) {
	if c.scene == nil || len(c.scene.Tiles) == 0 {
		return
	}
	columns := max(1, c.layout.Columns)
	step := map[Action]int{TileLeft: -1, TileRight: 1, TileUp: -columns, TileDown: columns}[a]
	switch {
	case c.chosen < 0 && step > 0:
		c.chosen = 0
	case c.chosen+step < 0:
		c.chosen = -1
	default:
		c.chosen = min(c.chosen+step, len(c.scene.Tiles)-1)
	}
	if c.strip != nil {
		c.strip = &strip{who: -1}
		if t := c.chosenTile(); t != nil {
			c.strip.who = t.Person
		}
	}
}

// point is a mouse or a finger on a tile: that person's press.
func (c *classroom) point(x, y int, at time.Duration) tea.Cmd {
	if c.scene == nil {
		return nil
	}
	i := c.scene.TileAt(&c.layout, x, y)
	people := c.live.st.Plan().People
	if i < 0 || i >= len(people) {
		return nil
	}
	return c.live.ask(at, floor.Press{Who: people[i].Name})
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || isUpper(r) }

func isUpper(r rune) bool { return r >= 'A' && r <= 'Z' }

func lower(r rune) rune { return r - 'A' + 'a' }
