package tui

import (
	"errors"
	"sync"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/cue"
	"hawser/internal/floor"
	"hawser/internal/house"
)

// Keeper is the log of a run as the screen sees it. Append returns once the
// events are as safe as they will be; an error says what is wrong, and the class
// goes on. Trouble is that in a few words for the wall, "" while all is well.
type Keeper interface {
	Append(events []floor.Stamped) error
	Trouble() string
}

// Cues is the sound as the screen sees it: it is handed what is due, again and
// again, and told when nothing of that is true any more.
type Cues interface {
	Schedule(moments []floor.Moment)
	Speak(words []cue.Said)
	Hold(at time.Duration)
	ClockJumped()
	Trouble() string
}

// lead is how early a tick fires, and how far ahead of the clock a screen is
// drawn: half a frame of the renderer and what drawing takes, so that a second
// turns within half a frame of the true one on either side.
const lead = 6500 * time.Microsecond

// horizon is how far ahead the sound is told what is due: more than the longest
// way between two ticks.
const horizon = 1500 * time.Millisecond

// Live is a run: its state, its clock, its log, and what was asked of it and is
// not yet kept. One command is in the log's hands at a time, so their order is
// that of the keys; each bears the instant of its key.
type Live struct {
	st    *floor.State
	clock *Clock
	house *house.House
	log   Keeper
	cues  Cues

	queue   []asked
	writing bool
	leaving bool          // the program ends once all that was asked is kept
	disk    sync.Mutex    // held while the log writes, so that the end can wait for it
	last    time.Duration // of the newest event: later ones bear no earlier time
	gen     int           // of the tick that counts

	say     string
	sayInk  Ink
	until   time.Duration // when say has been shown long enough
	blinked int           // person, -1
	blinkTo time.Duration
	unfit   bool                  // what was just kept does not fit: the ways out are to be offered
	past    map[int]floor.Stamped // by number, for what an undo says
	out     map[string]bool       // sleds off the floor
}

// asked is a command at the instant of its key. A nil command lets the clock do
// what is due.
type asked struct {
	at time.Duration
	c  floor.Command
}

type (
	// kept says that events are in the log.
	kept struct {
		events []floor.Stamped
		err    error
	}
	// ticked is the clock reaching what the last arm waited for.
	ticked struct{ gen int }
)

// shownFor is how long a word stands, blinkFor how long an ignored press shows.
const (
	shownFor = 6 * time.Second
	blinkFor = 200 * time.Millisecond
)

// newLive takes a run up: past is what its log already holds.
func newLive(clock *Clock, log Keeper, cues Cues, past []floor.Stamped) *Live {
	r := &Live{st: floor.New(), clock: clock, log: log, cues: cues, blinked: -1, past: map[int]floor.Stamped{}, out: map[string]bool{}}
	for _, e := range past {
		r.apply(e)
	}
	r.house = r.st.Plan().House
	return r
}

func (r *Live) apply(e floor.Stamped) {
	r.st.Apply(e)
	r.last = max(r.last, e.T)
	if e.N > 0 {
		r.past[e.N] = e
	}
	switch x := e.E.(type) {
	case floor.SledOut:
		r.out[x.On] = true
	case floor.SledBack:
		r.out[x.On] = false
	case floor.Undone:
		switch was := r.past[x.Of].E.(type) {
		case floor.SledOut:
			r.out[was.On] = false
		case floor.SledBack:
			r.out[was.On] = true
		}
	}
}

// shown is the room time that screens are drawn for.
func (r *Live) shown() time.Duration { return r.clock.Now() + lead }

// ask puts a command into the queue.
func (r *Live) ask(at time.Duration, c floor.Command) tea.Cmd {
	r.queue = append(r.queue, asked{at, c})
	return r.next()
}

// next decides on what was asked, in order, until there is something to keep. The
// returned Cmd hands it to the log; only what comes back is applied and shown.
func (r *Live) next() tea.Cmd {
	for !r.writing && len(r.queue) > 0 {
		q := r.queue[0]
		r.queue = r.queue[1:]
		q.at = max(q.at.Round(time.Millisecond), r.last) // the log keeps milliseconds
		var events []floor.Stamped
		if q.c == nil {
			events = floor.Advance(r.st, q.at)
		} else {
			var err error
			events, err = floor.Decide(r.st, q.c, q.at)
			r.refused(q, err)
		}
		if len(events) == 0 {
			continue
		}
		r.writing = true
		return func() tea.Msg {
			r.disk.Lock()
			defer r.disk.Unlock()
			return kept{events, r.log.Append(events)}
		}
	}
	return nil
}

