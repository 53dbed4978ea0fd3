package review

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"hawser/internal/coachfile"
	"hawser/internal/floor"
	"hawser/internal/measure"
)

// Sheet writes comma-separated values as RFC 4180 has them: CRLF after every row,
// a quote doubled inside quotes. Text is cleaned and always stands in quotes, behind an
// apostrophe where a spreadsheet would take it for a formula; numbers come from
// numbers only, so that −5 stays one. The zero Sheet is empty, with kg and a point.
type Sheet struct {
	Style measure.Style
	buf   bytes.Buffer
	begun bool // the row has a cell
}

// Bytes returns what has been written.
func (s *Sheet) Bytes() []byte { return s.buf.Bytes() }

// Row ends the row.
func (s *Sheet) Row() {
	s.buf.WriteString("\r\n")
	s.begun = false
}

func (s *Sheet) cell(raw string) {
	if s.begun {
		s.buf.WriteByte(',')
	}
	s.begun = true
	s.buf.WriteString(raw)
}

// formula is what a spreadsheet may take for the beginning of one: the signs and
// their wide forms.
const formula = "=+-@＝＋－＠"

// Text writes cells of text.
func (s *Sheet) Text(cells ...string) {
	for _, c := range cells {
		c = coachfile.Clean(c)
		if first, _ := utf8.DecodeRuneInString(c); c != "" && strings.ContainsRune(formula, first) {
			c = "'" + c
		}
		s.cell(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
	}
}

// Int writes a whole number.
func (s *Sheet) Int(n int) { s.cell(strconv.Itoa(n)) }

// Number writes a number, to six decimals; nil is an empty cell.
func (s *Sheet) Number(x *float64) {
	if x == nil {
		s.cell("")
		return
	}
	s.figure(strconv.FormatFloat(measure.Round6(*x), 'f', -1, 64))
}

// figure writes digits with the house's decimal mark; a comma needs its quotes.
func (s *Sheet) figure(digits string) {
	if s.Style.Decimal == "," {
		digits = strings.Replace(digits, ".", ",", 1)
	}
	if strings.Contains(digits, ",") {
		digits = `"` + digits + `"`
	}
	s.cell(digits)
}

// Seconds writes a time; [floor.None] is an empty cell.
func (s *Sheet) Seconds(d time.Duration) { s.Number(seconds(d)) }

// Mass writes a mass in the house's unit to a tenth; 0 is an empty cell.
func (s *Sheet) Mass(x measure.Mass) {
	if x == 0 {
		s.cell("")
		return
	}
	s.figure(s.Style.MassFigure(x))
}

// Distance writes a distance in the house's unit to a tenth; 0 is an empty cell.
func (s *Sheet) Distance(x measure.Distance) {
	if x == 0 {
		s.cell("")
		return
	}
	s.figure(s.Style.DistanceFigure(x))
}

// unit returns the name of the unit that masses or distances are written in.
func unit(styled string) string { return styled[strings.LastIndexByte(styled, ' ')+1:] }

// Yes writes yes or an empty cell.
func (s *Sheet) Yes(is bool) {
	if is {
		s.cell(`"yes"`)
	} else {
		s.cell("")
	}
}

// CSV writes one row for every round of a run, behind a row of names where the
// sheet is empty: several runs may follow each other.
func (r *Report) CSV(s *Sheet) {
	if s.buf.Len() == 0 {
		s.Text("session", "part", "format", "athlete", "round", "station", "movement", "on", "moves_"+unit(s.Style.Mass(0)), "state",
			"starts_s", "work_s", "margin_s", "rest_before_s", "waited_s", "by_hand", "unlikely", "done_"+unit(s.Style.Distance(0)), "reps")
		s.Row()
	}
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
	s.Distance(r.Metres)
	if r.Reps > 0 {
		s.Int(r.Reps)
	} else {
		s.cell("")
	}
	s.Row()
}

// CSV writes one row for every line of those people, behind a row of names.
func (h *History) CSV(s *Sheet, names ...string) {
	s.Text("day", "run", "session", "athlete", "movement", "surface", "layout", "on", "distance_"+unit(s.Style.Distance(0)),
		"moves_"+unit(s.Style.Mass(0)), "splits", "median_s", "fade_pct", "work_share_pct")
	s.Row()
	for _, who := range names {
		for _, movement := range h.Movements(who) {
			for _, p := range h.Points(who, movement) {
				s.Text(p.Of.Wall.Format(time.DateOnly), p.Of.Run, p.Of.Session, who, movement, p.Surface, p.Layout, p.On)
				s.Distance(p.Distance)
				s.Mass(p.Moves)
				s.Int(p.Splits.Len())
				s.Seconds(p.Typical())
				s.Number(known(p.Fade))
				s.Number(known(p.Share))
				s.Row()
			}
		}
	}
}

// known turns the NaN of a line into no value.
func known(x float64) *float64 {
	if math.IsNaN(x) {
		return nil
	}
	return &x
}
