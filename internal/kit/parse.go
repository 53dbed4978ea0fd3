package kit

import (
	"fmt"
	"strings"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// DefaultStep is the lightest plate that goes on a sled where kit.toml says nothing.
const DefaultStep = 2500 * measure.Gram

// Parse reads kit.toml. The error is [coachfile.Faults], all of them.
func Parse(name string, data []byte) (*Kit, error) {
	file, top := coachfile.Read(name, data, coachfile.Limit)
	k := &Kit{Path: name, Step: DefaultStep}
	if top.Has("step") {
		k.Step = coachfile.Get(top, "step", measure.ParseMass)
	}
	if t := top.Table("strip"); t != nil {
		k.Strip = Strip{
			Length:  coachfile.Get(t, "length", coachfile.Some(measure.ParseDistance)),
			Surface: coachfile.Get(t, "surface", coachfile.Name),
			Lanes:   t.Int("lanes", 1, 100),
		}
		t.Need("length", `length = "25 m"`)
	}
	names := names{}
	for _, t := range top.Tables("sled") {
		s := Sled{Name: names.of(t, "", `name = "A"`), Tare: tare(t), Posts: 1}
		if t.Has("posts") {
			s.Posts = t.Int("posts", 1, 8)
		}
		k.Sleds = append(k.Sleds, s)
	}
	for _, t := range top.Tables("bar") {
		b := Bar{Name: names.of(t, "bar", ""), Tare: tare(t), Count: count(t)}
		b.Kind = coachfile.Get(t, "kind", coachfile.OneOf("bar", "trap bar"))
		if b.Kind == "" {
			b.Kind = kindOf(b.Name)
		}
		k.Bars = append(k.Bars, b)
	}
	for _, t := range top.Tables("handles") {
		k.Handles = append(k.Handles, Handles{Name: names.of(t, "handles", ""), Tare: tare(t), Count: count(t)})
	}
	for _, t := range top.Tables("rope") {
		r := Rope{Name: names.of(t, "rope", ""), Length: coachfile.Get(t, "length", coachfile.Some(measure.ParseDistance))}
		t.Need("length", `length = "16 m"`)
		k.Ropes = append(k.Ropes, r)
	}
	for _, t := range top.Tables("plates") {
		k.addPlates(plates(t))
	}
	for _, t := range top.Tables("surface") {
		k.Surfaces = append(k.Surfaces, surface(t))
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	return k, nil
}

// kindOf guesses the kind of a bar from its name.
func kindOf(name string) string {
	if strings.Contains(strings.ToLower(name), "trap") {
		return "trap bar"
	}
	return "bar"
}

// names holds the names given so far: sessions call implements by name, so no two
// of any kind may share one.
type names map[string]bool

// of reads a name, or numbers one from kind where it may be left away.
func (n names) of(t *coachfile.Table, kind, example string) string {
	name := coachfile.Get(t, "name", coachfile.Name)
	if name == "" && kind == "" {
		t.Need("name", example)
		return ""
	}
	if name == "" {
		name = kind
		for i := 2; n[name]; i++ {
			name = fmt.Sprintf("%s %d", kind, i)
		}
	}
	if n[name] {
		t.Fault("name", fmt.Sprintf("two things are called %q", name), "give each its own name")
	}
	n[name] = true
	return name
}

func tare(t *coachfile.Table) measure.Mass {
	t.Need("tare", `tare = "27 kg"`)
	return coachfile.Get(t, "tare", measure.ParseMass)
}

func count(t *coachfile.Table) int {
	if !t.Has("count") {
		return 1
	}
	return t.Int("count", 0, 100)
}

func plates(t *coachfile.Table) Plates {
	t.Need("mass", `mass = "20 kg"`)
	t.Need("count", "count = 6")
	mass := coachfile.Get(t, "mass", coachfile.Some(measure.ParseMass))
	return Plates{Stamp: mass.String(), Mass: mass, Count: t.Int("count", 0, 1000)}
}

// addPlates keeps the pile biggest first and one entry a stamp.
func (k *Kit) addPlates(p Plates) {
	at := 0
	for at < len(k.Plates) && k.Plates[at].Mass > p.Mass {
		at++
	}
	if at < len(k.Plates) && k.Plates[at].Mass == p.Mass {
		k.Plates[at].Count += p.Count
		return
	}
	k.Plates = append(k.Plates[:at], append([]Plates{p}, k.Plates[at:]...)...)
}

func surface(t *coachfile.Table) Surface {
	t.Need("name", `name = "rubber"`)
	t.Need("pull_here", `pull_here = "40 kg"`)
	t.Need("pull_on", `pull_on = { turf = "28 kg" }`)
	s := Surface{
		Name:     coachfile.Get(t, "name", coachfile.Name),
		PullHere: coachfile.Get(t, "pull_here", coachfile.Some(measure.ParseMass)),
		PullOn:   map[string]measure.Mass{},
	}
	if on := t.Table("pull_on"); on != nil {
		for _, other := range on.Keys() {
			s.PullOn[other] = coachfile.Get(on, other, coachfile.Some(measure.ParseMass))
			if err := coachfile.CheckText(other); err != nil {
				on.Fault(other, "the name of this surface: "+err.Error(), "")
			}
		}
	}
	return s
}
