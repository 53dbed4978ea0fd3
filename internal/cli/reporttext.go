package cli

import (
	"fmt"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/review"
)

// reportPage is what a run says, as plain text in 80 columns.
type reportPage struct {
	page
	report *review.Report
	style  measure.Style
}

func (p *reportPage) String() string {
	r := p.report
	p.ends(strings.ToUpper(shown(r.Title)), "ended "+clock(r.Ends)+" after GO")
	p.rule()
	p.wrapped("", shown(r.Headline(p.style)))
	for i := range r.Parts {
		part := &r.Parts[i]
		p.line("")
		p.line("PART %d  %s", part.Number, part.Spec.Format)
		var away []string
		for k := range part.Athletes {
			if a := &part.Athletes[k]; a.NotHere == len(a.Rounds) {
				away = append(away, shown(a.Name))
			} else {
				p.athlete(part, a)
			}
		}
		if len(away) > 0 {
			p.wrapped("  not here     ", strings.Join(away, ", "))
		}
	}
	return p.page.String()
}

// athlete prints one person: the score, the splits, next time.
func (p *reportPage) athlete(part *review.Part, a *review.Athlete) {
	p.ends("  "+cell(shown(a.Name), 12)+" "+part.Score(a, p.style), p.figures(a))
	var rounds []string
	for i := range a.Rounds {
		if r := &a.Rounds[i]; r.State != floor.NotHere {
			rounds = append(rounds, fmt.Sprintf("%d: %s", r.Round, review.InWords(r, p.style)))
		}
	}
	p.wrapped(strings.Repeat(" ", 15), strings.Join(rounds, "  "))
	if n := a.Next; n != nil {
		p.wrapped(strings.Repeat(" ", 15), p.next(n))
	}
}

// figures is the numbers beside a score: those that there are.
func (p *reportPage) figures(a *review.Athlete) string {
	var said []string
	if share := a.Share(); share != nil {
		said = append(said, "work "+p.percent(*share))
	}
	if a.Fade != nil {
		said = append(said, "fade "+p.percent(*a.Fade))
	}
	return strings.Join(said, "  ")
}

func (p *reportPage) percent(x float64) string { return percent(p.style, x) }

// next says next time: the verdict, the stacks, the reason.
func (p *reportPage) next(n *review.Next) string {
	said := []string{"next time: " + string(n.Verdict)}
	for _, l := range n.Loads {
		said = append(said, fmt.Sprintf("%s on %s moves %s", plates(l.Stack), shown(l.On), p.style.Mass(l.Moves)))
	}
	if n.Every > 0 {
		said = append(said, "every "+measure.Clock(n.Every))
	}
	if n.Rounds > 0 {
		said = append(said, fmt.Sprintf("%d rounds", n.Rounds))
	}
	if n.Metres > 0 {
		said = append(said, p.style.Distance(n.Metres))
	}
	return strings.Join(said, ", ") + ". " + shown(n.Why)
}

// clock is a time that may not exist.
func clock(d time.Duration) string {
	if d == floor.None {
		return "-"
	}
	return measure.Clock(d)
}
