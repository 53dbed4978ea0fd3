package sound

import "math"

// knee is where the limiter begins; below it a sample passes untouched. Every
// single cue stays below.
const knee = 0.75

// Limit bends a sample above the knee so that it never reaches full scale,
// however many cues sound at once.
func Limit(x float64) float64 {
	a := math.Abs(x)
	if a <= knee {
		return x
	}
	return math.Copysign(knee+(1-knee)*math.Tanh((a-knee)/(1-knee)), x)
}
