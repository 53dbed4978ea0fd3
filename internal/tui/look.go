package tui

import (
	"github.com/charmbracelet/colorprofile"

	"hawser/internal/measure"
)

// Look is all that a screen must know of the terminal and the house's habits. It
// enters as a value: nothing here reads the environment.
type Look struct {
	Profile colorprofile.Profile
	Mode    Mode // Hashes where the locale is not UTF-8
	Ground  Ground
	Style   measure.Style
	Mouse   bool

	theme *Theme
	signs *signs
	keys  *Keys // of the screen that is on; nil: the usual ones
}

// ready returns the look with its theme and signs.
func (k Look) ready() Look {
	k.theme = NewTheme(k.Profile, k.Ground)
	k.signs = &drawn
	if k.Mode == Hashes {
		k.signs = &typed
	}
	return k
}

// signs are the shapes that stand beside words. drawn are in nearly every font,
// the Linux console's among them; typed are ASCII.
type signs struct {
	waiting, countIn, working, resting, stopped, changing, over string // phases
	taut, slack                                                 string // rope
	knot, late, byHand, missed, out, unpressed, noTime          string // knots
	bar, chosen, edge, dot, arrow, rule, before                 string
}

var (
	drawn = signs{
		waiting: "○", countIn: "▲", working: "►", resting: "●", stopped: "■", changing: "◊", over: "□",
		taut: "━", slack: "~", knot: "●", late: "▲", byHand: "■", missed: "×", out: "○", unpressed: "?", noTime: "◊",
		bar: "▌", chosen: "█", edge: "│", dot: " · ", arrow: "→", rule: "─", before: "◄",
	}
	typed = signs{
		waiting: ".", countIn: "^", working: ">", resting: "*", stopped: "#", changing: "+", over: "=",
		taut: "=", slack: "~", knot: "o", late: "!", byHand: "#", missed: "x", out: "-", unpressed: "?", noTime: "+",
		bar: "|", chosen: "#", edge: "|", dot: " - ", arrow: "->", rule: "-", before: "<",
	}
)
