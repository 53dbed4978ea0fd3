package cli

import (
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

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
		if !part.Spec.Format.Pulls() {
			continue
		}
		p.line("")
		p.line("PART %d  %s", part.Number, part.Spec.Format)
		var away []string
		for k := range part.Athletes {
			if a := &part.Athletes[k]; !a.Came {
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

// athlete prints one person: the sentence, the figures, the splits, last time and
// next time.
func (p *reportPage) athlete(part *review.Part, a *review.Athlete) {
	indent := strings.Repeat(" ", 15)
	for i, line := range strings.Split(ansi.Wrap(part.Says(a, p.style), columns-len(indent), ""), "\n") {
		name := ""
		if i == 0 {
			name = shown(a.Name)
		}
		p.line("  %s %s", cell(name, 12), line)
	}
	p.wrapped(indent, p.figures(a))
	var rounds []string
	for i := range a.Rounds {
		if r := &a.Rounds[i]; r.State != floor.NotHere {
			rounds = append(rounds, fmt.Sprintf("%d: %s", r.Round, review.InWords(r, p.style)))
		}
	}
	p.filled(indent, rounds)
	for i := range a.Groups {
		if g := &a.Groups[i]; g.Before != nil {
			p.wrapped(indent, fmt.Sprintf("%s: %s (%s)", p.of(g), g.Before.Says, g.Before.Day.Format(time.DateOnly)))
		}
	}
	if n := a.Next; n != nil {
		p.wrapped(indent, p.next(n))
	}
}

// figures is the numbers of a person: those that there are. Where the station or
// the load changed, fade and spread stand by each, since they go across neither.
func (p *reportPage) figures(a *review.Athlete) string {
	var said []string
	if share := a.Share(); share != nil {
		said = append(said, "work "+p.percent(*share))
	}
	for i := range a.Groups {
		g := &a.Groups[i]
		if g.Fade == nil {
			continue
		}
		what := "fade " + p.percent(*g.Fade) + ", spread " + p.percent(*g.Spread)
		if len(a.Groups) > 1 {
			what = p.of(g) + ": " + what
		}
		said = append(said, what)
	}
	return strings.Join(said, "  ")
}

// of says what a group is of.
func (p *reportPage) of(g *review.Group) string {
	if g.Moves == 0 {
		return shown(g.Movement)
	}
	return p.style.Mass(g.Moves) + " on the " + shown(g.Movement)
}

func (p *reportPage) percent(x float64) string { return percent(p.style, x) }

// next says next time: the verdict, the stacks, the reason.
func (p *reportPage) next(n *review.Next) string {
	said := []string{"next time: " + string(n.Verdict)}
	for _, l := range n.Loads {
		said = append(said, fmt.Sprintf("%s on %s moves %s", shown(plates(l.Stack)), shown(l.On), p.style.Mass(l.Moves)))
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
