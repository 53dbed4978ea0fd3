// Package aim holds what strength, endurance and conditioning mean on the floor,
// as bands of distance, repetitions, time, load and rest, and says where a station
// leaves the band of its session's aim.
//
// The bands are common practice of the trade, with no single source; the
// published tables for lifts (Essentials of Strength Training and Conditioning,
// 4th ed., ch. 17) give 85 % and up with 6 repetitions or fewer for strength too,
// and lighter, longer work for endurance. A load may be off by the house's
// tolerance before anything is said. A finding says what a choice costs; nothing
// here refuses it.
//
//	aim.Findings(session.Strength, aim.Pull{Part: 1, Station: 1, Pct: 72.5}, rules)
//	// warn: 72.5 % of max is heavy conditioning: neither strength (85 % and up) nor …
package aim

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Pull is one effort at a station, as it will really be done. A zero is not known
// and says nothing.
type Pull struct {
	Athlete  string // "" where it is the same for everyone
	Part     int    // from 1
	Station  int    // from 1
	Distance measure.Distance
	Reps     int
	Bout     time.Duration // one effort as expected
	Rest     time.Duration // between two efforts
	Pct      float64       // what moves, as a percentage of max or 1RM
}

// The bands. Loads are percentages of max or 1RM, tare included.
const (
	Heavy = 85.0 // strength from here up
	Light = 50.0 // endurance down to nothing from here
	Guide = 60.0 // conditioning from Light to here, as a guide

	strengthDistance  = 30 * measure.Metre
	strengthReps      = 6
	strengthRest      = 2 * time.Minute
	strengthRestMost  = 4 * time.Minute
	enduranceDistance = 100 * measure.Metre
	enduranceReps     = 20
	enduranceRest     = time.Minute
	bout              = time.Minute // strength up to about here, endurance beyond
	boutSlack         = 5 * time.Second
)

// Findings says where p leaves the band of the aim, most telling first.
func Findings(a session.Aim, p Pull, h *house.House) []session.Finding {
	s := says{pull: p, style: h.Style()}
	switch a {
	case session.Strength:
		s.load(a, p.Pct, h)
		s.strength(p)
	case session.Endurance:
		s.load(a, p.Pct, h)
		s.endurance(p)
	case session.Conditioning:
		s.load(a, p.Pct, h)
	}
	return s.findings
}

// says collects findings about one pull.
type says struct {
	pull     Pull
	style    measure.Style
	findings []session.Finding
}

func (s *says) add(level session.Level, about, format string, args ...any) {
	s.findings = append(s.findings, session.Finding{
		Level: level, About: about, Athlete: s.pull.Athlete, Part: s.pull.Part, Station: s.pull.Station,
		Text: fmt.Sprintf(format, args...),
	})
}

// load compares the percentage that really moves with the aim's band.
func (s *says) load(a session.Aim, pct float64, h *house.House) {
	pct = math.Round(pct*1e6) / 1e6 // what the plates give, not what the division adds
	slack := float64(h.AimTolerance) / float64(measure.Percent)
	has := s.percent(pct)
	between := pct > Guide+slack && pct < Heavy-slack
	switch {
	case pct <= 0:
	case a == session.Conditioning && between:
		s.add(session.Note, "aim", "%s of max is heavy conditioning: neither strength (85 %% and up) nor endurance (50 %% and under); the guide is 50 to 60 %%", has)
	case a == session.Conditioning && (pct < Light-slack || pct > Guide+slack):
		s.add(session.Note, "aim", "%s of max is outside the 50 to 60 %% that guide conditioning", has)
	case a == session.Strength && between:
		s.add(session.Warn, "aim", "%s of max is heavy conditioning: neither strength (85 %% and up) nor endurance (50 %% and under)", has)
	case a == session.Strength && pct < Heavy-slack:
		s.add(session.Warn, "aim", "%s of max is too light for strength, which takes 85 %% and up", has)
	case a == session.Endurance && between:
		s.add(session.Warn, "aim", "%s of max is heavy conditioning: neither endurance (50 %% and under) nor strength (85 %% and up)", has)
	case a == session.Endurance && pct > Light+slack:
		s.add(session.Warn, "aim", "%s of max is too heavy for endurance, which takes 50 %% and under", has)
	}
}

// strength is short, heavy and well rested.
func (s *says) strength(p Pull) {
	if p.Distance > strengthDistance {
		s.add(session.Warn, "aim", "%s is long for strength, which takes 30 m or less: the end of it trains endurance", s.style.Distance(p.Distance))
	}
	if p.Reps > strengthReps {
		s.add(session.Warn, "aim", "%d repetitions are many for strength, which takes 6 or fewer", p.Reps)
	}
	if p.Bout > bout+boutSlack {
		s.add(session.Note, "aim", "%s is long for strength, which takes up to about 1:00", measure.Clock(p.Bout))
	}
	if p.Rest > 0 && p.Rest < strengthRest {
		s.add(session.Warn, "rest", "%s of rest is short for strength, which takes 2 to 4 minutes: the next set is pulled tired", measure.Clock(p.Rest))
	}
	if p.Rest > strengthRestMost {
		s.add(session.Note, "rest", "%s of rest is over the 4 minutes that strength needs", measure.Clock(p.Rest))
	}
}

// endurance is long, light and hardly rested.
func (s *says) endurance(p Pull) {
	if p.Distance > 0 && p.Distance < enduranceDistance {
		s.add(session.Warn, "aim", "%s is short for endurance, which takes 100 to 800 m and more", s.style.Distance(p.Distance))
	}
	if p.Reps > 0 && p.Reps < enduranceReps {
		s.add(session.Warn, "aim", "%d repetitions are few for endurance, which takes 20 or more", p.Reps)
	}
	if p.Bout > 0 && p.Bout <= bout {
		s.add(session.Note, "aim", "%s is short for endurance, which takes over 1:00", measure.Clock(p.Bout))
	}
	if p.Rest >= enduranceRest {
		s.add(session.Warn, "rest", "%s of rest is long for endurance, which takes under 1:00", measure.Clock(p.Rest))
	}
}

// percent prints a percentage to 0.1, halves up.
func (s *says) percent(pct float64) string {
	text := strconv.FormatFloat(math.Floor(pct*10+0.5)/10, 'f', 1, 64) + " %"
	if s.style.Decimal == "," {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}
