package lanes

import (
	"strings"
	"testing"

	"hawser/internal/session"
)

// says returns the findings of a board about something, as "level athlete: text".
func says(b *Board, about string) []string {
	var list []string
	for _, f := range b.Findings {
		if f.About == about {
			list = append(list, string(f.Level)+" "+f.Athlete+": "+f.Text)
		}
	}
	return list
}

// Of a list of loads only the heaviest is held to the aim: the others lead up to it.
func TestOnlyTheHeaviestSetIsJudged(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		loads string
		warns int
	}{
		{`["60% max", "70% max", "85% max"]`, 0},
		{`["85% max", "70% max"]`, 0},
		{`["60% max", "70% max"]`, 1},
	} {
		part := station("format = \"sets\"\nsets = 4\nrest = \"3:00\"", "movement = \"forward drag\"\ndistance = \"20 m\"\nexpect = \"20 s\"\nload = "+c.loads)
		b := Make(read(t, part, sleds(25)+pile("20 kg", 4, "10 kg", 2, "5 kg", 2), crew("forward drag", 100)))
		if got := says(b, "aim"); len(got) != c.warns {
			t.Errorf("%s: %q, want %d", c.loads, got, c.warns)
		}
	}
}

// The shares are the table's of Essentials of Strength Training and Conditioning,
// 4th ed., ch. 17: 87 % for 5 repetitions, 80 % for 8.
func TestRepetitionsBesideThe1RM(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		reps string
		want int
	}{{"5", 0}, {"8", 1}, {"13", 0}} { // nothing is read between 12 and 15
		part := station("format = \"every\"\nevery = \"4:00\"\nrounds = 3", "movement = \"deadlift\"\nexpect = \"20 s\"\nload = \"85% 1RM\"\nreps = "+c.reps)
		b := Make(read(t, part, "[[bar]]\nname = \"bar\"\ntare = \"20 kg\"\n"+pile("20 kg", 4, "10 kg", 2, "2.5 kg", 2), crew("deadlift", 100)))
		var got []string
		for _, s := range says(b, "load") {
			if strings.Contains(s, "repetitions at") && strings.HasPrefix(s, string(session.Warn)) {
				got = append(got, s)
			}
		}
		if len(got) != c.want {
			t.Errorf("%s repetitions at 85 %%: %q, want %d", c.reps, got, c.want)
		}
	}
}

// A newcomer is named once, however many stations there are.
func TestNewcomerIsNamed(t *testing.T) {
	t.Parallel()
	part := station("format = \"every\"\nevery = \"4:00\"\nrounds = 4", "movement = \"forward drag\"\ndistance = \"20 m\"\nload = \"20 kg\"") +
		"[[part.station]]\nmovement = \"backward drag\"\ndistance = \"20 m\"\nload = \"20 kg\"\n"
	b := Make(read(t, part, sleds(25, 27)+pile("20 kg", 4), "[[athlete]]\nname = \"Maren\"\nnewcomer = true\n[[athlete]]\nname = \"Eskil\"\n"))
	n := 0
	for _, s := range says(b, "caution") {
		if strings.Contains(s, "newcomer") {
			n++
			if s != "note Maren: a newcomer does half" {
				t.Errorf("caution %q", s)
			}
		}
	}
	if n != 1 {
		t.Errorf("a newcomer is named %d times, want once", n)
	}
}
