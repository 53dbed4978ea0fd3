package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestPressOnASled: a digit is for whoever is on that sled, else for whoever is next to it.
func TestPressOnASled(t *testing.T) {
	t.Parallel()
	every := everyMinute(3)
	every.Every = 2 * time.Minute
	for _, c := range []struct {
		says  string
		part  session.Part
		on    string // of Ada, Bo, Cleo
		first []asked
		at    string
		sled  string
		who   string // "" for nobody
	}{
		{"the one who works", every, "A B A", nil, "0:20", "A", "Ada"},
		{"another sled", every, "A B A", nil, "0:20", "B", "Bo"},
		{"nobody is there", every, "A B A", nil, "0:20", "C", ""},
		{"the second once the first is done and their start has come", every, "A B A", []asked{{"0:30", Press{"Ada"}}}, "0:50", "A", "Cleo"},
		{"at the own start itself", every, "A B A", []asked{{"0:20", Press{"Ada"}}}, "0:40", "A", "Cleo"},
		{"the second works, the first has not pressed", every, "A B A", nil, "0:50", "A", "Cleo"},
		{"who is late for the round before", every, "A B C", nil, "2:03", "A", "Ada"},
		{"most rounds: whose turn it is", session.Part{Format: session.Amrap, Cap: 5 * time.Minute}, "A B A", nil, "0:20", "A", "Ada"},
		{"most rounds: then the other", session.Part{Format: session.Amrap, Cap: 5 * time.Minute}, "A B A", []asked{{"0:20", Press{"Ada"}}}, "0:50", "A", "Cleo"},
		{"most rounds: nobody there", session.Part{Format: session.Amrap, Cap: 5 * time.Minute}, "A B A", nil, "0:20", "C", ""},
		{"sets: nobody is on it yet, the first", session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "A B A", nil, "0:20", "A", "Ada"},
		{"sets: the one on it", session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "A B A", []asked{{"0:20", Press{"Cleo"}}}, "0:30", "A", "Cleo"},
		{"sets: who has done fewer", session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "A B A", []asked{{"0:20", Press{"Ada"}}, {"0:30", Press{"Ada"}}}, "0:40", "A", "Cleo"},
		{"sets: those through are passed over", session.Part{Format: session.Sets, Sets: 1, Rest: time.Minute}, "A B A", []asked{{"0:20", Press{"Ada"}}, {"0:30", Press{"Ada"}}}, "0:40", "A", "Cleo"},
		{"sets: and those who left", session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute}, "A B A", []asked{{"0:20", Leave{"Ada"}}}, "0:40", "A", "Cleo"},
		{"ratio: nobody is left", session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}, "A B B", []asked{{"0:20", Press{"Ada"}}}, "0:25", "A", ""},
		{"ratio: the one on it", session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2}, "A B A", nil, "0:20", "A", "Ada"},
		{"ratio: the other sled", session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 2}, "A B A", nil, "0:20", "B", "Bo"},
	} {
		r := begin(t, one(c.part, "Ada Bo Cleo", c.on))
		for _, a := range c.first {
			r.must(a.at, a.c)
		}
		n := len(r.log)
		err := r.do(clockOf(t, c.at), PressSled{On: c.sled})
		who := ""
		if len(r.log) > n {
			if p, ok := r.log[len(r.log)-1].E.(Pressed); ok {
				who = p.Who
			}
		}
		if who != c.who {
			t.Errorf("%s: a press on %s at %s is %q's (%v), want %q's", c.says, c.sled, c.at, who, err, c.who)
		}
	}
}

// TestPressOnASledWord: where nobody's round is open a press on a sled says why, as a press of whoever is on it.
func TestPressOnASledWord(t *testing.T) {
	t.Parallel()
	ratio := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}
	r := begin(t, one(everyMinute(3), "Ada", "A"))
	r.must("0:20", Press{"Ada"})
	r.refused("0:30", PressSled{"A"}, "Ada has round 1 already")
	r.refused("0:30", PressSled{"B"}, "nobody is on B now")
	r = begin(t, one(ratio, "Ada Bo", "A B"))
	r.must("0:20", Press{"Ada"})
	r.refused("0:30", PressSled{"A"}, "nobody is on A now")
}

// TestPressOnASledOfThePart: a digit means whoever is on the sled in the part and in the heat that run.
func TestPressOnASledOfThePart(t *testing.T) {
	t.Parallel()
	pressed := func(r *run, at, sled, want string) {
		t.Helper()
		r.must(at, PressSled{sled})
		if e, ok := r.log[len(r.log)-1].E.(Pressed); !ok || e.Who != want {
			t.Errorf("a press on %s at %s is %+v, want one of %s", sled, at, r.log[len(r.log)-1].E, want)
		}
	}
	ratio := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}
	p := twoParts(ratio, ratio, "A B")
	p.Parts[1].Places[0].Spots = []Spot{p.Parts[0].Places[1].Spots[0]} // in part 2 the other way round
	p.Parts[1].Places[1].Spots = []Spot{p.Parts[0].Places[0].Spots[0]}
	r := begin(t, p)
	r.must("0:20", Press{"Ada"})
	r.must("0:21", Press{"Bo"})
	r.at(r.s.End(r.zero+21*time.Second)-r.zero+p.House.BetweenParts, Sleep{})
	pressed(r, "3:40", "A", "Bo")
	pressed(begin(t, inTwoHeats(everyMinute(2))), "0:20", "A", "Ada")
	// whoever comes second on the sled stands first in the list
	p = one(everyMinute(3), "Bo Ada", "A A")
	p.Parts[0].Places[0].Spots[0].Order, p.Parts[0].Places[1].Spots[0].Order = 1, 0
	r = begin(t, p)
	pressed(r, "0:20", "A", "Ada")
	pressed(r, "0:40", "A", "Bo") // the instant of the own start
}

// TestPressOnASledAfterTheEnd: the last round may still be finished late, on its own sled.
func TestPressOnASledAfterTheEnd(t *testing.T) {
	t.Parallel()
	part := everyMinute(2)
	part.Stations = make([]session.Station, 2)
	p := one(part, "Ada", "A")
	p.Parts[0].Places[0].Spots[1].On = "B"
	r := begin(t, p)
	r.must("0:30", Press{"Ada"})
	r.refused("2:10", PressSled{"A"}, "nobody is on A now")
	r.must("2:10", PressSled{"B"})
}
