package tui

import (
	"slices"
	"strings"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/kit"
	"hawser/internal/session"
)

// muster is who is here, and what of the kit is not. A person's letter marks them
// as here, so they can do it themselves as they come in.
type muster struct {
	session *session.Session
	here    map[string]bool
	guests  []string
	gone    map[string]bool // sleds
	plates  []int           // that are there, by entry of the kit
	at      int             // entry of the plates
	naming  bool            // a guest's name is being typed
	name    string
	search  search
	say     string
}

func newMuster(w *World, s *session.Session) *muster {
	v := &muster{session: s, here: map[string]bool{}, gone: map[string]bool{}, say: w.Notice}
	for _, name := range w.Here {
		v.here[name] = true
	}
	for _, p := range w.Kit.Plates {
		v.plates = append(v.plates, p.Count)
	}
	return v
}

// day is what the board is made from. Nobody marked means that all are here.
func (v *muster) day(w *World) Day {
	d := Day{Session: v.session, Guests: v.guests}
	for _, a := range w.Roster.Athletes {
		if v.here[a.Name] || len(v.here) == 0 && len(v.guests) == 0 {
			d.Who = append(d.Who, a.Name)
		}
	}
	k := *w.Kit
	k.Sleds = slices.DeleteFunc(slices.Clone(k.Sleds), func(s kit.Sled) bool { return v.gone[s.Name] })
	k.Plates = slices.Clone(k.Plates)
	for i := range k.Plates {
		k.Plates[i].Count = v.plates[i]
	}
	k.Plates = slices.DeleteFunc(k.Plates, func(p kit.Plates) bool { return p.Count == 0 })
	d.Kit = &k
	return d
}

func (v *muster) key(m *Model, k input) tea.Cmd {
	if v.naming {
		v.spell(k, m.world)
		return nil
	}
	v.say = ""
	w := m.world
	if v.search.typing && k.key == "enter" {
		v.markFirst(w)
		return nil
	}
	if v.search.key(k) || v.search.typing {
		return nil
	}
	switch k.key {
	case "enter":
		b := newBoardroom(v, v.day(w))
		m.on = b
		return b.make(w)
	case "esc":
		if len(w.Sessions) > 0 {
			m.on = newPicker(w)
		}
	case "+":
		v.naming, v.name = true, ""
	case "*":
		for _, a := range w.Roster.Athletes {
			v.here[a.Name] = true
		}
	case "up":
		v.at = max(0, v.at-1)
	case "down":
		v.at = max(0, min(len(v.plates)-1, v.at+1))
	case "left":
		v.count(w, -1)
	case "right":
		v.count(w, 1)
	default:
		v.mark(w, k.text)
	}
	return nil
}

// count takes plates of the chosen kind away, or puts them back.
func (v *muster) count(w *World, by int) {
	if v.at < len(v.plates) {
		v.plates[v.at] = max(0, min(w.Kit.Plates[v.at].Count, v.plates[v.at]+by))
	}
}

// mark takes a letter as a person, a digit as a sled.
func (v *muster) mark(w *World, text string) {
	for _, a := range w.Roster.Athletes {
		if a.Key == text && text != "" {
			if v.here[a.Name] {
				delete(v.here, a.Name)
			} else {
				v.here[a.Name] = true
			}
			return
		}
	}
	if len(text) == 1 && text[0] >= '1' && int(text[0]-'1') < len(w.Kit.Sleds) {
		name := w.Kit.Sleds[text[0]-'1'].Name
		v.gone[name] = !v.gone[name]
		return
	}
	if text != "" {
		v.say = "nobody has the key " + clean(text)
	}
}

// standee is somebody on the list; a guest has no key.
type standee struct{ name, key string }

// listed is those on the list whose names hold what is sought, guests last.
func (v *muster) listed(w *World) []standee {
	var all []standee
	for i := range w.Roster.Athletes {
		if a := &w.Roster.Athletes[i]; v.search.holds(a.Name) {
			all = append(all, standee{a.Name, a.Key})
		}
	}
	for _, name := range v.guests {
		if v.search.holds(name) {
			all = append(all, standee{name, ""})
		}
	}
	return all
}

// markFirst marks the first that holds what is sought, and shows all again.
func (v *muster) markFirst(w *World) {
	for _, a := range v.listed(w) {
		if a.key != "" {
			v.mark(w, a.key)
			break
		}
	}
	v.search = search{}
}

// spell takes a key of a guest's name.
func (v *muster) spell(k input, w *World) {
	switch k.key {
	case "enter":
		name := strings.TrimSpace(v.name)
		switch {
		case name == "":
		case w.Roster.Find(name) != nil || slices.Contains(v.guests, name):
			v.say = name + " is on the list already"
		default:
			v.guests = append(v.guests, name)
		}
		v.naming = false
	case "esc":
		v.naming = false
	case "backspace":
		v.name = shorten(v.name)
	default:
		if len([]rune(v.name)) < 24 {
			v.name += clean(k.text)
		}
	}
}

