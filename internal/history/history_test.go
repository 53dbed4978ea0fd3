package history

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/logbook"
	"hawser/internal/measure"
	"hawser/internal/review"
	"hawser/internal/session"

	"github.com/oklog/ulid/v2"
)

// gymRuns is how many runs BenchmarkTenYears writes and reads: 15000 are ten years
// of four classes a day. Put TMPDIR on a disk in memory for so many.
var gymRuns = flag.Int("runs", 100, "runs of BenchmarkTenYears")

const kg = measure.Kilogram

// crew is the invented crew of a harbour boathouse.
var crew = []string{"Maren", "Eskil", "Tove", "Ingrid", "Odd", "Sunniva", "Leif", "Ragna", "Arve", "Dagny", "Stein", "Vigdis"}

// plan is a class of twelve, three on each of four sleds, twelve rounds of 2:30.
func plan(i int) *floor.Plan {
	k := &kit.Kit{Step: 2500 * measure.Gram, Strip: kit.Strip{Length: 25 * measure.Metre, Surface: "turf"}}
	part := floor.PartPlan{
		Spec: session.Part{
			Format: session.Every, Every: 150 * time.Second, Rounds: 12, Late: session.SitOut, CountIn: 10 * time.Second,
			Stations: []session.Station{{Movement: []string{"forward drag", "backward drag", "sled row"}[i%3], Distance: 20 * measure.Metre, Times: 1}},
		},
		Heats: 1, Stations: []floor.StationPlan{{Legs: 1, Leg: 20 * measure.Metre}},
	}
	for _, name := range []string{"A", "B", "C", "D"} {
		k.Sleds = append(k.Sleds, kit.Sled{Name: name, Tare: 27 * kg, Posts: 1})
		part.Stations[0].On = append(part.Stations[0].On, floor.Thing{Name: name, Tare: 27 * kg, Ends: 1})
	}
	for _, mass := range []measure.Mass{25, 20, 15, 10, 5} {
		k.Plates = append(k.Plates, kit.Plates{Stamp: fmt.Sprintf("%d kg", mass), Mass: mass * kg, Count: 8})
	}
	p := &floor.Plan{Session: "slack-water", Title: "Slack water", Aim: session.Conditioning, Kit: k, House: &house.House{
		HandoverBase: 10 * time.Second, HandoverPlate: 5 * time.Second, BetweenHeats: 3 * time.Minute, BetweenParts: 3 * time.Minute,
		WarmUp: 5 * time.Minute, CountIn: 10 * time.Second, CountBack: 5 * time.Second, Late: "sit out", LatePress: 8 * time.Second,
		DoublePress: 2 * time.Second, UnlikelyLow: 60 * measure.Percent, UnlikelyHigh: 160 * measure.Percent, LighterEvery: 4,
	}}
	for n, name := range crew {
		p.People = append(p.People, floor.Person{Name: name, Key: string(rune('a' + n)), Here: true})
		part.Places = append(part.Places, floor.Place{Heat: 1, Spots: []floor.Spot{{
			On: string(rune('A' + n/3)), Order: n % 3, Ends: 1, Tare: 27 * kg, Stack: []string{"20 kg"},
			Moves: 47*kg + measure.Mass(i%7)*kg, Asked: 48 * kg, Expect: 29*time.Second + time.Duration((i*7+n*13)%2000)*time.Millisecond,
		}}})
	}
	p.Parts = []floor.PartPlan{part}
	return p
}

