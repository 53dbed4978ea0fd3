package tui

import (
	"fmt"
	"slices"
	"time"

	tea "charm.land/bubbletea/v2"

	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// strip is the open changes of one person, or of the class. There, and only
// there, digits and ':' are a choice or a time; letters stay presses. It takes
// rows from the desk and never from the digits.
type strip struct {
	who    int    // index into the people, -1: the class
	asking *item  // the choice whose figure is being typed; nil: none
	typed  string // so far
	more   []item // in place of the first choices, after one of them; nil: those
	offers bool   // only what the tool offers unasked: no digit is taken
}

// item is one choice: its key, what it says, and the command it becomes. A choice
// with take wants a figure first; one with then does what it does at once, and what
// may be said about it stays open: no more than an Esc, and never over the digits.
type item struct {
	key, does string
	command   floor.Command                              // nil: only what comes then
	take      func(typed string) (floor.Command, string) // a command, or why not
	then      []item                                     // what may be said of it afterwards
}

// rows is the height of the strip on a screen of w × h: its rule and every choice,
// but that the desk keeps a few rows.
func (s *strip) rows(w, h int, live *Live, scene *Scene, k *Look) int {
	n, x := 2, 0
	for _, it := range s.items(live, scene) {
		it.key = k.keys.said(it.key)
		var line int
		if x, line = it.place(x, w-2); line > 0 {
			n++
		}
	}
	return min(n, h/4)
}

// place returns the column after a choice that begins at x of w, and whether that
// was on a new line.
func (it *item) place(x, w int) (after, line int) {
	gap := 3
	if w < 100 {
		gap = 2
	}
	wide := len([]rune(it.key+it.does)) + 1
	if x > 0 && x+wide > w {
		return wide + gap, 1
	}
	return x + wide + gap, 0
}

// items lists the choices. They change with the person's state, so that the first
// ten keys are those that make sense now.
func (s *strip) items(r *Live, scene *Scene) []item {
	if s.more != nil {
		return s.more
	}
	if s.offers {
		return append(offers(r, scene), item{key: "Esc", does: "leave it so"})
	}
	if s.who < 0 {
		return append(classItems(r, scene), waysOut(r, scene)...)
	}
	t := scene.tileOf(s.who)
	p := scene.Plan.People[s.who]
	if t == nil {
		return nil
	}
	if t.State == floor.TileAway {
		return []item{
			{key: "1", does: "is here, needs to warm up", command: floor.Arrive{Who: p.Name}},
			{key: "2", does: "is here and warm", command: floor.Arrive{Who: p.Name, WarmUp: time.Nanosecond}},
		}
	}
	return personItems(r, scene, t, p.Name)
}

// personItems is what can change for somebody who takes part. What is always there
// keeps its key in every state; sleds and movements to go to each have their own, so
// that a change is Enter and one key.
func personItems(r *Live, scene *Scene, t *floor.Tile, who string) []item {
	list := []item{
		{key: "+", does: "heavier", command: floor.StepLoad{Who: who, Up: true}},
		{key: "-", does: "lighter", command: floor.StepLoad{Who: who}},
		{key: "1", does: "drop load", command: floor.Drop{Who: who, Share: r.house.LateDrop}},
		{key: "2", does: "time by hand", take: byHand(who)},
		{key: "3", does: "done, no time", command: floor.NoTime{Who: who}},
		{key: "4", does: "not counted", command: floor.Strike{Who: who, Round: lastBegun(scene, t)}, then: reasons(who, lastBegun(scene, t))},
		{key: "5", does: "stops for today", command: floor.Leave{Who: who}, then: pains(who)},
		{key: "6", does: "pain", then: pains(who)},
	}
	for i, on := range otherSleds(r, scene, t) {
		list = append(list, item{key: itoa(7 + i), does: "to " + clean(on), command: floor.MoveTo{Who: who, On: on}})
	}
	if t.Place.On != "" {
		list = append(list, item{key: "/", does: clean(t.Place.On) + " broken", command: floor.Out{On: t.Place.On}})
	}
	for i, m := range standIns(scene, t) {
		list = append(list, item{key: "0,;"[i : i+1], does: m, command: floor.Swap{Who: who, Movement: m}})
	}
	switch scene.spec().Format {
	case session.Ramp, session.Sets:
		list = append(list, item{key: "*", does: "missed", command: floor.Miss{Who: who}})
	case session.ForTime:
		list = append(list, item{key: "*", does: "off the sled", command: floor.OffSled{Who: who}})
	default: // a press says it all
	}
	return append(list, item{key: ".", does: "amount", take: amount(scene, t, who)})
}

// byHand takes a time: "39" is 0:39, "105" is 1:05, "0:39.4" as it stands.
func byHand(who string) func(string) (floor.Command, string) {
	return func(typed string) (floor.Command, string) {
		if n, ok := upTo(typed, 9959); ok {
			typed = fmt.Sprintf("%d:%02d", n/100, n%100)
		}
		d, err := measure.ParseClock(typed)
		if err != nil {
			return nil, "type a time like 0:39"
		}
		return floor.ByHand{Who: who, Work: d}, ""
	}
}

// amount takes metres or reps of the round that has no split.
func amount(scene *Scene, t *floor.Tile, who string) func(string) (floor.Command, string) {
	return func(typed string) (floor.Command, string) {
		n, ok := upTo(typed, 9999)
		if !ok {
			return nil, "type a whole number"
		}
		if st := scene.spec().Stations; t.Station <= len(st) && st[t.Station-1].Reps > 0 {
			return floor.Amount{Who: who, Round: t.Round, Reps: n}, ""
		}
		return floor.Amount{Who: who, Round: t.Round, Metres: measure.Distance(n) * measure.Metre}, ""
	}
}

// classItems is what can change for the class.
func classItems(r *Live, scene *Scene) []item {
	by := lengthen(scene)
	list := []item{
		{key: "1", does: "this round again", command: floor.Again{}},
		{key: "2", does: measure.Clock(by) + " longer", command: floor.Longer{By: by}},
		{key: "3", does: measure.Clock(by) + " shorter", command: floor.Longer{By: -by}},
		{key: "4", does: "end this part", command: floor.Skip{}},
		{key: "5", does: "a guest joins", command: floor.Guest{Who: guestName(scene.Plan)}},
	}
	for i, s := range scene.Plan.Kit.Sleds {
		switch {
		case i >= 4:
		case r.out[s.Name]:
			list = append(list, item{key: itoa(6 + i), does: clean(s.Name) + " is back", command: floor.Back{On: s.Name}})
		default:
			list = append(list, item{key: itoa(6 + i), does: clean(s.Name) + " broken", command: floor.Out{On: s.Name}})
		}
	}
	return append(list, item{key: "0", does: "end the class", take: func(string) (floor.Command, string) {
		return floor.End{}, ""
	}})
}

// lengthen is the step by which a part gets longer or shorter: one round where
// the class has rounds, else a minute.
func lengthen(scene *Scene) time.Duration {
	switch spec := scene.running(); spec.Format {
	case session.Every:
		return spec.Every
	case session.Intervals:
		return spec.Work + spec.Rest
	}
	return time.Minute
}

// guestName is a name nobody has yet; letters are presses, so none can be typed.
func guestName(p *floor.Plan) string {
	for i := 1; ; i++ {
		name := "Guest " + itoa(i)
		if !slices.ContainsFunc(p.People, func(q floor.Person) bool { return q.Name == name }) {
			return name
		}
	}
}

// giveTo is whose press the last one was: whoever has that letter, shifted.
func (s *strip) giveTo(k string, scene *Scene) floor.Command {
	r := []rune(k)
	if s.who < 0 || s.more != nil || len(r) != 1 || !isUpper(r[0]) || scene.spec().Format == session.LongPull {
		return nil
	}
	for _, p := range scene.Plan.People {
		if p.Key == string(lower(r[0])) {
			return floor.Give{Who: scene.Plan.People[s.who].Name, To: p.Name}
		}
	}
	return nil
}

// standIns is up to three other movements that the same kind of implement serves,
// those of the same pattern first.
func standIns(scene *Scene, t *floor.Tile) []string {
	st := scene.spec().Stations
	if t.Station < 1 || t.Station > len(st) {
		return nil
	}
	now, known := movement.Find(st[t.Station-1].Movement)
	if !known {
		return nil
	}
	var same, others []string
	all := movement.All()
	for i := range all {
		switch m := &all[i]; {
		case m.Need != now.Need || m.Name == now.Name:
		case m.Pattern == now.Pattern:
			same = append(same, m.Name)
		default:
			others = append(others, m.Name)
		}
	}
	list := slices.Concat(same, others)
	return list[:min(3, len(list))]
}

// otherSleds is up to three other implements of the station that are on the floor.
func otherSleds(r *Live, scene *Scene, t *floor.Tile) []string {
	stations := scene.Plan.Parts[scene.Part-1].Stations
	if t.Station < 1 || t.Station > len(stations) {
		return nil
	}
	var list []string
	for _, on := range stations[t.Station-1].On {
		if on.Name != t.Place.On && !r.out[on.Name] && len(list) < 3 {
			list = append(list, on.Name)
		}
	}
	return list
}

// also is what stands beside the name: the key that moves a press to whose it was
// (in a long pull a shifted letter is a leg), and for the class what does not fit.
func (s *strip) also(live *Live, scene *Scene) string {
	switch {
	case s.who < 0:
		if f := live.st.Fit(scene.Now); f != nil {
			return f.Short()
		}
		if s.offers {
			return "began with the empty sled, and well under the time"
		}
	case s.more == nil && scene.spec().Format != session.LongPull:
		return "Shift and a letter: it was their press"
	}
	return ""
}

// upTo reads a whole number from 0 to most.
func upTo(typed string, most int) (int, bool) {
	n := 0
	for _, c := range typed {
		if c < '0' || c > '9' || n > most {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	return n, typed != "" && n <= most
}

// key takes a key. done closes the strip; used says that the key was the strip's.
func (s *strip) key(k string, r *Live, scene *Scene, at time.Duration) (cmd tea.Cmd, used, done bool) {
	if s.asking != nil {
		return s.figure(k, r, at)
	}
	if c := s.giveTo(k, scene); c != nil {
		return r.ask(at, c), true, true
	}
	for _, it := range s.items(r, scene) {
		if it.key != k {
			continue
		}
		if it.take != nil {
			s.asking = &it
			return nil, true, false
		}
		if s.more = it.then; it.command != nil {
			cmd = r.ask(at, it.command)
		}
		return cmd, true, s.more == nil
	}
	if k == ":" && s.who >= 0 && s.more == nil { // a time begins
		s.asking, s.typed = &item{does: "time by hand", take: byHand(scene.Plan.People[s.who].Name)}, "0:"
		return nil, true, false
	}
	digit := len(k) == 1 && k[0] >= '0' && k[0] <= '9'
	return nil, digit && !s.offers, false
}

// figure takes a key of the figure that is being typed.
func (s *strip) figure(k string, r *Live, at time.Duration) (cmd tea.Cmd, used, done bool) {
	switch {
	case k == "enter":
		c, why := s.asking.take(s.typed)
		if c == nil {
			r.tell(why, Warn)
			return nil, true, false
		}
		return r.ask(at, c), true, true
	case k == "backspace":
		if s.typed != "" {
			s.typed = s.typed[:len(s.typed)-1]
		}
		return nil, true, false
	case len(k) == 1 && (k[0] >= '0' && k[0] <= '9' || k == ":" || k == "." || k == ","):
		if len(s.typed) < 8 {
			s.typed += k
		}
		return nil, true, false
	}
	return nil, false, false
}

// draw writes the strip: whose it is, and the choices as many as fit.
func (s *strip) draw(p *Page, r Rect, live *Live, scene *Scene, k *Look) {
	for x := range r.W {
		p.put(r.X+x, r.Y, k.signs.rule, Dim)
	}
	in := r.rows(1, r.H).in(1)
	who := "the class"
	if s.who >= 0 {
		who = clean(scene.Plan.People[s.who].Name)
	}
	p.Text(r.in(2), 0, 0, " "+who+" ", Strong)
	room := r.W - displaywidth.String(who) - 12
	also := s.also(live, scene)
	if s.asking == nil && also != "" && displaywidth.String(also) <= room {
		p.Text(r.in(2), displaywidth.String(who)+4, 0, " "+also+" ", Body)
	}
	if s.asking != nil {
		x := p.Say(in, 0, 0, Said{s.asking.does + ": ", Body}, Said{s.typed + "_", KeyInk})
		p.Text(in, x+3, 0, k.keys.said("Enter keeps it, Esc leaves it"), Dim)
		return
	}
	x, y := 0, 0
	for _, it := range s.items(live, scene) {
		it.key = k.keys.said(it.key)
		after, line := it.place(x, in.W)
		if line > 0 {
			x, y = 0, y+1
		}
		p.Say(in, x, y, Said{it.key, KeyInk}, Said{" " + it.does, Body})
		x = after
	}
}
