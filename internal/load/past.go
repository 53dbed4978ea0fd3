package load

import (
	"time"

	"hawser/internal/measure"
)

// Past is what earlier logs say of a person. review fills it; nil answers nothing.
type Past interface {
	// Heaviest returns the heaviest total ever logged for that movement.
	Heaviest(athlete, movement string) (measure.Mass, bool)
	// Median returns the median work time for that movement at about that total load
	// and over that distance.
	Median(athlete, movement string, total measure.Mass, distance measure.Distance) (time.Duration, bool)
}