// class plays class number i of the gym through the engine. Its splits differ from
// all others'; every seventh is messy, with a hold, a late round and a typed split.
func class(tb testing.TB, i int) []floor.Stamped {
	tb.Helper()
	wall := time.Date(2016, 11, 2, 6, 0, 0, 0, time.UTC).Add(time.Duration(i) * 6 * time.Hour)
	id := ulid.MustNew(ulid.Timestamp(wall), bytes.NewReader(fmt.Appendf(nil, "%016d", i)))
	log := []floor.Stamped{{N: 1, E: floor.Opened{Run: id.String(), Wall: wall, Plan: plan(i)}}}
	st := floor.New()
	st.Apply(log[0])
	do := func(c floor.Command, at time.Duration) {
		events, _ := floor.Decide(st, c, at) // a press may be refused as late as any
		for _, e := range events {
			e.T = e.T.Round(time.Millisecond)
			st.Apply(e)
			log = append(log, e)
		}
	}
	do(floor.Go{}, 0)
	first := st.First()
	for k := range 12 {
		round := first + time.Duration(k)*150*time.Second
		for turn := range 3 {
			for sled := range 4 {
				late := time.Duration(sled*700+k*310+(i*37+sled*11+turn*5)%4000) * time.Millisecond
				do(floor.Press{Who: crew[sled*3+turn]}, round+time.Duration(turn)*40*time.Second+28*time.Second+late)
			}
		}
		if i%7 == 3 && k == 5 {
			do(floor.Hold{}, round+130*time.Second)
			do(floor.ByHand{Who: "Tove", Round: 2, Work: 33 * time.Second}, round+135*time.Second)
			do(floor.Again{}, round+140*time.Second)
		}
	}
	for n, who := range crew[:i%3] {
		do(floor.Effort{Who: who, Effort: float64(5 + n)}, first+35*time.Minute)
	}
	do(floor.End{}, first+40*time.Minute)
	return log
}

// gym writes runs from that number on to a home, as the logbook writes them.
func gym(tb testing.TB, home string, from, runs int) {
	tb.Helper()
	h, err := logbook.Open(home)
	if err != nil {
		tb.Fatal(err)
	}
	defer h.Close()
	for i := from; i < from+runs; i++ {
		log := class(tb, i)
		w, err := h.Create(log[0])
		if err == nil {
			err = w.Append(log[1:]...)
		}
		if err != nil {
			tb.Fatal(err)
		}
		if err := w.Close(); err != nil {
			tb.Fatal(err)
		}
	}
}

// texts is all that a history has, in words.
func texts(h *review.History) []string {
	var all []string
	for _, who := range h.Names() {
		all = append(all, fmt.Sprint(who, h.Days(who, time.Date(2016, 11, 6, 0, 0, 0, 0, time.UTC), 7)))
		for _, movement := range h.Movements(who) {
			for _, p := range h.Points(who, movement) {
				all = append(all, fmt.Sprint(who, p.Of.Run, p.Of.Wall.UTC(), *p.Tags, p.Moves, p.Share, p.Fade, slices.Collect(p.Splits.All())))
			}
		}
	}
	return all
}

// TestRead: the scanner, the logbook and the cache all say the same.
func TestRead(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	gym(t, home, 0, 15)
	runs, err := logbook.Runs(home)
	if err != nil || len(runs) != 15 {
		t.Fatalf("%d runs, %v, want 15", len(runs), err)
	}
	var slow []review.Summary
	w := newWorker(home)
	scanned := 0
	for i := range runs {
		path := filepath.Join(home, runs[i].Path)
		log, err := logbook.Load(path)
		if err != nil || log.Err() != nil {
			t.Fatal(err, log.Err())
		}
		slow = append(slow, w.summarize(&runs[i], log))
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := scan(data, newSame(), nil); ok {
			scanned++
		}
	}
	if scanned != 15 {
		t.Errorf("the scanner reads %d of 15 logs, none of which is damaged", scanned)
	}
	want := texts(review.NewHistory(slow))
	for _, from := range []string{"the logs", "the cache"} {
		last := 0
		h, faults, err := Read(home, func(done, _ int) { last = done })
		if err != nil || len(faults) > 0 {
			t.Fatal(err, faults)
		}
		if got := texts(h); !reflect.DeepEqual(got, want) {
			t.Errorf("from %s: %d lines differ from the logbook's %d", from, len(got), len(want))
		}
		if wantLast := map[string]int{"the logs": 15, "the cache": 0}[from]; last != wantLast {
			t.Errorf("from %s: %d logs were read, want %d", from, last, wantLast)
		}
	}
	info, err := os.Stat(filepath.Join(home, CacheName))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("cache: %v, %v, want 0600", info.Mode(), err)
	}
}

