package tui

import (
	"slices"
	"strings"

	"hawser/internal/coachfile"
	"hawser/internal/kit"
	"hawser/internal/measure"
)

const kitFile = "kit.toml"

// sledSheet is a new sled.
type sledSheet struct{ name, tare, posts string }

func newSledSheet(w *World) *sledSheet {
	s := &sledSheet{posts: "1"}
	for letter := 'A'; letter <= 'Z' && s.name == ""; letter++ {
		if !slices.Contains(w.Kit.Names(), string(letter)) {
			s.name = string(letter)
		}
	}
	return s
}

func (s *sledSheet) title() string { return "a sled" }

func (s *sledSheet) rows(w *World) []row {
	return []row{
		{name: "name", value: &s.name, hint: "short: it stands beside every name", check: func(name string) error {
			if slices.Contains(w.Kit.Names(), name) {
				return &measure.Error{What: name + " is in the kit already", Write: "another name"}
			}
			return need(coachfile.Name)(name)
		}},
		{name: "empty", value: &s.tare, hint: `what the empty sled weighs, since it moves too: "25 kg" or "55 lb"`, check: need(measure.ParseMass)},
		{name: "posts", value: &s.posts, hint: "how many posts take plates; each carries the same", check: need(countTo(8))},
	}
}

func (s *sledSheet) panel(m *Model, w int) [][]Said {
	rows := [][]Said{{{"Sleds", Strong}}}
	for i := range m.world.Kit.Sleds {
		sled := &m.world.Kit.Sleds[i]
		rows = append(rows, []Said{{itoa(i+1) + "  ", KeyInk}, {clean(sled.Name) + "  ", Strong}, {m.look.Style.Mass(sled.Tare) + " empty", Body}})
	}
	if len(rows) == 1 {
		rows = append(rows, []Said{{"none yet", Dim}})
	}
	return append(append(rows, nil), told("key 1 is the first sled, key 2 the second", w)...)
}

func (s *sledSheet) change(*World) (Change, error) {
	sled := kit.Sled{Name: given(s.name, coachfile.Name), Tare: given(s.tare, measure.ParseMass), Posts: given(s.posts, countTo(8))}
	return Change{File: kitFile, Done: "sled " + sled.Name + " is added; another, or Esc", Edit: func(src []byte) ([]byte, error) {
		return kit.AddSled(kitFile, src, sled)
	}}, nil
}

// platesSheet is plates of one stamp that come to the pile.
type platesSheet struct{ mass, count string }

func (s *platesSheet) title() string { return "plates" }

func (s *platesSheet) rows(*World) []row {
	return []row{
		{name: "stamp", value: &s.mass, hint: `what is cast on them: "20 kg" or "45 lb"`, check: need(coachfile.Some(measure.ParseMass))},
		{name: "how many", value: &s.count, hint: "one by one, not in pairs; they are added to those of that stamp", check: need(countTo(1000))},
	}
}

func (s *platesSheet) panel(m *Model, _ int) [][]Said {
	rows := [][]Said{{{"The pile", Strong}}}
	for _, p := range m.world.Kit.Plates {
		rows = append(rows, []Said{{clean(p.Stamp), Strong}, {"  " + itoa(p.Count), Body}})
	}
	if len(rows) == 1 {
		rows = append(rows, []Said{{"nothing yet: sleds are pulled empty", Dim}})
	}
	return rows
}

func (s *platesSheet) change(*World) (Change, error) {
	p := kit.Plates{Mass: given(s.mass, measure.ParseMass), Count: given(s.count, countTo(1000))}
	done := s.count + " of " + strings.TrimSpace(s.mass) + " are added; more, or Esc"
	return Change{File: kitFile, Done: done, Edit: func(src []byte) ([]byte, error) {
		return kit.AddPlates(kitFile, src, p)
	}}, nil
}
