package review

import (
	"fmt"
	"html"
	"slices"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Page is a results page as one HTML file that needs nothing else: no script, no
// network, printable. It carries no body mass, no max and no percentage of one.
// The ropes are drawn to time: taut while somebody pulls, slack while they rest,
// a knot where a round ended.
func (r *Report) Page(day string, st measure.Style) string {
	var b strings.Builder
	title := r.Title
	if title == "" {
		title = r.Session
	}
	fmt.Fprintf(&b, pageHead, html.EscapeString(title))
	fmt.Fprintf(&b, "<h1>%s</h1>\n<p>%s</p>\n<p><strong>%s</strong></p>\n",
		html.EscapeString(title), html.EscapeString(day), html.EscapeString(r.Headline(st)))
	for i := range r.Parts {
		p := &r.Parts[i]
		if !p.Spec.Format.Pulls() {
			continue
		}
		fmt.Fprintf(&b, "<h2>Part %d: %s</h2>\n", p.Number, html.EscapeString(p.heading()))
		b.WriteString(p.ropes(st))
		b.WriteString("<ul>\n")
		for k := range p.Athletes {
			fmt.Fprintf(&b, "<li>%s</li>\n", html.EscapeString(p.Sentence(&p.Athletes[k], st)))
		}
		b.WriteString("</ul>\n")
		p.table(&b, st)
	}
	b.WriteString("</main>\n</body>\n</html>\n")
	return coachfile.CleanLines(b.String())
}

// heading says what a part was.
func (p *Part) heading() string {
	switch {
	case p.Spec.Title != "":
		return p.Spec.Title
	case p.Spec.Format == session.Every:
		return fmt.Sprintf("every %s, %s", measure.Clock(p.Spec.Every), plural(p.Spec.Rounds, "round"))
	}
	return string(p.Spec.Format)
}

// pageHead forbids all but the style within, should a name ever get through
// unescaped. The colours are of Okabe and Ito's set, the text is black on white.
const pageHead = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>%s</title>
<style>
body { background: #fff; color: #000; font: 16px/1.45 sans-serif; margin: 2em auto; max-width: 62em; padding: 0 1em }
table { border-collapse: collapse; margin: 1em 0; font-size: .85em }
th, td { border-bottom: 1px solid #999; padding: .2em .6em; text-align: right }
th:first-child, td:first-child { text-align: left }
svg { width: 100%%; height: auto }
svg text { font: 13px sans-serif }
.grid { stroke: #ddd; stroke-width: 1 }
.rope { stroke: #0072b2; stroke-width: 3; fill: none }
.slack { stroke: #0072b2; stroke-width: 1.5; fill: none }
.knot { fill: #000 }
.late { fill: #d55e00 }
.hand { fill: #fff; stroke: #000; stroke-width: 2 }
@media print { body { margin: 0 } h2 { break-after: avoid } svg, table { break-inside: avoid } }
</style>
</head>
<body>
<main>
`

// Measures of the drawing, in its own units.
const (
	ropeLeft  = 130.0 // where time begins, right of the names
	ropeWidth = 820.0
	ropeRow   = 34.0
)

// ropes draws every person of the part on one time scale; each heat begins anew.
func (p *Part) ropes(st measure.Style) string {
	length := time.Duration(0)
	for i := range p.Athletes {
		_, from := p.heat(&p.Athletes[i])
		for k := range p.Athletes[i].Rounds {
			if ends := p.Athletes[i].Rounds[k].Ends; ends != floor.None {
				length = max(length, ends-from)
			}
		}
	}
	if length <= 0 {
		return ""
	}
	var b strings.Builder
	height := ropeRow * float64(len(p.Athletes)+1)
	fmt.Fprintf(&b, "<svg viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-label=\"ropes of part %d\">\n", ropeLeft+ropeWidth+20, height, p.Number)
	grid(&b, length, height)
	for i := range p.Athletes {
		p.rope(&b, &p.Athletes[i], ropeRow*(float64(i)+0.6), length, st)
	}
	b.WriteString("</svg>\n<p>A dot is a round done, a square one that was late or missed, a ring one typed by hand. " +
		"The line is taut while somebody pulls and hangs while they rest.")
	if p.heats() {
		b.WriteString(" The number behind a name is the heat; each heat begins at 0:00.")
	}
	b.WriteString("</p>\n")
	return b.String()
}

// grid is the time line: a line at every so many minutes, a dozen of them at most.
func grid(b *strings.Builder, length time.Duration, height float64) {
	every := time.Minute
	for _, step := range []time.Duration{2, 5, 10, 15, 30, 60} {
		if length/every > 12 {
			every = step * time.Minute
		}
	}
	for at := time.Duration(0); at <= length; at += every {
		x := ropeLeft + ropeWidth*float64(at)/float64(length)
		fmt.Fprintf(b, "<path class=\"grid\" d=\"M%.1f 0 V%.1f\"/>\n<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\">%s</text>\n",
			x, height-24, x, height-8, measure.Clock(at))
	}
}

// rope draws one person at height y: what is pulled, then the knots over it.
func (p *Part) rope(b *strings.Builder, a *Athlete, y float64, length time.Duration, st measure.Style) {
	heat, from := p.heat(a)
	name := a.Name
	if heat > 0 {
		name = fmt.Sprintf("%s (%d)", a.Name, heat)
	}
	fmt.Fprintf(b, "<text x=\"0\" y=\"%.1f\">%s</text>\n", y+4, html.EscapeString(name))
	x := func(t time.Duration) float64 { return ropeLeft + ropeWidth*float64(t-from)/float64(length) }
	var knots strings.Builder
	last := floor.None
	for k := range a.Rounds {
		r := &a.Rounds[k]
		if r.Starts == floor.None || r.Ends == floor.None {
			continue
		}
		if last != floor.None && r.Starts > last {
			fmt.Fprintf(b, "<path class=\"slack\" d=\"M%.1f %.1f Q%.1f %.1f %.1f %.1f\"/>\n",
				x(last), y, (x(last)+x(r.Starts))/2, y+14, x(r.Starts), y)
		}
		fmt.Fprintf(b, "<path class=\"rope\" d=\"M%.1f %.1f H%.1f\"/>\n", x(r.Starts), y, x(r.Ends))
		knots.WriteString(knot(r, x(r.Ends), y, st))
		last = r.Ends
	}
	b.WriteString(knots.String())
}

// heats reports whether the people of the part went in several heats.
func (p *Part) heats() bool {
	return (p.Spec.Format == session.Every || p.Spec.Format == session.Intervals) && p.Spec.Rounds > 0 && len(p.Starts) > p.Spec.Rounds
}

// heat returns the heat that somebody was in, from 1, and when it began: 0 and the
// beginning of the part where all went together.
func (p *Part) heat(a *Athlete) (number int, from time.Duration) {
	if len(p.Starts) > 0 {
		from = p.Starts[0]
	}
	if !p.heats() {
		return 0, from
	}
	rounds := p.Spec.Rounds
	for k := range a.Rounds {
		if r := &a.Rounds[k]; r.Starts != floor.None {
			at, found := slices.BinarySearch(p.Starts, r.Starts)
			if !found {
				at = max(0, at-1)
			}
			return at/rounds + 1, p.Starts[at/rounds*rounds]
		}
	}
	return 1, from
}

// knot differs by shape as well as by colour.
func knot(r *floor.Round, x, y float64, st measure.Style) string {
	tip := fmt.Sprintf("<title>round %d: %s, %s, %s</title>", r.Round, r.State, took(r, st), st.Mass(r.Moves))
	switch {
	case r.State == floor.LateRound || r.State == floor.Missed:
		return fmt.Sprintf("<rect class=\"late\" x=\"%.1f\" y=\"%.1f\" width=\"11\" height=\"11\">%s</rect>\n", x-5.5, y-5.5, tip)
	case r.ByHand:
		return fmt.Sprintf("<circle class=\"hand\" cx=\"%.1f\" cy=\"%.1f\" r=\"5\">%s</circle>\n", x, y, tip)
	default:
		return fmt.Sprintf("<circle class=\"knot\" cx=\"%.1f\" cy=\"%.1f\" r=\"5\">%s</circle>\n", x, y, tip)
	}
}

// table lists every round of every person in words.
func (p *Part) table(b *strings.Builder, st measure.Style) {
	rounds := 0
	for i := range p.Athletes {
		rounds = max(rounds, len(p.Athletes[i].Rounds))
	}
	b.WriteString("<table>\n<tr><th>name</th>")
	for k := range rounds {
		fmt.Fprintf(b, "<th>%d</th>", k+1)
	}
	b.WriteString("</tr>\n")
	for i := range p.Athletes {
		a := &p.Athletes[i]
		fmt.Fprintf(b, "<tr><td>%s</td>", html.EscapeString(a.Name))
		for k := range a.Rounds {
			fmt.Fprintf(b, "<td>%s</td>", html.EscapeString(InWords(&a.Rounds[k], st)))
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("</table>\n")
}

func took(r *floor.Round, st measure.Style) string {
	if r.Work == floor.None {
		return "no time"
	}
	return st.Split(r.Work)
}

// InWords says a round in one cell: its split with what is odd about it, or how
// it stands where it has none. A struck round says "not counted".
func InWords(r *floor.Round, st measure.Style) string {
	if r.State == floor.StruckOut {
		return "not counted"
	}
	if r.Work == floor.None || r.State == floor.Open {
		return string(r.State)
	}
	words := st.Split(r.Work)
	switch r.State {
	case floor.LateRound, floor.Missed, floor.Capped, floor.LeftRound:
		words += ", " + string(r.State)
	default:
	}
	if r.ByHand {
		words += ", by hand"
	}
	if r.Unlikely {
		words += ", unlikely"
	}
	return words
}