// TestCacheIsNeverTrusted: a damaged log is named every time, a changed one is read
// again, and a damaged cache does no harm.
func TestCacheIsNeverTrusted(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	gym(t, home, 0, 3)
	if _, faults, err := Read(home, nil); err != nil || len(faults) > 0 {
		t.Fatal(err, faults)
	}
	runs, err := logbook.Runs(home)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(home, runs[1].Path)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	data = bytes.Replace(data, []byte(`"who":"Leif"`), []byte(`"who":"Lief"`), 1)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, time.Time{}, time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		read := 0
		h, faults, err := Read(home, func(done, _ int) { read = done })
		if read != 1 {
			t.Errorf("%d logs were read, want the damaged one", read)
		}
		if err != nil || len(faults) != 2 || faults[0].Path != runs[1].Path || h.Runs() != 3 {
			t.Fatalf("a damaged log: %v, %v, want its line named and that it is missing", faults, err)
		}
	}
	if err := os.WriteFile(filepath.Join(home, CacheName), []byte("hawser history 4\nnonsense"), 0o600); err != nil {
		t.Fatal(err)
	}
	if h, _, err := Read(home, nil); err != nil || h.Runs() != 3 {
		t.Fatalf("a damaged cache: %v", err)
	}
	gym(t, home, 3, 1)
	if h, _, err := Read(home, nil); err != nil || h.Runs() != 4 {
		t.Fatalf("one run more: %v", err)
	}
}

// TestScanRefuses: whatever is changed in a log, the scanner leaves it to the
// logbook, or what it read is the same.
func TestScanRefuses(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	gym(t, home, 1, 1)
	runs, err := logbook.Runs(home)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(home, runs[0].Path))
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := scan(data, newSame(), nil); !ok {
		t.Fatal("the scanner does not read a plain log")
	}
	lines := strings.SplitAfter(string(data), "\n")
	for name, bad := range map[string]string{
		"cut":     string(data[:len(data)-1]),
		"missing": strings.Join(append(append([]string{}, lines[:5]...), lines[6:]...), ""),
		"doubled": strings.Join(append(append([]string{}, lines[:6]...), lines[5:]...), ""),
		"swapped": strings.Join(append(append(append([]string{}, lines[:5]...), lines[6], lines[5]), lines[7:]...), ""),
		"empty":   "",
		"first":   strings.Join(lines[1:], ""),
	} {
		if _, ok := scan([]byte(bad), newSame(), nil); ok {
			t.Errorf("%s: the scanner read it", name)
		}
	}
	for i := 0; i < len(data); i += 97 {
		bad := bytes.Clone(data)
		bad[i] ^= 1
		if _, ok := scan(bad, newSame(), nil); ok {
			t.Fatalf("byte %d changed, and the scanner read it", i)
		}
	}
}

func BenchmarkReadOne(b *testing.B) {
	home := b.TempDir()
	gym(b, home, 0, 1)
	runs, err := logbook.Runs(home)
	if err != nil {
		b.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(home, runs[0].Path))
	if err != nil {
		b.Fatal(err)
	}
	b.Run("scan", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		known := newSame()
		for b.Loop() {
			scan(data, known, nil)
		}
	})
	b.Run("all", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		w := newWorker(home)
		for b.Loop() {
			if _, wrong := w.read(&runs[0], w.open([]*logbook.Run{&runs[0]})[0]); wrong != nil {
				b.Fatal(wrong)
			}
		}
	})
}

func BenchmarkTenYears(b *testing.B) {
	home := b.TempDir()
	gym(b, home, 0, *gymRuns)
	cache := filepath.Join(home, CacheName)
	read := func(b *testing.B) {
		b.Helper()
		h, faults, err := Read(home, nil)
		if err != nil || len(faults) > 0 || h.Runs() != *gymRuns {
			b.Fatal(err, faults)
		}
	}
	b.Run("logs", func(b *testing.B) {
		for b.Loop() {
			_ = os.Remove(cache)
			read(b)
		}
	})
	b.Run("cache", func(b *testing.B) {
		for b.Loop() {
			read(b)
		}
	})
}
