package lanes

import (
	"fmt"
	"strings"
	"time"

	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// What is a crowd: more people than one coach runs a class of, and more turns on one
// sled than leave a round or two for each (common practice, no single source).
const (
	manyPeople = 16
	fewRounds  = 3
)

// letters says who has no letter because there are no more.
func letters(people []*roster.Athlete) []session.Finding {
	var without []string
	for _, a := range people {
		if a.Key == "" {
			without = append(without, a.Name)
		}
	}
	if len(people)-len(without) < 26 || len(without) == 0 {
		return nil
	}
	return []session.Finding{{Level: session.Warn, About: "fit", Text: fmt.Sprintf(
		"there are no more letters: %s have none; the digit of their sled is their press, or split the class with --who",
		strings.Join(without, ", "))}}
}

// crowd says what a class of many comes to where no clock says that it does not fit.
func (p *planner) crowd(a *answer, part *Part) {
	people, busy := len(p.people), len(p.lanesOf(a))
	if people > manyPeople && busy < people {
		p.say(session.Warn, "fit", "", 0, "%d people, and %d at work at a time: %d stand idle; split the class with --who, or add sleds and stations",
			people, busy, people-busy)
	}
	switch p.spec.Format {
	case session.Amrap:
		f := &part.Fit
		if rounds := int(f.Has / max(1, f.Needs)); f.Fits && rounds < fewRounds && p.mostOnOne(a) > 1 {
			p.say(session.Note, "fit", "", 0, "on %s there is time for everyone to go %s: fewer people on it, or a longer cap, gives more",
				f.On, map[int]string{1: "once", 2: "twice"}[rounds])
		}
	case session.Ratio:
		p.waiting(a, part)
	case session.Every, session.Intervals, session.Sets, session.LongPull, session.ForTime, session.Ramp, session.WarmUp, session.Break:
	}
}

// waiting says which implements keep people waiting far longer than the rest that is
// asked, those alike in one sentence.
func (p *planner) waiting(a *answer, part *Part) {
	shared := map[string][]string{}
	var order []string
	for _, s := range part.Sharing {
		if asked := p.longestRest(a, s.On); s.Rest > 2*asked {
			text := fmt.Sprintf("shared by %d: %s of rest where %s is asked, for each waits for the sled; fewer people on it shortens that",
				s.People, measure.Clock(s.Rest), measure.Clock(asked))
			if shared[text] == nil {
				order = append(order, text)
			}
			shared[text] = append(shared[text], s.On)
		}
	}
	for _, text := range order {
		p.say(session.Note, "rest", "", 0, "%s %s", strings.Join(shared[text], ", "), text)
	}
}

// longestRest is the longest rest that anybody on an implement is asked to take.
func (p *planner) longestRest(a *answer, on string) (rest time.Duration) {
	for i := range a.layout.seats {
		if s := &a.layout.seats[i]; s.on.Name == on {
			work, _ := p.expected(a.who[i], s.station, a.got[a.layout.first[i]].Moves)
			rest = max(rest, p.restFloor(work))
		}
	}
	return rest
}
