package session

import (
	"fmt"
	"strings"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
)

// basisWords are the ends of a load that is written as a share or by hand. Longer
// ones stand before those they end with.
func basisWords() []Basis { return []Basis{OfBodyTotal, OfBody, OfMax, Of1RM} }

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
			return Ask{Basis: basis, Mass: m}, err //nolint:wrapcheck // it says all
		}
	}
	number, words, percent := strings.Cut(text, "%")
	if !percent {
		m, err := measure.ParseMass(text)
		if err != nil {
			return Ask{}, unknown(s)
		}
		return Ask{Basis: Plain, Mass: m}, nil
	}
	for _, basis := range basisWords() {
		if strings.EqualFold(strings.TrimSpace(words), string(basis)) {
			share, err := coachfile.Some(measure.ParseShare)(number + "%")
			return Ask{Basis: basis, Share: share}, err //nolint:wrapcheck // it says all
		}
	}
	return Ask{}, unknown(s)
}

func unknown(s string) error {
	return &measure.Error{
		What:  fmt.Sprintf("%q is not a load", coachfile.Clean(s)),
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
