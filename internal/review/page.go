package review

import (
	"fmt"
	"html"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
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
		fmt.Fprintf(&b, "<h2>Part %d: %s</h2>\n", p.Number, html.EscapeString(string(p.Spec.Format)))
		b.WriteString(p.ropes(st))
		b.WriteString("<ul>\n")
		for k := range p.Athletes {
			fmt.Fprintf(&b, "<li>%s</li>\n", html.EscapeString(p.Sentence(&p.Athletes[k], st)))
		}
		b.WriteString("</ul>\n")
		p.table(&b, st)
	}
	b.WriteString("</main>\n</body>\n</html>\n")
	return b.String()
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
table { border-collapse: collapse; margin: 1em 0 }
th, td { border-bottom: 1px solid #999; padding: .2em .6em; text-align: right }
th:first-child, td:first-child { text-align: left }
svg { width: 100%%; height: auto }
svg text { font: 13px sans-serif }
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

// ropes draws every person of the part on one time scale.
func (p *Part) ropes(st measure.Style) string {
	from, to := p.span()
	if to <= from {
		return ""
	}
	x := func(t time.Duration) float64 { return ropeLeft + ropeWidth*float64(t-from)/float64(to-from) }
	var b strings.Builder
	height := ropeRow * float64(len(p.Athletes)+1)
	fmt.Fprintf(&b, "<svg viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-label=\"ropes of part %d\">\n", ropeLeft+ropeWidth+20, height, p.Number)
	for i := range p.Athletes {
		a := &p.Athletes[i]
		y := ropeRow * (float64(i) + 0.6)
		fmt.Fprintf(&b, "<text x=\"0\" y=\"%.1f\">%s</text>\n", y+4, html.EscapeString(a.Name))
		last := floor.None
		for k := range a.Rounds {
			r := &a.Rounds[k]
			if r.Starts == floor.None || r.Ends == floor.None {
				continue
			}
			if last != floor.None && r.Starts > last {
				fmt.Fprintf(&b, "<path class=\"slack\" d=\"M%.1f %.1f Q%.1f %.1f %.1f %.1f\"/>\n",
					x(last), y, (x(last)+x(r.Starts))/2, y+14, x(r.Starts), y)
			}
			fmt.Fprintf(&b, "<path class=\"rope\" d=\"M%.1f %.1f H%.1f\"/>\n", x(r.Starts), y, x(r.Ends))
			b.WriteString(knot(r, x(r.Ends), y, st))
			last = r.Ends
		}
	}
	fmt.Fprintf(&b, "<text x=\"%.0f\" y=\"%.1f\">%s</text>\n", ropeLeft, height-8, measure.Clock(from))
	fmt.Fprintf(&b, "<text x=\"%.0f\" y=\"%.1f\" text-anchor=\"end\">%s</text>\n</svg>\n", ropeLeft+ropeWidth, height-8, measure.Clock(to))
	b.WriteString("<p>A dot is a round done, a square one that was late, a ring one typed by hand.</p>\n")
	return b.String()
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

// span is the stretch of time that the part's rounds cover.
func (p *Part) span() (from, to time.Duration) {
	from = floor.None
	for _, at := range p.Starts {
		if from == floor.None || at < from {
			from = at
		}
	}
	for i := range p.Athletes {
		for k := range p.Athletes[i].Rounds {
			r := &p.Athletes[i].Rounds[k]
			if r.Starts != floor.None && (from == floor.None || r.Starts < from) {
				from = r.Starts
			}
			to = max(to, r.Ends)
		}
	}
	return max(from, 0), to
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
