package cli

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// columns is the width of every text page.
const columns = 80

// page is a text page in the making: no line of it is longer than columns.
type page struct{ strings.Builder }

// line adds one line; what is too long for it is cut.
func (p *page) line(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	p.WriteString(strings.TrimRight(ansi.Truncate(text, columns, "~"), " "))
	p.WriteByte('\n')
}

// ends adds a line with one text at each end.
func (p *page) ends(left, right string) {
	room := columns - ansi.StringWidth(right)
	p.line("%s%s", cell(left, room), right)
}

// rule adds a line across the page.
func (p *page) rule() { p.line("%s", strings.Repeat("-", columns)) }

// wrapped adds a text over as many lines as it takes, the further ones indented
// like the first.
func (p *page) wrapped(head, text string) {
	indent := strings.Repeat(" ", ansi.StringWidth(head))
	for i, line := range strings.Split(ansi.Wrap(text, columns-len(indent), ""), "\n") {
		if i > 0 {
			head = indent
		}
		p.line("%s%s", head, line)
	}
}

// filled adds items over as many lines as they take; none of them is broken.
func (p *page) filled(indent string, items []string) {
	var line []string
	wide := 0
	for _, item := range items {
		more := ansi.StringWidth(item)
		if len(line) > 0 && wide+len("  ")+more > columns {
			p.line("%s%s", indent, strings.Join(line, "  "))
			line = line[:0]
		}
		if len(line) == 0 {
			wide = len(indent) - len("  ")
		}
		line, wide = append(line, item), wide+len("  ")+more
	}
	if len(line) > 0 {
		p.line("%s%s", indent, strings.Join(line, "  "))
	}
}

// cell makes text exactly width columns wide.
func cell(text string, width int) string {
	text = ansi.Truncate(text, width, "~")
	return text + strings.Repeat(" ", width-ansi.StringWidth(text))
}

// plates writes the plates of one end, biggest first: "20+20+10 kg", and many alike
// as "20+4x5 kg".
func plates(stamps []string) string {
	if len(stamps) == 0 {
		return "bare"
	}
	const many = 4
	var out strings.Builder
	for i := 0; i < len(stamps); {
		alike := 1
		for i+alike < len(stamps) && stamps[i+alike] == stamps[i] {
			alike++
		}
		if alike < many {
			alike = 1
		} else {
			fmt.Fprintf(&out, "%dx", alike)
		}
		number, unit, _ := strings.Cut(stamps[i], " ")
		out.WriteString(number)
		i += alike
		switch {
		case i == len(stamps):
			out.WriteString(" " + unit)
		case strings.HasSuffix(stamps[i], " "+unit):
			out.WriteString("+")
		default:
			out.WriteString(" " + unit + "+")
		}
	}
	return out.String()
}
