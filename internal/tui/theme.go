package tui

import (
	"image/color"
	"strings"

	"charm.land/lipgloss/v2"
	"github.com/charmbracelet/colorprofile"
	"github.com/charmbracelet/x/ansi"
)

// Ink is a meaning that text is written in. What it looks like is the [Theme]'s.
type Ink uint8

// The inks. Each also has a word or a shape wherever it is used.
const (
	Body    Ink = iota // text
	Dim                // text that can wait; still 7:1
	Strong             // names and loads
	KeyInk             // the letter that presses for a person, and keys in the bottom line
	Work               // pulling
	Rest               // resting, done
	Ready              // counting in, about to start
	Stopped            // the clock stands; late; what stops
	Turn               // between heats and parts; handover
	Warn               // a margin that is thin, a finding
	Chosen             // the tile that the arrows chose
	Blink              // a press that was ignored, for a fifth of a second
	inks               // how many
)

// Theme is how each ink looks on one kind of terminal.
type Theme struct {
	on     [inks]string // SGR that begins a run of an ink, "" where it has no style
	off    [inks]string // SGR that ends it
	styles [inks]lipgloss.Style
	Back   color.Color // of the whole terminal; nil: as it is
	Fore   color.Color
}

// Tones of Okabe and Ito's set (2008), on near-black. Bluish green and vermilion
// fall short of 7:1 there, so they stand here lightened towards white; so does
// reddish purple. For a projector the same hues are darkened on near-white.
type tones struct {
	back, text, dim string

	orange, sky, green, yellow, vermilion, purple string
}

var (
	darkTones = tones{
		back: "#0B0E11", text: "#F2EFE8", dim: "#A9B0B6",
		orange: "#E69F00", sky: "#56B4E9", green: "#33C49A", yellow: "#F0E442", vermilion: "#FF8A4D", purple: "#DD9CC0",
	}
	lightTones = tones{
		back: "#FBFAF6", text: "#14181B", dim: "#4A5056",
		orange: "#5C2E00", sky: "#004C79", green: "#00563E", yellow: "#4D2B00", vermilion: "#7C2F00", purple: "#6A1F50",
	}
)

// NewTheme returns the theme for a colour profile. light asks for dark text on a
// light ground, for projectors; it counts where there are colours to spare.
func NewTheme(profile colorprofile.Profile, ground Ground) *Theme {
	switch {
	case profile < colorprofile.ANSI:
		return plainTheme()
	case profile == colorprofile.ANSI:
		return basicTheme()
	case ground == LightGround:
		return fullTheme(lightTones)
	default:
		return fullTheme(darkTones)
	}
}

// Ground is what stands behind the text.
type Ground uint8

// The grounds.
const (
	DarkGround Ground = iota
	LightGround
)

// fullTheme is for 256 colours and more; the renderer finds the nearest of 256.
func fullTheme(c tones) *Theme {
	back := lipgloss.Color(c.back)
	ink := func(fore string) lipgloss.Style {
		return lipgloss.NewStyle().Foreground(lipgloss.Color(fore)).Background(back)
	}
	over := func(ground string) lipgloss.Style {
		return lipgloss.NewStyle().Bold(true).Foreground(back).Background(lipgloss.Color(ground))
	}
	return newTheme(back, lipgloss.Color(c.text), [inks]lipgloss.Style{
		Body: ink(c.text), Dim: ink(c.dim), Strong: ink(c.text).Bold(true), KeyInk: ink(c.yellow).Bold(true),
		Work: ink(c.green), Rest: ink(c.sky), Ready: ink(c.yellow), Stopped: ink(c.vermilion).Bold(true),
		Turn: ink(c.purple), Warn: ink(c.orange), Chosen: over(c.text), Blink: over(c.dim),
	})
}

// basicTheme is for 16 colours, whose tones are the terminal's own: those that have
// 7:1 on black wherever one looks, chosen by hand. Reds, blues and magentas have not.
func basicTheme() *Theme {
	ink := func(fore ansi.BasicColor) lipgloss.Style {
		return lipgloss.NewStyle().Foreground(fore).Background(ansi.Black)
	}
	return newTheme(nil, nil, [inks]lipgloss.Style{
		Body: ink(ansi.White), Dim: ink(ansi.White), Strong: ink(ansi.BrightWhite).Bold(true),
		KeyInk: ink(ansi.BrightYellow).Bold(true), Work: ink(ansi.BrightGreen), Rest: ink(ansi.BrightCyan),
		Ready: ink(ansi.BrightWhite).Bold(true), Stopped: ink(ansi.BrightYellow).Bold(true), Turn: ink(ansi.White).Bold(true),
		Warn: ink(ansi.BrightYellow), Chosen: ink(ansi.BrightWhite).Bold(true).Reverse(true), Blink: ink(ansi.White).Reverse(true),
	})
}

// plainTheme is for no colour at all: bold and reverse only.
func plainTheme() *Theme {
	none, bold, turned := lipgloss.NewStyle(), lipgloss.NewStyle().Bold(true), lipgloss.NewStyle().Reverse(true)
	return newTheme(nil, nil, [inks]lipgloss.Style{
		Body: none, Dim: none, Strong: bold, KeyInk: bold, Work: bold, Rest: none, Ready: bold,
		Stopped: bold, Turn: none, Warn: bold, Chosen: turned, Blink: turned,
	})
}

// newTheme keeps what each style begins and ends a run with: a run is styled for
// each frame, and that must cost no more than a copy.
func newTheme(back, fore color.Color, styles [inks]lipgloss.Style) *Theme {
	t := &Theme{styles: styles, Back: back, Fore: fore}
	for i, s := range styles {
		t.on[i], t.off[i], _ = strings.Cut(s.Render("x"), "x")
	}
	return t
}
