package tui

import (
	"fmt"
	"slices"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/review"
)

// Replay is a run that is over, its ropes under a time line that moves at any
// speed, forwards and back. It is the same engine on the same events; only time
// comes from elsewhere.
type Replay struct {
	events  []floor.Stamped
	whole   *floor.State // after the last event
	st      *floor.State // after those up to now
	applied int
	now     time.Duration // room time shown
	end     time.Duration
	part    int // shown, from 1
	speed   int // room seconds a second, negative: backwards
	playing bool
	gen     int
	report  review.Report
	loud    string // the largest fade, until a key is struck
}

// played is a step of the time line.
type played struct{ gen int }

// step is how often the time line moves while it plays.
const stepEvery = 100 * time.Millisecond

// NewReplay takes the events of a log, Opened first.
func NewReplay(events []floor.Stamped) *Replay {
	r := &Replay{events: events, whole: floor.New(), speed: 10, part: 1}
	for _, e := range events {
		r.whole.Apply(e)
		r.end = max(r.end, e.T)
	}
	r.now = r.end
	r.report = review.Make(r.whole, r.end)
	r.loud = r.report.Headline(styleOf(r.whole))
	if f, ok := r.report.LargestFade(styleOf(r.whole)); ok {
		r.part = f.Part
	}
	r.rewind()
	return r
}

// rewind brings the state to now.
func (r *Replay) rewind() {
	if r.st == nil || r.applied > 0 && r.events[r.applied-1].T > r.now {
		r.st, r.applied = floor.New(), 0
	}
	for r.applied < len(r.events) && (r.applied == 0 || r.events[r.applied].T <= r.now) {
		r.st.Apply(r.events[r.applied])
		r.applied++
	}
}

// seek goes to a room time within the run.
func (r *Replay) seek(t time.Duration) {
	r.now = min(max(0, t), r.end)
	r.rewind()
	if p := r.st.Part(); p > 0 {
		r.part = p
	}
}

func (r *Replay) arm() tea.Cmd {
	r.gen++
	gen := r.gen
	return tea.Tick(stepEvery, func(time.Time) tea.Msg { return played{gen} })
}

// advance moves the time line by one step.
func (r *Replay) advance(p played) tea.Cmd {
	if p.gen != r.gen || !r.playing {
		return nil
	}
	r.seek(r.now + time.Duration(r.speed)*stepEvery)
	if r.now == r.end && r.speed > 0 || r.now == 0 && r.speed < 0 {
		r.playing = false
		return nil
	}
	return r.arm()
}

func (r *Replay) key(_ *Model, k input) tea.Cmd {
	r.loud = ""
	switch k.key {
	case "space":
		if r.playing = !r.playing; r.playing {
			if r.now == r.end && r.speed > 0 {
				r.seek(0)
			}
			return r.arm()
		}
	case "left":
		r.seek(r.now - 5*time.Second)
	case "right":
		r.seek(r.now + 5*time.Second)
	case "up":
		r.speed = faster(r.speed, 1)
	case "down":
		r.speed = faster(r.speed, -1)
	case "pgdown", ".":
		r.jump(1)
	case "pgup", ",":
		r.jump(-1)
	case "home":
		r.seek(0)
	case "end":
		r.seek(r.end)
	case "esc", "q":
		return tea.Quit
	}
	return nil
}

// speeds of the time line, slowest last backwards.
var speeds = []int{-60, -10, -2, -1, 1, 2, 5, 10, 30, 60, 120}

func faster(speed, by int) int {
	i := slices.Index(speeds, speed)
	return speeds[min(max(0, i+by), len(speeds)-1)]
}

// jump goes to the start of the next round of the class, or of the one before.
func (r *Replay) jump(by int) {
	starts := []time.Duration{0}
	for part := range r.whole.Plan().Parts {
		starts = append(starts, r.whole.Starts(part+1, r.end)...)
	}
	starts = append(starts, r.end)
	slices.Sort(starts)
	i, found := slices.BinarySearch(starts, r.now)
	switch {
	case by > 0 && found:
		i++
	case by < 0:
		i--
	}
	r.seek(starts[min(max(0, i), len(starts)-1)])
}

func (r *Replay) draw(m *Model) *Page {
	p := NewPage(m.w, m.h)
	plan := r.whole.Plan()
	state := "stands"
	if r.playing {
		state = fmt.Sprintf("plays × %d", r.speed)
	}
	room := frame(p, &m.look, "Replay: "+titleOf(plan), state, "", []Hint{
		{"Space", "play, stand"}, {"left, right", "5 s"}, {"PgUp, PgDn", "round"}, {"up, down", "speed"}, {"?", "keys"}, {"q", "leave"},
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
	r.drawRopes(p, room.rows(y, room.H), m)
	return p
}

func titleOf(p *floor.Plan) string {
	if p.Title != "" {
		return clean(p.Title)
	}
	return clean(p.Session)
}

// drawClock is the time since GO in the three-row face, and what the class did then.
func (r *Replay) drawClock(p *Page, room Rect, m *Model) int {
	s := NewScene(r.st, r.now, nil)
	shape, word, ink := s.phaseWords(m.look.signs)
	at := time.Duration(0)
	if first := r.whole.First(); first != floor.None {
		at = r.now - first
	}
	clock := measure.Clock(at.Truncate(time.Second))
	what := join("  ", "part "+itoa(r.part), s.round())
	if room.H >= len(r.st.Plan().People)+6 {
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

// drawRopes is one rope a person, the time line over them, and the last split.
func (r *Replay) drawRopes(p *Page, room Rect, m *Model) {
	g := m.look.signs
	people := r.whole.Plan().People
	from, to := r.whole.Began(r.part), r.whole.PartEnd(r.part)
	if from == floor.None {
		return
	}
	if to == floor.None {
		to = r.end
	}
	const names, splits = 13, 8
	ropeW := room.W - names - splits
	step := 1
	if room.H >= 2*len(people)+2 {
		step = 2
	}
	line := Rect{room.X + names, room.Y, ropeW, room.H}
	x := span{from, to, r.now}.column(r.now, ropeW)
	for y := range min(room.H, step*len(people)+1) {
		p.put(line.X+x, line.Y+y, g.edge, Ready)
	}
	for i, who := range people {
		y := 1 + i*step
		if y >= room.H {
			return
		}
		p.Say(room, 0, y, Said{who.Key + " ", KeyInk})
		p.Text(Rect{room.X, room.Y, names - 1, room.H}, 2, y, clean(who.Name), Strong)
		rounds := r.st.Rounds(r.part, i, r.now)
		p.Rope(line, y, rounds, Span{from, to}, r.now, g)
		p.Right(room, names+ropeW, y, r.latest(rounds, m), Body)
	}
	if at := r.now - from; at >= 0 {
		p.Text(room, 0, 0, measure.Clock(at.Truncate(time.Second)), Ready)
	}
}

// latest is the last split that has been done by now.
func (r *Replay) latest(rounds []floor.Round, m *Model) string {
	for i := len(rounds) - 1; i >= 0; i-- {
		if q := &rounds[i]; q.State != floor.Open && q.Work > 0 {
			return m.look.Style.Split(q.Work)
		}
	}
	return ""
}