func (v *muster) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	w := m.world
	n := len(v.here) + len(v.guests)
	right := itoa(n) + " here"
	if n == 0 {
		right = "nobody marked: all " + itoa(len(w.Roster.Athletes))
	}
	say := v.say
	if v.naming {
		say = "guest's name: " + v.name + "_"
	}
	if v.search.typing {
		say = itoa(len(v.listed(w))) + " hold “" + v.search.text + "”; " + m.look.keys.said("Enter marks the first")
	}
	r := frame(p, &m.look, "Who is here? "+clean(v.session.Title), right, say, []Hint{
		{"Enter", "board"}, {"letter", "here"}, {"+", "guest"}, {"*", "all"}, {"digit", "sled out"}, {"arrows", "plates"}, {"/", "search"},
	})
	kitW := 26
	if m.w < 60 {
		kitW = 14
	}
	v.drawPeople(p, Rect{r.X, r.Y, r.W - kitW, r.H}, m)
	v.drawKit(p, Rect{r.X + r.W - kitW, r.Y, kitW, r.H}, m)
	return p
}

func (v *muster) drawPeople(p *Page, r Rect, m *Model) {
	g := m.look.signs
	people := v.listed(m.world)
	n := len(people)
	gap := 1
	if fit := r.H / 4 * (r.W / 66); fit >= n && m.look.Mode != Hashes {
		gap = 4 // in the three-row face, to be read on the way in
	} else if r.H >= 2*n {
		gap = 2
	}
	columns := max(1, (n*gap+r.H-1)/max(1, r.H))
	per := (n + columns - 1) / columns
	w := r.W / columns
	for i, who := range people {
		name, key, mark, ink, here := who.name, who.key, g.knot, Rest, true
		if key == "" {
			key = "+"
		} else if here = v.here[name]; !here {
			mark, ink = g.waiting, Dim
		}
		at := Rect{r.X + i/per*w, r.Y + i%per*gap, w - 1, min(3, gap)}
		nameInk := Body
		if here {
			nameInk = Strong
		}
		if gap == 4 && v.large(p, at, key, clean(name), Said{mark, ink}, m) {
			continue
		}
		lead := "  "
		if at.W < 14 {
			lead = " "
		}
		x := p.Say(at, 0, 0, Said{mark + " ", ink}, Said{key + lead, KeyInk})
		x = p.Text(at, x, 0, clean(name), nameInk)
		if here && at.W-x > 6 {
			p.Text(at, x+1, 0, "here", Rest)
		}
	}
}

// large is a person in the three-row face: the letter to press, the name, and
// whether they are here; false where the name has other letters or no room.
func (v *muster) large(p *Page, r Rect, key, name string, mark Said, m *Model) bool {
	ink := Dim
	if mark.Ink == Rest {
		ink = Strong
	}
	text, ok := spell(name)
	if !ok || face3Width(text) > r.W-16 {
		return false
	}
	if mark.Ink == Rest { // a ring would read as an O here
		p.Large(r, 0, mark.Text, m.look.Mode, mark.Ink)
	}
	p.Large(r, 7, key, m.look.Mode, KeyInk)
	x, _ := p.Large(r, 16, name, m.look.Mode, ink)
	if mark.Ink == Rest {
		p.Text(r, x+2, 1, "here", Rest)
	}
	return true
}

func (v *muster) drawKit(p *Page, r Rect, m *Model) {
	g := m.look.signs
	y := 0
	for i, s := range m.world.Kit.Sleds {
		word, ink := "there", Body
		if v.gone[s.Name] {
			word, ink = "out", Warn
		}
		x := p.Say(r, 0, y, Said{itoa(i+1) + " ", KeyInk}, Said{clean(s.Name) + " ", Strong})
		p.Right(r, x, y, word, ink)
		y++
	}
	y++
	first := scroll(v.at, len(v.plates), max(1, r.H-y))
	for i, pl := range m.world.Kit.Plates {
		if i < first {
			continue
		}
		mark, ink := "  ", Body
		if i == v.at {
			mark, ink = g.working+" ", Strong
		}
		count := itoa(v.plates[i])
		if v.plates[i] < pl.Count {
			count, ink = count+" of "+itoa(pl.Count), Warn
		}
		x := p.Say(r, 0, y, Said{mark, Ready}, Said{clean(pl.Stamp), Body})
		p.Right(r, x+1, y, count, ink)
		y++
	}
}
