package cli

import (
	"time"

	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// boardJSON is a board as `board --json` writes it. The names are stable; fields
// may be added.
type boardJSON struct {
	Session     string            `json:"session"`
	Title       string            `json:"title"`
	Aim         session.Aim       `json:"aim"`
	Ends        number            `json:"ends_s"`
	Fit         fitJSON           `json:"fit"`
	Stations    []stationJSON     `json:"stations"`
	Loads       []loadJSON        `json:"loads"`
	Heats       []heatJSON        `json:"heats"`
	Sharing     []sharingJSON     `json:"sharing"`
	WarmUp      number            `json:"warm_up_s"`
	WarmUps     []warmUpJSON      `json:"warm_ups"`
	PlatesMoved int               `json:"plates_moved"`
	Proved      bool              `json:"proved"`
	Bound       int               `json:"bound"`
	Short       number            `json:"short_kg"`       // what the pile's shortage costs
	ShortBound  number            `json:"short_bound_kg"` // and the least that is proved
	Findings    []session.Finding `json:"findings"`
}

type fitJSON struct {
	Fits  bool      `json:"fits"`
	Part  int       `json:"part"`
	Needs number    `json:"needs_s"`
	Has   number    `json:"has_s"`
	On    string    `json:"on"`
	Took  string    `json:"took,omitempty"`
	Ways  []wayJSON `json:"ways_out"`
}

type wayJSON struct {
	Way       string `json:"way"`
	Heats     int    `json:"heats,omitempty"`
	Every     number `json:"every_s,omitempty"`
	Ends      number `json:"ends_s,omitempty"`
	WorkShare number `json:"work_share_pct,omitempty"`
	Idle      number `json:"idle_pct,omitempty"`
	PullsEach int    `json:"pulls_each,omitempty"`
	Distance  number `json:"distance_m,omitempty"`
}

type stationJSON struct {
	Part     int      `json:"part"`
	Station  int      `json:"station"`
	Movement string   `json:"movement"`
	On       []string `json:"on"`
	Legs     int      `json:"legs"`
	Leg      number   `json:"leg_m"`
	Turns    int      `json:"turns"`
	Pulls    int      `json:"pulls"`
	Relays   int      `json:"relays"`
}

type loadJSON struct {
	Athlete  string   `json:"athlete"`
	Part     int      `json:"part"`
	Station  int      `json:"station"`
	Set      int      `json:"set,omitempty"`
	On       string   `json:"on"`
	Asked    number   `json:"asked_kg"`
	AskedOf  string   `json:"asked_of"`
	Added    number   `json:"added_kg"`
	Moves    number   `json:"moves_kg"`
	Pct      *number  `json:"pct"`
	PctOf    *string  `json:"pct_of"`
	PctMax   *number  `json:"pct_max"`
	EachHand *number  `json:"each_hand_kg"`
	Stack    []string `json:"stack"`
	Est      bool     `json:"est"`
	Short    number   `json:"short_kg"`
	Accepted string   `json:"accepted,omitempty"` // the day on which the coach accepted it
}

type heatJSON struct {
	Part   int        `json:"part"`
	Heat   int        `json:"heat"`
	Starts number     `json:"starts_s"`
	Lanes  []laneJSON `json:"lanes"`
}

type laneJSON struct {
	On       string   `json:"on"`
	Station  int      `json:"station"`
	Athlete  string   `json:"athlete"`
	Side     int      `json:"side"`
	Stack    []string `json:"stack"`
	Moved    int      `json:"moved"`
	Handover number   `json:"handover_s"`
	Expected number   `json:"expected_s"`
	From     string   `json:"expected_from"`
}

type sharingJSON struct {
	Part        int    `json:"part"`
	On          string `json:"on"`
	People      int    `json:"people"`
	Cycle       number `json:"cycle_s"`
	Rest        number `json:"rest_s"`
	Hold        number `json:"hold_s"`
	LastSetEnds number `json:"last_set_ends_s"`
}

type warmUpJSON struct {
	Part    int        `json:"part"`
	Station int        `json:"station"`
	Athlete string     `json:"athlete"`
	On      string     `json:"on"`
	Moves   []number   `json:"moves_kg"`
	Stacks  [][]string `json:"stacks"`
}

// newBoardJSON puts b into the words of the JSON; pile names the plates.
func newBoardJSON(b *lanes.Board, pile []kit.Plates) *boardJSON {
	page := &boardJSON{
		Session: b.Session.Name, Title: b.Session.Title, Aim: b.Session.Aim,
		Ends: seconds(b.Ends), Fit: newFitJSON(b),
		Stations: []stationJSON{}, Loads: []loadJSON{}, Heats: []heatJSON{}, Sharing: []sharingJSON{},
		WarmUp: seconds(b.Length() - b.Ends), WarmUps: []warmUpJSON{},
		PlatesMoved: b.PlatesMoved, Proved: b.Proved, Bound: b.Bound, Short: kilograms(b.Short), ShortBound: kilograms(b.ShortBound),
		Findings: append([]session.Finding{}, b.Findings...),
	}
	for i := range b.Parts {
		p := &b.Parts[i]
		for j, st := range p.Stations {
			page.Stations = append(page.Stations, stationJSON{
				Part: p.Number, Station: st.Number, Movement: b.Session.Parts[p.Number-1].Stations[j].Movement,
				On: names(st.On), Legs: st.Legs, Leg: metres(st.Leg), Turns: st.Turns, Pulls: st.Pulls, Relays: st.Relays,
			})
		}
		for _, got := range p.Loads {
			page.Loads = append(page.Loads, newLoadJSON(got, pile))
		}
		for _, h := range p.Heats {
			if !b.Session.Parts[p.Number-1].Format.Pulls() {
				break
			}
			page.Heats = append(page.Heats, newHeatJSON(p.Number, h, pile))
		}
		for _, s := range p.Sharing {
			page.Sharing = append(page.Sharing, sharingJSON{
				Part: p.Number, On: s.On, People: s.People, Cycle: seconds(s.Cycle), Rest: seconds(s.Rest),
				Hold: seconds(s.Hold), LastSetEnds: seconds(s.LastSetEnds),
			})
		}
		for _, w := range p.WarmUps {
			page.WarmUps = append(page.WarmUps, newWarmUpJSON(p.Number, w, pile))
		}
	}
	return page
}

// tightest returns the part whose fit a coach should see first: the first that
// does not fit, else the one with the least time to spare; one that no clock holds
// only where there is no other.
func tightest(b *lanes.Board) *lanes.Part {
	var found *lanes.Part
	for i := range b.Parts {
		p := &b.Parts[i]
		switch {
		case !b.Session.Parts[i].Format.Pulls():
		case found == nil || found.Fit.On == "":
			found = p
		case !found.Fit.Fits:
			return found
		case p.Fit.On == "":
		case !p.Fit.Fits || p.Fit.Has-p.Fit.Needs < found.Fit.Has-found.Fit.Needs:
			found = p
		}
	}
	return found
}

func newFitJSON(b *lanes.Board) fitJSON {
	p := tightest(b)
	if p == nil {
		return fitJSON{Fits: true, Ways: []wayJSON{}}
	}
	f := fitJSON{
		Fits: p.Fit.Fits, Part: p.Number, Needs: seconds(p.Fit.Needs), Has: seconds(p.Fit.Has),
		On: p.Fit.On, Took: p.Fit.Took, Ways: []wayJSON{},
	}
	for _, w := range p.Fit.Ways {
		f.Ways = append(f.Ways, wayJSON{
			Way: w.Way, Heats: w.Heats, Every: seconds(w.Every), Ends: seconds(w.Ends), WorkShare: number(w.WorkShare),
			Idle: number(w.Idle), PullsEach: w.PullsEach, Distance: metres(w.Distance),
		})
	}
	return f
}

func newLoadJSON(g load.Got, pile []kit.Plates) loadJSON {
	l := loadJSON{
		Athlete: g.Athlete, Part: g.Part, Station: g.Station, Set: g.Set, On: g.On.Name,
		Asked: kilograms(g.Asked), AskedOf: g.AskedOf, Added: kilograms(g.Moves - g.On.Tare), Moves: kilograms(g.Moves),
		Stack: g.Stack.Stamps(pile), Est: g.Est, Short: kilograms(g.Short),
	}
	if of, name := g.Of, pctOf(g.Basis); of > 0 && name != "" {
		l.Pct, l.PctOf = new(number(measure.Pct(counted(g), of))), &name
	}
	if g.Max > 0 {
		l.PctMax = new(number(measure.Pct(g.Moves, g.Max)))
	}
	if !g.Accepted.IsZero() {
		l.Accepted = g.Accepted.Format(time.DateOnly)
	}
	if g.On.Kind == "handles" {
		l.EachHand = new(kilograms(g.Moves / 2))
	}
	return l
}

// counted is what really moves, counted as the asked load counts.
func counted(g load.Got) measure.Mass {
	if g.AskedOf == "added" {
		return g.Moves - g.On.Tare
	}
	return g.Moves
}

// pctOf is what a basis is a percentage of, "" for none.
func pctOf(b session.Basis) string {
	switch b {
	case session.OfMax, session.Of1RM:
		return string(b)
	case session.OfBody, session.OfBodyTotal:
		return string(session.OfBody)
	case session.Plain, session.EachHand, session.BothHands, session.Heaviest:
	}
	return ""
}

func newHeatJSON(part int, h lanes.Heat, pile []kit.Plates) heatJSON {
	heat := heatJSON{Part: part, Heat: h.Number, Starts: seconds(h.Starts), Lanes: []laneJSON{}}
	for _, lane := range h.Lanes {
		for _, turn := range lane.Turns {
			heat.Lanes = append(heat.Lanes, laneJSON{
				On: lane.On.Name, Station: lane.Station, Athlete: turn.Athlete, Side: turn.Side,
				Stack: turn.Stack.Stamps(pile), Moved: turn.Moved, Handover: seconds(turn.Handover),
				Expected: seconds(turn.Expected), From: turn.From,
			})
		}
	}
	return heat
}

// newWarmUpJSON is one person's way up to the first heavy stack.
func newWarmUpJSON(part int, w lanes.WarmUp, pile []kit.Plates) warmUpJSON {
	row := warmUpJSON{Part: part, Station: w.Station, Athlete: w.Athlete, On: w.On.Name}
	for i, s := range w.Stacks {
		row.Moves = append(row.Moves, kilograms(w.Moves[i]))
		row.Stacks = append(row.Stacks, s.Stamps(pile))
	}
	return row
}

func names(on []load.Implement) []string {
	list := make([]string, len(on))
	for i, o := range on {
		list[i] = o.Name
	}
	return list
}
