package kit

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"hawser/internal/coachfile"
)

// Write writes a fresh kit.toml.
func Write(k *Kit) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "step = %q # on a sled, lighter plates stay in the pile\n", k.Step)
	if k.Strip != (Strip{}) {
		fmt.Fprintf(&b, "\n[strip]\nlength = %q # usable: stopping room is taken off already\n", k.Strip.Length)
		if k.Strip.Surface != "" {
			fmt.Fprintf(&b, "surface = %s\n", coachfile.Quote(k.Strip.Surface))
		}
		if k.Strip.Lanes > 0 {
			fmt.Fprintf(&b, "lanes = %d # sleds that move at once\n", k.Strip.Lanes)
		}
	}
	for _, s := range k.Sleds {
		b.WriteString(s.block())
	}
	for _, bar := range k.Bars {
		fmt.Fprintf(&b, "\n[[bar]]\nname = %s\n", coachfile.Quote(bar.Name))
		if bar.Kind != kindOf(bar.Name) {
			fmt.Fprintf(&b, "kind = %q\n", bar.Kind)
		}
		fmt.Fprintf(&b, "tare = %q\ncount = %d\n", bar.Tare, bar.Count)
	}
	for _, h := range k.Handles {
		fmt.Fprintf(&b, "\n[[handles]]\nname = %s\ntare = %q # each\ncount = %d # pairs\n", coachfile.Quote(h.Name), h.Tare, h.Count)
	}
	for _, r := range k.Ropes {
		fmt.Fprintf(&b, "\n[[rope]]\nname = %s\nlength = %q\n", coachfile.Quote(r.Name), r.Length)
	}
	for _, p := range k.Plates {
		b.WriteString(p.block())
	}
	for _, s := range k.Surfaces {
		fmt.Fprintf(&b, "\n[[surface]]\nname = %s\npull_here = %q # hanging scale, same loaded sled\n", coachfile.Quote(s.Name), s.PullHere)
		b.WriteString("pull_on = {")
		for i, other := range slices.Sorted(maps.Keys(s.PullOn)) {
			if i > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, " %s = %q", coachfile.Quote(other), s.PullOn[other])
		}
		b.WriteString(" }\n")
	}
	return b.Bytes()
}

func (s Sled) block() string {
	return fmt.Sprintf("\n[[sled]]\nname = %s\ntare = %q\nposts = %d\n", coachfile.Quote(s.Name), s.Tare, s.Posts)
}

func (p Plates) block() string {
	return fmt.Sprintf("\n[[plates]]\nmass = %q\ncount = %d\n", p.Mass, p.Count)
}

// AddSled adds a sled behind the others; comments and order stay.
func AddSled(name string, data []byte, s Sled) ([]byte, error) {
	return add(name, data, "sled", s.block())
}

// AddPlates adds plates to the pile: to the count of the entry that has their
// stamp, else as an entry behind the others. Comments and order stay.
func AddPlates(name string, data []byte, p Plates) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.Limit)
	for _, t := range top.Tables("plates") {
		if have := plates(t); have.Mass == p.Mass {
			from, to := t.Span("count")
			sum := strconv.Itoa(have.Count + p.Count)
			return checked(name, slices.Concat(data[:from], []byte(sum), data[to:]))
		}
	}
	return add(name, data, "plates", p.block())
}

// add puts a block behind the last of its kind, else at the end.
func add(name string, data []byte, kind, block string) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.Limit)
	if !top.Written(kind) {
		return nil, coachfile.Faults{{File: name, What: "the list of " + kind + " stands in brackets", Write: "add to it by hand"}}
	}
	at := len(data)
	if all := top.Tables(kind); len(all) > 0 {
		at = all[len(all)-1].End()
	}
	return checked(name, coachfile.Insert(data, at, block))
}

// checked returns data if it reads as a kit.
func checked(name string, data []byte) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	return data, nil
}
