package lanes

import (
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/measure"
)

// TestTollsAgainstBruteForce: whatever the tolls, what people cost at least is no more than
// the best way to seat them costs; to raise the tolls brings it no further down.
func TestTollsAgainstBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		of := &party{}
		places := 0
		for range rapid.IntRange(1, 3).Draw(rt, "spots") {
			o := &spot{room: rapid.IntRange(1, 3).Draw(rt, "room"), toll: measure.Mass(rapid.IntRange(-20, 20).Draw(rt, "toll"))}
			of.spots = append(of.spots, o)
			places += o.room
		}
		of.spare = rapid.IntRange(-1, 2).Draw(rt, "spare")
		for who := range places + of.spare {
			of.people = append(of.people, who)
			for _, o := range of.spots {
				o.costs = append(o.costs, measure.Mass(rapid.IntRange(0, 30).Draw(rt, "cost")))
			}
		}
		want := measure.Mass(0)
		if of.spare >= 0 {
			want = bruteSeated(of, 0, make([]int, len(of.spots)))
		}
		s := &sharers{}
		got, who := s.seated(of)
		if got != want || of.spare >= 0 && len(who) != places {
			rt.Fatalf("seated = %d, %v, want %d and who is at %d places", got, who, want, places)
		}
		before := s.tolled(of)
		s.raise(of)
		if after := s.tolled(of); before > want || after > want || after < before {
			rt.Fatalf("tolled = %d, raised %d, want no more than %d and no less than before", before, after, want)
		}
	})
}

// bruteSeated is the least that the people from one on cost, with so many at each spot.
func bruteSeated(of *party, from int, at []int) measure.Mass {
	if from == len(of.people) {
		for i, o := range of.spots {
			if at[i] < o.room {
				return never
			}
		}
		return 0
	}
	least := never
	if of.spare > 0 {
		least = bruteSeated(of, from+1, at)
	}
	for i, o := range of.spots {
		if at[i] < o.room {
			at[i]++
			least = min(least, o.costs[of.people[from]]+bruteSeated(of, from+1, at))
			at[i]--
		}
	}
	return least
}

// TestTollsWherePeopleHaveOnePlace: where most people have just one spot that they may be at,
// tolls raised again and again stay of a size that adds up.
func TestTollsWherePeopleHaveOnePlace(t *testing.T) {
	t.Parallel()
	of := &party{}
	for i := range 3 {
		o := &spot{room: 3}
		for who := range 9 {
			o.costs = append(o.costs, never)
			if who/3 == i || who >= 6 {
				o.costs[who] = measure.Mass(1 + who)
			}
		}
		of.spots = append(of.spots, o)
	}
	for who := range 9 {
		of.people = append(of.people, who)
	}
	s := &sharers{}
	want, _ := s.seated(of)
	for range 5000 {
		s.raise(of)
		got := s.tolled(of)
		if want != 45 || got < 0 || got > want {
			t.Fatalf("tolled = %d, seated %d, want 0 to 45", got, want)
		}
		for _, o := range of.spots {
			if distance(o.toll, 0) > 100*never {
				t.Fatalf("a toll is %d", o.toll)
			}
		}
	}
}
