package house

import (
	"time"

	"hawser/internal/measure"
	"hawser/internal/roster"
)

// Rule is one key of house.toml: what it is for, what it sets, and the words it
// takes where it takes words.
type Rule struct {
	Key, About string
	Field      any // pointer into a House: its type says how the value is written
	Words      []string
}

// group is a heading of house.toml and the rules under it.
type group struct {
	heading string
	rules   []Rule
}

// Default returns the house rules as they are where house.toml says nothing.
func Default() *House {
	return &House{
		Show: "kg", ShowDistance: "m", Decimal: ".",

		HandoverBase:  10 * time.Second,
		HandoverPlate: 5 * time.Second,
		RopeLay:       10 * time.Second,
		BetweenHeats:  3 * time.Minute,
		BetweenParts:  3 * time.Minute,
		WarmUp:        5 * time.Minute,
		CountIn:       10 * time.Second,
		CountInAlone:  20 * time.Second,
		CountBack:     5 * time.Second,

		Late:         "sit out",
		LatePress:    8 * time.Second,
		DoublePress:  2 * time.Second,
		DoubleTap:    time.Second,
		HeldKey:      120 * time.Millisecond,
		Margin:       25 * measure.Percent,
		LateDrop:     10 * measure.Percent,
		UnlikelyLow:  60 * measure.Percent,
		UnlikelyHigh: 160 * measure.Percent,

		RampStart: 50 * measure.Percent,
		RampRest:  3 * time.Minute,

		AimTolerance:     measure.Percent,
		TwoPullUse:       90 * measure.Percent,
		Formula:          "epley",
		LighterEvery:     4,
		WhenItDoesNotFit: "heats",
		DragSpeed:        measure.Metre,
		RopeSpeed:        measure.Metre / 2,
		RepTime:          3 * time.Second,

		Keys: map[string]string{},
	}
}

// Rules returns every rule, at its default.
func Rules() []Rule {
	var all []Rule
	for _, g := range groups(Default()) {
		all = append(all, g.rules...)
	}
	return all
}

// groups returns every rule, pointing into h.
func groups(h *House) []group {
	return []group{
		{"what screens, text pages and tables show; files, JSON and decisions never change", []Rule{
			{"show", "masses", &h.Show, []string{"kg", "lb"}},
			{"show_distance", "distances", &h.ShowDistance, []string{"m", "yd", "ft"}},
			{"decimal", "the decimal mark", &h.Decimal, []string{".", ","}},
			{"mouse", "a mouse or finger presses a tile", &h.Mouse, nil},
			{"speech", "names and plates spoken before a start, where this machine has a voice (espeak-ng)", &h.Speech, nil},
			{"screen_height", `how tall the screen is, "0.2 m": tells from how far the digits can be read`, &h.ScreenHeight, nil},
		}},
		{"changing people and plates", []Rule{
			{"handover_base", "every handover", &h.HandoverBase, nil},
			{"handover_plate", "more for each plate moved", &h.HandoverPlate, nil},
			{"rope_lay", "more to lay a rope out again", &h.RopeLay, nil},
			{"between_heats", "from the end of a heat to the next", &h.BetweenHeats, nil},
			{"between_parts", "from the end of a part to the next", &h.BetweenParts, nil},
			{"when_it_does_not_fit", "what is done with a schedule that does not fit the sleds", &h.WhenItDoesNotFit, []string{"heats", "as written", "longer interval"}},
		}},
		{"starting", []Rule{
			{"warm_up", "a latecomer's, before the first start", &h.WarmUp, nil},
			{"count_in", "before GO", &h.CountIn, nil},
			{"count_in_alone", "before GO for one person alone, who walks to the sled", &h.CountInAlone, nil},
			{"count_back", "after a hold and before a round again", &h.CountBack, nil},
		}},
		{"late and early", []Rule{
			{"late", "what follows a late finish", &h.Late, []string{"sit out", "note", "drop load", "cut distance", "stop"}},
			{"late_grace", "a finish this long after the end of the round is still in time", &h.LateGrace, nil},
			{"late_drop", "what comes off with late = \"drop load\"", &h.LateDrop, nil},
			{"late_press", "a press this early in a round belongs to the open one before", &h.LatePress, nil},
			{"double_press", "a second press within this is ignored", &h.DoublePress, nil},
			{"double_tap", "the same where start and done alternate", &h.DoubleTap, nil},
			{"held_key", "presses closer than this are one held key", &h.HeldKey, nil},
			{"margin", "less time left than this share of the round is said", &h.Margin, nil},
			{"unlikely_low", "a split under this share of the person's median is marked", &h.UnlikelyLow, nil},
			{"unlikely_high", "a split over this share of the person's median is marked", &h.UnlikelyHigh, nil},
		}},
		{"loads", []Rule{
			{"aim_tolerance", "points past a band before it is said", &h.AimTolerance, nil},
			{"two_pull_use", "how much of a max from two timed pulls is used", &h.TwoPullUse, nil},
			{"formula", "a max from repetitions, where the roster names no other", &h.Formula, roster.Formulas()},
			{"ramp_start", "the first attempt, of the guess", &h.RampStart, nil},
			{"ramp_rest", "least rest between attempts", &h.RampRest, nil},
			{"lighter_every", "every so many weeks a lighter one; 0: none", &h.LighterEvery, nil},
		}},
		{"expected work where nobody has a split yet", []Rule{
			{"drag_speed", "pulled in a second on a drag or carry", &h.DragSpeed, nil},
			{"rope_speed", "pulled in a second on a row or rope", &h.RopeSpeed, nil},
			{"rep_time", "a repetition", &h.RepTime, nil},
		}},
		{"shown by one key when somebody needs help", []Rule{
			{"emergency", "whom to call", &h.Emergency, nil},
			{"address", "where we are", &h.Address, nil},
			{"defibrillator", "where it hangs", &h.Defibrillator, nil},
		}},
	}
}
