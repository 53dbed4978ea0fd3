// Package movement is the library of pulling movements, as data: what each
// needs, what it trains and tires, what it can stand in for, and its cautions.
package movement

import "slices"

// Need is the kind of implement that a movement is done with.
type Need string

// The kinds of implement.
const (
	Sled     Need = "sled"
	SledRope Need = "sled and rope"
	Bar      Need = "bar"
	TrapBar  Need = "trap bar"
	Handles  Need = "handles"
)

// Movement is one way of pulling. The slices are shared: do not change them.
type Movement struct {
	Name     string   // as session files write it
	Pattern  string   // hinge, squat, pull or carry
	Need     Need     //
	OneWay   bool     // the sled comes to the puller and must be walked back whole: rows, rope pulls
	Grip     bool     // tires the grip
	Tires    []string // muscle groups, plain words
	StandsIn []string // what it can replace, plain sentences
	Cautions []string // plain sentences in our own words
}

// Next returns the movement after that one, in the order of the rack, among those
// done with the same implement; the one itself where it is alone. A vehicle stands
// in for nothing that a sled does.
func Next(name string) string {
	m, _ := Find(name)
	all := All()
	at := slices.IndexFunc(all, func(o Movement) bool { return o.Name == name })
	for i := range all {
		if o := all[(at+1+i)%len(all)]; o.Need == m.Need && o.Name != vehicle {
			return o.Name
		}
	}
	return name
}

const vehicle = "vehicle pull"
