package floor

import (
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/session"
)

// Before a part begins each tile says when its person starts, and the plates to change on
// the sled: from those of whoever goes before them, or from what the part before left on it.
func TestPlatesBeforeAPart(t *testing.T) {
	t.Parallel()
	every := everyMinute(1)
	every.Every = 2 * time.Minute
	ratio := session.Part{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 1}
	for _, first := range []session.Part{every, ratio} {
		p := ScenePlan(t, []session.Part{first, ratio}, []string{"Ada=A,20", "Bo=A,50", "Cleo=B,40"})
		for i, sled := range []string{"B", "A", "A"} { // in part 2 another order, on other sleds
			sp := &p.Parts[1].Places[i].Spots[0]
			sp.On, sp.Order = sled, i/2
		}
		r := begin(t, p)
		want := func(at time.Duration, part int, want ...string) {
			t.Helper()
			var got []string
			for i, tile := range r.s.Tiles(nil, part, r.zero+at) {
				due := "-"
				if tile.Due != None {
					due = (tile.Due - r.zero).String()
				}
				got = append(got, strings.Join([]string{p.People[i].Name, due, "on", strings.Join(tile.On, "+"), "off", strings.Join(tile.Off, "+")}, " "))
			}
			if !slices.Equal(got, want) {
				t.Errorf("%s, at %v: part %d begins with\n%s\nwant\n%s", first.Format, at, part, strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
		}
		second := "50s" // Ada's 30 s, 10 s, and two plates
		if first.Format == session.Ratio {
			second = "-" // after Ada's press
		}
		want(-5*time.Second, 1, "Ada 0s on  off ", "Bo "+second+" on 20 kg+10 kg off ", "Cleo 0s on  off ")
		r.must("0:30", Press{"Ada"})
		r.must("0:40", Press{"Cleo"})
		r.must("1:30", Press{"Bo"})
		r.at(2*time.Minute, Sleep{}) // the part is over
		go2 := r.s.PartEnd(1) + p.House.BetweenParts - r.zero
		// Bo left 50 kg on A, Cleo 40 kg on B
		want(125*time.Second, 2, "Ada "+go2.String()+" on  off 20 kg", "Bo "+go2.String()+" on  off ", "Cleo - on  off 10 kg")
	}
}
