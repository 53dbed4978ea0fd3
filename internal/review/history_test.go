package review

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/load"
	"hawser/internal/measure"
	"hawser/internal/session"

	"pgregory.net/rapid"
)

var _ load.Past = (*History)(nil)

// years makes so many summaries of a crew of twelve, twelve rounds a class, four
// classes a day, as a gym's years would leave them. The same call gives the same.
func years(runs int) []Cached {
	crew := []string{"Maren", "Eskil", "Tove", "Ingrid", "Odd", "Sunniva", "Leif", "Ragna", "Arve", "Dagny", "Stein", "Vigdis"}
	moves := []string{"forward drag", "backward drag", "sled row", "hand over hand pull"}
	begin := time.Date(2016, 11, 2, 6, 0, 0, 0, time.FixedZone("", 3600))
	all := make([]Cached, runs)
	for i := range all {
		c := Cached{Mark: uint64(i)*0x9e3779b97f4a7c15 + 7}
		c.Path = fmt.Sprintf("2016/run-%05d.jsonl", i)
		c.Run, c.Wall, c.Session = fmt.Sprintf("01J%022d", i), begin.Add(time.Duration(i)*6*time.Hour), "slack-water"
		for k, who := range crew {
			l := Line{
				Who: who, Tags: &Tags{
					Movement: moves[i%4], Surface: "turf", Layout: "straight", On: string(rune('A' + k%4)), Format: session.Every, Distance: 20 * measure.Metre,
				},
				Moves: measure.Mass(47+5*(k%5)+i/3000) * measure.Kilogram, Share: 50 + float64(k), Fade: math.NaN(),
			}
			var splits []uint32
			for r := range 12 {
				splits = append(splits, uint32(28000+700*r+137*k+i%97))
			}
			l.Splits = NewSplits(splits...)
			c.Lines = append(c.Lines, l)
			c.Efforts = append(c.Efforts, Effort{Who: who, Effort: float64(5 + (i+k)%4), Minutes: 45})
		}
		all[i] = c
	}
	return all
}

func summaries(all []Cached) []Summary {
	list := make([]Summary, len(all))
	for i := range all {
		list[i] = all[i].Summary
	}
	return list
}

