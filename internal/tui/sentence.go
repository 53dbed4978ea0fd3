package tui

import (
	"fmt"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// sentence says an event in a few words, once it has been applied, "" for one
// that needs none. past is the events by number, for what an undo took back.
func sentence(st *floor.State, e floor.Stamped, past map[int]floor.Stamped) (string, Ink) {
	w := teller{st: st, at: e.T, style: styleOf(st)}
	switch x := e.E.(type) {
	case floor.Pressed:
		return w.pressed(x)
	case floor.AttemptMissed:
		return clean(x.Who) + ": attempt " + itoa(x.Round) + " missed", Warn
	case floor.Undone:
		was, _ := sentenceOf(st, past[x.Of], past)
		return "undone: " + was, Warn
	case floor.Typed, floor.Partial, floor.Struck, floor.Given:
		return w.corrected(e.E), Body
	case floor.Arrived, floor.GuestAdded, floor.Left, floor.LoadChanged, floor.DistanceCut, floor.Swapped,
		floor.LaneChanged, floor.SledOut, floor.SledBack, floor.SledLeft:
		return w.changed(e.E), Body
	case floor.EffortGiven, floor.PainGiven, floor.Noted:
		return w.private(e.E), Body
	default:
		return w.clock(e.E)
	}
}

// sentenceOf is sentence without looking at splits that may be gone by now.
func sentenceOf(st *floor.State, e floor.Stamped, past map[int]floor.Stamped) (string, Ink) {
	if p, ok := e.E.(floor.Pressed); ok {
		return fmt.Sprintf("%s's press, %s %d", clean(p.Who), roundWord(st, p.Part), p.Round), Body
	}
	if e.E == nil {
		return "the last change", Body
	}
	return sentence(st, e, past)
}

// teller writes sentences about one event of a run.
type teller struct {
	st    *floor.State
	at    time.Duration
	style measure.Style
}

func styleOf(st *floor.State) measure.Style {
	h := st.Plan().House
	return measure.Style{MassUnit: h.Show, DistanceUnit: h.ShowDistance, Decimal: h.Decimal}
}

// roundWord is what the rounds of a part are called.
func roundWord(st *floor.State, part int) string {
	switch st.Plan().Parts[part-1].Spec.Format {
	case session.Intervals, session.Ratio:
		return "bout"
	case session.Sets:
		return "set"
	case session.Ramp:
		return "attempt"
	case session.LongPull:
		return "pull"
	default:
		return "round"
	}
}

// pressed says a press: what it was, and the split where it ended a round.
func (w *teller) pressed(x floor.Pressed) (string, Ink) {
	who := clean(x.Who) + ": "
	round := fmt.Sprintf("%s %d", roundWord(w.st, x.Part), x.Round)
	switch x.As {
	case "start":
		return who + round + " started", Work
	case "stop":
		return who + "stands", Warn
	case "go":
		return who + "goes on", Work
	case "leg":
		return who + "leg done", Work
	}
	for i, p := range w.st.Plan().People {
		if p.Name != x.Who {
			continue
		}
		for _, q := range w.st.Rounds(x.Part, i, w.at) {
			if q.Round == x.Round && q.Work != floor.None {
				return who + round + ", " + w.style.Split(q.Work) + w.judged(&q), inkOf(&q)
			}
		}
	}
	return who + round + " done", Rest
}

// judged adds how a round stands where that is not plain success.
func (w *teller) judged(q *floor.Round) string {
	text := ""
	if q.State != floor.InTime && q.State != floor.Done && q.State != floor.Good {
		text = ", " + string(q.State)
	}
	if q.Unlikely {
		text += ", unlikely"
	}
	return text
}

func (w *teller) corrected(e floor.Event) string {
	switch x := e.(type) {
	case floor.Typed:
		if x.NoTime {
			return fmt.Sprintf("%s: round %d done, no time", clean(x.Who), x.Round)
		}
		return fmt.Sprintf("%s: round %d %s by hand", clean(x.Who), x.Round, w.style.Split(x.Work))
	case floor.Partial:
		if x.Metres > 0 {
			return fmt.Sprintf("%s: %s of round %d", clean(x.Who), w.style.Distance(x.Metres), x.Round)
		}
		return fmt.Sprintf("%s: %d reps of round %d", clean(x.Who), x.Reps, x.Round)
	case floor.Struck:
		return join(": ", fmt.Sprintf("%s: round %d not counted", clean(x.Who), x.Round), clean(x.Reason))
	case floor.Given:
		return fmt.Sprintf("%s's press of round %d given to %s", clean(x.Who), x.Round, clean(x.To))
	}
	return ""
}

func (w *teller) changed(e floor.Event) string {
	switch x := e.(type) {
	case floor.Arrived:
		if n := w.st.Length(x.Part); n > 0 && x.Round > n {
			return clean(x.Who) + " is here"
		}
		return fmt.Sprintf("%s is here, from round %d on", clean(x.Who), x.Round)
	case floor.GuestAdded:
		return fmt.Sprintf("%s joins, key %s", clean(x.Who), x.Key)
	case floor.Left:
		return clean(x.Who) + " has stopped for today; chest pain or a faint: call for help"
	case floor.LoadChanged:
		return fmt.Sprintf("%s: %s from round %d on", clean(x.Who), w.style.Mass(x.Moves), x.Round)
	case floor.DistanceCut:
		return fmt.Sprintf("%s: %s from round %d on", clean(x.Who), w.style.Distance(x.To), x.Round)
	case floor.Swapped:
		return fmt.Sprintf("%s: %s from round %d on", clean(x.Who), clean(x.Movement), x.Round)
	case floor.LaneChanged:
		return fmt.Sprintf("%s goes to %s from round %d on", clean(x.Who), clean(x.Place.On), x.Round)
	case floor.SledOut:
		return clean(x.On) + " is off the floor"
	case floor.SledBack:
		return clean(x.On) + " is back"
	case floor.SledLeft:
		return clean(x.Who) + " is off the sled"
	}
	return ""
}

func (w *teller) private(e floor.Event) string {
	switch x := e.(type) {
	case floor.EffortGiven:
		return clean(x.Who) + ": effort noted"
	case floor.PainGiven:
		return clean(x.Who) + ": pain noted"
	case floor.Noted:
		return clean(x.Who) + ": note kept"
	}
	return ""
}

// clock says what the clock of the class did.
func (w *teller) clock(e floor.Event) (string, Ink) {
	switch x := e.(type) {
	case floor.Started:
		text := fmt.Sprintf("part %d begins", x.Part)
		if x.At > w.at {
			text = fmt.Sprintf("part %d starts in %s", x.Part, measure.Clock(x.At-w.at))
		}
		if w.st.Plan().Parts[x.Part-1].Spec.Format == session.Ramp {
			text += "; stop at pain, a slip or dizziness"
		}
		return text, Ready
	case floor.HeatStarted:
		return fmt.Sprintf("heat %d", x.Heat), Work
	case floor.Held:
		return "clock stopped", Stopped
	case floor.Resumed:
		return "the clock runs in " + measure.Clock(x.At-w.at), Ready
	case floor.Restarted:
		return fmt.Sprintf("round %d again in %s", x.Round, measure.Clock(x.At-w.at)), Ready
	case floor.PartSkipped:
		return fmt.Sprintf("part %d ended early", x.Part), Turn
	case floor.PartLengthened:
		if x.By < 0 {
			return "the part is " + measure.Clock(-x.By) + " shorter", Turn
		}
		return "the part is " + measure.Clock(x.By) + " longer", Turn
	case floor.IntervalChanged:
		return fmt.Sprintf("every %s from round %d on", measure.Clock(x.Every), x.Round), Turn
	case floor.PullCut:
		return fmt.Sprintf("everyone: %s from round %d on", w.style.Distance(x.To), x.Round), Turn
	case floor.PartEnded:
		return fmt.Sprintf("part %d is over", x.Part), Rest
	case floor.Slept:
		return "this laptop slept for " + measure.Clock(x.For) + "; the clock went on", Stopped
	case floor.Recovered:
		return "taken up again; " + measure.Clock(x.Gap) + " went by", Stopped
	case floor.Ended:
		return "the class is over", Rest
	}
	return "", Body
}
