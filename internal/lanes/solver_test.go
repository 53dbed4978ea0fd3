package lanes

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"hawser/internal/glpsol"
	"hawser/internal/kit"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// The rows of testdata/solver.csv are an instance and which of its figures.
func TestInstancesAgainstSolver(t *testing.T) {
	t.Parallel()
	for _, f := range glpsol.Figures(t, "testdata/solver.csv") {
		t.Run(f.String(), func(t *testing.T) {
			t.Parallel()
			in := archive(t, "testdata/"+f.Of[0]+".txtar")
			b := Make(in)
			got := float64(b.PlatesMoved)
			if f.Of[1] == "short" {
				got = shortage(b, in).KG()
			}
			if f.Of[1] == "bound" && got >= f.Least {
				return
			}
			if !glpsol.Near(got, f.Least) {
				t.Errorf("Make(%s) has %g %s, the other solver %g", f.Of[0], got, f.Of[1], f.Least)
			}
		})
	}
}

// shortage is what the pile's shortage costs: the misses less the misses alone.
func shortage(b *Board, in Input) (sum measure.Mass) {
	for _, g := range b.Parts[0].Loads {
		alone, _ := load.Fill([]load.Want{g.Want}, in.Kit.Plates, "best", load.Usual)
		sum += distance(g.Moves, g.Total) - distance(alone[0].Moves, g.Total)
	}
	return sum
}

func TestAnotherSolver(t *testing.T) {
	t.Parallel()
	glpsol.Asked(t)
	for _, f := range glpsol.Figures(t, "testdata/solver.csv") {
		in := archive(t, "testdata/"+f.Of[0]+".txtar")
		program := asLanes
		switch {
		case f.Of[1] == "short" && in.Session.Parts[0].Format == session.Sets:
			program = asDeals
		case f.Of[1] == "short":
			program = asRows
		}
		glpsol.Ask(t, program(&in), f)
	}
}

// ownLoads returns the sleds and the load of each person alone on each.
func ownLoads(in *Input) (sleds []load.Implement, own [][]*choice, p *planner) {
	p = newPlanner(in, 1)
	p.lay()
	sleds = p.stations[0].On
	for i := range p.people {
		row := make([]*choice, len(sleds))
		for j := range sleds {
			row[j] = p.choose(i, &seat{on: sleds[j]}, 0)
		}
		own = append(own, row)
	}
	return sleds, own, p
}

// asLanes writes the choice of lanes as a set partition in the CPLEX LP format:
// every ordered group on every sled is a variable, which costs the plates that its
// cheapest stacks move over the part; everyone is in one group, a sled has one. It
// is for piles that cost nothing, and a bound from below where they bind. Groups
// are of three.
func asLanes(in *Input) string {
	sleds, own, p := ownLoads(in)
	n, rounds := len(own), in.Session.Parts[0].Rounds
	var sum, binary strings.Builder
	who, on := make([]strings.Builder, n), make([]strings.Builder, len(sleds))
	for j := range sleds {
		between := make([][]([][]int), n) // plates between the stacks of two people
		stacks := make([][]load.Stack, n)
		for a := range n {
			stacks[a], _ = p.stacks(sleds[j], own[a][j].moves)
		}
		for a := range n {
			between[a] = make([][][]int, n)
			for b := range n {
				for _, s := range stacks[a] {
					row := make([]int, len(stacks[b]))
					for k, t := range stacks[b] {
						row[k] = moved(s, t, sleds[j].Ends)
					}
					between[a][b] = append(between[a][b], row)
				}
			}
		}
		for a := range n {
			for b := range n {
				for c := range n {
					if a == b || b == c || a == c {
						continue
					}
					least := math.MaxInt
					for s := range stacks[a] {
						for t := range stacks[b] {
							for u := range stacks[c] {
								least = min(least, rounds*(between[a][b][s][t]+between[b][c][t][u])+(rounds-1)*between[c][a][u][s])
							}
						}
					}
					name := fmt.Sprintf("z%d_%d_%d_%d", j, a, b, c)
					fmt.Fprintf(&sum, " + %d %s\n", least, name)
					fmt.Fprintf(&binary, " %s\n", name)
					for _, i := range []int{a, b, c} {
						fmt.Fprintf(&who[i], " + %s\n", name)
					}
					fmt.Fprintf(&on[j], " + %s\n", name)
				}
			}
		}
	}
	var rows strings.Builder
	for i := range who {
		fmt.Fprintf(&rows, " who%d:%s = 1\n", i, who[i].String())
	}
	for j := range on {
		fmt.Fprintf(&rows, " on%d:%s = 1\n", j, on[j].String())
	}
	return "Minimize\n sum:" + sum.String() + "Subject To\n" + rows.String() + "Binary\n" + binary.String() + "End\n"
}

