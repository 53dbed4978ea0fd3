package history

import (
	"bytes"
	"encoding/json"
	"time"
	"unicode/utf8"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// same holds what was met before and is the same in most logs: words, whole events,
// and of plans the people, the kit and the house rules. Nothing changes them once read.
type same struct {
	words    map[string]string
	events   map[string]floor.Event
	people   map[string][]floor.Person
	kits     map[string]*kit.Kit
	houses   map[string]*house.House
	specs    map[string]session.Part
	stations map[string][]floor.StationPlan
	stacks   map[string][]string
	sets     map[string][]floor.Set
}

func newSame() *same {
	return &same{
		words: map[string]string{}, events: map[string]floor.Event{}, people: map[string][]floor.Person{}, kits: map[string]*kit.Kit{},
		houses: map[string]*house.House{}, specs: map[string]session.Part{}, stations: map[string][]floor.StationPlan{},
		stacks: map[string][]string{}, sets: map[string][]floor.Set{},
	}
}

// room makes some for one more: what holds very many begins anew.
func room[T any](known map[string]T) {
	if len(known) >= 10_000 {
		clear(known)
	}
}

// remember returns what raw says, from known where it stood there before.
func remember[T any](s *scanner, known map[string]T, raw []byte) T {
	v, ok := known[string(raw)]
	if !ok && s.ok {
		s.ok = json.Unmarshal(raw, &v) == nil
		room(known)
		known[string(raw)] = v
	}
	return v
}

// word is the text b, which is made but once; false where b is not as it would
// come out of a JSON decoder.
func (m *same) word(b []byte) (string, bool) {
	if w, ok := m.words[string(b)]; ok {
		return w, true
	}
	if !utf8.Valid(b) || bytes.ContainsFunc(b, func(r rune) bool { return r < ' ' }) {
		return "", false
	}
	room(m.words)
	w := string(b)
	m.words[w] = w
	return w, true
}

// opened reads the fields of the event that begins a log, after its version.
func (m *same) opened(fields []byte) floor.Event {
	s := scanner{fields, true}
	e := floor.Opened{Plan: &floor.Plan{}}
	s.word(`"run":"`)
	e.Run = s.said(m)
	s.word(`,"wall":`)
	wall := s.raw()
	s.word(`,"plan":{"session":"`)
	p := e.Plan
	p.Session = s.said(m)
	s.word(`,"title":"`)
	p.Title = s.said(m)
	s.word(`,"aim":"`)
	p.Aim = session.Aim(s.said(m))
	s.word(`,"people":`)
	p.People = remember(&s, m.people, s.raw())
	s.word(`,"kit":`)
	p.Kit = remember(&s, m.kits, s.raw())
	s.word(`,"house":`)
	p.House = remember(&s, m.houses, s.raw())
	s.word(`,"parts":[`)
	p.Parts = make([]floor.PartPlan, 0, 1)
	for s.more(len(p.Parts)) {
		p.Parts = append(p.Parts, m.part(&s, len(p.People)))
	}
	s.word(`}`)
	if !s.ok || len(s.rest) > 0 || json.Unmarshal(wall, &e.Wall) != nil {
		return nil
	}
	return e
}

func (m *same) part(s *scanner, people int) floor.PartPlan {
	var p floor.PartPlan
	s.word(`{"spec":`)
	p.Spec = remember(s, m.specs, s.raw())
	s.word(`,"stations":`)
	p.Stations = remember(s, m.stations, s.raw())
	s.word(`,"heats":`)
	p.Heats = s.number()
	s.word(`,"places":[`)
	p.Places = make([]floor.Place, 0, people)
	spots := make([]floor.Spot, 0, (people+1)*len(p.Stations)) // of all of them
	for s.more(len(p.Places)) {
		p.Places = append(p.Places, m.place(s, &spots))
	}
	if s.skip(`,"guest":`) { // the oldest logs have none
		p.Guest = m.place(s, &spots)
	}
	s.word(`}`)
	return p
}

// place reads a place, and appends its spots to those of the others.
func (m *same) place(s *scanner, spots *[]floor.Spot) floor.Place {
	var p floor.Place
	s.word(`{"heat":`)
	p.Heat = s.number()
	s.word(`,"side":`)
	p.Side = s.number()
	if s.skip(`,"spots":null}`) {
		return p
	}
	s.word(`,"spots":[`)
	first := len(*spots)
	for s.more(len(*spots) - first) {
		*spots = append(*spots, m.spot(s))
	}
	p.Spots = (*spots)[first:len(*spots):len(*spots)]
	s.word(`}`)
	return p
}

func (m *same) spot(s *scanner) floor.Spot {
	var p floor.Spot
	s.word(`{"on":"`)
	p.On = s.said(m)
	s.word(`,"order":`)
	p.Order = s.number()
	if s.skip(`,"swap":"`) {
		p.Swap = s.said(m)
	}
	if s.skip(`,"metres_um":`) {
		p.Metres = measure.Distance(s.number())
	}
	s.word(`,"ends":`)
	p.Ends = s.number()
	s.word(`,"tare_ug":`)
	p.Tare = measure.Mass(s.number())
	s.word(`,"stack":`)
	if !s.skip(`null`) {
		p.Stack = remember(s, m.stacks, s.raw())
	}
	if s.skip(`,"sets":`) {
		p.Sets = remember(s, m.sets, s.raw())
	}
	s.word(`,"moves_ug":`)
	p.Moves = measure.Mass(s.number())
	s.word(`,"asked_ug":`)
	p.Asked = measure.Mass(s.number())
	p.Est = s.skip(`,"est":true`)
	s.word(`,"expect_ns":`)
	p.Expect = time.Duration(s.number())
	s.word(`}`)
	return p
}
