package load

import (
	"hawser/internal/house"
	"hawser/internal/measure"
)

// style is how this house shows quantities.
func style(h *house.House) measure.Style {
	return measure.Style{MassUnit: h.Show, DistanceUnit: h.ShowDistance, Decimal: h.Decimal}
}
