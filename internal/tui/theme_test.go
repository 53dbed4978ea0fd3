package tui

import (
	"image/color"
	"math"
	"testing"

	"charm.land/lipgloss/v2"
	"github.com/charmbracelet/colorprofile"
)

// contrast is the contrast ratio of WCAG 2.2: relative luminances of linearised
// sRGB (threshold 0.04045), (lighter + 0.05) / (darker + 0.05).
func contrast(a, b color.Color) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}

// linear is a channel of 16 bits without sRGB's curve.
func linear(v uint32) float64 {
	s := float64(v>>8) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// TestContrastFormula checks the formula before anything rests on it. Values:
// WCAG 2.2 (white on black is 21 by definition), worked examples of contrast
// checkers, and the Okabe–Ito set of 2008 on black computed by the same formula.
func TestContrastFormula(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		a, b string
		want float64
	}{
		{"#000000", "#FFFFFF", 21},
		{"#0000FF", "#FFFFFF", 8.592471},
		{"#FF0000", "#0000FF", 2.148936},
		{"#777777", "#FFFFFF", 4.478089},
		{"#767676", "#FFFFFF", 4.542225},
		{"#FFFF00", "#000000", 19.556},
		{"#FF0000", "#FFFFFF", 3.998477},
		{"#E69F00", "#000000", 9.3239},
		{"#56B4E9", "#000000", 9.1008},
		{"#009E73", "#000000", 6.1383},
		{"#F0E442", "#000000", 15.8811},
		{"#0072B2", "#000000", 4.0498},
		{"#D55E00", "#000000", 5.4303},
		{"#CC79A7", "#000000", 6.8604},
	} {
		if got := contrast(lipgloss.Color(tt.a), lipgloss.Color(tt.b)); math.Abs(got-tt.want) > 0.001 {
			t.Errorf("contrast(%s, %s) = %.4f, want %.4f", tt.a, tt.b, got, tt.want)
		}
	}
}

// TestEveryInkIsReadable holds 7:1, the enhanced level of WCAG 2.2 (1.4.6), for
// every tone on its ground, also after the renderer has found the nearest of 256
// colours, and the other way round for what is written on a tone.
func TestEveryInkIsReadable(t *testing.T) {
	t.Parallel()
	for name, set := range map[string]tones{"dark": darkTones, "light": lightTones} {
		for _, profile := range []colorprofile.Profile{colorprofile.TrueColor, colorprofile.ANSI256} {
			back := profile.Convert(lipgloss.Color(set.back))
			for _, tone := range []string{set.text, set.dim, set.orange, set.sky, set.green, set.yellow, set.vermilion, set.purple} {
				if got := contrast(profile.Convert(lipgloss.Color(tone)), back); got < 7 {
					t.Errorf("%s, %v: %s has %.2f:1, want 7:1", name, profile, tone, got)
				}
			}
		}
	}
}

func TestNoColourMeansNoColour(t *testing.T) {
	t.Parallel()
	p := NewPage(4, 1)
	p.Text(p.All(), 0, 0, "wall", Stopped)
	if got, want := p.String(NewTheme(colorprofile.ASCII, DarkGround)), "\x1b[1mwall\x1b[m"; got != want {
		t.Errorf("without colour = %q, want %q", got, want)
	}
}