func TestHistory(t *testing.T) {
	t.Parallel()
	zone := time.FixedZone("", 3600)
	at := func(d int) time.Time { return time.Date(2026, 11, d, 18, 0, 0, 0, zone) }
	row := func(kg int, surface string, splits ...uint32) Line {
		return Line{
			Who: "Maren", Tags: &Tags{Movement: "sled row", Surface: surface, Layout: "straight", Distance: 20 * measure.Metre},
			Moves: measure.Mass(kg) * measure.Kilogram, Splits: NewSplits(splits...),
		}
	}
	h := NewHistory([]Summary{
		{Run: "c", Wall: at(16), Lines: []Line{row(72, "turf", 32000, 33000)}, Efforts: []Effort{{"Maren", 7, 40}}},
		{Run: "a", Wall: at(2), Lines: []Line{row(67, "turf", 30000, 31000)}, Efforts: []Effort{{"Maren", 6, 30}}},
		{Run: "b", Wall: at(9), Lines: []Line{row(80, "rubber", 41000)}},
		{Run: "a", Wall: at(2), Lines: []Line{row(67, "turf", 30000)}}, // the same run, cut short
		{Run: "d", Wall: time.Date(2026, 11, 16, 23, 30, 0, 0, zone), Efforts: []Effort{{"Maren", 2, 10}}},
	})
	if h.Runs() != 4 || len(h.Points("Maren", "sled row")) != 3 {
		t.Fatalf("%d runs, %d points, want 4, 3", h.Runs(), len(h.Points("Maren", "sled row")))
	}
	if got, ok := h.Heaviest("Maren", "sled row"); !ok || got != 80*measure.Kilogram {
		t.Errorf("Heaviest = %v, %v, want 80 kg", got, ok)
	}
	for _, tt := range []struct {
		kg   int
		want time.Duration
	}{{67, 31500 * time.Millisecond}, {72, 31500 * time.Millisecond}, {80, 37000*time.Millisecond - 4000*time.Millisecond}, {100, 0}} {
		got, ok := h.Median("Maren", "sled row", measure.Mass(tt.kg)*measure.Kilogram, 20*measure.Metre)
		if ok != (tt.want > 0) || got != tt.want {
			t.Errorf("Median at %d kg = %v, %v, want %v", tt.kg, got, ok, tt.want)
		}
	}
	if _, ok := h.Median("Maren", "sled row", 67*measure.Kilogram, 25*measure.Metre); ok {
		t.Error("a median over another distance")
	}
	if _, ok := h.Heaviest("Eskil", "sled row"); ok {
		t.Error("somebody who never pulled has a heaviest load")
	}
	if got := h.Bests("Maren", "sled row"); len(got) != 2 || got[0].Surface != "rubber" || got[1].Moves != 72*measure.Kilogram {
		t.Errorf("Bests = %v, want one a surface, heaviest first", got)
	}
	if got, want := h.Days("Maren", at(16), 15), []float64{180, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 300}; !slices.Equal(got, want) {
		t.Errorf("Days = %v, want %v", got, want)
	}
	now := row(77, "turf", 31000, 31600)
	then, ok := h.LastTime(&now, at(20))
	if got, want := now.Against(&then.Line, measure.Style{}), "0:01.2 faster than last time, with 5 kg more"; !ok || got != want {
		t.Errorf("Against = %q, %v, want %q", got, ok, want)
	}
	if _, ok := h.LastTime(&now, at(2)); ok {
		t.Error("a last time before the first")
	}
	precise := at(20).Add(123456 * time.Nanosecond) // a live run begins at any instant
	if _, ok := NewHistory([]Summary{{Run: "e", Wall: precise, Lines: []Line{now}}}).LastTime(&now, precise); ok {
		t.Error("a run is its own last time")
	}
	s := &Sheet{}
	h.CSV(s, "Maren")
	if got, want := string(s.Bytes()), "\"2026-11-16\",\"c\",\"\",\"Maren\",\"sled row\",\"turf\",\"straight\",\"\",20.0,72.0,2,32.5,0,0\r\n"; !strings.HasSuffix(got, want) {
		t.Errorf("CSV = %q, want it to end with %q", got, want)
	}
	// 67, 72 and 72 kg in weeks 0, 2 and 4: least squares by hand gives 10/8 kg a week.
	course := []Mark{{Wall: at(2), Moves: 67 * measure.Kilogram}, {Wall: at(16), Moves: 72 * measure.Kilogram}, {Wall: at(30), Moves: 72 * measure.Kilogram}}
	if got := Trend(course); !near(got, 1.25, 1e-9) {
		t.Errorf("Trend = %v, want 1.25 kg a week", *got)
	}
	if got, want := Trending(course, measure.Style{}), "The load rises by 1.3 kg a week over 3 classes, by least squares."; got != want {
		t.Errorf("Trending = %q, want %q", got, want)
	}
	if Trend(course[:2]) != nil {
		t.Error("a trend of two runs")
	}
	if got := slices.Collect(h.Marks("Maren", "sled row")); len(got) != 3 || got[0].Moves != 67*measure.Kilogram || got[2].Moves != 72*measure.Kilogram {
		t.Errorf("Marks = %+v, want a mark a run", got)
	}
	if got := h.Weeks("Maren", at(16), 3); len(got) != 3 || sum(got[0]) != 180 || sum(got[1]) != 0 || got[2][0] != 300 {
		t.Errorf("Weeks = %v, want 180, 0 and 300 on the Monday", got)
	}
}

