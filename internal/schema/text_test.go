package schema

import (
	"regexp"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// Whatever a parser takes, the pattern takes, however odd it is written: each text
// is a good one with some pieces put in or taken out.
func TestPatternsTakeWhatParsersTake(t *testing.T) {
	t.Parallel()
	taken := func(err error) bool { return err == nil }
	for _, test := range []struct {
		of     doc
		good   []string
		pieces []string
		parse  func(string) bool
	}{
		{massText(), []string{"27.5 kg", "45 lb"}, []string{"kg", "KG", "lb", "Lb", "g"}, func(s string) bool { _, err := measure.ParseMass(s); return taken(err) }},
		{distanceText(), []string{"20 m", "100 ft", "30 yd"}, []string{"m", "M", "ft", "yd", "km"}, func(s string) bool { _, err := measure.ParseDistance(s); return taken(err) }},
		{clockText(), []string{"1:05:00", "0:39.7", "30 s", "2 min"}, []string{":", ":05", ":59", ":60", "s", "min", "Min", "h", ".500"}, func(s string) bool { _, err := measure.ParseClock(s); return taken(err) }},
		{shareText(), []string{"62.5 %"}, []string{"%"}, func(s string) bool { _, err := measure.ParseShare(s); return taken(err) }},
		{written(factor), []string{"1.5 x work"}, []string{"x", "×", "work", "2"}, func(s string) bool { _, err := session.Factor(s); return taken(err) }},
		{written(layout), []string{"straight", "2 x 15 m"}, []string{"straight", "x", "×", "15 m", "2", "yd"}, func(s string) bool { _, err := roster.Layout(s); return taken(err) }},
		{written(ask), []string{"60 kg", "60% max", "50% body mass total", "70% 1RM", "44 kg each hand", "heaviest"}, []string{"kg", "lb", "each", "hand", "both", "heaviest", "%", "max", "MAX", "body", "mass", "total", "1RM", "1rm"}, func(s string) bool { _, err := session.ParseAsk(s); return taken(err) }},
		{name(), []string{"Maren"}, []string{"a", "Å", "é", "\u200d", "\u202e", "\n", "\x1b"}, func(s string) bool { _, err := coachfile.Name(s); return taken(err) }},
		{line(), []string{"Slack water, 8 × 20 m"}, []string{"a", ";", "\"", "\u2028"}, func(s string) bool { _, err := coachfile.Line(s); return taken(err) }},
	} {
		pattern := regexp.MustCompile(test.of["pattern"].(string))
		not := regexp.MustCompile(`^$`)
		if d, ok := test.of["not"].(doc); ok {
			not = regexp.MustCompile(d["pattern"].(string))
		}
		most, limited := test.of["maxLength"].(int)
		pieces := append([]string{" ", "\t", "0", "12", ".", ",", "-"}, test.pieces...)
		rapid.Check(t, func(t *rapid.T) {
			s := []rune(rapid.SampledFrom(test.good).Draw(t, "good"))
			for range rapid.IntRange(0, 3).Draw(t, "edits") {
				at := rapid.IntRange(0, len(s)).Draw(t, "at")
				end := min(len(s), at+rapid.IntRange(0, 2).Draw(t, "taken out"))
				s = slices.Concat(s[:at], []rune(rapid.SampledFrom(pieces).Draw(t, "put in")), s[end:])
			}
			text := string(s)
			if test.parse(text) && (!pattern.MatchString(text) || not.MatchString(text) || limited && len(s) > most) {
				t.Fatalf("%q is taken, and the pattern %s does not match", text, pattern)
			}
		})
	}
}
