package review

import (
	"bytes"
	"strconv"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/measure"
)

// Sheet writes comma-separated values as RFC 4180 has them: CRLF after every row,
// a quote doubled inside quotes. Text always stands in quotes, and behind an
// apostrophe where a spreadsheet would take it for a formula; numbers come from
// numbers only, so that −5 stays one.
type Sheet struct {
	buf   bytes.Buffer
	comma bool   // the decimal mark of numbers
	first bool   // the next cell opens its row
	units string // kg or lb
}

// NewSheet returns an empty sheet in the house's units and with its decimal mark.
func NewSheet(h *house.House) *Sheet {
	s := &Sheet{first: true, units: "kg"}
	if h != nil {
		s.comma = h.Decimal == ","
		if h.Show == "lb" {
			s.units = "lb"
		}
	}
	return s
}

// Bytes returns what has been written.
func (s *Sheet) Bytes() []byte { return s.buf.Bytes() }

// Row ends the row.
func (s *Sheet) Row() {
	s.buf.WriteString("\r\n")
	s.first = true
}

func (s *Sheet) cell(raw string) {
	if !s.first {
		s.buf.WriteByte(',')
	}
	s.first = false
	s.buf.WriteString(raw)
}

// Text writes cells of text.
func (s *Sheet) Text(cells ...string) {
	for _, c := range cells {
		if c != "" && strings.ContainsRune("=+-@\t\r\n\x00", rune(c[0])) {
			c = "'" + c
		}
		s.cell(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
	}
}

// Int writes a whole number.
func (s *Sheet) Int(n int) { s.cell(strconv.Itoa(n)) }

// Number writes a number with so many decimals at most; nil is an empty cell.
func (s *Sheet) Number(x *float64, decimals int) {
	if x == nil {
		s.cell("")
		return
	}
	n := strconv.FormatFloat(halfUp(*x, decimals), 'f', -1, 64)
	if s.comma && strings.Contains(n, ".") {
		n = `"` + strings.Replace(n, ".", ",", 1) + `"`
	}
	s.cell(n)
}

// Seconds writes a time to the millisecond; [floor.None] is an empty cell.
func (s *Sheet) Seconds(d time.Duration) { s.Number(seconds(d), 3) }

// Mass writes a mass in the house's unit to a tenth; 0 is an empty cell.
func (s *Sheet) Mass(x measure.Mass) {
	switch {
	case x == 0:
		s.cell("")
	case s.units == "lb":
		s.Number(new(float64(x)/float64(measure.Pound)), 1)
	default:
		s.Number(new(x.KG()), 1)
	}
}

// Yes writes yes or an empty cell.
func (s *Sheet) Yes(is bool) {
	if is {
		s.cell(`"yes"`)
	} else {
		s.cell("")
	}
}

// CSV writes one row for every round of a run, behind a row of names.
func (r *Report) CSV(s *Sheet) {
	s.Text("session", "part", "format", "athlete", "round", "station", "movement", "on", "moves_"+s.units, "state",
		"starts_s", "work_s", "margin_s", "rest_before_s", "waited_s", "by_hand", "unlikely", "metres", "reps")
	s.Row()
	for i := range r.Parts {
		p := &r.Parts[i]
		for k := range p.Athletes {
			a := &p.Athletes[k]
			for n := range a.Rounds {
				s.round(r.Session, p, a.Name, &a.Rounds[n])
			}
		}
	}
}

func (s *Sheet) round(session string, p *Part, name string, r *floor.Round) {
	s.Text(session)
	s.Int(p.Number)
	s.Text(string(p.Spec.Format), name)
	s.Int(r.Round)
	s.Int(r.Station)
	s.Text(r.Movement, r.On)
	s.Mass(r.Moves)
	s.Text(string(r.State))
	s.Seconds(r.Starts)
	s.Seconds(r.Work)
	s.Seconds(r.Margin)
	s.Seconds(r.Rest)
	s.Seconds(r.Waited)
	s.Yes(r.ByHand)
	s.Yes(r.Unlikely)
	s.Number(metres(r.Metres), 3)
	if r.Reps > 0 {
		s.Int(r.Reps)
	} else {
		s.cell("")
	}
	s.Row()
}
