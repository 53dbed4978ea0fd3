package tui

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/floor"
	"hawser/internal/logbook"
	"hawser/internal/session"
)

// TestSoak runs classes of sixteen people at ten presses a second, one after the
// other, with the real log on the disk and every second of the wall drawn: a few
// minutes, or 24 simulated hours in the long count. The memory after the first class
// is that after the last, no goroutine is left, and the clock has not drifted.
func TestSoak(t *testing.T) { //nolint:paralleltest // the heap is measured: nothing may run beside it
	if testing.Short() {
		t.Skip("SKIPPED with -short: it takes a second")
	}
	hours := 24
	length := time.Hour
	if os.Getenv("HAWSER_LONG") == "" {
		hours, length = 3, 2*time.Minute
	}
	presses, err := soak(t, hours, length, func(int, *Clock) {})
	if err != nil {
		t.Error(err)
	}
	t.Logf("%d classes of %v, %d presses", hours, length, presses)
}

// TestSoakControl: a class that leaves something in the memory, one that leaves a goroutine, and one
// whose clock drifts by a millisecond, are found out.
func TestSoakControl(t *testing.T) { //nolint:paralleltest // the heap is measured: nothing may run beside it
	var left [][]byte
	for what, leak := range map[string]func(h int, clock *Clock){
		"leaves 8 MiB": func(int, *Clock) { left = append(left, make([]byte, 8<<20)) },
		"drifts": func(_ int, clock *Clock) {
			time.AfterFunc(30*time.Second, func() {
				clock.mu.Lock()
				defer clock.mu.Unlock()
				clock.ahead += time.Millisecond
			})
		},
	} {
		if _, err := soak(t, 2, time.Minute, leak); err == nil {
			t.Errorf("a class that %s is said to leave nothing: the suite cannot see", what)
		} else {
			t.Logf("a class that %s: %v", what, err)
		}
	}
	runtime.KeepAlive(left)
	before, end := runtime.NumGoroutine(), make(chan struct{})
	for range 4 {
		go func() { <-end }()
	}
	if noneLeft(before) == nil {
		t.Error("four goroutines that are left are not noticed: the suite cannot see")
	}
	close(end)
}

// soak runs classes one after the other and returns how many presses there were; leak is
// called in each.
func soak(t *testing.T, hours int, length time.Duration, leak func(h int, clock *Clock)) (presses int, err error) {
	t.Helper()
	folder := t.TempDir()
	goroutines := runtime.NumGoroutine()
	synctest.Test(t, func(t *testing.T) {
		home, fails := logbook.Open(folder)
		if fails != nil {
			t.Fatal(fails)
		}
		defer home.Close()
		begun := time.Now()
		first := uint64(0)
		for h := range hours {
			n, drift := soakClass(t, home, h, length, leak)
			presses, err = presses+n, errors.Join(err, drift)
			if now := heap(); h == 0 {
				first = now
			} else if now > first+first/20+4<<20 {
				err = errors.Join(err, fmt.Errorf("after class %d the heap is %d KiB, after the first it was %d", h+1, now>>10, first>>10))
			}
		}
		if ran := time.Since(begun); ran < time.Duration(hours)*length {
			err = errors.Join(err, fmt.Errorf("%d classes took %v", hours, ran))
		}
	})
	err = errors.Join(err, noneLeft(goroutines))
	runs, fails := logbook.Runs(folder)
	if fails != nil || len(runs) != hours {
		t.Fatalf("%d logs, %v, want %d", len(runs), fails, hours)
	}
	for _, run := range runs {
		log, fails := logbook.Load(filepath.Join(folder, run.Path))
		if fails != nil || len(log.Damage) > 0 || !log.Ended() {
			t.Errorf("%s: %v %v", run.Path, fails, log.Damage)
		}
	}
	return presses, err
}

// noneLeft wants no more goroutines than there were.
func noneLeft(before int) error {
	if now := runtime.NumGoroutine(); now > before+2 { // the runtime starts its own when it must
		return fmt.Errorf("%d goroutines, before %d", now, before)
	}
	return nil
}

// heap is what lives after everything else was collected.
func heap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// soakClass is one class; it returns how many presses there were, and whether its clock has drifted.
func soakClass(t *testing.T, home *logbook.Home, n int, length time.Duration, leak func(h int, clock *Clock)) (presses int, err error) {
	t.Helper()
	part := session.Part{Format: session.Every, Every: time.Minute, Rounds: int(length / time.Minute), Late: session.NoteIt, CountIn: 10 * time.Second}
	plan := class(part, 16, 4)
	opened := floor.Stamped{N: 1, E: floor.Opened{Run: "01KB00000000000000000" + string(rune('A'+n/5)) + "000" + string(rune('0'+n%5)), Wall: time.Now(), Plan: plan}}
	w, err := home.Create(opened)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	clock, begun := newClock(0, awake), time.Now()
	leak(n, clock)
	live := newLive(clock, NewBook(w), &silence{}, []floor.Stamped{opened})
	room := newClassroom(live, plan.Kit.Sleds)
	m := modelOn(world(everyPart(), 4, 4, nil), [2]int{120, 40})
	m.live, m.on = live, room
	settle(live, live.ask(0, floor.Go{}))
	r := rand.New(rand.NewPCG(15, uint64(n)))
	for live.st.Over() == floor.None && live.clock.Now() < 2*length+time.Minute {
		for range 10 {
			time.Sleep(100 * time.Millisecond)
			settle(live, live.ask(live.clock.Now(), floor.Press{Who: crew[r.IntN(16)]}))
			presses++
		}
		settle(live, live.tick(ticked{live.gen}))
		if now, went := clock.Now(), time.Since(begun); now != went && err == nil {
			err = fmt.Errorf("the clock reads %v, %v went by", now, went)
		}
		m.stale = true
		_ = m.View()
	}
	settle(live, live.ask(live.clock.Now(), floor.End{}))
	for k, start := range starts(live) {
		if want := part.CountIn + time.Duration(k)*time.Minute; start != want && err == nil {
			err = fmt.Errorf("round %d started at %v, want %v", k+1, start, want)
		}
	}
	return presses, err
}

// starts is when the rounds of the first person began, in room time.
func starts(live *Live) []time.Duration {
	var at []time.Duration
	for _, round := range live.st.Rounds(1, 0, live.clock.Now()) {
		at = append(at, round.Starts)
	}
	return at
}
