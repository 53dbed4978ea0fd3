package kit_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

func TestParse(t *testing.T) {
	t.Parallel()
	k, err := kit.Parse("kit.toml", []byte(`
[strip]
length = "25 m"
surface = "turf"
lanes = 3
[[sled]]
name = "A"
tare = "27 kg"
[[bar]]
name = "Trap bar, old"
tare = "25 kg"
[[bar]]
tare = "44 lb"
count = 2
[[handles]]
tare = "9 kg"
[[rope]]
length = "16 m"
[[rope]]
length = "50 ft"
[[plates]]
mass = "10kg"
count = 2
[[plates]]
mass = "45 lb"
count = 4
[[plates]]
mass = "10,0 kg"
count = 1
[[surface]]
name = "rubber"
pull_here = "40 kg"
pull_on = { turf = "28 kg" }
`))
	want := &kit.Kit{
		Path: "kit.toml", Step: 2500 * measure.Gram,
		Strip:   kit.Strip{Length: 25 * measure.Metre, Surface: "turf", Lanes: 3},
		Sleds:   []kit.Sled{{Name: "A", Tare: 27 * measure.Kilogram, Posts: 1}},
		Bars:    []kit.Bar{{Name: "Trap bar, old", Kind: "trap bar", Tare: 25 * measure.Kilogram, Count: 1}, {Name: "bar", Kind: "bar", Tare: 44 * measure.Pound, Count: 2}},
		Handles: []kit.Handles{{Name: "handles", Tare: 9 * measure.Kilogram, Count: 1}},
		Ropes:   []kit.Rope{{Name: "rope", Length: 16 * measure.Metre}, {Name: "rope 2", Length: 50 * measure.Foot}},
		Plates:  []kit.Plates{{Stamp: "45 lb", Mass: 45 * measure.Pound, Count: 4}, {Stamp: "10 kg", Mass: 10 * measure.Kilogram, Count: 3}},
		Surfaces: []kit.Surface{{
			Name: "rubber", PullHere: 40 * measure.Kilogram, PullOn: map[string]measure.Mass{"turf": 28 * measure.Kilogram},
		}},
	}
	if err != nil || !reflect.DeepEqual(k, want) {
		t.Errorf("Parse = %+v, %v, want %+v", k, err, want)
	}
	if got, want := k.Names(), []string{"A", "Trap bar, old", "bar", "handles", "rope", "rope 2"}; !slices.Equal(got, want) {
		t.Errorf("Names = %q, want %q", got, want)
	}
	if k.Sled("A") == nil || k.Sled("B") != nil {
		t.Error("Sled finds the wrong ones")
	}
}

// anyKit draws a kit as Parse gives it: names differ, plates biggest first.
func anyKit(t *rapid.T) *kit.Kit {
	mass := rapid.Custom(func(t *rapid.T) measure.Mass {
		return measure.Mass(rapid.Int64Range(1, int64(measure.MaxMass)).Draw(t, "µg"))
	})
	metres := rapid.Custom(func(t *rapid.T) measure.Distance {
		return measure.Distance(rapid.Int64Range(1, int64(measure.MaxDistance)).Draw(t, "µm"))
	})
	k := &kit.Kit{Path: "kit.toml", Step: mass.Draw(t, "step")}
	k.Strip = kit.Strip{Length: metres.Draw(t, "strip"), Surface: rapid.SampledFrom([]string{"", "turf", `a "wet" one`}).Draw(t, "surface"), Lanes: rapid.IntRange(0, 9).Draw(t, "lanes")}
	for i := range rapid.IntRange(0, 4).Draw(t, "sleds") {
		k.Sleds = append(k.Sleds, kit.Sled{Name: fmt.Sprint("sled ", i), Tare: mass.Draw(t, "tare"), Posts: rapid.IntRange(1, 4).Draw(t, "posts")})
		k.Bars = append(k.Bars, kit.Bar{Name: fmt.Sprint("bar\\", i), Kind: rapid.SampledFrom([]string{"bar", "trap bar"}).Draw(t, "kind"), Tare: mass.Draw(t, "tare"), Count: i})
		k.Handles = append(k.Handles, kit.Handles{Name: fmt.Sprint("handles ", i), Tare: mass.Draw(t, "tare"), Count: i})
		k.Ropes = append(k.Ropes, kit.Rope{Name: fmt.Sprint("rope ", i), Length: metres.Draw(t, "length")})
		k.Surfaces = append(k.Surfaces, kit.Surface{Name: fmt.Sprint("s", i), PullHere: mass.Draw(t, "here"), PullOn: map[string]measure.Mass{"turf": mass.Draw(t, "on"), "wet turf": mass.Draw(t, "on")}})
	}
	stamps := rapid.SliceOfNDistinct(mass, 0, 5, rapid.ID[measure.Mass]).Draw(t, "plates")
	slices.Sort(stamps)
	for _, m := range slices.Backward(stamps) {
		k.Plates = append(k.Plates, kit.Plates{Stamp: m.String(), Mass: m, Count: rapid.IntRange(0, 20).Draw(t, "count")})
	}
	return k
}

