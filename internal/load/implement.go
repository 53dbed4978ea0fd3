package load

import (
	"fmt"
	"strings"

	"hawser/internal/kit"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// The kinds of implement.
const (
	Sled    = "sled"
	Bar     = "bar"
	TrapBar = "trap bar"
	Handles = "handles"
)

// Implements returns what a movement of that need can be done with, in the order
// of the kit. A bar of which there are several stands there that often, as "bar",
// "bar 2", "bar 3", and so do handles. A trap bar is a bar whose kind or name says
// so; where the kit has no bar of the right kind, any bar will do. Where nothing
// in the kit will, the list is empty and the finding says what is missing.
func Implements(k *kit.Kit, need movement.Need) ([]Implement, []session.Finding) {
	var all []Implement
	switch need {
	case movement.Sled, movement.SledRope:
		for _, s := range k.Sleds {
			all = append(all, Implement{Name: s.Name, Kind: Sled, Tare: s.Tare, Ends: max(s.Posts, 1), Step: k.Step})
		}
	case movement.Bar:
		all = bars(k, Bar)
	case movement.TrapBar:
		all = bars(k, TrapBar)
	case movement.Handles:
		for _, h := range k.Handles {
			all = repeat(all, Implement{Name: h.Name, Kind: Handles, Tare: 2 * h.Tare, Ends: 4}, h.Count)
		}
	}
	if len(all) > 0 {
		return all, nil
	}
	return nil, []session.Finding{{
		Level: session.Stop, About: "load",
		Text: fmt.Sprintf("the kit has no %s for this; add one to kit.toml or choose another movement", plain(need)),
	}}
}

// plain is a need in words that fit after "no".
func plain(need movement.Need) string {
	switch need {
	case movement.Sled, movement.SledRope:
		return "sled"
	case movement.TrapBar, movement.Bar:
		return "bar"
	case movement.Handles:
		return "pair of handles"
	}
	return "implement that is known"
}

// bars returns the bars of that kind, each as often as there are of it; where
// there is none of the kind, all bars.
func bars(k *kit.Kit, wanted string) []Implement {
	var right, all []Implement
	for _, b := range k.Bars {
		one := Implement{Name: b.Name, Kind: Bar, Tare: b.Tare, Ends: 2}
		if isTrap(b) {
			one.Kind = TrapBar
		}
		all = repeat(all, one, b.Count)
		if one.Kind == wanted {
			right = repeat(right, one, b.Count)
		}
	}
	if len(right) > 0 {
		return right
	}
	return all
}

// isTrap reports whether a bar is a trap bar, by its kind or by its name.
func isTrap(b kit.Bar) bool {
	return strings.Contains(strings.ToLower(b.Kind), "trap") || strings.Contains(strings.ToLower(b.Name), "trap")
}

// repeat appends count of the same implement, numbered from the second on.
func repeat(list []Implement, one Implement, count int) []Implement {
	name := one.Name
	for i := range max(count, 1) {
		if i > 0 {
			one.Name = fmt.Sprintf("%s %d", name, i+1)
		}
		list = append(list, one)
	}
	return list
}
