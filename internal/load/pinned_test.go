package load

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

var update = flag.Bool("update", false, "write testdata/pinned.txt anew")

// TestPinned holds what a few hundred floors and questions come to, drawn once and
// for all: each answer, and how much work its search was. The other tests say what
// is right; this one tells when a bound of the search is lost, which costs time and
// no answer, and when the edge of a rule has moved.
func TestPinned(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	r := rand.New(rand.NewPCG(5, 5))
	for i := range 120 {
		pinFloor(&b, i, r)
	}
	for i := range 60 {
		pinNearest(&b, i, r)
	}
	for i := range 150 {
		pinQuestion(&b, i, r)
	}
	const name = "testdata/pinned.txt"
	if *update {
		if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	was := strings.Split(string(want), "\n")
	for i, line := range strings.Split(b.String(), "\n") {
		if i >= len(was) || line != was[i] {
			t.Fatalf("line %d of %s is now (go test -update writes it anew)\n%s\nand was\n%s", i+1, name, line, was[min(i, len(was)-1)])
		}
	}
}

// somePile is a pile with kilograms and pounds in it, biggest first.
func somePile(r *rand.Rand) []kit.Plates {
	var pairs []measure.Mass
	for _, m := range []measure.Mass{25 * kg, 45 * lb, 20 * kg, 15 * kg, 25 * lb, 10 * kg, 5 * kg, 10 * lb, 5 * kg / 2, 5 * kg / 4, kg / 2} {
		if r.IntN(3) > 0 {
			pairs = append(pairs, m, measure.Mass(r.IntN(7)))
		}
	}
	return plates(pairs...)
}

func someImplement(r *rand.Rand) Implement {
	return []Implement{
		sledA, sledB, bar, trapBar, hands, {Name: "C", Kind: Sled, Tare: 50 * kg, Ends: 4, Step: 5 * kg / 2},
	}[r.IntN(6)]
}

func pinFloor(b *strings.Builder, n int, r *rand.Rand) {
	pile := somePile(r)
	var items []Item
	for range 2 + r.IntN(4) {
		total := measure.Mass(r.IntN(1600)) * kg / 10
		if r.IntN(2) == 0 {
			total -= total % (5 * kg / 2)
		}
		items = append(items, Item{On: someImplement(r), Total: total})
	}
	d, work := solve(items, pile)
	fmt.Fprintf(b, "floor %d: moves %v miss %v proved %v work %d\n", n, d.Moves, d.Miss, d.Proved, work)
	for i, s := range d.Stacks {
		fmt.Fprintf(b, "  %s asks %v: %v\n", items[i].On.Name, items[i].Total, s.Stamps(pile))
	}
	in := SolveInOrder(items, pile)
	fmt.Fprintf(b, "  in order: %v miss %v\n", in.Moves, in.Miss)
}

func pinNearest(b *strings.Builder, n int, r *rand.Rand) {
	pile, on := somePile(r), someImplement(r)
	moves := on.Tare + measure.Mass(r.IntN(80))*5*kg/2
	free := counts(pile)
	down, up, hasDown, hasUp := Beside(on, moves, pile, free)
	fmt.Fprintf(b, "nearest %d: %s at %v: down %v %v up %v %v\n", n, on.Name, moves, down.Stamps(pile), hasDown, up.Stamps(pile), hasUp)
	it := Item{On: on, Total: moves + measure.Mass(r.IntN(50)-25)*kg/10}
	fmt.Fprintf(b, "  %v: %v, unlimited %v\n", it.Total, Nearest(it, pile, free).Stamps(pile), Unlimited(it, pile).Stamps(pile))
}

// pinQuestion asks for a load by what is known of a person, with tags that are the
// same as today's or not.
func pinQuestion(b *strings.Builder, n int, r *rand.Rand) {
	movements := []string{"sled row", "forward drag", "deadlift", "trap bar deadlift", "handles deadlift"}
	surfaces := []string{"turf", "rubber", "grass", ""}
	movement := movements[r.IntN(len(movements))]
	who := &roster.Athlete{Name: "Maren", BodyMass: measure.Mass(r.IntN(3)*40) * kg, Newcomer: r.IntN(6) == 0}
	for range r.IntN(4) {
		best := roster.Best{
			Movement: movement, Load: measure.Mass(60+r.IntN(100)) * kg, Distance: measure.Distance(10*r.IntN(4)) * metre,
			Layout: []string{"", "straight", "2 x 15 m", "3 x 10 m"}[r.IntN(4)], Surface: surfaces[r.IntN(4)], Sled: []string{"", "A", "B"}[r.IntN(3)],
			Date: time.Date(2026, 10, 1+r.IntN(3), 0, 0, 0, 0, time.UTC), Reps: r.IntN(14),
			How: []string{roster.Tested, roster.FromReps, roster.TwoPulls, roster.Noted}[r.IntN(4)], Formula: []string{"", Brzycki, Epley, Wathan}[r.IntN(4)],
		}
		if best.How == roster.TwoPulls && r.IntN(2) == 0 {
			best.Load = 0
			best.Distance = 20 * metre
			best.Pulls = []roster.TimedPull{{Load: 40 * kg, Time: 9 * time.Second}, {Load: measure.Mass(60+r.IntN(60)) * kg, Time: time.Duration(9+r.IntN(12)) * time.Second}}
		}
		who.Bests = append(who.Bests, best)
	}
	q := Question{
		Athlete: who, Part: 1, Station: 1, Movement: movement, Distance: measure.Distance(10*r.IntN(4)) * metre, Legs: r.IntN(4),
		Surface: surfaces[r.IntN(3)], On: someImplement(r),
		Ask: session.Ask{
			Basis: []session.Basis{session.Plain, session.EachHand, session.BothHands, session.OfMax, session.OfMax, session.Of1RM, session.OfBody, session.OfBodyTotal, session.Heaviest}[r.IntN(9)],
			Share: measure.Share(5*(8+r.IntN(13))) * measure.Percent, Mass: measure.Mass(r.IntN(90)) * kg,
		},
	}
	past := logged(measure.Mass(r.IntN(3)*60) * kg)
	h := house.Default()
	w, findings := Resolve(q, harbour(), h, past)
	pile := somePile(r)
	got, proved := Fill([]Want{w}, pile, []string{"best", "in order"}[r.IntN(2)])
	findings = append(findings, Findings(got[0], movement, 5*kg/2, h, past)...)
	fmt.Fprintf(b, "question %d: %s asked %v %s total %v of %v max %v est %v; moves %v short %v proved %v\n", n, w.On.Name, w.Asked, w.AskedOf,
		w.Total, w.Of, w.Max, w.Est, got[0].Moves, got[0].Short, proved)
	for _, f := range findings {
		fmt.Fprintf(b, "  %s %s: %s\n", f.Level, f.About, f.Text)
	}
}
