// Package measure holds the quantities of the floor as whole numbers: mass in
// micrograms, distance in micrometres, shares in millionths. Sums of them are
// exact and a tie is a tie; rounding happens once, when a number is shown.
//
// 1 lb is 453 592.37 mg exactly (NIST SP 811, appendix B.8), 1 ft is 0.3048 m
// and 1 yd is 0.9144 m exactly (the same). Times are [time.Duration].
package measure

import "math/bits"

// Mass is a mass in micrograms.
type Mass int64

// Units of mass.
const (
	Microgram Mass = 1
	Gram           = 1_000_000 * Microgram
	Kilogram       = 1000 * Gram
	Pound          = 453_592_370 * Microgram
)

// Distance is a length in micrometres.
type Distance int64

// Units of distance.
const (
	Micrometre Distance = 1
	Metre               = 1_000_000 * Micrometre
	Foot                = 304_800 * Micrometre
	Yard                = 914_400 * Micrometre
)

// Share is a part of a whole in millionths: 1 % is 10 000.
type Share int64

// Shares that have a name.
const (
	Percent Share = 10_000
	Whole         = 100 * Percent
)

// Of returns that share of m, rounded to 1 µg, halves up. It is exact for
// every mass below 9 000 t and every share below 1000 %; m and s are not negative.
func (s Share) Of(m Mass) Mass {
	hi, lo := bits.Mul64(uint64(m), uint64(s))
	lo, carry := bits.Add64(lo, uint64(Whole)/2, 0)
	q, _ := bits.Div64(hi+carry, lo, uint64(Whole))
	return Mass(q)
}

// Pct returns part as a percentage of whole, 0 where whole is 0.
func Pct(part, whole Mass) float64 {
	if whole == 0 {
		return 0
	}
	return 100 * float64(part) / float64(whole)
}

// KG returns m in kilograms, for JSON and charts; arithmetic stays on Mass.
func (m Mass) KG() float64 { return float64(m) / float64(Kilogram) }

// Metres returns d in metres, for JSON and charts; arithmetic stays on Distance.
func (d Distance) Metres() float64 { return float64(d) / float64(Metre) }
