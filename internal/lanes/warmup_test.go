package lanes

import (
	"fmt"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// heavySets is two sets of a forward drag at 90 % of max.
func heavySets(aim string) string {
	return fmt.Sprintf("title = \"x\"\naim = %q\n[[part]]\nformat = \"sets\"\nsets = 2\nrest = \"2:00\"\n[[part.station]]\nmovement = \"forward drag\"\ndistance = \"20 m\"\nload = \"90%% max\"\nexpect = \"20 s\"\n", aim)
}

// Steps of 40, 60 and 80 % are common practice, no single source.
func TestWarmUps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, session string
		bests         []float64
		want          []string // stacks of 20, 10 and 5 kg, a person a line
		takes         time.Duration
	}{
		// 110 kg at 90 % is 99 kg: 20+20+20+10+5 on a sled of 24 kg. 80 % of that is
		// 79.2 kg, 60 % is 59.4 kg, 40 % is 39.6 kg: a 20 kg plate goes on before each
		// pull but the first. The sled comes back 20 m each time.
		{"one alone", heavySets("strength"), []float64{110}, []string{"Maren [[0 1 1] [1 1 1] [2 1 1]]"}, 3*20*time.Second + 3*(10+5+20)*time.Second},
		{"nothing below bare", heavySets("strength"), []float64{26}, nil, 0},
		{"not heavy", heavySets("conditioning"), []float64{110}, nil, 0},
	} {
		b := Make(read(t, c.session, sleds(24)+pile("20 kg", 6, "10 kg", 4, "5 kg", 4), crew("forward drag", c.bests...)))
		var got []string
		for _, w := range b.Parts[0].WarmUps {
			got = append(got, fmt.Sprint(w.Athlete, " ", w.Stacks))
		}
		if part := &b.Parts[0]; !reflect.DeepEqual(got, c.want) || part.WarmUp != c.takes || part.Starts != 0 || b.Length() != b.Ends+c.takes {
			t.Errorf("%s: warm-ups = %v in %v, a class of %v that ends at %v, want %v in %v before GO", c.name, got, part.WarmUp, b.Length(), b.Ends, c.want, c.takes)
		}
	}
}

func TestWarmUpsOnlyAddPlates(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		bests := rapid.SliceOfN(rapid.Map(rapid.IntRange(20, 200), func(kg int) float64 { return float64(kg) }), 1, 4).Draw(rt, "bests")
		plates := pile("45 lb", rapid.IntRange(0, 4).Draw(rt, "45 lb"), "20 kg", rapid.IntRange(0, 4).Draw(rt, "20 kg"), "5 kg", rapid.IntRange(0, 4).Draw(rt, "5 kg"))
		b := Make(read(t, heavySets("strength"), sleds(24, 31.5)+plates, crew("forward drag", bests...)))
		first := map[string][]int{}
		for _, g := range b.Parts[0].Loads {
			first[g.Athlete] = g.Stack
		}
		for _, w := range b.Parts[0].WarmUps {
			above := first[w.Athlete]
			for _, s := range slices.Backward(w.Stacks) {
				for k, n := range s {
					if n > at(above, k) {
						rt.Fatalf("%s warms up with %v, then %v: a plate comes off", w.Athlete, w.Stacks, first[w.Athlete])
					}
				}
				if moved(s, above, 1) == 0 {
					rt.Fatalf("%s warms up with %v, then %v: twice the same", w.Athlete, w.Stacks, first[w.Athlete])
				}
				above = s
			}
		}
	})
}
