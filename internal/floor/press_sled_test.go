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
