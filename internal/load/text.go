package load

import (
	"fmt"
	"strconv"
	"strings"

	"hawser/internal/house"
	"hawser/internal/measure"
)

// mass prints m in the house's unit.
func mass(m measure.Mass, h *house.House) string {
	if h.Show == "lb" {
		return tenths(int64(m), int64(measure.Pound), h) + " lb"
	}
	return tenths(int64(m), int64(measure.Kilogram), h) + " kg"
}

// length prints d in the house's unit.
func length(d measure.Distance, h *house.House) string {
	switch h.ShowDistance {
	case "ft":
		return tenths(int64(d), int64(measure.Foot), h) + " ft"
	case "yd":
		return tenths(int64(d), int64(measure.Yard), h) + " yd"
	}
	return tenths(int64(d), int64(measure.Metre), h) + " m"
}

// layout prints a distance with its legs: "30 m straight", "2 x 15 m".
func layout(d measure.Distance, legs int, h *house.House) string {
	if legs == 1 {
		return length(d, h) + " straight"
	}
	return fmt.Sprintf("%d x %s", legs, length(d/measure.Distance(legs), h))
}

// percent prints a percentage to one decimal.
func percent(p float64, h *house.House) string {
	return decimal(strconv.FormatFloat(p, 'f', 1, 64), h) + " %"
}

// tenths prints n in units to one decimal, halves up, without an empty decimal.
func tenths(n, unit int64, h *house.House) string {
	t := (n/unit)*10 + ((n%unit)*20+unit)/(2*unit)
	return decimal(strings.TrimSuffix(fmt.Sprintf("%d.%d", t/10, t%10), ".0"), h)
}

// decimal puts in the house's decimal mark.
func decimal(s string, h *house.House) string {
	if h.Decimal == "," {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