// asRows writes what a short pile costs, in kg, as a set partition: every order of
// people side by side on the sleds is a variable, which costs what the pile's
// shortage costs them (this package's own joint problem, which is held to the same
// solver where it is made); everyone is in one. Sleds are three.
func asRows(in *Input) string {
	_, own, _ := ownLoads(in)
	n := len(own)
	var sum, binary strings.Builder
	who := make([]strings.Builder, n)
	for a := range n {
		for b := range n {
			for c := range n {
				if a == b || b == c || a == c {
					continue
				}
				var wants []load.Want
				var alone, joint measure.Mass
				for j, i := range []int{a, b, c} {
					wants = append(wants, own[i][j].want)
					alone += own[i][j].miss
				}
				got, _ := load.Fill(wants, in.Kit.Plates, "best", load.Usual)
				for _, g := range got {
					joint += distance(g.Moves, g.Total)
				}
				name := fmt.Sprintf("r%d_%d_%d", a, b, c)
				fmt.Fprintf(&sum, " + %.9f %s\n", (joint - alone).KG(), name)
				fmt.Fprintf(&binary, " %s\n", name)
				for _, i := range []int{a, b, c} {
					fmt.Fprintf(&who[i], " + %s\n", name)
				}
			}
		}
	}
	var rows strings.Builder
	for i := range who {
		fmt.Fprintf(&rows, " who%d:%s = 1\n", i, who[i].String())
	}
	return "Minimize\n sum:" + sum.String() + "Subject To\n" + rows.String() + "Binary\n" + binary.String() + "End\n"
}

// asDeals writes what a short pile costs, in kg, where each sled keeps its share of it for
// the part: everyone takes one stack on one sled, which costs what it misses more than
// alone; a sled's share has the stacks of all on it, and all shares are in the pile. No
// stack of over half a kilogram more is written down: a better answer is known.
func asDeals(in *Input) string {
	sleds, own, _ := ownLoads(in)
	pile := in.Kit.Plates
	var sum, rows, binary, whole strings.Builder
	who, on := make([]strings.Builder, len(own)), make([]strings.Builder, len(sleds))
	shares := make([]strings.Builder, len(pile))
	for j := range sleds {
		for k := range pile {
			fmt.Fprintf(&shares[k], " + %d y%d_%d", sleds[j].Ends, j, k)
			fmt.Fprintf(&whole, " y%d_%d\n", j, k)
		}
		for i := range own {
			takes := make([]strings.Builder, len(pile))
			c := own[i][j]
			for n, s := range everyStack(pile, sleds[j]) {
				miss := distance(s.On(sleds[j], pile), c.want.Total) - c.miss
				if miss > measure.Kilogram/2 {
					continue
				}
				name := fmt.Sprintf("x%d_%d_%d", i, j, n)
				fmt.Fprintf(&sum, " + %.9f %s\n", miss.KG(), name)
				fmt.Fprintf(&binary, " %s\n", name)
				fmt.Fprintf(&who[i], " + %s", name)
				fmt.Fprintf(&on[j], " + %s", name)
				for k, n := range s {
					if n > 0 {
						fmt.Fprintf(&takes[k], " + %d %s", n, name)
					}
				}
			}
			for k := range takes {
				if takes[k].Len() > 0 {
					fmt.Fprintf(&rows, " take%d_%d_%d:%s - y%d_%d <= 0\n", i, j, k, takes[k].String(), j, k)
				}
			}
		}
	}
	for i := range who {
		fmt.Fprintf(&rows, " who%d:%s = 1\n", i, who[i].String())
	}
	for j := range on {
		fmt.Fprintf(&rows, " on%d:%s = %d\n", j, on[j].String(), len(own)/len(sleds))
	}
	for k := range shares {
		fmt.Fprintf(&rows, " pile%d:%s <= %d\n", k, shares[k].String(), pile[k].Count)
	}
	return "Minimize\n sum:" + sum.String() + "Subject To\n" + rows.String() + "General\n" + whole.String() + "Binary\n" + binary.String() + "End\n"
}

// everyStack is all stacks that the pile has for one implement.
func everyStack(pile []kit.Plates, on load.Implement) []load.Stack {
	all := []load.Stack{nil}
	for _, kind := range pile {
		var more []load.Stack
		for _, s := range all {
			for n := range kind.Count/on.Ends + 1 {
				more = append(more, append(slices.Clone(s), n))
			}
		}
		all = more
	}
	return all
}
