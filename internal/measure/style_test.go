package measure_test

import (
	"math"
	"math/big"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/measure"
)

func TestStyle(t *testing.T) {
	t.Parallel()
	kg := measure.Style{}
	lb := measure.Style{MassUnit: "lb", DistanceUnit: "ft", Decimal: ","}
	for _, test := range []struct{ name, got, want string }{
		{"67 kg", kg.Mass(67 * measure.Kilogram), "67 kg"},
		{"67 kg in a column", kg.MassFigure(67 * measure.Kilogram), "67.0"},
		{"unit-20kg-lb: 44.09 lb", lb.Mass(20 * measure.Kilogram), "44,1 lb"},
		{"unit-100kg-lb: 220.46 lb", lb.MassFigure(100 * measure.Kilogram), "220,5"},
		{"45 lb on a kg screen", kg.Mass(45 * measure.Pound), "20.4 kg"},
		{"unit-30m-ft: 98.43 ft", lb.Distance(30 * measure.Metre), "98,4 ft"},
		{"100 ft on a metre screen", kg.Distance(100 * measure.Foot), "30.5 m"},
		{"yards", measure.Style{DistanceUnit: "yd"}.Distance(100 * measure.Foot), "33.3 yd"},
		{"less by half a unit", kg.Mass(-2500 * measure.Gram), "-2.5 kg"},
		{"a loss rounds like a gain", kg.Mass(-2450 * measure.Gram), "-2.5 kg"},
		{"67 of 120", kg.Percent(67*measure.Kilogram, 120*measure.Kilogram), "55.8 %"},
		{"1 of 8, halves up", lb.Percent(1, 8), "12,5 %"},
		{"1 of 16, 6.25, halves up", kg.Percent(1, 16), "6.3 %"},
		{"of nothing", kg.Percent(1, 0), "–"},
		{"of next to nothing", kg.Percent(measure.MaxMass, 1), "10000000000000000.0 %"},
		{"a share", kg.Share(25 * measure.Percent), "25.0 %"},
		{"a split", kg.Split(39_650 * time.Millisecond), "0:39.7"},
		{"a split over a minute", lb.Split(62 * time.Second), "1:02,0"},
		{"a split that rounds into the minute", kg.Split(59_960 * time.Millisecond), "1:00.0"},
		{"a margin", kg.Split(-2 * time.Second), "-0:02.0"},
		{"a clock", measure.Clock(75 * time.Second), "1:15"},
		{"a clock, halves up", measure.Clock(75_500 * time.Millisecond), "1:16"},
		{"a long clock", measure.Clock(65 * time.Minute), "1:05:00"},
		{"no minus zero", measure.Clock(-400 * time.Millisecond), "0:00"},
	} {
		if test.got != test.want {
			t.Errorf("%s: got %q, want %q", test.name, test.got, test.want)
		}
	}
}

// Published rounding examples, halves up (collected from "Rounding of test
// results", smtl.co.uk, and a hartnell.cc.ca.us hand-out; halves up computed).
func TestPublishedRounding(t *testing.T) {
	t.Parallel()
	s := measure.Style{}
	for _, test := range []struct{ in, want string }{
		{"21.350 kg", "21.4"},  // round-21.350
		{"21.45 kg", "21.5"},   // round-21.45
		{"21.4501 kg", "21.5"}, // round-21.4501
		{"2.15 kg", "2.2"},     // round-2.15: binary 2.15 is below the tie
	} {
		m, err := measure.ParseMass(test.in)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.MassFigure(m); got != test.want {
			t.Errorf("MassFigure(%s) = %s, want %s", test.in, got, test.want)
		}
	}
	for _, test := range []struct {
		in   time.Duration
		want string
	}{
		{127_500 * time.Millisecond, "2:08"}, // round-127.5
		{126_500 * time.Millisecond, "2:07"}, // round-126.5
		{125_500 * time.Millisecond, "2:06"}, // round-125.5
	} {
		if got := measure.Clock(test.in); got != test.want {
			t.Errorf("Clock(%v) = %s, want %s", test.in, got, test.want)
		}
	}
}

// For JSON and charts alone.
func TestFloats(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name      string
		got, want float64
	}{
		{"45 lb in kg (unit-45lb)", (45 * measure.Pound).KG(), 20.41165665},
		{"100 ft in m (unit-100ft)", (100 * measure.Foot).Metres(), 30.48},
		{"1 of 8 in %", measure.Pct(1, 8), 12.5},
		{"1 of nothing in %", measure.Pct(1, 0), 0},
	} {
		if test.got != test.want {
			t.Errorf("%s = %v, want %v", test.name, test.got, test.want)
		}
	}
}

func TestRound6(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ in, want float64 }{
		{140.333333333333, 140.333333},
		{16.1290322580645, 16.129032},
		{0.0000005, 0.000001},
		{-0.0000005, -0.000001},
		{-1e-9, 0},
		{74.823313, 74.823313},
		{math.MaxFloat64, math.MaxFloat64},
	} {
		if got := measure.Round6(test.in); got != test.want || math.Signbit(got) != math.Signbit(test.want) {
			t.Errorf("Round6(%v) = %v, want %v", test.in, got, test.want)
		}
	}
}

// Share.Of and Percent against big rationals.
func TestAgainstRationals(t *testing.T) {
	t.Parallel()
	half := big.NewRat(1, 2)
	floor := func(r *big.Rat) *big.Int { return new(big.Int).Div(r.Num(), r.Denom()) }
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Int64Range(0, int64(measure.MaxMass)).Draw(t, "mass")
		p := rapid.Int64Range(0, int64(measure.MaxShare)).Draw(t, "share")
		exact := new(big.Rat).Mul(big.NewRat(m, 1), big.NewRat(p, int64(measure.Whole)))
		want := floor(exact.Add(exact, half)).Int64()
		if got := int64(measure.Share(p).Of(measure.Mass(m))); got != want {
			t.Fatalf("%d of %d = %d, want %d", p, m, got, want)
		}
		whole := rapid.Int64Range(1, int64(measure.MaxMass)).Draw(t, "whole")
		tenths := new(big.Rat).Mul(big.NewRat(m, whole), big.NewRat(1000, 1))
		n := floor(tenths.Add(tenths, half))
		text := new(big.Rat).SetFrac(n, big.NewInt(10)).FloatString(1) + " %"
		if got := (measure.Style{}).Percent(measure.Mass(m), measure.Mass(whole)); got != text {
			t.Fatalf("Percent(%d, %d) = %s, want %s", m, whole, got, text)
		}
	})
}
