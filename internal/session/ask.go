package session

import (
	"errors"
	"fmt"
	"strings"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// ParseAsk reads a load: "60 kg", "44 kg each hand", "88 kg both", "60% max",
// "50% body mass", "50% body mass total", "70% 1RM" or "heaviest".
func ParseAsk(s string) (Ask, error) {
	text := strings.Join(strings.Fields(s), " ")
	if text == string(Heaviest) {
		return Ask{Basis: Heaviest}, nil
	}
	for _, basis := range []Basis{EachHand, BothHands} {
		if mass, ok := strings.CutSuffix(text, " "+string(basis)); ok {
			m, err := coachfile.Some(measure.ParseMass)(mass)
			return Ask{Basis: basis, Mass: m}, askError(err)
		}
	}
	number, words, percent := strings.Cut(text, "%")
	if !percent {
		m, err := measure.ParseMass(text)
		return Ask{Basis: Plain, Mass: m}, askError(err)
	}
	for _, basis := range []Basis{OfMax, OfBody, OfBodyTotal, Of1RM} {
		if strings.EqualFold(strings.TrimSpace(words), string(basis)) {
			share, err := coachfile.Some(measure.ParseShare)(number + "%")
			return Ask{Basis: basis, Share: share}, askError(err)
		}
	}
	return Ask{}, askError(&measure.Error{What: fmt.Sprintf("%q does not say a share of what", coachfile.Clean(s))})
}

// askError keeps what is wrong, and says how loads are written.
func askError(err error) error {
	wrong, ok := errors.AsType[*measure.Error](err)
	if !ok {
		return err
	}
	return &measure.Error{
		What:  wrong.What,
		Write: `"60 kg", "60% max", "50% body mass", "50% body mass total", "70% 1RM", "44 kg each hand", "88 kg both" or "heaviest"`,
	}
}

// String returns the load as a session file writes it.
func (a Ask) String() string {
	switch a.Basis {
	case Heaviest:
		return string(Heaviest)
	case Plain:
		return a.Mass.String()
	case EachHand, BothHands:
		return a.Mass.String() + " " + string(a.Basis)
	default:
		return a.Share.String() + " " + string(a.Basis)
	}
}
