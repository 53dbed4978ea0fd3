package review

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Score is the result of a part in the words of its format: "8 in time, 1 late".
func (p *Part) Score(a *Athlete, st measure.Style) string {
	switch p.Spec.Format {
	case session.Every:
		return counted(a.Counts)
	case session.Amrap:
		return strings.Join(amounts(plural(a.Amount.Rounds, "full round"), a.Amount, st), " + ")
	case session.Intervals:
		return bouts(a.Rounds, st)
	case session.Ratio:
		return fmt.Sprintf("%s, %s work, %s waited", plural(a.Done, "round"), measure.Clock(a.Work), measure.Clock(a.Waited))
	case session.Sets:
		return sets(a, st)
	case session.LongPull:
		return pulled(a.Pull)
	case session.ForTime:
		return forTime(a, st)
	case session.Ramp:
		if a.Best == 0 {
			return "no good attempt"
		}
		return st.Mass(a.Best)
	case session.WarmUp, session.Break:
	}
	return ""
}

func counted(c Counts) string {
	parts := []string{strconv.Itoa(c.InTime) + " in time"}
	for _, n := range []struct {
		count int
		word  string
	}{{c.Late, " late"}, {c.SatOut, " sat out"}} {
		if n.count > 0 {
			parts = append(parts, strconv.Itoa(n.count)+n.word)
		}
	}
	return strings.Join(parts, ", ")
}

// amounts puts metres and repetitions behind a first word.
func amounts(first string, a Amount, st measure.Style) []string {
	parts := []string{first}
	if a.Metres > 0 {
		parts = append(parts, st.Distance(a.Metres))
	}
	if a.Reps > 0 {
		parts = append(parts, plural(a.Reps, "rep"))
	}
	return parts
}

func bouts(rounds []floor.Round, st measure.Style) string {
	done, list := 0, []string{}
	known := false
	for i := range rounds {
		r := &rounds[i]
		if r.State == floor.NotHere || r.State == floor.StruckOut || r.State == floor.Open {
			continue
		}
		done++
		switch {
		case r.Metres > 0:
			known, list = true, append(list, st.Distance(r.Metres))
		case r.Reps > 0:
			known, list = true, append(list, strconv.Itoa(r.Reps)+" reps")
		default:
			list = append(list, "?")
		}
	}
	if !known {
		return plural(done, "bout")
	}
	return strings.Join(list, ", ")
}

func sets(a *Athlete, st measure.Style) string {
	list := []string{}
	for i := range a.Rounds {
		if timed(&a.Rounds[i]) {
			list = append(list, st.Split(a.Rounds[i].Work))
		}
	}
	score := plural(a.Done, "set")
	if len(list) > 0 {
		score += ": " + strings.Join(list, ", ")
	}
	if a.Missed > 0 {
		score += fmt.Sprintf(", %d missed", a.Missed)
	}
	return score
}

func pulled(p *Pull) string {
	if p == nil {
		return "not begun"
	}
	score := fmt.Sprintf("%s, moving %s, %s", measure.Clock(p.Elapsed), measure.Clock(p.Moving), plural(p.Stops, "stop"))
	if p.Stops > 0 {
		score += ", longest " + measure.Clock(p.Longest)
	}
	if !p.Finished {
		score += ", not finished"
	}
	return score
}

func forTime(a *Athlete, st measure.Style) string {
	if a.Left.Rounds > 0 {
		return strings.Join(amounts("cap", a.Left, st), ", ") + " left"
	}
	if a.Done == 0 {
		return "not finished"
	}
	return st.Split(a.Work)
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// percent writes a percentage to a tenth.
func percent(x float64, st measure.Style) string {
	return st.Share(measure.Share(math.Round(x * float64(measure.Percent))))
}