// A kit that is written reads back the same, from its file and from a log.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k := anyKit(t)
		back, err := kit.Parse("kit.toml", kit.Write(k))
		if err != nil || !reflect.DeepEqual(back, k) {
			t.Fatalf("Parse(Write(k)) = %+v, %v, want %+v", back, err, k)
		}
		line, err := json.Marshal(k)
		if err != nil {
			t.Fatal(err)
		}
		var logged kit.Kit
		if err := json.Unmarshal(line, &logged); err != nil || !reflect.DeepEqual(&logged, k) {
			t.Fatalf("through JSON %+v, %v, want %+v", logged, err, k)
		}
	})
}

func TestAddKeepsTheRest(t *testing.T) {
	t.Parallel()
	const before = "# ours\n[[sled]] # the blue one\nname = \"A\"\ntare = \"27 kg\"\n\n# the pile\n[[plates]]\nmass = \"20 kg\"\ncount = 6 # bought in May\n"
	sled := kit.Sled{Name: "B", Tare: 30 * measure.Kilogram, Posts: 2}
	got, err := kit.AddSled("kit.toml", []byte(before), sled)
	want := strings.Replace(before, "\n\n# the pile", "\n\n[[sled]]\nname = \"B\"\ntare = \"30 kg\"\nposts = 2\n\n# the pile", 1)
	if err != nil || string(got) != want {
		t.Errorf("AddSled = %s, %v, want %s", got, err, want)
	}
	got, err = kit.AddPlates("kit.toml", []byte(before), kit.Plates{Mass: 20 * measure.Kilogram, Count: 4})
	want = strings.Replace(before, "count = 6", "count = 10", 1)
	if err != nil || string(got) != want {
		t.Errorf("AddPlates of a stamp there is = %s, %v, want %s", got, err, want)
	}
	got, err = kit.AddPlates("kit.toml", []byte(before), kit.Plates{Mass: 45 * measure.Pound, Count: 2})
	want = before + "\n[[plates]]\nmass = \"45 lb\"\ncount = 2\n"
	if err != nil || string(got) != want {
		t.Errorf("AddPlates of a new stamp = %s, %v, want %s", got, err, want)
	}
	for name, add := range map[string]func() ([]byte, error){
		"a name that is taken": func() ([]byte, error) { return kit.AddSled("kit.toml", []byte(before), kit.Sled{Name: "A", Posts: 1}) },
		"a list in brackets":   func() ([]byte, error) { return kit.AddSled("kit.toml", []byte("sled = []\n"), sled) },
		"a broken file":        func() ([]byte, error) { return kit.AddSled("kit.toml", []byte("sled\n"), sled) },
	} {
		if got, err := add(); err == nil {
			t.Errorf("%s: got %s, want an error", name, got)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("step = \"5 lb\"\n[[plates]]\nmass = \"45 lb\"\ncount = 4\n[[surface]]\nname=\"r\"\npull_here=\"1 kg\"\npull_on={a=\"2 kg\"}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		k, err := kit.Parse("kit.toml", data)
		if err != nil {
			return
		}
		if back, err := kit.Parse("kit.toml", kit.Write(k)); err != nil || !reflect.DeepEqual(back, k) {
			t.Errorf("Parse(Write(k)) = %+v, %v, want %+v", back, err, k)
		}
	})
}
