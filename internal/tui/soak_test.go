package tui

import (
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
	presses := 0
	folder := t.TempDir()
	goroutines := runtime.NumGoroutine()
	synctest.Test(t, func(t *testing.T) {
		home, err := logbook.Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		defer home.Close()
		begun := time.Now()
		first := uint64(0)
		for h := range hours {
			presses += soakClass(t, home, h, length)
			if now := heap(); h == 0 {
				first = now
			} else if now > first+first/20+4<<20 {
				t.Errorf("after class %d the heap is %d KiB, after the first it was %d", h+1, now>>10, first>>10)
			}
		}
		if ran := time.Since(begun); ran < time.Duration(hours)*length {
			t.Errorf("%d classes took %v", hours, ran)
		}
	})
	if now := runtime.NumGoroutine(); now > goroutines+2 { // the runtime starts its own when it must
		t.Errorf("%d goroutines, before %d", now, goroutines)
	}
	runs, err := logbook.Runs(folder)
	if err != nil || len(runs) != hours {
		t.Fatalf("%d logs, %v, want %d", len(runs), err, hours)
	}
	for _, run := range runs {
		log, err := logbook.Load(filepath.Join(folder, run.Path))
		if err != nil || len(log.Damage) > 0 || !log.Ended() {
			t.Errorf("%s: %v %v", run.Path, err, log.Damage)
		}
	}
	t.Logf("%d classes of %v, %d presses", hours, length, presses)
}

// heap is what lives after everything else was collected.
func heap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// soakClass is one class; it returns how many presses there were.
func soakClass(t *testing.T, home *logbook.Home, n int, length time.Duration) int {
	t.Helper()
	part := session.Part{Format: session.Every, Every: time.Minute, Rounds: int(length / time.Minute), Late: session.NoteIt, CountIn: 10 * time.Second}
	plan := class(part, 16, 4)
	opened := floor.Stamped{N: 1, E: floor.Opened{Run: "01KB00000000000000000" + string(rune('A'+n/5)) + "000" + string(rune('0'+n%5)), Wall: time.Now(), Plan: plan}}
	w, err := home.Create(opened)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	live := newLive(newClock(0, awake), NewBook(w), &silence{}, []floor.Stamped{opened})
	room := newClassroom(live, plan.Kit.Sleds)
	m := modelOn(world(everyPart(), 4, 4, nil), [2]int{120, 40})
	m.live, m.on = live, room
	settle(live, live.ask(0, floor.Go{}))
	r := rand.New(rand.NewPCG(15, uint64(n)))
	presses := 0
	for live.st.Over() == floor.None && live.clock.Now() < 2*length+time.Minute {
		for range 10 {
			time.Sleep(100 * time.Millisecond)
			settle(live, live.ask(live.clock.Now(), floor.Press{Who: crew[r.IntN(16)]}))
			presses++
		}
		settle(live, live.tick(ticked{live.gen}))
		m.stale = true
		_ = m.View()
	}
	settle(live, live.ask(live.clock.Now(), floor.End{}))
	for k, start := range starts(live) {
		if want := time.Duration(k) * time.Minute; start != want {
			t.Fatalf("round %d started at %v, want %v: the clock has drifted", k+1, start, want)
		}
	}
	return presses
}

// starts is when the rounds of the first person began, from the first GO.
func starts(live *Live) []time.Duration {
	var at []time.Duration
	for _, round := range live.st.Rounds(1, 0, live.clock.Now()) {
		at = append(at, round.Starts.Truncate(time.Minute))
	}
	return at
}
