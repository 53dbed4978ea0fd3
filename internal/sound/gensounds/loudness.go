package main

import "math"

// target is the loudness of every sound, in LKFS, as played on both channels.
const target = -8.0

// biquad is a filter of the second order, a0 being 1.
type biquad struct{ b0, b1, b2, a1, a2 float64 }

// kWeighting returns the two stages of the K-weighting at 48 kHz: ITU-R BS.1770-4,
// annex 1, tables 1 and 2.
func kWeighting() [2]biquad {
	return [...]biquad{
		{1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585},
		{1, -2, 1, -1.99004745483398, 0.99007225036621},
	}
}

// loudness returns the loudness of samples on both channels, in LKFS, over those
// that are sounding: BS.1770's formula without its gates, since a cue is shorter
// than their 400 ms.
func loudness(samples []float64, sounding []bool) float64 {
	weighted := samples
	for _, stage := range kWeighting() {
		weighted = stage.filter(weighted)
	}
	sum, n := 0.0, 0
	for i, x := range weighted {
		if sounding[i] {
			sum += x * x
			n++
		}
	}
	return -0.691 + 10*math.Log10(2*sum/float64(n))
}

func (q biquad) filter(in []float64) []float64 {
	out := make([]float64, len(in))
	var x1, x2, y1, y2 float64
	for i, x := range in {
		y := q.b0*x + q.b1*x1 + q.b2*x2 - q.a1*y1 - q.a2*y2
		x2, x1, y2, y1 = x1, x, y1, y
		out[i] = y
	}
	return out
}
