package tui

import (
	"fmt"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
)

func (r *Replay) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	room := frame(p, &m.look, "Replay: "+titleOf(r.whole.Plan()), r.moves(), r.say, []Hint{
		{"Enter", "next time"}, {"Space", "play"}, {"letter", "alone"}, {"1-9", "round"}, {"Tab", "last time"}, {"up, down", "speed"}, {"?", "keys"}, {"q", "leave"},
	})
	y := 0
	if r.loud != "" {
		for _, line := range wrap(r.loud, room.W) {
			p.Text(room, 0, y, line, Warn)
			y++
		}
		if room.H > 12 {
			y++
		}
	}
	y += r.drawClock(p, room.rows(y, room.H), m)
	room = room.rows(y, room.H)
	switch people := r.whole.Plan().People; {
	case r.span(r.part).From == floor.None:
	case r.alone >= 0:
		r.drawAlone(p, room, m)
	case r.sheet > 0:
		from := (r.sheet - 1) * r.onSheet(m)
		r.drawRopes(p, room, m, people[min(from, len(people)):], 1)
	default:
		r.drawRopes(p, room, m, people, 0)
	}
	return p
}

// moves says how the time line moves.
func (r *Replay) moves() string {
	switch {
	case !r.playing:
		return "stands"
	case r.speed < 0:
		return fmt.Sprintf("back × %d", -r.speed)
	}
	return fmt.Sprintf("plays × %d", r.speed)
}

func titleOf(p *floor.Plan) string {
	if p.Title != "" {
		return clean(p.Title)
	}
	return clean(p.Session)
}

// drawClock is the time since GO in the three-row face, and what the class did then.
func (r *Replay) drawClock(p *Page, room Rect, m *Model) int {
	face := r.st.Face(r.now)
	s := &Scene{Plan: r.whole.Plan(), Face: face, Now: r.now, Part: r.part}
	shape, word, ink := s.phaseWords(m.look.signs)
	at := time.Duration(0)
	if first := r.whole.First(); first != floor.None {
		at = r.now - first
	}
	clock := measure.Clock(at.Truncate(time.Second))
	what := join("  ", "part "+itoa(r.part), s.round())
	if room.H >= len(r.whole.Plan().People)+6 {
		if x, ok := p.Large(room, 0, clock, m.look.Mode, ink); ok {
			p.Text(room, x+3, 0, shape+" "+word, ink)
			p.Text(room, x+3, 1, what, Body)
			return 4
		}
	}
	x := p.Text(room, 0, 0, clock+"  "+shape+" "+word, ink)
	p.Text(room, x+3, 0, what, Body)
	return 1
}

// Columns beside the ropes.
const (
	ropeNames  = 13
	ropeSplits = 8
	ropeThen   = 16 // where another run lies beneath
)

// onSheet is how many people of two runs are shown at once.
func (r *Replay) onSheet(m *Model) int { return max(1, (m.h-8)/2) }

// drawRopes is one rope a person, the time line over them, and the last split.
// beneath is how many rows the other run takes under each.
func (r *Replay) drawRopes(p *Page, room Rect, m *Model, people []floor.Person, beneath int) {
	span, step := r.span(r.part), 1+beneath
	if room.H >= (step+1)*len(people)+2 {
		step++
	}
	wide := room.W - ropeNames - ropeSplits
	if beneath > 0 {
		wide = room.W - ropeNames - ropeThen
	}
	line := Rect{room.X + ropeNames, room.Y, wide, room.H}
	r.timeLine(p, line, span, min(room.H, step*len(people)+1), m)
	if at := r.now - span.From; at >= 0 {
		p.Text(room, 0, 0, measure.Clock(at.Truncate(time.Second)), Ready)
	}
	for i := range people {
		y := 1 + i*step
		if y+beneath >= room.H {
			return
		}
		who := &people[i]
		p.Say(room, 0, y, Said{who.Key + " ", KeyInk})
		p.Text(Rect{room.X, room.Y, ropeNames - 1, room.H}, 2, y, clean(who.Name), Strong)
		rounds := r.rounds(r.part, who.Name)
		p.Rope(line, y, rounds, span, r.now, m.look.signs)
		last := latest(rounds)
		p.Right(room, ropeNames+wide, y, splitOf(last, m), Body)
		if beneath > 0 {
			r.drawBeneath(p, room, line, y+1, who.Name, last, m)
		}
	}
}

// timeLine is drawn first: the ropes lie over it.
func (r *Replay) timeLine(p *Page, line Rect, s Span, rows int, m *Model) {
	x := span{s.From, s.To, r.now}.column(r.now, line.W)
	for y := range rows {
		p.put(line.X+x, line.Y+y, m.look.signs.edge, Ready)
	}
}

// drawBeneath is a person's rope of the other run, drawn to the time of this one,
// and how the latest round of this one compares with the same round there.
func (r *Replay) drawBeneath(p *Page, room, line Rect, y int, name string, now *floor.Round, m *Model) {
	then, shift := r.before.rounds(r.part, name), r.shift()
	s := r.span(r.part)
	p.rope(line, y, then, span{s.From + shift, s.To + shift, r.now + shift}, m.look.signs, func(*floor.Round) Ink { return Dim })
	p.Text(Rect{room.X, room.Y, ropeNames - 1, room.H}, 2, y, r.day(), Dim)
	if now == nil {
		return
	}
	for i := range then {
		if q := &then[i]; q.Round == now.Round && q.Work > 0 && q.State != floor.Open {
			p.Right(room, ropeNames+line.W, y, splitOf(q, m)+"  "+apart(now.Work-q.Work, m), Dim)
		}
	}
}

// day is when the other run was.
func (r *Replay) day() string {
	if o, ok := r.before.events[0].E.(floor.Opened); ok && !o.Wall.IsZero() {
		return o.Wall.Format(time.DateOnly)
	}
	return "last time"
}

// apart is a difference of splits with its sign.
func apart(d time.Duration, m *Model) string {
	if d < 0 {
		return "-" + m.look.Style.Split(-d)
	}
	return "+" + m.look.Style.Split(d)
}

// latest is the last round that has been done by now, nil for none.
func latest(rounds []floor.Round) *floor.Round {
	for i := len(rounds) - 1; i >= 0; i-- {
		if q := &rounds[i]; q.State != floor.Open && q.Work > 0 {
			return q
		}
	}
	return nil
}

func splitOf(q *floor.Round, m *Model) string {
	if q == nil || q.Work <= 0 {
		return ""
	}
	return m.look.Style.Split(q.Work)
}
