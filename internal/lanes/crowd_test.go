package lanes

import (
	"fmt"
	"strings"
	"testing"
)

// Forty people on four sleds, 25 s of work and 10 s and 20 m back between two: ten
// take 10 x 55 = 9:10. That is once in a cap of 12:00, and not even once in 9:00.
func TestCrowds(t *testing.T) {
	t.Parallel()
	forty := make([]float64, 40)
	for i := range forty {
		forty[i] = 100
	}
	const row = "movement = \"sled row\"\ndistance = \"20 m\"\nload = \"40 kg\"\nexpect = \"25 s\""
	for _, c := range []struct {
		part string
		n    int
		fits bool
		says []string // about the fit and the rest
	}{
		{"format = \"amrap\"\ncap = \"12:00\"", 40, true, []string{
			"warn : there are no more letters", "warn : 40 people, and 4 at work at a time: 36 stand idle; split the class with --who", "note : on A there is time for everyone to go once",
		}},
		{"format = \"amrap\"\ncap = \"9:00\"", 40, false, []string{"warn : there are no more letters", "warn : does not fit: A needs 9:10 and has 9:00; this board takes: heats", "warn : 40 people"}},
		{"format = \"amrap\"\ncap = \"12:00\"", 12, true, nil},
		{"format = \"ratio\"\nrest = \"2 x work\"\nrounds = 5", 40, true, []string{
			"warn : there are no more letters", "warn : 40 people", "note : A, B, C, D shared by 10: 8:45 of rest where 0:50 is asked",
		}},
		{"format = \"sets\"\nsets = 4\nrest = \"2:30\"", 17, true, []string{"warn : 17 people, and 4 at work at a time: 13 stand idle"}},
		{"format = \"ratio\"\nrest = \"2 x work\"\nrounds = 5", 1, true, nil},
	} {
		in := read(t, strings.Replace(station(c.part, row), "strength", "conditioning", 1), sleds(27, 27, 27, 27)+pile("20 kg", 8), crew("forward drag", forty[:c.n]...))
		in.Limit = 20_000
		b := Make(in)
		name := fmt.Sprintf("%d people, %q", c.n, c.part)
		if got := b.Parts[0].Fit.Fits; got != c.fits {
			t.Errorf("%s: fits %v, want %v", name, got, c.fits)
		}
		got := append(says(b, "fit"), says(b, "rest")...)
		if len(got) != len(c.says) {
			t.Errorf("%s: %q, want %d", name, got, len(c.says))
			continue
		}
		for i := range got {
			if !strings.HasPrefix(got[i], c.says[i]) {
				t.Errorf("%s: %q, want %q", name, got[i], c.says[i])
			}
		}
	}
}
