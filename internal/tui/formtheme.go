package tui

import (
	"strings"

	"charm.land/huh/v2"
	"charm.land/lipgloss/v2"
	"github.com/charmbracelet/x/ansi"
)

// formTheme gives huh's fields our inks, so that [Page.Paste] knows them again.
func formTheme(k *Look) huh.Theme {
	ink := k.theme.styles
	return huh.ThemeFunc(func(bool) *huh.Styles {
		focused := huh.FieldStyles{
			SelectedOption: ink[Strong],
			PrevIndicator:  ink[KeyInk].SetString(k.signs.before + " "),
			NextIndicator:  ink[KeyInk].SetString(" " + k.signs.working),
			TextInput:      huh.TextInputStyles{Cursor: ink[Chosen], Text: ink[Strong], Placeholder: ink[Dim], Prompt: ink[Body]},
		}
		blurred := focused
		blurred.SelectedOption, blurred.PrevIndicator, blurred.NextIndicator = ink[Body], lipgloss.NewStyle(), lipgloss.NewStyle()
		return &huh.Styles{Focused: focused, Blurred: blurred, FieldSeparator: lipgloss.NewStyle().SetString("\n")}
	})
}

// Paste writes a line that was styled with the theme's own inks, cut at the edge
// of r. Reversed text, which is a cursor, is Chosen; other looks are Body.
func (p *Page) Paste(r Rect, t *Theme, styled string) {
	ink, state, x := Body, byte(0), 0
	for len(styled) > 0 && x < r.W {
		seq, width, n, next := ansi.DecodeSequence(styled, state, nil)
		state, styled = next, styled[n:]
		switch {
		case width > 0:
			x = p.Text(r, x, 0, seq, ink)
		case strings.HasPrefix(seq, "\x1b["):
			ink = t.ink(seq)
		}
	}
}

// ink is the ink that a run beginning with that sequence is written in.
func (t *Theme) ink(begins string) Ink {
	for i, on := range t.on {
		if on == begins {
			return Ink(i)
		}
	}
	params := strings.Split(strings.TrimSuffix(strings.TrimPrefix(begins, "\x1b["), "m"), ";")
	for i := 0; i < len(params); i++ {
		switch params[i] {
		case "7":
			return Chosen
		case "38", "48": // a colour and its parts
			if i+1 < len(params) && params[i+1] == "2" {
				i += 4
			} else {
				i += 2
			}
		}
	}
	return Body
}
