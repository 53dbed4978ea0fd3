package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/movement"
)

// order is every spot on the board in the order in which it is drawn.
func (b *boardroom) order() []spotAt {
	var all []spotAt
	for part := range b.plan.Parts {
		pp := &b.plan.Parts[part]
		for heat := 1; heat <= pp.Heats; heat++ {
			for st := range pp.Stations {
				for _, on := range pp.Stations[st].On {
					for _, who := range b.lanePeople(pp, heat, st, on.Name) {
						all = append(all, spotAt{part, st, who})
					}
				}
			}
		}
	}
	return all
}

// choose goes so many spots on.
func (b *boardroom) choose(by int) {
	order := b.order()
	if at := slices.Index(order, b.at) + by; at >= 0 && at < len(order) {
		b.at = order[at]
	}
	b.follow = true
}

// change asks for the board with one more change, or one less, by its key. All but
// the heat is for the chosen station alone.
func (b *boardroom) change(w *World, key string) tea.Cmd {
	d := b.day
	if key == "backspace" {
		n := len(d.Edits)
		if n == 0 {
			return nil
		}
		last := d.Edits[n-1]
		if last.Way != "" {
			delete(b.answered, last.Part-1)
		}
		d.Edits = d.Edits[:n-1]
		return b.try(w, d, join(" ", "without the last change", clean(last.Athlete)))
	}
	if !slices.Contains(b.order(), b.at) {
		return nil
	}
	e := lanes.Edit{Part: b.at.part + 1, Station: b.at.station + 1, Athlete: b.plan.People[b.at.who].Name}
	doing := ""
	switch key {
	case "left":
		doing = b.move(&e, -1)
	case "right":
		doing = b.move(&e, 1)
	case "tab":
		doing = b.heat(&e)
	case "+":
		e.Steps, doing = 1, "a step heavier"
	case "-":
		e.Steps, doing = -1, "a step lighter"
	case "/":
		doing = b.swap(&e)
	default:
		return nil
	}
	if doing == "" {
		return nil
	}
	d.Edits = append(slices.Clip(d.Edits), e)
	return b.try(w, d, clean(e.Athlete)+" "+doing)
}

// spot is the chosen person at the chosen station.
func (b *boardroom) spot() (*floor.PartPlan, *floor.Spot) {
	pp := &b.plan.Parts[b.at.part]
	return pp, &pp.Places[b.at.who].Spots[b.at.station]
}

// move goes to the next implement of the station; it says "" where it has one only.
func (b *boardroom) move(e *lanes.Edit, by int) string {
	pp, spot := b.spot()
	on := pp.Stations[b.at.station].On
	at := slices.IndexFunc(on, func(t floor.Thing) bool { return t.Name == spot.On })
	if at < 0 || len(on) < 2 {
		b.say = "there is nothing else of the kind at this station"
		return ""
	}
	e.On = on[(at+by+len(on))%len(on)].Name
	return "to " + clean(e.On)
}

// heat goes to the next heat.
func (b *boardroom) heat(e *lanes.Edit) string {
	pp := &b.plan.Parts[b.at.part]
	if pp.Heats < 2 {
		b.say = "there is one heat only"
		return ""
	}
	e.Station, e.Heat = 0, pp.Places[b.at.who].Heat%pp.Heats+1
	return "to heat " + itoa(e.Heat)
}

// swap goes to the next movement with the same implement, so that the lane stays.
func (b *boardroom) swap(e *lanes.Edit) string {
	pp, spot := b.spot()
	now := cmp.Or(spot.Swap, pp.Spec.Stations[b.at.station].Movement)
	e.Movement = movement.Next(now)
	if e.Movement == now {
		b.say = "there is no other movement with this implement"
		return ""
	}
	return "does a " + e.Movement
}

// price says what a change costs against the board before it, and who had to make
// room for it.
func (b *boardroom) price(x *boarded) string {
	said := fmt.Sprintf("%+d plates, %s of handovers, ends %s",
		x.board.PlatesMoved-b.board.PlatesMoved, more(x.board.Handovers-b.board.Handovers), signed(x.board.Ends-b.board.Ends))
	if b.doing != "" {
		said += ": " + b.doing
	}
	if others := b.moved(x.plan); len(others) > 0 {
		said += "; moves too: " + strings.Join(others, ", ")
	}
	return said
}

// moved is who else stands elsewhere on another plan.
func (b *boardroom) moved(plan *floor.Plan) []string {
	var names []string
	for part := range min(len(plan.Parts), len(b.plan.Parts)) {
		for who := range plan.Parts[part].Places {
			was, now := &b.plan.Parts[part].Places[who], &plan.Parts[part].Places[who]
			same := was.Heat == now.Heat && slices.EqualFunc(was.Spots, now.Spots, func(a, b floor.Spot) bool { return a.On == b.On })
			if name := clean(plan.People[who].Name); !same && who != b.at.who && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// more is a difference in time, with its sign.
func more(d time.Duration) string {
	if d < 0 {
		return "-" + stretch(-d)
	}
	return "+" + stretch(d)
}

func signed(d time.Duration) string {
	switch {
	case d == 0:
		return "as before"
	case d > 0:
		return stretch(d) + " later"
	default:
		return stretch(-d) + " earlier"
	}
}

// stretch is a stretch of time: in seconds below a minute.
func stretch(d time.Duration) string {
	if d < time.Minute {
		return fmt.Sprintf("%d s", int(d.Seconds()))
	}
	return measure.Clock(d)
}
