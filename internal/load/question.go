package load

import (
	"fmt"
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// Refuse is the share of a max from which a load is refused where that max is an
// estimate: heavy work needs a tested one.
const Refuse = 85 * measure.Percent

// Question is one ask for one athlete on one implement, with the tags of today
// that a max is compared by.
type Question struct {
	Athlete  *roster.Athlete
	Part     int // from 1
	Station  int // from 1
	Set      int // from 1 where the station has a list of loads; else 0
	Movement string
	Distance measure.Distance // of one pull; 0 where it is by repetitions or by time
	Legs     int              // 1 is straight; 0 counts as 1
	Surface  string           // today's
	On       Implement
	Ask      session.Ask
	Accepted *session.Accepted // what the coach has accepted in place of Ask; nil: nothing
}

// Resolve says in masses what is asked, and what a coach should know about it
// before a plate is lifted. Who was never tested starts bare, with a warning; what
// cannot be worked out for another reason (no body mass, a 1RM of a sled) is a
// finding that stops, and the Want is bare as well. A finding may come back for
// each set of a station: equal findings are equal values.
func Resolve(q Question, k *kit.Kit, h *house.House, past Past) (Want, []session.Finding) {
	top, findings := maxToday(q, k, h)
	w := Want{
		Athlete: q.Athlete.Name, Part: q.Part, Station: q.Station, Set: q.Set, On: q.On, Basis: q.Ask.Basis,
		AskedOf: "total", Total: q.On.Tare, Max: top.mass,
	}
	why, share := w.ask(q, top, past), q.Ask.Share
	switch {
	case q.Accepted != nil:
		findings = append(findings, w.accept(q, h, why))
		share = measure.Share(measure.Pct(w.Total, max(1, top.mass)) * float64(measure.Percent))
	case why != nil:
		findings = append(findings, *why)
	}
	switch {
	case w.Est && share >= Refuse:
		findings = append(findings, q.finding(session.Stop, "estimate",
			"%s of a max that is only estimated (%s): from 85 %% up it must be tested; test it, or ask for less",
			h.Style().Share(share), h.Style().Mass(top.mass)))
	case w.Est:
		findings = append(findings, q.finding(session.Note, "estimate",
			"%s of a max that is only estimated (%s); a tested one says more", h.Style().Share(share), h.Style().Mass(top.mass)))
	}
	return w, findings
}

// accept puts the load that the coach has accepted in place of what the session
// asks, and says so; why is why the session's own cannot be known, nil where it can.
func (w *Want) accept(q Question, h *house.House, why *session.Finding) session.Finding {
	own := "the session asks " + h.Style().Mass(w.Total)
	if why != nil {
		own = "what the session asks cannot be worked out"
	}
	w.Accepted, w.Asked, w.Total = q.Accepted.Date, q.Accepted.Load, q.Accepted.Load
	if w.AskedOf == "added" {
		w.Asked = max(0, w.Asked-w.On.Tare)
	}
	return q.finding(session.Note, "load", "%s in all was accepted on %s; %s",
		h.Style().Mass(w.Total), w.Accepted.Format(time.DateOnly), own)
}

// ask fills in what is asked, or says why it cannot be known.
func (w *Want) ask(q Question, top standing, past Past) *session.Finding {
	switch q.Ask.Basis {
	case session.Plain:
		if q.On.Kind == Sled {
			w.AskedOf = "added"
		}
		w.asks(q.Ask.Mass)
	case session.EachHand, session.BothHands:
		if q.On.Kind != Handles {
			return q.stop("hand", "%s has no hands to load one by one; write the load in all", q.On.Name)
		}
		w.asks(q.Ask.Mass)
		if q.Ask.Basis == session.EachHand {
			w.asks(2 * q.Ask.Mass)
		}
	case session.OfMax:
		if top.mass == 0 {
			return q.bare("no max known for %s: starts bare; test one and note it in roster.toml, or write the load as a mass", q.Movement)
		}
		w.asksShare(q.Ask.Share, top)
	case session.Of1RM:
		if q.On.Kind == Sled {
			return q.stop("load", "%s has no 1RM; write a percentage of max, or the load as a mass", q.Movement)
		}
		if top.mass == 0 {
			return q.bare("no 1RM known for %s (another variation does not count): starts bare; test one and note it in roster.toml, or write the load as a mass", q.Movement)
		}
		w.asksShare(q.Ask.Share, top)
	case session.OfBody, session.OfBodyTotal:
		body := q.Athlete.BodyMass
		if body == 0 {
			return q.stop("load", "body mass not known; note it in roster.toml, or write the load as a mass")
		}
		if q.Ask.Basis == session.OfBody {
			w.AskedOf = "added"
		}
		w.asksShare(q.Ask.Share, standing{mass: body})
	case session.Heaviest:
		m := heaviest(q, past)
		if m == 0 {
			return q.bare("no load of %s was ever logged or noted: starts bare; write the load as a mass", q.Movement)
		}
		w.asks(m)
	default:
		return q.stop("load", "a load of %q cannot be worked out; write it as a mass", string(q.Ask.Basis))
	}
	return nil
}

// asks sets the load, as w.AskedOf counts it.
func (w *Want) asks(m measure.Mass) {
	w.Asked, w.Total = m, m
	if w.AskedOf == "added" {
		w.Total += w.On.Tare
	}
}

// asksShare sets the load to a share of something known.
func (w *Want) asksShare(s measure.Share, of standing) {
	w.Of, w.Est = of.mass, of.est
	w.asks(s.Of(of.mass))
}

// heaviest is the heaviest total that the athlete ever moved, by the logs and by
// the bests that were really pulled.
func heaviest(q Question, past Past) measure.Mass {
	var most measure.Mass
	if past != nil {
		most, _ = past.Heaviest(q.Athlete.Name, q.Movement)
	}
	for _, b := range q.Athlete.Bests {
		if b.Movement != q.Movement {
			continue
		}
		if b.How != roster.TwoPulls {
			most = max(most, b.Load)
		}
		for _, p := range b.Pulls {
			most = max(most, p.Load)
		}
	}
	return most
}

// bare is a finding about someone of whom nothing is known yet.
func (q Question) bare(format string, args ...any) *session.Finding {
	f := q.finding(session.Warn, "load", format, args...)
	return &f
}

// stop is a finding that stops.
func (q Question) stop(about, format string, args ...any) *session.Finding {
	f := q.finding(session.Stop, about, format, args...)
	return &f
}

// finding is one about this question's athlete and station.
func (q Question) finding(level session.Level, about, format string, args ...any) session.Finding {
	return session.Finding{
		Level: level, About: about, Athlete: q.Athlete.Name, Part: q.Part, Station: q.Station,
		Text: fmt.Sprintf(format, args...),
	}
}
