package tui

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/cue"
	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/presses"
)

// lines is a run without a screen: one plain line for every event and boundary,
// and one typed line for every press or change. It is for a dumb terminal, for a
// pipe, and for whoever has the screen read aloud.
type lines struct {
	st    *floor.State
	clock *Clock
	log   Keeper
	cues  Cues
	out   io.Writer
	past  map[int]floor.Stamped
	last  time.Duration // of the newest event
	said  time.Duration // moments up to here have been said
	bad   string        // the log's trouble, said once
}

// RunLines runs a class line by line until it is over, in ends, or ctx is done.
// What is typed is what a presses file has after the time: a key, or a verb like
// hold, undo or "load Maren +5 kg"; go starts a part.
func RunLines(ctx context.Context, w *World, log *Log, in io.Reader, out io.Writer) error {
	w.Clock.Restart(log.Zero)
	l := &lines{st: floor.New(), clock: w.Clock, log: log.Keeper, cues: w.Cues, out: out, past: map[int]floor.Stamped{}}
	for _, e := range log.Past {
		l.apply(e)
	}
	l.said = w.Clock.Now()
	l.print(l.said, "type go and Enter; then a person's letter and Enter is their press; help lists the rest")
	typed := make(chan string)
	go read(ctx, in, typed)
	for l.st.Over() == floor.None {
		timer := time.NewTimer(max(0, l.wake()-l.clock.Now()))
		select {
		case <-ctx.Done():
			timer.Stop()
			return ErrInterrupted
		case line, ok := <-typed:
			timer.Stop()
			if !ok {
				typed = nil // the class goes on by its clock
				break
			}
			l.typed(strings.TrimSpace(line), l.clock.Now())
		case <-timer.C:
		}
		l.catchUp()
	}
	return nil
}

// read hands on one line at a time until there is no more.
func read(ctx context.Context, in io.Reader, out chan<- string) {
	defer close(out)
	s := bufio.NewScanner(in)
	for s.Scan() {
		select {
		case out <- s.Text():
		case <-ctx.Done():
			return
		}
	}
}

// wake is when something will be due, at the latest in a quarter of a second: the
// sound wants to be asked that often.
func (l *lines) wake() time.Duration { return l.clock.Now() + 250*time.Millisecond }

// catchUp does what the clock has brought, and says it.
func (l *lines) catchUp() {
	if gap := l.clock.Slept(time.Now()); gap > 0 {
		l.cues.ClockJumped()
		l.do(floor.Sleep{For: gap}, l.clock.Now())
	}
	now := l.clock.Now().Round(time.Millisecond)
	for _, m := range l.st.Due(nil, l.said, now) {
		if text := l.moment(m); text != "" {
			l.print(m.At, text)
		}
	}
	l.said = now
	l.keep(floor.Advance(l.st, now))
	if p := l.st.Plan(); p.House.Speech {
		l.cues.Speak(cue.Words(p, l.st.Tiles(nil, max(1, l.st.Part()), now), now))
	}
	l.cues.Schedule(l.st.Due(nil, now-cue.Together, now+horizon))
	if bad := l.log.Trouble(); bad != l.bad {
		l.bad = bad
		l.print(now, bad)
	}
}

// typed is one line from the keyboard.
func (l *lines) typed(line string, at time.Duration) {
	switch line {
	case "":
		return
	case "go":
		l.do(floor.Go{}, at)
		return
	case "help":
		l.print(at, "a letter, a digit for a sled; go hold resume again undo skip end; arrive leave drop load by-hand no-time strike give swap, each with a name; where says how everyone stands")
		return
	case "where":
		l.where(at)
		return
	}
	var cast presses.Cast
	for _, p := range l.st.Plan().People {
		cast.People = append(cast.People, p.Name)
	}
	for _, s := range l.st.Plan().Kit.Sleds {
		cast.Sleds = append(cast.Sleds, s.Name)
	}
	read, err := presses.Parse("", []byte("0:00 "+line), cast)
	if faults, ok := errors.AsType[coachfile.Faults](err); ok {
		l.print(at, faults[0].What)
		return
	}
	for _, r := range read {
		if c := l.command(r); c != nil {
			l.do(c, at)
		} else {
			l.print(at, "nobody has the key "+string(r.Key))
		}
	}
}

