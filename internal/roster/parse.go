package roster

import (
	"cmp"
	"fmt"
	"strings"
	"unicode"

	"hawser/internal/coachfile"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/movement"
)

// Parse reads roster.toml. The error is [coachfile.Faults], all of them. A best
// that counts plates only has its total after [Resolve].
func Parse(name string, data []byte) (*Roster, error) {
	file, top := coachfile.Read(name, data, coachfile.RosterLimit)
	r := &Roster{Path: name}
	names, keys := map[string]bool{}, map[string]string{}
	for _, t := range top.Tables("athlete") {
		a := athlete(t)
		if folded := strings.ToLower(a.Name); a.Name != "" {
			if names[folded] {
				t.Fault("name", fmt.Sprintf("two people are called %q", a.Name), "add a second name to one of them")
			}
			names[folded] = true
		}
		if other, taken := keys[a.Key]; taken && a.Key != "" {
			t.Fault("key", fmt.Sprintf("key %q is %s's already", a.Key, cmp.Or(other, "another")), "give one of them another letter, or none")
		}
		keys[a.Key] = a.Name
		r.Athletes = append(r.Athletes, a)
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	Deal(r.Athletes)
	return r, nil
}

func athlete(t *coachfile.Table) Athlete {
	t.Need("name", `name = "Maren"`)
	a := Athlete{
		Name:     coachfile.Get(t, "name", coachfile.Name),
		Key:      coachfile.Get(t, "key", Letter),
		BodyMass: coachfile.Get(t, "body_mass", coachfile.Some(measure.ParseMass)),
		Newcomer: t.Flag("newcomer"),
	}
	for _, b := range t.Tables("best") {
		a.Bests = append(a.Bests, best(b))
	}
	return a
}

// Letter reads a key: one lower-case letter, as it is pressed without shift.
func Letter(s string) (string, error) {
	if r := []rune(s); len(r) == 1 && unicode.IsLower(r[0]) && unicode.ToLower(unicode.ToUpper(r[0])) == r[0] {
		return s, nil
	}
	return "", &measure.Error{What: fmt.Sprintf("%q is not one small letter", coachfile.Clean(s)), Write: `"m"`}
}

func best(t *coachfile.Table) Best {
	t.Need("movement", `movement = "sled row"`)
	b := Best{
		Movement: coachfile.Get(t, "movement", coachfile.OneOf(movement.Names()...)),
		Load:     coachfile.Get(t, "load", coachfile.Some(measure.ParseMass)),
		Counted:  coachfile.Get(t, "counted", coachfile.OneOf(Total, PlatesOnly)),
		Reps:     t.Int("reps", 1, 100),
		Formula:  coachfile.Get(t, "formula", coachfile.OneOf(Formulas()...)),
		Distance: coachfile.Get(t, "distance", coachfile.Some(measure.ParseDistance)),
		Layout:   coachfile.Get(t, "layout", Layout),
		Surface:  coachfile.Get(t, "surface", coachfile.Name),
		Sled:     coachfile.Get(t, "sled", coachfile.Name),
		Date:     t.Date("date"),
		How:      coachfile.Get(t, "how", coachfile.OneOf(Tested, FromReps, TwoPulls, Noted)),
	}
	if b.How == "" {
		b.How = Noted
	}
	for _, p := range t.Tables("pulls") {
		b.Pulls = append(b.Pulls, pull(p))
	}
	checkBest(t, b)
	return b
}

func pull(t *coachfile.Table) TimedPull {
	t.Need("load", `load = "80 kg"`)
	t.Need("time", `time = "0:12.4"`)
	return TimedPull{
		Load: coachfile.Get(t, "load", coachfile.Some(measure.ParseMass)),
		Time: coachfile.Get(t, "time", coachfile.Some(measure.ParseClock)),
	}
}

// checkBest says what does not go together.
func checkBest(t *coachfile.Table, b Best) {
	switch {
	case t.Has("pulls") && b.How != TwoPulls:
		t.Fault("pulls", "timed pulls belong to two pulls", `write how = "two pulls"`)
	case t.Has("pulls") && len(b.Pulls) != 2:
		t.Fault("pulls", fmt.Sprintf("two pulls are needed, here: %d", len(b.Pulls)), "write both, over the same distance")
	case t.Has("pulls"):
		t.Need("distance", `distance = "20 m", that of both pulls`)
		if b.Pulls[0].Load == b.Pulls[1].Load {
			t.Fault("pulls", "both pulls have the same load", "write two pulls with different loads")
		}
	default:
		t.Need("load", `load = "120 kg", tare and plates together`)
	}
	if t.Has("reps") && b.How != FromReps {
		t.Fault("reps", "repetitions belong to a max from reps", `write how = "reps"`)
	}
	if t.Has("formula") && b.How != FromReps {
		t.Fault("formula", "a formula belongs to a max from reps", `write how = "reps"`)
	}
	if b.Counted == PlatesOnly && !t.Has("sled") {
		t.Fault("counted", "which sled carried the plates is missing", `write sled = "A", so that its tare can be added`)
	}
}

// Layout reads "straight" or "2 x 15 m".
func Layout(s string) (string, error) {
	if s == "straight" {
		return s, nil
	}
	legs, leg, ok := strings.Cut(strings.ReplaceAll(s, "×", "x"), "x")
	legs = strings.TrimSpace(legs)
	n, err := measure.ParseFactor(legs)
	length, wrong := measure.ParseDistance(leg)
	if !ok || err != nil || wrong != nil || n == 0 || n%measure.Whole != 0 || length == 0 {
		return "", &measure.Error{What: fmt.Sprintf("%q is not a layout", coachfile.Clean(s)), Write: `"straight" or "2 x 15 m"`}
	}
	return fmt.Sprintf("%d x %s", n/measure.Whole, length), nil
}

// Deal gives everyone without a key a letter nobody has: the first free one of
// the name, else of the alphabet. Where all 26 are taken the key stays empty.
func Deal(people []Athlete) {
	taken := map[string]bool{}
	for _, a := range people {
		taken[a.Key] = true
	}
	for i := range people {
		if people[i].Key != "" {
			continue
		}
		for _, r := range strings.ToLower(people[i].Name) + "abcdefghijklmnopqrstuvwxyz" {
			if r >= 'a' && r <= 'z' && !taken[string(r)] {
				people[i].Key = string(r)
				taken[string(r)] = true
				break
			}
		}
	}
}

// Resolve turns each best that counted plates only into a total, with the tare of
// its sled. It returns a fault for each sled that the kit does not have; that best
// is then dropped, since its total is not known.
func Resolve(r *Roster, k *kit.Kit) coachfile.Faults {
	var faults coachfile.Faults
	for i := range r.Athletes {
		a := &r.Athletes[i]
		kept := a.Bests[:0:0]
		for _, b := range a.Bests {
			if b.Counted == PlatesOnly {
				s := k.Sled(b.Sled)
				if s == nil {
					faults = append(faults, coachfile.Fault{
						File:  r.Path,
						What:  fmt.Sprintf("%s's %s counts plates only, on sled %q, which the kit does not have", a.Name, b.Movement, b.Sled),
						Write: "name a sled of kit.toml, or write the total",
					})
					continue
				}
				b.Load, b.Counted = b.Load+s.Tare, Total
				for j := range b.Pulls {
					b.Pulls[j].Load += s.Tare
				}
			}
			kept = append(kept, b)
		}
		a.Bests = kept
	}
	return faults
}
