package cue_test

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

const s = time.Second

func TestPick(t *testing.T) {
	t.Parallel()
	class := func(at time.Duration, k floor.Kind) floor.Moment {
		return floor.Moment{At: at, Kind: k, Person: -1}
	}
	one := func(at time.Duration, k floor.Kind) floor.Moment {
		return floor.Moment{At: at, Kind: k, Person: 2}
	}
	tests := []struct {
		name string
		in   []floor.Moment
		want []cue.Cue
	}{
		{"nothing", nil, nil},
		{"3, 2, 1, GO", []floor.Moment{
			class(7*s, floor.CountDown), class(8*s, floor.CountDown), class(9*s, floor.CountDown), class(10*s, floor.Begin),
		}, []cue.Cue{{At: 7 * s, Name: cue.Tick}, {At: 8 * s, Name: cue.Tick}, {At: 9 * s, Name: cue.Tick}, {At: 10 * s, Name: cue.Go}}},
		{"a tick before a round beats the ten seconds of another", []floor.Moment{
			class(3*s, floor.TenLeft), class(3*s, floor.CountDown),
		}, []cue.Cue{{At: 3 * s, Name: cue.Tick}}},
		{"GO beats a person's start", []floor.Moment{
			class(3*s, floor.Begin), one(3*s, floor.OwnBegin),
		}, []cue.Cue{{At: 3 * s, Name: cue.Go}}},
		{"no person's tick hides GO", []floor.Moment{
			one(3*s, floor.CountDown), class(3*s, floor.Begin),
		}, []cue.Cue{{At: 3 * s, Name: cue.Go}}},
		{"nor another person's start", []floor.Moment{
			one(3*s, floor.CountDown), one(3*s, floor.OwnBegin),
		}, []cue.Cue{{At: 3 * s, Name: cue.OwnStart}}},
		{"the end of all is not hidden by the ends it comes with", []floor.Moment{
			class(3*s, floor.RestBegins), class(3*s, floor.HeatEnds), class(3*s, floor.PartEnds), class(3*s, floor.AllDone),
		}, []cue.Cue{{At: 3 * s, Name: cue.Done}}},
		{"the end of a part beats the end of its last bout", []floor.Moment{
			class(3*s, floor.RestBegins), class(3*s, floor.PartEnds),
		}, []cue.Cue{{At: 3 * s, Name: cue.Over}}},
		{"nearly together is together, and keeps the winner's time", []floor.Moment{
			one(3*s, floor.StopOver), one(3*s+cue.Together-1, floor.RestBegins),
		}, []cue.Cue{{At: 3*s + cue.Together - 1, Name: cue.Rest}}},
		{"just apart is apart", []floor.Moment{
			one(3*s, floor.StopOver), one(3*s+cue.Together, floor.RestOver),
		}, []cue.Cue{{At: 3 * s, Name: cue.StopOver}, {At: 3*s + cue.Together, Name: cue.RestOver}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			if got := cue.Pick(nil, tt.in); !slices.Equal(got, tt.want) {
				t.Errorf("Pick(%v) = %v, want %v", tt.in, got, tt.want)
			}
		})
	}
}

// Whatever falls together: no two sounds within Together, all in order, every
// moment within Together of a sound, and the order of the moments tells nothing.
func TestPickHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		moments := rapid.SliceOfDistinct(rapid.Custom(func(t *rapid.T) floor.Moment {
			return floor.Moment{
				At:     time.Duration(rapid.Int64Range(0, 2000).Draw(t, "ms")) * time.Millisecond,
				Kind:   floor.Kind(rapid.IntRange(0, int(floor.AllDone)).Draw(t, "kind")),
				Person: -1,
			}
		}), func(m floor.Moment) floor.Moment { return m }).Draw(t, "moments")
		got := cue.Pick(nil, moments)
		for i := 1; i < len(got); i++ {
			if got[i].At-got[i-1].At < cue.Together {
				t.Fatalf("%v and %v are too near", got[i-1], got[i])
			}
		}
		for _, m := range moments {
			if !slices.ContainsFunc(got, func(c cue.Cue) bool { return max(c.At-m.At, m.At-c.At) < cue.Together }) {
				t.Fatalf("nothing sounds at or near %v", m)
			}
		}
		slices.Reverse(moments)
		if again := cue.Pick(nil, moments); !slices.Equal(got, again) {
			t.Fatalf("Pick = %v, the other way round %v", got, again)
		}
	})
}

func TestEveryKindHasASoundAndEverySoundAMeaning(t *testing.T) {
	t.Parallel()
	used := map[cue.Name]bool{}
	for k := floor.CountDown; k <= floor.AllDone; k++ {
		name := cue.Of(k)
		if !slices.Contains(cue.Names(), name) {
			t.Errorf("Of(%d) = %q, want one of %v", k, name, cue.Names())
		}
		used[name] = true
	}
	for _, name := range cue.Names() {
		if name.Means() == "" || !used[name] {
			t.Errorf("sound %q means %q and is used %v, want a meaning and a use", name, name.Means(), used[name])
		}
	}
}
