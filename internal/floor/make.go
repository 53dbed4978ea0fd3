package floor

import (
	"slices"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// MakePlan turns a board into the plan of a run. who is who is here, nil for the
// whole roster; the others have a row but no place until they arrive.
func MakePlan(b *lanes.Board, r *roster.Roster, k *kit.Kit, h *house.House, who []string) *Plan {
	p := &Plan{Session: b.Session.Name, Title: b.Session.Title, Aim: b.Session.Aim, Kit: k, House: h}
	for _, a := range r.Athletes {
		p.People = append(p.People, Person{Name: a.Name, Key: a.Key, Here: who == nil || slices.Contains(who, a.Name)})
	}
	for i := range b.Parts {
		p.Parts = append(p.Parts, partPlan(&b.Parts[i], &b.Session.Parts[b.Parts[i].Number-1], r, k, h))
	}
	for i := range b.Accepted {
		p.accept(&b.Accepted[i])
	}
	return p
}

// accept notes the load or the metres that the coach has accepted for somebody who may
// come later; for all others the board has it in.
func (p *Plan) accept(a *session.Accepted) {
	if a.Athlete == "" || a.Session != p.Session || a.Part > len(p.Parts) {
		return
	}
	pp := &p.Parts[a.Part-1]
	for i := range pp.Places {
		if pl := &pp.Places[i]; p.People[i].Name == a.Athlete && pl.Heat == 0 && a.Station <= len(pl.Spots) &&
			pp.Spec.Stations[a.Station-1].Movement == a.Movement {
			if a.Load > 0 {
				pl.Spots[a.Station-1].Asked = a.Load
			} else if pp.Spec.Format == session.LongPull {
				pl.Spots[a.Station-1].Metres = a.Distance
			}
		}
	}
}

func partPlan(bp *lanes.Part, spec *session.Part, r *roster.Roster, k *kit.Kit, h *house.House) PartPlan {
	pp := PartPlan{Spec: *spec, Heats: max(1, len(bp.Heats))}
	if bp.Every > 0 {
		pp.Spec.Every = bp.Every
	}
	if pp.Spec.Late == "" {
		pp.Spec.Late = session.Late(h.Late)
	}
	for _, st := range bp.Stations {
		sp := StationPlan{Legs: st.Legs, Leg: st.Leg, Return: st.Return}
		for _, on := range st.On {
			sp.On = append(sp.On, Thing{Name: on.Name, Tare: on.Tare, Ends: on.Ends})
		}
		pp.Stations = append(pp.Stations, sp)
	}
	pp.Guest.Spots = make([]Spot, len(pp.Stations))
	absent(&pp.Guest, bp, spec, &roster.Athlete{}, k, h)
	for i := range r.Athletes {
		pp.Places = append(pp.Places, place(bp, spec, &r.Athletes[i], k, h))
	}
	return pp
}

// place is where the board has one person; with no heat, and only what they would
// ask for, where it does not have them.
func place(bp *lanes.Part, spec *session.Part, a *roster.Athlete, k *kit.Kit, h *house.House) Place {
	pl := Place{Spots: make([]Spot, len(bp.Stations))}
	for _, heat := range bp.Heats {
		for _, lane := range heat.Lanes {
			for order, turn := range lane.Turns {
				if turn.Athlete != a.Name || lane.Station < 1 || lane.Station > len(pl.Spots) {
					continue
				}
				pl.Heat, pl.Side = heat.Number, turn.Side
				pl.Spots[lane.Station-1] = Spot{
					On: lane.On.Name, Order: order, Swap: turn.Movement, Metres: turn.Distance, Ends: lane.On.Ends, Tare: lane.On.Tare,
					Stack: turn.Stack.Stamps(k.Plates), Moves: turn.Moves, Expect: turn.Expected,
				}
			}
		}
	}
	for _, got := range bp.Loads {
		if got.Athlete != a.Name || got.Station < 1 || got.Station > len(pl.Spots) {
			continue
		}
		sp := &pl.Spots[got.Station-1]
		if got.Set <= 1 {
			sp.Asked, sp.Est = known(&got.Want, spec.Format), got.Est
		}
		if got.Set > 0 {
			sp.Sets = append(sp.Sets, Set{Stack: got.Stack.Stamps(k.Plates), Moves: got.Moves})
		}
	}
	if pl.Heat == 0 {
		absent(&pl, bp, spec, a, k, h)
	}
	return pl
}

// known is what is asked in total, 0 where nothing is known to work it out from and
// the empty sled stands there instead. A ramp begins bare as well, and finds out itself.
func known(w *load.Want, f session.Format) measure.Mass {
	if w.Asked == 0 && w.Basis != session.Plain && f != session.Ramp {
		return 0
	}
	return w.Total
}

// absent notes what somebody who is not here would ask for at each station, as the
// board would have it; nothing where that cannot be told.
func absent(pl *Place, bp *lanes.Part, spec *session.Part, a *roster.Athlete, k *kit.Kit, h *house.House) {
	for st := range min(len(pl.Spots), len(spec.Stations)) {
		if len(bp.Stations[st].On) == 0 {
			continue
		}
		station, sp, on := &spec.Stations[st], &pl.Spots[st], bp.Stations[st].On[0]
		sp.Tare, sp.Ends = on.Tare, on.Ends
		asks := station.Loads
		if spec.Format == session.Ramp && len(asks) == 0 {
			if sp.Asked = h.RampStart.Of(station.Guess); sp.Asked > 0 {
				continue
			}
			asks = []session.Ask{{Basis: session.OfMax, Share: h.RampStart}}
		}
		for n, ask := range asks {
			w, findings := load.Resolve(load.Question{
				Athlete: a, Movement: station.Movement, Distance: station.Distance, Legs: bp.Stations[st].Legs,
				Surface: k.Strip.Surface, On: on, Ask: ask,
			}, k, h, nil)
			if slices.ContainsFunc(findings, func(f session.Finding) bool { return f.Level == session.Stop }) {
				sp.Asked, sp.Est, sp.Sets = 0, false, nil
				break
			}
			if n == 0 {
				sp.Asked, sp.Est = known(&w, spec.Format), w.Est
			}
			if len(asks) > 1 {
				sp.Sets = append(sp.Sets, Set{Moves: w.Total})
			}
		}
	}
}
