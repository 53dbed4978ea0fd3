package tui

import (
	"image/color"
	"math"
	"testing"

	"charm.land/lipgloss/v2"
)

// dichromacies turn linear RGB into what an eye without one kind of cone sees:
// Machado, Oliveira and Fernandes (2009), severity 1.0.
var dichromacies = map[string][3][3]float64{
	"none":          {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia":  {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"achromatopsia": {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}}, // for the control
}

// seen is a colour as CIE L*a*b* (D65) to an eye.
func seen(c color.Color, eye [3][3]float64) [3]float64 {
	r, g, b, _ := c.RGBA()
	rgb := [3]float64{linear(r), linear(g), linear(b)}
	rgb = times(eye, rgb)
	for i, v := range rgb {
		rgb[i] = min(1, max(0, v))
	}
	xyz := times([3][3]float64{{0.4124564, 0.3575761, 0.1804375}, {0.2126729, 0.7151522, 0.0721750}, {0.0193339, 0.1191920, 0.9503041}}, rgb)
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x, y, z := f(xyz[0]/0.95047), f(xyz[1]), f(xyz[2]/1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

func times(m [3][3]float64, v [3]float64) [3]float64 {
	var out [3]float64
	for i := range m {
		for j := range v {
			out[i] += m[i][j] * v[j]
		}
	}
	return out
}

// nearest is the least CIE 1976 colour difference between any two of some tones.
func nearest(tones []string, eye [3][3]float64) float64 {
	least := math.Inf(1)
	for i := range tones {
		for j := range i {
			a, b := seen(lipgloss.Color(tones[i]), eye), seen(lipgloss.Color(tones[j]), eye)
			least = min(least, math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2]))
		}
	}
	return least
}

// TestPhasesStayApart holds that the tones of the phases stay apart to a colour-blind
// eye too: by 8, more than three times the 2.3 that is just noticed (Mahy, Van Eycken
// and Oosterlinck 1994). Each phase has its word and its shape besides.
func TestPhasesStayApart(t *testing.T) {
	t.Parallel()
	for ground, set := range map[string]tones{"dark": darkTones, "light": lightTones} {
		phases := []string{set.text, set.yellow, set.green, set.sky, set.vermilion, set.purple}
		for eye, m := range dichromacies {
			if got := nearest(phases, m); got < 8 && eye != "achromatopsia" {
				t.Errorf("%s, %s: two phases are %.1f apart, want 8", ground, eye, got)
			}
		}
		if got := nearest(phases, dichromacies["achromatopsia"]); got >= 8 {
			t.Errorf("%s: without any colour the phases are %.1f apart: this test cannot fail", ground, got)
		}
	}
}
