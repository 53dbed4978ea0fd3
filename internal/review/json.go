package review

import (
	"encoding/json"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// The field names below are what scripts read; further ones may be added, none
// of these changed. Numbers have six decimals at most, null is "no value".

type reportJSON struct {
	Session string     `json:"session"`
	Ends    *float64   `json:"ends_s"`
	Parts   []partJSON `json:"parts"`
}

type partJSON struct {
	Part     int           `json:"part"`
	Format   string        `json:"format"`
	Starts   []float64     `json:"starts_s"`
	Athletes []athleteJSON `json:"athletes"`
}

type athleteJSON struct {
	Name   string      `json:"name"`
	Rounds []roundJSON `json:"rounds"`

	InTime  int    `json:"in_time"`
	Late    int    `json:"late"`
	SatOut  int    `json:"sat_out"`
	NotHere int    `json:"not_here"`
	NoPress int    `json:"no_press"`
	Missed  int    `json:"missed"`
	Struck  int    `json:"struck"`
	Score   string `json:"score"`
	Says    string `json:"says"`

	Work     *float64    `json:"work_s"`
	Share    *float64    `json:"work_share_pct"`
	Fade     *float64    `json:"fade_pct"`
	Spread   *float64    `json:"spread_pct"`
	Compared []groupJSON `json:"compared"`
	Waited   *float64    `json:"waited_s"`

	Full        *int     `json:"full_rounds"`
	PartialM    *float64 `json:"partial_m"`
	PartialReps *int     `json:"partial_reps"`
	Projection  *float64 `json:"projection_rounds"`

	Stops       *int     `json:"stops"`
	Stopped     *float64 `json:"stopped_s"`
	LongestStop *float64 `json:"longest_stop_s"`
	LongStops   *int     `json:"long_stops"`
	Moving      *float64 `json:"moving_s"`
	PaceMoving  *float64 `json:"pace_moving_s_per_100m"`
	PaceElapsed *float64 `json:"pace_elapsed_s_per_100m"`
	Elapsed     *float64 `json:"elapsed_s"`

	LeftM    *float64  `json:"left_m"`
	LeftReps *int      `json:"left_reps"`
	Best     *float64  `json:"best_kg"`
	Next     *nextJSON `json:"next"`
}

type roundJSON struct {
	Round    int      `json:"round"`
	Starts   *float64 `json:"starts_s"`
	Work     *float64 `json:"work_s"`
	Margin   *float64 `json:"margin_s"`
	State    string   `json:"state"`
	LateBy   *float64 `json:"late_by_s"`
	ByHand   bool     `json:"by_hand"`
	Unlikely bool     `json:"unlikely"`
	On       string   `json:"on"`
	Moves    *float64 `json:"moves_kg"`
	Station  int      `json:"station"`
	Movement string   `json:"movement"`
	Due      *float64 `json:"due_s"`
	Waited   *float64 `json:"waited_s"`
	Rest     *float64 `json:"rest_before_s"`
	Metres   *float64 `json:"metres"`
	Reps     *int     `json:"reps"`
}

type groupJSON struct {
	Station  int      `json:"station"`
	Movement string   `json:"movement"`
	Moves    *float64 `json:"moves_kg"`
	Rounds   []int    `json:"rounds"`
	Work     *float64 `json:"work_s"`
	Fade     *float64 `json:"fade_pct"`
	Spread   *float64 `json:"spread_pct"`

	Before *beforeJSON `json:"last_time"`
}

// beforeJSON is last time on the same movement, distance, surface and layout.
type beforeJSON struct {
	Day    string   `json:"day"`
	Moves  *float64 `json:"moves_kg"`
	Median *float64 `json:"median_s"`
	Says   string   `json:"says"`
}

type nextJSON struct {
	Verdict string   `json:"verdict"`
	Moves   *float64 `json:"moves_kg"`
	Added   *float64 `json:"added_kg"`
	Why     string   `json:"why"`

	Loads  []loadJSON `json:"loads"`
	Every  *float64   `json:"every_s"`
	Rounds *int       `json:"rounds"`
	Metres *float64   `json:"metres"`
	Retest bool       `json:"re_test"`
}

type loadJSON struct {
	Station int      `json:"station"`
	On      string   `json:"on"`
	Moves   *float64 `json:"moves_kg"`
	Added   *float64 `json:"added_kg"`
	Stack   []string `json:"stack"`
}

// MarshalJSON writes the report under the field names that scripts rely on.
func (r Report) MarshalJSON() ([]byte, error) {
	out := reportJSON{Session: r.Session, Ends: seconds(r.Ends), Parts: []partJSON{}}
	for i := range r.Parts {
		p := &r.Parts[i]
		part := partJSON{Part: p.Number, Format: string(p.Spec.Format), Starts: []float64{}, Athletes: []athleteJSON{}}
		for _, at := range p.Starts {
			part.Starts = append(part.Starts, *seconds(at))
		}
		for k := range p.Athletes {
			part.Athletes = append(part.Athletes, p.athleteJSON(&p.Athletes[k]))
		}
		out.Parts = append(out.Parts, part)
	}
	return json.Marshal(out) //nolint:wrapcheck // json wraps what a MarshalJSON returns
}

func (p *Part) athleteJSON(a *Athlete) athleteJSON {
	out := athleteJSON{
		Name: a.Name, Rounds: []roundJSON{}, Compared: []groupJSON{},
		InTime: a.InTime, Late: a.Late, SatOut: a.SatOut, NotHere: a.NotHere, NoPress: a.NoPress,
		Missed: a.Missed, Struck: a.Struck, Score: p.Score(a, measure.Style{}), Says: p.Sentence(a, measure.Style{}),
		Work: seconds(a.Work), Share: rounded(a.Share()), Fade: rounded(a.Fade), Spread: rounded(a.Spread),
		Waited: seconds(a.Waited),
	}
	if p.Spec.Format == session.Intervals {
		// In the file these two are of the splits, in every format alike; the
		// amounts, which say more where the clock sets the splits, are compared below.
		splits := inSeconds(overall(a.Groups).Splits)
		out.Fade, out.Spread = rounded(fade(splits)), rounded(spread(splits))
	}
	for i := range a.Rounds {
		out.Rounds = append(out.Rounds, roundOf(&a.Rounds[i]))
	}
	for i := range a.Groups {
		g := &a.Groups[i]
		out.Compared = append(out.Compared, groupJSON{
			Station: g.Station, Movement: g.Movement, Moves: kilograms(g.Moves), Rounds: g.Rounds,
			Work: seconds(total(g.Splits)), Fade: rounded(g.Fade), Spread: rounded(g.Spread), Before: beforeOf(g.Before),
		})
	}
	p.formatJSON(a, &out)
	out.Next = nextOf(a.Next)
	return out
}

func beforeOf(b *Before) *beforeJSON {
	if b == nil {
		return nil
	}
	out := &beforeJSON{Day: b.Day.Format(time.DateOnly), Moves: kilograms(b.Moves), Says: b.Says}
	if b.Typical > 0 {
		out.Median = seconds(b.Typical)
	}
	return out
}

// nextOf puts the first station's load beside the verdict, and all of them in a
// list: most sessions have one station.
func nextOf(n *Next) *nextJSON {
	if n == nil {
		return nil
	}
	out := &nextJSON{Verdict: string(n.Verdict), Why: n.Why, Loads: []loadJSON{}, Metres: metres(n.Metres), Rounds: reps(n.Rounds), Retest: n.Retest}
	if n.Every > 0 {
		out.Every = seconds(n.Every)
	}
	for _, l := range n.Loads {
		out.Loads = append(out.Loads, loadJSON{Station: l.Station, On: l.On, Moves: kilograms(l.Moves), Added: new(measure.Round6(l.Added.KG())), Stack: l.Stack})
	}
	if len(out.Loads) > 0 {
		out.Moves, out.Added = out.Loads[0].Moves, out.Loads[0].Added
	}
	return out
}

// formatJSON fills in what only some formats have.
func (p *Part) formatJSON(a *Athlete, out *athleteJSON) {
	switch {
	case a.Pull != nil:
		l := a.Pull
		out.Stops, out.LongStops = new(l.Stops), new(l.LongStops)
		out.Stopped, out.LongestStop = seconds(l.Stopped), seconds(l.Longest)
		out.Moving, out.Elapsed = seconds(l.Moving), seconds(l.Elapsed)
		out.PaceMoving, out.PaceElapsed = rounded(l.Pace(l.Moving)), rounded(l.Pace(l.Elapsed))
	case p.Spec.Format == "amrap":
		out.Full = new(a.Amount.Rounds)
		out.PartialM, out.PartialReps = metres(a.Amount.Metres), reps(a.Amount.Reps)
		out.Projection = rounded(a.Amount.Projection)
	case p.Spec.Format == "for time":
		out.Elapsed = seconds(a.Work)
		out.LeftM, out.LeftReps = metres(a.Left.Metres), reps(a.Left.Reps)
	case p.Spec.Format == "ramp" && a.Best > 0:
		out.Best = kilograms(a.Best)
	}
}

func roundOf(r *floor.Round) roundJSON {
	out := roundJSON{
		Round: r.Round, Starts: seconds(r.Starts), Work: seconds(r.Work), Margin: seconds(r.Margin),
		State: string(r.State), ByHand: r.ByHand, Unlikely: r.Unlikely, On: r.On, Moves: kilograms(r.Moves),
		Station: r.Station, Movement: r.Movement, Due: seconds(r.Due), Waited: seconds(r.Waited),
		Rest: seconds(r.Rest), Metres: metres(r.Metres), Reps: reps(r.Reps),
	}
	if r.State == floor.LateRound && r.Margin != floor.None {
		out.LateBy = seconds(-r.Margin)
	}
	if r.Waited == floor.None {
		out.Waited = new(0.0)
	}
	return out
}

func seconds(d time.Duration) *float64 {
	if d == floor.None {
		return nil
	}
	return new(measure.Round6(d.Seconds()))
}

func kilograms(m measure.Mass) *float64 {
	if m == 0 {
		return nil
	}
	return new(measure.Round6(m.KG()))
}

func metres(d measure.Distance) *float64 {
	if d == 0 {
		return nil
	}
	return new(measure.Round6(d.Metres()))
}

func reps(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}

func rounded(x *float64) *float64 {
	if x == nil {
		return nil
	}
	return new(measure.Round6(*x))
}
