package floor

import (
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/measure"
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

// TestPlatesThatAPartLeft: what stands on a sled before a part is what the last to have had it left,
// of the last heat and of the order there, not of the list.
func TestPlatesThatAPartLeft(t *testing.T) {
	t.Parallel()
	every := everyMinute(1)
	every.Every = 2 * time.Minute
	ratio := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}
	for _, c := range []struct {
		says   string
		first  session.Part
		people []string
		order  []int
		do     []asked
		want   string // what Dag takes off A, who pulls 40 kg there in part 2
	}{
		{"the second in order is first in the list", every, []string{"Ada=A,50", "Bo=A,20", "Dag=B"}, []int{1, 0, 0}, nil, "10 kg"},
		{"the second in order is second in the list", every, []string{"Bo=A,20", "Ada=A,50", "Dag=B"}, []int{0, 1, 0}, nil, "10 kg"},
		{"the later heat", every, []string{"Ada=A/2,50", "Bo=A,20", "Dag=B"}, []int{0, 1, 0}, []asked{{"5:10", Sleep{}}}, "10 kg"},
		{"alone, and first in the list", ratio, []string{"Ada=A,50", "Dag=B"}, []int{0, 0}, []asked{{"0:30", Press{"Ada"}}, {"0:31", Press{"Dag"}}}, "10 kg"},
		{"nobody", every, []string{"Ada=C,50", "Dag=B"}, []int{0, 0}, nil, ""},
	} {
		p := ScenePlan(t, []session.Part{c.first, every}, c.people)
		dag := len(c.people) - 1
		for i, order := range c.order {
			p.Parts[0].Places[i].Spots[0].Order = order
			sp := &p.Parts[1].Places[i].Spots[0]
			sp.On, p.Parts[1].Places[i].Heat = "C", 1
		}
		p.Parts[1].Places[dag].Spots[0].On = "A"
		r := begin(t, p)
		for _, a := range c.do {
			r.must(a.at, a.c)
		}
		if got := strings.Join(r.s.Tiles(nil, 2, r.zero+5*time.Minute)[dag].Off, "+"); got != c.want {
			t.Errorf("%s: Dag takes %q off, want %q", c.says, got, c.want)
		}
	}
}
