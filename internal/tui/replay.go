package tui

import (
	"slices"
	"strconv"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/review"
)

// Replay is a run that is over, its ropes under a time line that moves at any
// speed, forwards and back. It is the same engine on the same events; only time
// comes from elsewhere. Another run can lie beneath it, begun at the same instant.
type Replay struct {
	*tape
	before *tape // the run beneath; nil: none
	next   func() (*Coming, error)
	back   screen // where it was opened from; nil: it is all there is

	part    int // shown, from 1
	alone   int // the person shown alone, -1: all
	sheet   int // of the two runs, from 1; 0: only this one
	speed   int // room seconds a second, negative: backwards
	playing bool
	gen     int
	last    time.Time // when the time line moved last
	typed   string    // of a round's number
	loud    string    // the largest fade, until a key is struck
	say     string
}

// Replayed is what a replay is fed from.
type Replayed struct {
	Events []floor.Stamped         // Opened first
	Before []floor.Stamped         // another run of the session; nil: none
	Next   func() (*Coming, error) // next time, for Enter; nil: none. It may take its time.
}

// played is a step of the time line.
type played struct {
	gen int
	at  time.Time
}

// frameEvery is how often the time line moves while it plays. A step is as long as
// it took, so that a slow terminal shows fewer frames and not a slower run.
const (
	frameEvery = time.Second / 60
	mostStep   = time.Second / 4
)

// NewReplay shows the end of the run, with its largest fade.
func NewReplay(from Replayed) *Replay {
	r := &Replay{tape: newTape(from.Events), next: from.Next, speed: 10, part: 1, alone: -1}
	if from.Before != nil {
		r.before = newTape(from.Before)
	}
	report := review.Make(r.whole, r.end)
	style := styleOf(r.whole)
	r.loud = report.Headline(style)
	if f, ok := report.LargestFade(style); ok {
		r.part = f.Part
	}
	return r
}

// seek goes to a room time within the run, and the run beneath to the same time of
// its part.
func (r *Replay) seek(t time.Duration) {
	r.tape.seek(t)
	if p := r.st.Part(); p > 0 {
		r.part = p
	}
	if r.before != nil {
		r.before.seek(r.now + r.shift())
	}
}

// shift is what has to be added to a time of this run for the one beneath.
func (r *Replay) shift() time.Duration {
	from, to := r.span(r.part).From, r.before.span(r.part).From
	if from == floor.None || to == floor.None {
		return 0
	}
	return to - from
}

func (r *Replay) arm() tea.Cmd {
	r.gen++
	gen := r.gen
	return tea.Tick(frameEvery, func(at time.Time) tea.Msg { return played{gen, at} })
}

// advance moves the time line by what has passed since it moved last.
func (r *Replay) advance(p played) tea.Cmd {
	if p.gen != r.gen || !r.playing {
		return nil
	}
	step := min(mostStep, p.at.Sub(r.last))
	r.last = p.at
	r.seek(r.now + time.Duration(r.speed)*step)
	if r.now == r.end && r.speed > 0 || r.now == 0 && r.speed < 0 {
		r.playing = false
		return nil
	}
	return r.arm()
}

func (r *Replay) key(m *Model, k input) tea.Cmd {
	r.loud, r.say = "", ""
	if n, err := strconv.Atoi(k.text); err == nil && len(k.text) == 1 {
		r.number(n)
		return nil
	}
	r.typed = ""
	if i := slices.IndexFunc(r.whole.Plan().People, func(p floor.Person) bool { return p.Key == k.text && p.Key != "" }); i >= 0 {
		if r.alone == i {
			i = -1
		}
		r.alone = i
		return nil
	}
	switch k.key {
	case "space":
		return r.play()
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
	case "tab":
		r.beneath(m)
	case "enter":
		return r.ahead()
	case "esc", "q":
		switch {
		case r.alone >= 0:
			r.alone = -1
		case r.back != nil && k.key == "esc":
			r.playing, m.on = false, r.back
		default:
			return tea.Quit
		}
	}
	return nil
}

func (r *Replay) play() tea.Cmd {
	if r.playing = !r.playing; !r.playing {
		return nil
	}
	if r.now == r.end && r.speed > 0 {
		r.seek(0)
	}
	r.last = time.Now()
	return r.arm()
}

// beneath turns to the next sheet of the two runs, or back to this one alone.
func (r *Replay) beneath(m *Model) {
	if r.before == nil {
		r.say = "there is no other run of this session to lay beneath"
		return
	}
	if r.sheet++; r.alone < 0 && (r.sheet-1)*r.onSheet(m) >= len(r.whole.Plan().People) || r.alone >= 0 && r.sheet > 1 {
		r.sheet = 0
	}
}

// ahead asks for next time.
func (r *Replay) ahead() tea.Cmd {
	if r.next == nil {
		r.say = "this run has no next time"
		return nil
	}
	r.playing = false
	return func() tea.Msg {
		c, err := r.next()
		if err != nil {
			return failed{err}
		}
		return came{c}
	}
}

func (r *Replay) fail(err error) { r.say = err.Error() }

// speeds of the time line.
var speeds = []int{-120, -60, -30, -10, -5, -2, -1, 1, 2, 5, 10, 30, 60, 120}

func faster(speed, by int) int {
	i := slices.Index(speeds, speed)
	return speeds[min(max(0, i+by), len(speeds)-1)]
}

// starts are the rounds of a part with their starts: of the person who is shown
// alone, else of whoever began each first.
func (r *Replay) starts(part int) map[int]time.Duration {
	first := map[int]time.Duration{}
	for i := range r.whole.Plan().People {
		if r.alone >= 0 && r.alone != i {
			continue
		}
		for _, q := range r.whole.Rounds(part, i, r.end) {
			if at, ok := first[q.Round]; q.Starts != floor.None && (!ok || q.Starts < at) {
				first[q.Round] = q.Starts
			}
		}
	}
	return first
}

// number takes a digit of a round's number and goes to that round. A digit that
// makes no round of the part with those before begins anew.
func (r *Replay) number(digit int) {
	starts := r.starts(r.part)
	for _, text := range []string{r.typed + strconv.Itoa(digit), strconv.Itoa(digit)} {
		n, _ := strconv.Atoi(text) // digits alone
		if at, ok := starts[n]; ok {
			r.typed = text
			r.seek(at)
			return
		}
	}
	r.typed = ""
	r.say = "there is no round " + strconv.Itoa(digit)
}

// jump goes to the next start of a round, or to the one before.
func (r *Replay) jump(by int) {
	stops := []time.Duration{0, r.end}
	for part := 1; part <= r.whole.Part(); part++ {
		stops = append(stops, r.whole.Starts(part, r.end)...)
		for _, at := range r.starts(part) {
			stops = append(stops, at)
		}
	}
	slices.Sort(stops)
	stops = slices.Compact(stops)
	i, found := slices.BinarySearch(stops, r.now)
	switch {
	case by > 0 && found:
		i++
	case by < 0:
		i--
	}
	r.seek(stops[min(max(0, i), len(stops)-1)])
}
