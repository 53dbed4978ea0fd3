package lanes

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/movement"
)

func TestLengths(t *testing.T) {
	t.Parallel()
	const m = measure.Metre
	for _, c := range []struct {
		d, strip measure.Distance
		legs     int
		leg      measure.Distance
	}{
		{20 * m, 25 * m, 1, 20 * m},
		{25 * m, 25 * m, 1, 25 * m},
		{30 * m, 25 * m, 2, 15 * m},
		{60 * m, 25 * m, 4, 15 * m}, // three would do, and leave the sled at the far end
		{300 * m, 25 * m, 12, 25 * m},
		{30 * m, 3 * m, 10, 3 * m},
		{30 * m, 0, 1, 30 * m}, // nobody wrote the strip down
		{0, 25 * m, 0, 0},
	} {
		if legs, leg := Lengths(c.d, c.strip); legs != c.legs || leg != c.leg {
			t.Errorf("Lengths(%v, %v) = %d legs of %v, want %d of %v", c.d, c.strip, legs, leg, c.legs, c.leg)
		}
	}
}

func TestPulls(t *testing.T) {
	t.Parallel()
	const m = measure.Metre
	for _, c := range []struct {
		d, rope measure.Distance
		want    int
	}{
		{15 * m, 16 * m, 1},
		{16 * m, 16 * m, 2},
		{30 * m, 16 * m, 2},
		{31 * m, 16 * m, 3},
		{20 * m, m, 0},
		{20 * m, m / 2, 0},
		{20 * m, 0, 0},
		{0, 16 * m, 0},
	} {
		if got := pulls(c.d, c.rope); got != c.want {
			t.Errorf("pulls(%v, %v) = %d, want %d", c.d, c.rope, got, c.want)
		}
	}
}

func TestBack(t *testing.T) {
	t.Parallel()
	const m = measure.Metre
	for _, c := range []struct {
		movement string
		d        measure.Distance
		legs     int
		want     time.Duration
	}{
		{"forward drag", 30 * m, 2, 0},
		{"forward drag", 20 * m, 1, 20 * time.Second},
		{"sled row", 20 * m, 1, 20 * time.Second},
		{"sled row", 30 * m, 2, 30 * time.Second},
		{"hand over hand pull", 15 * m, 1, 25 * time.Second},
		{"deadlift", 0, 0, 0},
	} {
		mv, _ := movement.Find(c.movement)
		if got := Back(mv, c.d, c.legs, 10*time.Second); got != c.want {
			t.Errorf("Back(%s, %v, %d legs) = %v, want %v", c.movement, c.d, c.legs, got, c.want)
		}
	}
}
