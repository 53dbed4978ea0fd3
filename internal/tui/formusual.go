package tui

import (
	"fmt"
	"strings"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// readAmount reads how much is done at a station: "20 m", "4 x 20 m", "5 reps" or "1:00".
func readAmount(s string) (session.Station, error) {
	wrong := &measure.Error{What: fmt.Sprintf("%q is no amount", coachfile.Clean(s)), Write: `"20 m", "4 x 20 m", "5 reps" or "1:00"`}
	text := strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(s), "×", "x")), " ")
	if number, _, ok := strings.Cut(text, " rep"); ok || strings.Trim(text, "0123456789") == "" {
		n, err := countTo(1000)(number)
		if err != nil {
			return session.Station{}, wrong
		}
		return session.Station{Reps: n}, nil
	}
	if d, err := coachfile.Some(measure.ParseClock)(text); err == nil {
		return session.Station{Time: d}, nil
	}
	st := session.Station{Times: 1}
	if times, each, ok := strings.Cut(text, "x"); ok {
		n, err := countTo(100)(strings.TrimSpace(times))
		if err != nil {
			return st, wrong
		}
		st.Times, text = n, each
	}
	d, err := coachfile.Some(measure.ParseDistance)(text)
	if err != nil {
		return st, wrong
	}
	st.Distance = d
	return st, nil
}

// muchOf writes an amount as [readAmount] reads it, in the house's unit where that
// is exact.
func muchOf(s session.Station, style measure.Style) string {
	switch {
	case s.Reps > 0:
		return itoa(s.Reps) + " reps"
	case s.Time > 0:
		return measure.Notation(s.Time)
	}
	text := style.Distance(s.Distance)
	if d, err := measure.ParseDistance(text); err != nil || d != s.Distance {
		text = s.Distance.String()
	}
	if s.Times > 1 {
		return itoa(s.Times) + " x " + text
	}
	return text
}

// loads reads a load; in sets several, between semicolons, one a set.
func loads(f session.Format) func(string) ([]session.Ask, error) {
	return func(s string) ([]session.Ask, error) {
		pieces := []string{s}
		if f == session.Sets {
			pieces = strings.Split(s, ";")
		}
		var all []session.Ask
		for _, piece := range pieces {
			ask, err := session.ParseAsk(piece)
			if err != nil {
				return nil, err
			}
			all = append(all, ask)
		}
		return all, nil
	}
}

// known reports whether a share of a person's max can be asked: for strength it
// has to be a tested one, since nobody pulls that heavy on an estimate.
func known(a *roster.Athlete, name string, aim session.Aim) bool {
	for _, b := range a.Bests {
		if b.Movement == name && (b.How == roster.Tested || aim != session.Strength) {
			return true
		}
	}
	return false
}

// aimHint is the band of an aim in a line.
func aimHint(a session.Aim) string {
	switch a {
	case session.Strength:
		return "strength: 85 % of max and up, 30 m or 6 repetitions at most, 2 to 4 minutes of rest"
	case session.Endurance:
		return "endurance: 50 % of max and under, 100 m or 20 repetitions at least, under a minute of rest"
	case session.Conditioning:
		return "conditioning: mixed, about 50 to 60 % of max"
	}
	return ""
}

// formatHint is what a format's clock and a press in it do.
func formatHint(f session.Format) string {
	switch f {
	case session.Every:
		return "every: all start together every so often; a press: done with this round"
	case session.Amrap:
		return "amrap: as many rounds as there are to the end; a press: a round done"
	case session.Intervals:
		return "intervals: work, rest, again, by the class clock; nothing has to be pressed"
	case session.Ratio:
		return "ratio: everyone rests as many times their own work; a press: work done"
	case session.Sets:
		return "sets: everyone at their own time, rest from the end of a set; a press: start, then done"
	case session.LongPull:
		return "long pull: one long way; a press: stop, go; shifted: a leg done"
	case session.ForTime:
		return "for time: as fast as it goes, to a cap; a press: done"
	case session.Ramp:
		return "ramp: heavier until it is too heavy; a press: start, then good"
	case session.WarmUp:
		return "warm-up: nobody pulls yet; then the next part begins"
	case session.Break:
		return "rest: nobody pulls; then the next part begins"
	}
	return ""
}
