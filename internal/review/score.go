package review

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// Score is the result of a part in the words of its format: "8 in time, 1 late".
func (p *Part) Score(a *Athlete) string {
	switch p.Spec.Format {
	case session.Every:
		return counted(a.Counts)
	case session.Amrap:
		return strings.Join(amounts(plural(a.Amount.Rounds, "full round"), a.Amount), " + ")
	case session.Intervals:
		return bouts(a.Rounds)
	case session.Ratio:
		return fmt.Sprintf("%s, %s work, %s waited", plural(a.Done, "round"), clock(a.Work), clock(a.Waited))
	case session.Sets:
		return sets(a)
	case session.LongPull:
		return pulled(a.Pull)
	case session.ForTime:
		return forTime(a)
	case session.Ramp:
		if a.Best == 0 {
			return "no good attempt"
		}
		return kg(a.Best)
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
func amounts(first string, a Amount) []string {
	parts := []string{first}
	if a.Metres > 0 {
		parts = append(parts, m(a.Metres))
	}
	if a.Reps > 0 {
		parts = append(parts, plural(a.Reps, "rep"))
	}
	return parts
}

func bouts(rounds []floor.Round) string {
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
			known, list = true, append(list, m(r.Metres))
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

func sets(a *Athlete) string {
	list := []string{}
	for i := range a.Rounds {
		if timed(&a.Rounds[i]) {
			list = append(list, split(a.Rounds[i].Work))
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
	score := fmt.Sprintf("%s, moving %s, %s", clock(p.Elapsed), clock(p.Moving), plural(p.Stops, "stop"))
	if p.Stops > 0 {
		score += ", longest " + clock(p.Longest)
	}
	if !p.Finished {
		score += ", not finished"
	}
	return score
}

func forTime(a *Athlete) string {
	if a.Left.Rounds > 0 {
		return strings.Join(amounts("cap", a.Left), ", ") + " left"
	}
	if a.Done == 0 {
		return "not finished"
	}
	return split(a.Work)
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// kg and m write one decimal at most, halves up, without a useless ".0".
func kg(x measure.Mass) string    { return tenth(x.KG()) + " kg" }
func m(x measure.Distance) string { return tenth(x.Metres()) + " m" }

func tenth(x float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(halfUp(x, 1), 'f', 1, 64), ".0")
}

// split writes a time to a tenth: "41.2 s", from a minute on "1:02.3".
func split(d time.Duration) string {
	tenths := int64((d + 50*time.Millisecond) / (100 * time.Millisecond))
	if tenths < 600 {
		return fmt.Sprintf("%d.%d s", tenths/10, tenths%10)
	}
	return fmt.Sprintf("%d:%02d.%d", tenths/600, tenths/10%60, tenths%10)
}

// clock writes a time as m:ss, halves up.
func clock(d time.Duration) string {
	s := int64((d + time.Second/2) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
