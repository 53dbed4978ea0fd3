package review

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"
)

func sum(xs []float64) float64 {
	total := 0.0
	for _, x := range xs {
		total += x
	}
	return total
}

func mean(xs []float64) float64 { return sum(xs) / float64(len(xs)) }

// sampleSD divides by n − 1, populationSD by n. Both work on distances from the
// mean, so that large, close values keep their digits.
func sampleSD(xs []float64) float64     { return stat.StdDev(xs, nil) }
func populationSD(xs []float64) float64 { return stat.PopStdDev(xs, nil) }

// quantile is type 7 of Hyndman and Fan (1996), the one most programs mean: the
// k-th of n sorted values stands at p = (k − 1)/(n − 1). gonum has no type 7.
func quantile(xs []float64, p float64) float64 {
	xs = slices.Clone(xs)
	slices.Sort(xs)
	at := p * float64(len(xs)-1)
	low := int(math.Floor(at))
	if low+1 >= len(xs) {
		return xs[len(xs)-1]
	}
	return xs[low] + (at-float64(low))*(xs[low+1]-xs[low])
}

// slope is the least-squares change of y for each unit of x.
func slope(x, y []float64) (intercept, perUnit float64) {
	return stat.LinearRegression(x, y, nil, false)
}

func inSeconds(ds []time.Duration) []float64 {
	out := make([]float64, len(ds))
	for i, d := range ds {
		out[i] = d.Seconds()
	}
	return out
}
