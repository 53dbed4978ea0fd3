package measure

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
	"time"
)

// Style is how screens, text pages and CSV show quantities. Files, JSON and
// decisions do not know it. The zero Style is kg, m and a point.
type Style struct {
	MassUnit     string // "kg" or "lb"
	DistanceUnit string // "m", "yd" or "ft"
	Decimal      string // "." or ","
}

// Mass returns m to 0.1 of the unit, halves up, ".0" left away: "67 kg", "44.1 lb".
func (s Style) Mass(m Mass) string {
	return strings.TrimSuffix(s.MassFigure(m), s.mark()+"0") + " " + s.massUnit().name
}

// MassFigure returns m as Mass does, always with its decimal and without the
// unit, for columns: "67.0".
func (s Style) MassFigure(m Mass) string {
	return s.tenths(int64(m), s.massUnit().size)
}

// Distance returns d to 0.1 of the unit, halves up, ".0" left away: "30 m", "98.4 ft".
func (s Style) Distance(d Distance) string {
	return strings.TrimSuffix(s.DistanceFigure(d), s.mark()+"0") + " " + s.distanceUnit().name
}

// DistanceFigure returns d always with its decimal and without the unit: "30.0".
func (s Style) DistanceFigure(d Distance) string {
	return s.tenths(int64(d), s.distanceUnit().size)
}

// Percent returns part of whole to 0.1 %, halves up: "55.8 %"; "–" where whole is 0.
func (s Style) Percent(part, whole Mass) string {
	if whole <= 0 || part < 0 {
		return "–"
	}
	hi, lo := bits.Mul64(uint64(part), 2000)
	lo, carry := bits.Add64(lo, uint64(whole), 0)
	if hi+carry >= 2*uint64(whole) {
		return "–"
	}
	tenths, _ := bits.Div64(hi+carry, lo, 2*uint64(whole))
	return s.tenths(int64(tenths), 10) + " %"
}

// Share returns p to 0.1 %, halves up: "25.0 %".
func (s Style) Share(p Share) string { return s.tenths(int64(p), int64(Percent)) + " %" }

// Split returns a time to 0.1 s, halves up: "0:39.7".
func (s Style) Split(d time.Duration) string {
	tenths := halvesUp(int64(d), int64(100*time.Millisecond))
	sign := ""
	if tenths < 0 {
		sign, tenths = "-", -tenths
	}
	return sign + Clock(time.Duration(tenths/10)*time.Second) + s.mark() + strconv.FormatInt(tenths%10, 10)
}

// Clock returns a time as m:ss, from an hour up h:mm:ss, rounded to the second,
// halves up. A countdown that must not run ahead rounds before it asks.
func Clock(d time.Duration) string {
	seconds := halvesUp(int64(d), int64(time.Second))
	sign := ""
	if seconds < 0 {
		sign, seconds = "-", -seconds
	}
	if seconds < 3600 {
		return fmt.Sprintf("%s%d:%02d", sign, seconds/60, seconds%60)
	}
	return fmt.Sprintf("%s%d:%02d:%02d", sign, seconds/3600, seconds/60%60, seconds%60)
}

// Round6 rounds to six decimals, halves away from zero, for JSON. It never
// returns a negative zero.
func Round6(f float64) float64 {
	scaled := math.Round(f * 1e6)
	if scaled == 0 {
		return 0
	}
	if math.IsInf(scaled, 0) {
		return f
	}
	return scaled / 1e6
}

// tenths returns v in units of size with one decimal, rounded once.
func (s Style) tenths(v, size int64) string {
	n := v/size*10 + halvesUp(v%size*10, size)
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return sign + strconv.FormatInt(n/10, 10) + s.mark() + strconv.FormatInt(n%10, 10)
}

// halvesUp returns v/size rounded, halves away from zero, so that a loss reads
// like the gain of the same size.
func halvesUp(v, size int64) int64 {
	q, r := v/size, v%size
	switch {
	case r >= size-r:
		return q + 1
	case -r >= size+r:
		return q - 1
	}
	return q
}

func (s Style) mark() string {
	if s.Decimal == "," {
		return ","
	}
	return "."
}

func (s Style) massUnit() unit { return named(massUnits(), s.MassUnit) }

func (s Style) distanceUnit() unit { return named(distanceUnits(), s.DistanceUnit) }

// named returns the unit of that name, else the first.
func named(units []unit, n string) unit {
	for _, u := range units {
		if u.name == n {
			return u
		}
	}
	return units[0]
}
