// Package kit reads and writes kit.toml: the strip, the sleds, bars, handles and
// ropes, and the pile of plates that has to do for all of them.
package kit

import "hawser/internal/measure"

// Kit is everything on the floor, in file order, but for Plates.
type Kit struct {
	Path     string
	Step     measure.Mass // on a sled, lighter plates stay in the pile
	Strip    Strip
	Sleds    []Sled
	Bars     []Bar
	Handles  []Handles
	Ropes    []Rope
	Plates   []Plates // biggest first, one entry a stamp
	Surfaces []Surface
}

// Strip is the turf. Length is usable length: stopping room is off already.
type Strip struct {
	Length  measure.Distance
	Surface string
	Lanes   int // sleds that move at once; 0: no limit
}

// Sled is a sled or a vehicle. Every post carries the same stack.
type Sled struct {
	Name  string
	Tare  measure.Mass
	Posts int
}

// Bar is loaded on two ends alike. Count bars of the same name exist.
type Bar struct {
	Name  string
	Kind  string // "bar" or "trap bar"
	Tare  measure.Mass
	Count int
}

// Handles is a pair: four ends alike. Tare is of one handle.
type Handles struct {
	Name  string
	Tare  measure.Mass
	Count int // pairs
}

// Rope has Length − 1 m to pull on.
type Rope struct {
	Name   string
	Length measure.Distance
}

// Plates is Count plates of one mass. Stamp is what is cast on them and what
// they are called everywhere: "20 kg", "45 lb".
type Plates struct {
	Stamp string
	Mass  measure.Mass
	Count int
}

// Surface is a measured comparison of surfaces: the pull on a hanging scale that
// moves the same loaded sled at a steady walk.
type Surface struct {
	Name     string
	PullHere measure.Mass            // on Name
	PullOn   map[string]measure.Mass // on others, by name
}

// Sled returns the sled of that name, or nil.
func (k *Kit) Sled(name string) *Sled {
	for i := range k.Sleds {
		if k.Sleds[i].Name == name {
			return &k.Sleds[i]
		}
	}
	return nil
}

// Names returns what a session can name, by kind: sleds, bars, handles, ropes.
func (k *Kit) Names() []string {
	var names []string
	for _, s := range k.Sleds {
		names = append(names, s.Name)
	}
	for _, b := range k.Bars {
		names = append(names, b.Name)
	}
	for _, h := range k.Handles {
		names = append(names, h.Name)
	}
	for _, r := range k.Ropes {
		names = append(names, r.Name)
	}
	return names
}
