package load

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

var update = flag.Bool("update", false, "write testdata/pinned.txt anew")

// TestPinned holds what a few hundred floors come to, drawn once and
// for all: each answer, and how much work its search was. The other tests say what
// is right; this one tells when a bound of the search is lost, which costs time and
// no answer.
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
	d := Solve(items, pile)
	fmt.Fprintf(b, "floor %d: moves %v miss %v proved %v work %d\n", n, d.Moves, d.Miss, d.Proved, d.Work)
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
