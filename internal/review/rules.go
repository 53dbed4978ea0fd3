package review

import (
	"fmt"
	"strings"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// The house's figures. A rise of 5 or 2.5 % lies within the 2–10 % of the ACSM's
// position stand (2009, MSSE 41(3):687-708); the rest is common practice.
const (
	upShare      = 60.0 // per cent of work at most
	upFade       = 10.0
	downFade     = 25.0
	upEffort     = 8
	downEffort   = 9.5
	downPain     = 3
	riseEvery    = 105 * measure.Percent
	riseSets     = 1025 * measure.Percent / 10
	fall         = 90 * measure.Percent
	farther      = 120 * measure.Percent
	nearer       = 80 * measure.Percent
	pullCeiling  = 50 * measure.Percent // of max, in a long pull
	pullFarthest = 800 * measure.Metre  // from here on load, not metres
)

// compare is one person in one part, with all that a rule looks at.
type compare struct {
	spec     *session.Part
	a        *Athlete
	told     Told
	last     *Athlete // the time before; nil: none
	lastTold Told
	max      measure.Mass // noted, 0: none
	style    measure.Style
}

// next asks the rules of the format, in the order down, up, same.
func (c *compare) next() *Next {
	if !c.a.began() {
		return nil
	}
	var n Next
	switch c.spec.Format {
	case session.Every:
		n = c.every()
	case session.Sets:
		n = c.sets()
	case session.LongPull:
		n = c.longPull()
	case session.Amrap:
		n = c.amrap()
	case session.WarmUp, session.Break:
		return nil
	case session.Ramp:
		return nil // what it found is a best, not a load for next time
	case session.Intervals, session.Ratio, session.ForTime:
		n = same("no rule for this format: the load is the coach's")
	}
	return &n
}

func up(by measure.Share, why ...string) Next {
	return Next{Verdict: Up, want: by, Why: strings.Join(why, ", ")}
}

func same(why ...string) Next {
	return Next{Verdict: Same, want: measure.Whole, Why: strings.Join(why, ", ")}
}

func down(why ...string) Next {
	return Next{Verdict: Down, want: fall, Why: strings.Join(why, ", ")}
}

func (c *compare) every() Next {
	a := c.a
	worst := a.worstFade()
	var bad []string
	if a.Late >= 2 {
		bad = append(bad, fmt.Sprintf("%d late", a.Late))
	}
	if worst != nil && *worst > downFade {
		bad = append(bad, "fade "+percent(*worst, c.style))
	}
	if c.told.Effort != nil && *c.told.Effort >= downEffort {
		bad = append(bad, fmt.Sprintf("effort %g", *c.told.Effort))
	}
	if c.told.Pain >= downPain {
		bad = append(bad, fmt.Sprintf("pain %d", c.told.Pain))
	}
	switch {
	case len(bad) > 0:
		return down(bad...)
	case a.Late == 1:
		return same("1 late")
	}
	var against []string
	for _, n := range []struct {
		count int
		word  string
	}{{a.SatOut, "sat out"}, {a.NoPress, "not pressed"}, {a.left(), "left"}} {
		if n.count > 0 {
			against = append(against, fmt.Sprintf("%d %s", n.count, n.word))
		}
	}
	share := a.Share()
	if share != nil && *share > upShare {
		against = append(against, "share "+percent(*share, c.style))
	}
	switch {
	case worst == nil:
		against = append(against, "too few times")
	case *worst > upFade:
		against = append(against, "fade "+percent(*worst, c.style))
	}
	against = append(against, c.against()...)
	if len(against) > 0 || share == nil {
		return same(against...)
	}
	return up(riseEvery, "all in time", "share "+percent(*share, c.style), "fade "+percent(*worst, c.style), c.effort())
}

func (c *compare) sets() Next {
	a := c.a
	switch {
	case a.Missed >= 2:
		return down(fmt.Sprintf("%d missed", a.Missed))
	case a.Missed == 1 && c.last != nil && c.last.Missed == 1:
		return down("1 missed", "as last time")
	}
	var against []string
	if a.Missed == 1 {
		against = append(against, "1 missed")
	} else if good := a.Done + a.InTime; good < c.spec.Sets {
		against = append(against, fmt.Sprintf("%d of %d sets", good, c.spec.Sets))
	}
	if against = append(against, c.against()...); len(against) > 0 {
		return same(against...)
	}
	return up(riseSets, "all good", c.effort())
}

func (c *compare) longPull() Next {
	p := c.a.Pull
	if p == nil {
		return same("not begun")
	}
	if !p.Finished {
		return Next{Verdict: Down, want: measure.Whole, Metres: tens(nearer, p.All), Why: c.style.Distance(p.Distance) + " of " + c.style.Distance(p.All)}
	}
	stops := plural(p.Stops, "stop")
	switch {
	case p.LongStops > 0:
		return same(plural(p.LongStops, "long stop"))
	case c.blocked() != "":
		return same(c.blocked())
	case p.Stops == 0:
		stops = "no stops"
	case c.last == nil || c.last.Pull == nil:
		return same(stops + ", and no last time to compare with")
	case p.Stops >= c.last.Pull.Stops && p.Stopped >= c.last.Pull.Stopped:
		return same(stops + ", neither fewer nor shorter than last time")
	default:
		stops += ", fewer or shorter than last time"
	}
	if p.All < pullFarthest {
		return Next{Verdict: Up, want: measure.Whole, Metres: min(tens(farther, p.All), pullFarthest), Why: "all metres, " + stops + ": more metres first"}
	}
	if c.max == 0 {
		return same("all metres, " + stops + "; no max is known, and a long pull stays under half of it")
	}
	if now := c.a.loads(); len(now) > 0 && riseEvery.Of(now[0].Moves) > pullCeiling.Of(c.max) {
		return same("all metres, " + stops + "; more would be above 50 % of max")
	}
	return up(riseEvery, "all metres", stops)
}

func (c *compare) amrap() Next {
	a := c.a
	if worst := a.worstFade(); worst != nil && *worst > downFade {
		return down("fade " + percent(*worst, c.style))
	}
	now := plural(a.Amount.Rounds, "full round")
	switch {
	case c.blocked() != "":
		return same(c.blocked())
	case c.last == nil:
		return same(now + ", and no last time to compare with")
	case !sameLoads(a.loads(), c.last.loads()):
		return same(now + ", at another load than last time")
	}
	l := &c.last.Amount
	over := a.Amount.Rounds - l.Rounds
	if over >= 2 || over == 1 && a.Amount.Metres >= l.Metres && a.Amount.Reps >= l.Reps {
		return up(riseEvery, now, fmt.Sprintf("%d last time", l.Rounds))
	}
	return same(fmt.Sprintf("%s, %d last time", now, l.Rounds))
}

// against is what effort and pain say against going up.
func (c *compare) against() []string {
	var against []string
	if c.told.Effort != nil && *c.told.Effort > upEffort {
		against = append(against, fmt.Sprintf("effort %g", *c.told.Effort))
	}
	if blocked := c.blocked(); blocked != "" {
		against = append(against, blocked)
	}
	return against
}

// blocked is what keeps anybody from going up, in every format: "" for nothing.
func (c *compare) blocked() string {
	switch {
	case c.told.Pain > 0:
		return fmt.Sprintf("pain %d", c.told.Pain)
	case c.told.Effort == nil && c.last != nil && c.lastTold.Effort == nil:
		return "effort not given two weeks running"
	}
	return ""
}

func (c *compare) effort() string {
	if c.told.Effort == nil {
		return "effort not given"
	}
	return fmt.Sprintf("effort %g", *c.told.Effort)
}

// tens is that share of a distance, to the nearest 10 m.
func tens(s measure.Share, d measure.Distance) measure.Distance {
	const ten = 10 * measure.Metre
	return (measure.Distance(s.Of(measure.Mass(d))) + ten/2) / ten * ten
}
