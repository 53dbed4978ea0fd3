package tui

import (
	"math/rand/v2"
	"os"
	"reflect"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/cue"
	"hawser/internal/floor"
	"hawser/internal/review"
)

// count is how often a suite tries: few with -short, or many with HAWSER_LONG=1.
func count(few, many int) int {
	switch {
	case os.Getenv("HAWSER_LONG") != "":
		return many
	case testing.Short():
		return 1 + few/10
	}
	return few
}

// spent is raised, by real time, when the time that a long count was given is as good
// as over: it then ends with what it has reached.
func spent(t *testing.T) *atomic.Bool {
	t.Helper()
	flag := new(atomic.Bool)
	if end, ok := t.Deadline(); ok && os.Getenv("HAWSER_LONG") != "" {
		late := time.AfterFunc(time.Until(end)-time.Minute, func() { flag.Store(true) })
		t.Cleanup(func() { late.Stop() })
	}
	return flag
}

// seed is where the random trials of a suite begin: a failure names its own.
const seed = 8

// laptop is a machine that can sleep: its clock runs on, Go's does not.
type laptop struct{ slept time.Duration }

func (l *laptop) boot(mono time.Duration) time.Duration { return mono + l.slept }

// heard notes what the sound was handed, and that none of it was past.
type heard struct {
	silence

	clock *Clock
	past  int
}

func (h *heard) Schedule(moments []floor.Moment) {
	for _, m := range moments {
		if m.At < h.clock.Now()-cue.Together {
			h.past++
		}
	}
}

// settle lets the log take what was asked, without waiting for the next tick.
func settle(r *Live, cmd tea.Cmd) {
	for r.writing {
		switch msg := cmd().(type) {
		case tea.BatchMsg:
			cmd = msg[0] // the log's, before the tick
		case kept:
			cmd = r.keep(msg)
		}
	}
}

// nap is one class on a laptop that sleeps, stops and is typed at, and the same
// class with nothing but the presses, each at its room time.
func nap(t *testing.T, r *rand.Rand) {
	t.Helper()
	machine := &laptop{}
	log := &notebook{}
	plan := class(everyPart(), 4, 4)
	clock := newClock(0, machine.boot)
	cues := &heard{clock: clock}
	live := newLive(clock, log, cues, []floor.Stamped{{N: 1, E: floor.Opened{Plan: plan}}})
	twin := floor.New()
	twin.Apply(floor.Stamped{N: 1, E: floor.Opened{Plan: class(everyPart(), 4, 4)}})
	begun := time.Now()
	var sleeps []time.Duration

	both := func(c floor.Command) {
		live.wake()
		at := clock.Now()
		settle(live, live.ask(at, c))
		events, _ := floor.Decide(twin, c, max(at.Round(time.Millisecond), live.last)) // refused in both
		for _, e := range events {
			twin.Apply(e)
		}
	}
	both(floor.Go{})
	for range 4 + r.IntN(12) {
		time.Sleep(time.Duration(r.IntN(20_000)) * time.Millisecond) // stopped, or waiting
		switch r.IntN(3) {
		case 0:
			gap := asleep + time.Millisecond*time.Duration(1+r.IntN(90_000))
			machine.slept += gap
			sleeps = append(sleeps, gap)
		case 1:
			both(floor.Press{Who: crew[r.IntN(4)]})
			continue
		}
		settle(live, live.tick(ticked{live.gen}))
		if now, want := clock.Now(), time.Since(begun)+machine.slept; now != want {
			t.Fatalf("the clock reads %v, %v went by", now, want)
		}
	}
	settle(live, live.tick(ticked{live.gen}))
	now := clock.Now().Round(time.Millisecond)
	for _, e := range floor.Advance(twin, now) {
		twin.Apply(e)
	}
	for _, e := range floor.Advance(live.st, now) {
		live.st.Apply(e)
	}
	if cues.past > 0 {
		t.Fatalf("%d cues were handed on when their time was past", cues.past)
	}
	var said []time.Duration
	for _, e := range log.kept {
		if s, ok := e.E.(floor.Slept); ok {
			said = append(said, s.For)
		}
	}
	if !reflect.DeepEqual(said, sleeps) {
		t.Fatalf("slept %v, the log says %v", sleeps, said)
	}
	got, want := review.Make(live.st, now), review.Make(twin, now)
	if !reflect.DeepEqual(got.Parts, want.Parts) || got.Ends != want.Ends {
		t.Fatalf("the splits are\n%+v\nwithout the sleep they are\n%+v", got, want)
	}
	for k, start := range got.Parts[0].Starts {
		if start != time.Duration(k)*75*time.Second {
			t.Fatalf("round %d started at %v", k+1, start)
		}
	}
}

// TestSleepMovesNothing: a process that is stopped, a laptop that sleeps, as often
// as you like: every boundary and split is where it was, each sleep is one event,
// and no cue of the time that went by is played.
func TestSleepMovesNothing(t *testing.T) {
	t.Parallel()
	trials := count(2000, 1_000_000)
	over := spent(t)
	synctest.Test(t, func(t *testing.T) {
		for i := range trials {
			if over.Load() {
				trials = i
				break
			}
			nap(t, rand.New(rand.NewPCG(seed, uint64(i))))
			if t.Failed() {
				t.Fatalf("trial %d", i)
			}
		}
	})
	t.Logf("%d classes", trials)
}

// TestSleepControl: a clock that takes no notice of sleep is found out.
func TestSleepControl(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		machine := &laptop{}
		deaf := newClock(0, awake)
		time.Sleep(time.Second)
		machine.slept = time.Minute
		if gap := deaf.Slept(time.Now()); gap != 0 || deaf.Now() == time.Second+machine.slept {
			t.Error("a clock that cannot hear of sleep counted it")
		}
	})
}

// TestTimeOfDay: room time and the time of day at which it was 0 are kept apart.
// Setting the clock, another time zone and daylight saving move the second alone.
func TestTimeOfDay(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		clock := newClock(0, awake)
		opened := clock.Opened()
		time.Sleep(3 * time.Hour) // over any change of the hour
		if got := clock.Opened(); !got.Equal(opened) || clock.Now() != 3*time.Hour {
			t.Errorf("room time 0 was at %v, three hours later at %v, and now it is %v", opened, got, clock.Now())
		}
		for _, zone := range []string{"Pacific/Apia", "America/St_Johns", "UTC"} {
			where, err := time.LoadLocation(zone)
			if err != nil {
				t.Skipf("no time zones here: %v", err)
			}
			if got := clock.At(time.Now().In(where)); got != 3*time.Hour {
				t.Errorf("in %s room time is %v, want 3h", zone, got)
			}
		}
		if got := clock.At(time.Now().Round(0)); got != 3*time.Hour {
			t.Errorf("by the time of day room time is %v, want 3h", got)
		}
	})
}