// refused shows why a command did nothing: a word, or a blink of the tile.
func (r *Live) refused(q asked, err error) {
	if err == nil {
		return
	}
	no, ok := errors.AsType[*floor.Refusal](err)
	if ok && no.Blink {
		if p, is := q.c.(floor.Press); is {
			r.blinked, r.blinkTo = r.person(p.Who), r.clock.Now()+blinkFor
		}
		return
	}
	r.tell(err.Error(), Warn)
}

func (r *Live) person(name string) int {
	for i, p := range r.st.Plan().People {
		if p.Name == name {
			return i
		}
	}
	return -1
}

// tell shows a word for some seconds.
func (r *Live) tell(word string, ink Ink) {
	r.say, r.sayInk, r.until = word, ink, r.clock.Now()+shownFor
}

// keep applies what the log has, says it, and goes on with what was asked since.
func (r *Live) keep(k kept) tea.Cmd {
	r.writing = false
	for _, e := range k.events {
		r.apply(e)
		text, ink := sentence(r.st, e, r.past)
		if text != "" {
			r.tell(text, ink)
		}
		if _, held := e.E.(floor.Held); held {
			r.cues.Hold(e.T)
		}
	}
	if why := r.st.Warning(k.events); why != "" {
		f := r.st.Fit(r.last)
		if r.unfit = f != nil && why == f.String(); !r.unfit {
			r.tell(join("; ", why, r.say), Warn)
		}
	}
	if k.err != nil {
		r.tell(k.err.Error(), Stopped)
	}
	return tea.Batch(r.next(), r.arm())
}

// tick does what has come due: the clock's own events, the sound, a sleep that
// was noticed.
func (r *Live) tick(t ticked) tea.Cmd {
	if t.gen != r.gen {
		return nil
	}
	r.wake()
	r.queue = append(r.queue, asked{r.shown(), nil})
	return tea.Batch(r.next(), r.arm())
}

// wake notices that the machine slept: before anything is done at a time that the
// clock would have wrong.
func (r *Live) wake() {
	if gap := r.clock.Slept(time.Now()); gap > 0 {
		r.cues.ClockJumped()
		r.queue = append(r.queue, asked{r.clock.Now(), floor.Sleep{For: gap}})
	}
}

// arm waits for the next instant at which something visible changes: a second of
// the big digits, or a moment of the class. Everything comes from the run's own
// schedule; no tick is counted and none adds to the next.
func (r *Live) arm() tea.Cmd {
	now := r.clock.Now()
	if r.house.Speech {
		r.cues.Speak(cue.Words(r.st.Plan(), r.st.Tiles(nil, max(1, r.st.Part()), now), now))
	}
	r.cues.Schedule(r.st.Due(nil, now-cue.Together, now+horizon))
	at := turns(r.st, now+lead)
	if r.blinked >= 0 {
		at = min(at, max(r.blinkTo, now+lead+time.Millisecond))
	}
	r.gen++
	gen := r.gen
	return tea.Tick(at-lead-now, func(time.Time) tea.Msg { return ticked{gen} })
}

// turns returns the first instant after now at which the clock shows something else.
func turns(st *floor.State, now time.Duration) time.Duration {
	f := st.Face(now)
	part := f.Left % time.Second
	at := now + part
	switch {
	case f.Phase == floor.Waiting || f.Phase == floor.Holding || f.Phase == floor.Over || part <= 0:
		at = now + time.Second
	case f.Up:
		at = now + time.Second - part
	}
	for _, m := range st.Due(nil, now, at) {
		at = min(at, m.At)
	}
	return at
}

// settle drops what has been shown long enough.
func (r *Live) settle(now time.Duration) {
	if now >= r.until {
		r.say = ""
	}
	if now >= r.blinkTo {
		r.blinked = -1
	}
}
