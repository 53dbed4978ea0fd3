package tui

import (
	"fmt"
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
func nap(r *rand.Rand, boot func(l *laptop, mono time.Duration) time.Duration) error {
	machine := &laptop{}
	log := &notebook{}
	plan := class(everyPart(), 4, 4)
	clock := newClock(0, func(mono time.Duration) time.Duration { return boot(machine, mono) })
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
			return fmt.Errorf("the clock reads %v, %v went by", now, want)
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
		return fmt.Errorf("%d cues were handed on when their time was past", cues.past)
	}
	var said []time.Duration
	for _, e := range log.kept {
		if s, ok := e.E.(floor.Slept); ok {
			said = append(said, s.For)
		}
	}
	if !reflect.DeepEqual(said, sleeps) {
		return fmt.Errorf("slept %v, the log says %v", sleeps, said)
	}
	got, want := review.Make(live.st, now), review.Make(twin, now)
	if !reflect.DeepEqual(got.Parts, want.Parts) || got.Ends != want.Ends {
		return fmt.Errorf("the splits are\n%+v\nwithout the sleep they are\n%+v", got, want)
	}
	for k, start := range got.Parts[0].Starts {
		if start != time.Duration(k)*75*time.Second {
			return fmt.Errorf("round %d started at %v", k+1, start)
		}
	}
	return nil
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
			if err := nap(rand.New(rand.NewPCG(seed, uint64(i))), (*laptop).boot); err != nil {
				t.Fatalf("trial %d: %v", i, err)
			}
		}
	})
	t.Logf("%d classes", trials)
}

// TestSleepControl: a clock that takes no notice of sleep, and one that counts it twice, are
// found out.
func TestSleepControl(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		for what, boot := range map[string]func(l *laptop, mono time.Duration) time.Duration{
			"is deaf to sleep": func(_ *laptop, mono time.Duration) time.Duration { return mono },
			"counts it twice":  func(l *laptop, mono time.Duration) time.Duration { return mono + 2*l.slept },
		} {
			noticed := error(nil)
			for i := 0; i < 20 && noticed == nil; i++ {
				noticed = nap(rand.New(rand.NewPCG(seed, uint64(i))), boot)
			}
			if noticed == nil {
				t.Errorf("a clock that %s is said to be right: the suite cannot see", what)
			}
			t.Logf("a clock that %s: %v", what, noticed)
		}
	})
}

// sameSecond compares a clock with the time that went by since its zero: it neither follows the time of
// day nor forgets when it began.
func sameSecond(clock *Clock, opened time.Time, since time.Duration) error {
	if got := clock.Opened(); !got.Equal(opened) || clock.Now() != since {
		return fmt.Errorf("room time 0 was at %v, %v later at %v, and now it is %v", opened, since, got, clock.Now())
	}
	for _, zone := range []string{"Pacific/Apia", "America/St_Johns", "UTC"} {
		where, err := time.LoadLocation(zone)
		if err != nil {
			return err
		}
		if got := clock.At(time.Now().In(where)); got != since {
			return fmt.Errorf("in %s room time is %v, want %v", zone, got, since)
		}
	}
	if got := clock.At(time.Now().Round(0)); got != since {
		return fmt.Errorf("by the time of day room time is %v, want %v", got, since)
	}
	return nil
}

// TestTimeOfDay: room time and the time of day at which it was 0 are kept apart.
// Setting the clock, another time zone and daylight saving move the second alone.
func TestTimeOfDay(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		clock := newClock(0, awake)
		opened := clock.Opened()
		time.Sleep(3 * time.Hour) // over any change of the hour
		if err := sameSecond(clock, opened, 3*time.Hour); err != nil {
			t.Error(err)
		}
	})
}

// TestTimeOfDayControl: a clock that goes along when the hour is changed, and one that
// begins anew, are found out.
func TestTimeOfDayControl(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		clock := newClock(0, awake)
		opened := clock.Opened()
		time.Sleep(3 * time.Hour)
		clock.ahead += time.Hour // as the time of day does, in the night in which summer begins
		if sameSecond(clock, opened, 3*time.Hour) == nil {
			t.Error("an hour of daylight saving in room time is not noticed: the suite cannot see")
		}
		clock.Restart(time.Now())
		if sameSecond(clock, opened, 3*time.Hour) == nil {
			t.Error("a clock that begins anew is not noticed: the suite cannot see")
		}
	})
}