// command is what a typed line asks for, nil for a key that nobody has.
func (l *lines) command(r presses.Line) floor.Command {
	if r.Key == 0 {
		return r.Command
	}
	return pressOf(string(r.Key), l.st.Plan(), l.st.Plan().Kit.Sleds)
}

// do decides, keeps and says.
func (l *lines) do(c floor.Command, at time.Duration) {
	events, err := floor.Decide(l.st, c, max(at.Round(time.Millisecond), l.last))
	l.keep(events)
	if err != nil {
		l.print(at, "not taken: "+err.Error())
	}
}

// keep hands events to the log, then to the state, then to the reader.
func (l *lines) keep(events []floor.Stamped) {
	if len(events) == 0 {
		return
	}
	err := l.log.Append(events)
	for _, e := range events {
		l.apply(e)
		if text, _ := sentence(l.st, e, l.past); text != "" {
			l.print(e.T, text)
		}
		switch x := e.E.(type) {
		case floor.Held:
			l.cues.Hold(e.T)
		case floor.Pressed:
			l.offer(x)
		}
	}
	if why := l.st.Warning(events); why != "" {
		l.print(l.last, why)
	}
	if err != nil {
		l.print(l.last, err.Error())
	}
}

// offer says what is proposed after a press, and what to type for it.
func (l *lines) offer(x floor.Pressed) {
	for i, p := range l.st.Plan().People {
		if more := l.st.BareFirst(x.Part, i, l.last); p.Name == x.Who && more != nil {
			st := styleOf(l.st)
			l.print(l.last, fmt.Sprintf("%s began with the empty sled and was well under the time; %s is proposed: load %q +%s",
				p.Name, st.Mass(more.Moves), p.Name, st.Mass(more.By)))
		}
	}
}

func (l *lines) apply(e floor.Stamped) {
	l.st.Apply(e)
	l.last = max(l.last, e.T)
	if e.N > 0 {
		l.past[e.N] = e
	}
}

// moment says a boundary that is no event of its own.
func (l *lines) moment(m floor.Moment) string {
	who := ""
	if m.Person >= 0 {
		who = clean(l.st.Plan().People[m.Person].Name) + ": "
	}
	switch m.Kind {
	case floor.Begin:
		if m.Round > 0 {
			return "GO, " + roundWord(l.st, m.Part) + " " + itoa(m.Round)
		}
		return "GO"
	case floor.OwnBegin:
		return who + "GO"
	case floor.RestBegins:
		return "rest"
	case floor.TenLeft:
		return who + "ten seconds"
	case floor.StopSoon:
		return who + "ten seconds of standing left"
	case floor.StopOver:
		return who + "has stood too long"
	case floor.RestOver:
		return who + "rest is over"
	}
	return ""
}

// where says how everyone stands.
func (l *lines) where(at time.Duration) {
	s := NewScene(l.st, at, nil)
	look := Look{Mode: Hashes, Style: styleOf(l.st)}.ready()
	_, word, _ := s.phaseWords(look.signs)
	l.print(at, join(", ", strings.ToLower(word), s.round(), s.clock()))
	for i := range s.Tiles {
		t := &s.Tiles[i]
		_, words, _ := s.doing(t, &look)
		l.print(at, join(", ", clean(s.Plan.People[t.Person].Name)+": "+words, clean(t.Place.On), look.load(&t.Place), s.plates(&t.Place)))
	}
}

// print writes one line: the time since the first GO, or to it, then the words.
func (l *lines) print(at time.Duration, text string) {
	when := "before GO"
	if first := l.st.First(); first != floor.None {
		when = measure.Clock(at - first)
		if at < first {
			when = "GO in " + measure.Clock(ceil(first-at))
		}
	}
	fmt.Fprintf(l.out, "%s  %s\n", when, clean(text))
}