// unchanged compares as printed: NaN is like NaN there, and a time shows its zone.
func unchanged(a, b []Cached) bool {
	printed := func(all []Cached) string {
		var b strings.Builder
		for i := range all {
			c := &all[i]
			fmt.Fprintln(&b, c.Path, c.Mark, c.Run, c.Wall, c.Session, c.Efforts)
			for k := range c.Lines {
				l := &c.Lines[k]
				fmt.Fprintln(&b, l.Who, *l.Tags, l.Moves, l.Share, l.Fade, slices.Collect(l.Splits.All()))
			}
		}
		return b.String()
	}
	return printed(a) == printed(b)
}

func TestCache(t *testing.T) {
	t.Parallel()
	want := years(50)
	_, b := NewCache(want)
	c, err := OpenCache(b)
	if err != nil || len(c.Files) != len(want) {
		t.Fatalf("OpenCache = %d files, %v, want %d", len(c.Files), err, len(want))
	}
	got := c.All()
	for i := range got {
		if !got[i].Wall.Equal(want[i].Wall) || got[i].Wall.Format(time.RFC3339Nano) != want[i].Wall.Format(time.RFC3339Nano) {
			t.Fatalf("file %d: wall %v, want %v", i, got[i].Wall, want[i].Wall)
		}
		got[i].Wall = want[i].Wall
	}
	if !unchanged(got, want) {
		t.Error("a cache comes back changed")
	}
	if _, again := NewCache(got); !bytes.Equal(again, b) {
		t.Error("the same files give other bytes the second time")
	}
	for _, bad := range [][]byte{nil, b[:len(b)-1], append(slices.Clone(b), 0), []byte(cacheHead), bytes.Replace(b, []byte("Maren"), []byte("Marei"), 1)} {
		if _, err := OpenCache(bad); !errors.Is(err, ErrCache) {
			t.Errorf("OpenCache of a damaged cache = %v, want ErrCache", err)
		}
	}
}

// TestHistoryProperties: the order in which the files are read does not matter.
func TestHistoryProperties(t *testing.T) {
	t.Parallel()
	list := summaries(years(40))
	want := NewHistory(slices.Clone(list))
	rapid.Check(t, func(t *rapid.T) {
		h := NewHistory(rapid.Permutation(list).Draw(t, "files"))
		for _, who := range want.Names() {
			for _, movement := range want.Movements(who) {
				if !reflect.DeepEqual(lines(h.Points(who, movement)), lines(want.Points(who, movement))) {
					t.Fatalf("%s, %s differ by the order of the files", who, movement)
				}
			}
		}
	})
}

func lines(points []Point) []string {
	var all []string
	for _, p := range points {
		all = append(all, fmt.Sprint(p.Of.Run, p.Of.Wall, p.Who, *p.Tags, p.Moves, p.Share, p.Fade, slices.Collect(p.Splits.All())))
	}
	return all
}

// FuzzOpenCache mends the checksum, so that what stands behind it is reached. A cache
// of any bytes comes back as it is once it is written in the order of time.
func FuzzOpenCache(f *testing.F) {
	f.Add(encode(nil))
	f.Add(encode(years(3)))
	f.Add([]byte(cacheHead + "\xff\xff\xff\xff\xff\xff\xff\xff\x7f    "))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) >= 4 {
			b = slices.Clone(b)
			binary.LittleEndian.PutUint32(b[len(b)-4:], crc32.Checksum(b[:len(b)-4], crc32.MakeTable(crc32.Castagnoli)))
		}
		c, err := OpenCache(b)
		if err != nil {
			return
		}
		c.History()
		once, err := OpenCache(encode(c.All()))
		if err != nil {
			t.Fatal(err)
		}
		twice, err := OpenCache(encode(once.All()))
		if err != nil || !unchanged(once.All(), twice.All()) {
			t.Errorf("a cache that was read does not come back: %v", err)
		}
	})
}

func BenchmarkCache(b *testing.B) {
	all := years(15000)
	bytes := encode(all)
	b.Run("open", func(b *testing.B) {
		b.SetBytes(int64(len(bytes)))
		for b.Loop() {
			if _, err := OpenCache(bytes); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("gather", func(b *testing.B) {
		list := summaries(all)
		for b.Loop() {
			NewHistory(list)
		}
	})
}
