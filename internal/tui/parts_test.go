package tui

import (
	"bytes"
	"context"
	"io"
	"regexp"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/floor"
)

// drawing is a layout as a picture, one letter a part, at half the width.
func drawing(l Layout, w, h int) string {
	p := NewPage(w, h)
	for _, part := range []struct {
		r    Rect
		mark string
	}{
		{l.Head, "h"}, {l.Phase, "p"}, {l.Digits, "D"}, {l.Next, "n"}, {l.Tiles, "t"}, {l.Strip, "s"}, {l.Say, "y"}, {l.Foot, "f"},
	} {
		p.Fill(part.r, part.mark, Body)
	}
	var b strings.Builder
	for y := range h {
		for x := 0; x < w; x += 4 {
			b.WriteString(p.cells[y*w+x].text)
		}
		b.WriteByte('\n')
	}
	return strings.ReplaceAll(b.String(), " ", ".")
}

func TestLayoutDrawings(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		w, h int
		ask  Ask
		want string
	}{
		{"small", 40, 12, Ask{Tiles: 4}, `
hhhhhhhhhh
pppppppppp
DDDDDDDDDD
DDDDDDDDDD
DDDDDDDDDD
DDDDDDDDDD
DDDDDDDDDD
..........
nnnnnnnnnn
tttttttttt
tttttttttt
ffffffffff
`},
		{"small, strip open", 40, 12, Ask{Tiles: 4, Strip: 2}, `
hhhhhhhhhh
pppppppppp
DDDDDDDDDD
DDDDDDDDDD
DDDDDDDDDD
DDDDDDDDDD
nnnnnnnnnn
tttttttttt
tttttttttt
ssssssssss
ssssssssss
ffffffffff
`},
		{"sixteen", 80, 26, Ask{Tiles: 16}, `
hhhhhhhhhhhhhhhhhhhh
pppppppppppppppppppp
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
DDDDDDDDDDDDDDDDDDDD
....................
nnnnnnnnnnnnnnnnnnnn
tttttttttttttttttttt
tttttttttttttttttttt
tttttttttttttttttttt
tttttttttttttttttttt
tttttttttttttttttttt
tttttttttttttttttttt
tttttttttttttttttttt
tttttttttttttttttttt
yyyyyyyyyyyyyyyyyyyy
ffffffffffffffffffff
`},
	} {
		l := Lay(tt.w, tt.h, tt.ask)
		if got := drawing(l, tt.w, tt.h); got != strings.TrimPrefix(tt.want, "\n") {
			t.Errorf("%s is drawn\n%s\nwant%s", tt.name, got, tt.want)
		}
	}
}

// TestLayoutParts holds for many sizes that the parts lie on the screen, do not
// overlap, and leave the digits a third of the height.
func TestLayoutParts(t *testing.T) {
	t.Parallel()
	for _, w := range []int{40, 41, 57, 76, 80, 100, 120, 133, 171, 200, 250} {
		for _, h := range []int{12, 13, 17, 18, 24, 30, 43, 60, 75} {
			for _, a := range []Ask{{Tiles: 1}, {Tiles: 6, Strip: h / 4}, {Tiles: 16, Share: DeskAlone}, {Tiles: 16, Mode: Hashes}, {Share: WallAlone, Tiles: 9}} {
				l := Lay(w, h, a)
				if 3*l.Digits.H < h {
					t.Errorf("Lay(%d, %d, %+v) gives the digits %d rows", w, h, a, l.Digits.H)
				}
				seen := make([]bool, w*h)
				for _, r := range []Rect{l.Head, l.Phase, l.Digits, l.Next, l.Tiles, l.Strip, l.Say, l.Foot} {
					for y := r.Y; y < r.Y+r.H; y++ {
						for x := r.X; x < r.X+r.W; x++ {
							if x >= w || y >= h || x < 0 || y < 0 || seen[y*w+x] {
								t.Fatalf("Lay(%d, %d, %+v): %d, %d is in two parts or off the screen", w, h, a, x, y)
							}
							seen[y*w+x] = true
						}
					}
				}
			}
		}
	}
}

func TestRope(t *testing.T) {
	t.Parallel()
	sec := func(n int) time.Duration { return time.Duration(n) * time.Second }
	round := func(k, from, to int, state floor.RoundState) floor.Round {
		r := floor.Round{Round: k, Starts: sec(from), Ends: sec(to), Work: sec(to - from), State: state}
		if to == 0 {
			r.Ends, r.Work = floor.None, floor.None
		}
		return r
	}
	for _, tt := range []struct {
		name   string
		rounds []floor.Round
		now    int
		want   string
	}{
		{"nothing yet", nil, 0, "...................."},
		{"first round runs", []floor.Round{round(1, 0, 0, floor.Open)}, 30, "━━━►................"},
		{"a knot and slack", []floor.Round{round(1, 0, 30, floor.InTime)}, 50, "━━━●~~.............."},
		{"late", []floor.Round{round(1, 0, 70, floor.LateRound)}, 80, "━━━━━━━▲~..........."},
		{"sat out", []floor.Round{round(1, 0, 70, floor.LateRound), round(2, 60, 0, floor.SatOut), round(3, 120, 0, floor.Open)}, 140, "━━━━━━○▲~~~~━━►....."},
		{"no press", []floor.Round{round(1, 0, 0, floor.NoPress), round(2, 60, 90, floor.InTime)}, 100, "?~~~~~━━━●~........."},
	} {
		p := NewPage(20, 1)
		p.Rope(p.All(), 0, tt.rounds, Span{0, sec(200)}, sec(tt.now), &drawn)
		got := strings.ReplaceAll(strings.TrimSuffix(p.Plain(), "\n"), " ", ".")
		got += strings.Repeat(".", max(0, 20-len([]rune(got))))
		if got != tt.want {
			t.Errorf("%s: rope is %s, want %s", tt.name, got, tt.want)
		}
	}
}

func TestStamps(t *testing.T) {
	t.Parallel()
	var s stamps
	zero := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	at := func(ms int) time.Time { return zero.Add(time.Duration(ms) * time.Millisecond) }
	s.push(at(0), []byte("\x1b[A"))
	s.push(at(10), []byte("m"))
	s.push(at(25), []byte("em"))
	for _, tt := range []struct {
		text string
		now  int
		want int
	}{{"m", 400, 10}, {"e", 400, 25}, {"m", 400, 25}, {"A", 500, 500}, {"enter", 600, 600}} {
		if got := s.of(tt.text, at(tt.now)); !got.Equal(at(tt.want)) {
			t.Errorf("of(%q) = %v, want %v", tt.text, got.Sub(zero), at(tt.want).Sub(zero))
		}
	}
	s.push(at(700), []byte("\x1b[109;1:1u\x1b[109;1:3u\x1b[101:69;2:1;69u")) // m pressed and let go, then E
	s.push(at(720), []byte("\x1b[109;1:2u"))                                 // m held
	for _, tt := range []struct {
		text string
		want int
	}{{"E", 700}, {"e", 800}} {
		if got := s.of(tt.text, at(800)); !got.Equal(at(tt.want)) {
			t.Errorf("of(%q) = %v from a terminal that reports all keys, want %v", tt.text, got.Sub(zero), at(tt.want).Sub(zero))
		}
	}
	s.push(at(1000), []byte("o"))
	if got := s.of("o", at(2500)); !got.Equal(at(2500)) {
		t.Errorf("a stamp 1.5 s old was believed: %v", got.Sub(zero))
	}
}

func TestClockCountsSleep(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		slept := time.Duration(0)
		c := newClock(time.Minute, func(mono time.Duration) time.Duration { return mono + slept + time.Hour })
		time.Sleep(10 * time.Second)
		if got := c.Now(); got != 70*time.Second {
			t.Errorf("after ten seconds the clock reads %v, want 1m10s", got)
		}
		if gap := c.Slept(time.Now()); gap != 0 {
			t.Errorf("Slept = %v on a machine that was awake", gap)
		}
		slept = 42 * time.Second
		if gap := c.Slept(time.Now()); gap != 42*time.Second {
			t.Errorf("Slept = %v, want 42s", gap)
		}
		if gap := c.Slept(time.Now()); gap != 0 {
			t.Errorf("Slept = %v when it was counted already", gap)
		}
		if got := c.Now(); got != 112*time.Second {
			t.Errorf("after the sleep the clock reads %v, want 1m52s", got)
		}
	})
}

// TestSinceStart holds that the clock which runs on in sleep runs as fast as the
// other while the machine is awake.
func TestSinceStart(t *testing.T) {
	t.Parallel()
	began := time.Now()
	first := sinceStart(0)
	for time.Since(began) < 20*time.Millisecond {
		continue
	}
	mono := time.Since(began)
	if ran := sinceStart(mono) - first; ran < 10*time.Millisecond || ran > mono+time.Second {
		t.Errorf("in %v the time since the start ran %v", mono, ran)
	}
}

// TestLines runs a class line by line.
func TestLines(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		w := world(everyPart(), 2, 2, &notebook{})
		_, plan, err := w.Board(Day{})
		if err != nil {
			t.Fatal(err)
		}
		log, err := w.Open(plan)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		in, keys := io.Pipe()
		done := make(chan error)
		ctx, cancel := context.WithCancel(t.Context())
		go func() { done <- RunLines(ctx, w, log, in, &out) }()
		say := func(after time.Duration, line string) {
			time.Sleep(after)
			if _, err := io.WriteString(keys, line+"\n"); err != nil {
				t.Error(err)
			}
		}
		say(time.Second, "go")
		say(40*time.Second, "m")
		say(5*time.Second, "x")
		say(0, "sing")
		say(10*time.Second, "hold")
		say(time.Second, "resume")
		time.Sleep(11 * time.Minute)
		if err := keys.Close(); err != nil {
			t.Error(err)
		}
		cancel()
		if err := <-done; err != nil {
			t.Error(err)
		}
		for _, want := range []string{
			"0:00  GO, round 1", "0:30  Maren: round 1, 0:30.0", "nobody has the key x", `"sing" is neither a key nor a verb`,
			"clock stopped", "the clock runs in 0:05", "GO, round 8",
		} {
			if !strings.Contains(out.String(), want) {
				t.Errorf("the lines lack %q:\n%s", want, out.String())
			}
		}
		if strings.ContainsRune(out.String(), 0x1b) {
			t.Error("there is an escape sequence in line mode")
		}
	})
}

func TestClean(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"Maren":               "Maren",
		"\x1b[31mred\x1b[0m":  "red",
		"a\u202eb":            "a\ufffdb",
		"line\nbreak":         "line break",
		"bell\a":              "bell\ufffd",
		"\x1b]0;title\x07end": "end",
	} {
		if got := clean(in); got != want {
			t.Errorf("clean(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestPlates(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		in   []string
		want string
	}{
		{nil, ""},
		{[]string{"20 kg"}, "20 kg"},
		{[]string{"20 kg", "10 kg"}, "20+10 kg"},
		{[]string{"45 lb", "45 lb", "5 kg", "2.5 kg", "10 lb"}, "45+45 lb + 5+2.5 kg + 10 lb"},
	} {
		if got := plates(tt.in); got != tt.want {
			t.Errorf("plates(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// TestNoPlateIsCut: whoever fetches plates sees all of a stack that mixes pounds and
// kilograms, what is next and on the tiles, from 80 x 24 up.
func TestNoPlateIsCut(t *testing.T) {
	t.Parallel()
	glyphs := regexp.MustCompile(`[\s█▀▄▌]`)
	for _, stack := range [][]string{
		{"20 kg", "10 kg", "10 lb", "10 lb"},
		{"45 lb", "45 lb", "10 kg"},
		{"45 lb", "45 lb", "5 kg", "5 kg", "10 lb", "2.5 kg", "2.5 kg"},
	} {
		r := midClass(t, 5, 3)
		for i := range r.st.Plan().Parts[0].Places {
			r.st.Plan().Parts[0].Places[i].Spots[0].Stack = stack
		}
		want := glyphs.ReplaceAllString(plates(stack), "")
		for _, size := range [][2]int{{80, 24}, {100, 30}, {120, 40}, {133, 43}} {
			wall, desk := Lay(size[0], size[1], Ask{Share: WallAlone}), Lay(size[0], size[1], Ask{Share: DeskAlone, Tiles: 5})
			both := Lay(size[0], size[1], Ask{Tiles: 5})
			bothNext := both
			bothNext.Columns, both.Next, desk.Next = 0, Rect{}, Rect{} // each of them once
			for _, tt := range []struct {
				what  string
				l     *Layout
				least int
			}{{"wall", &wall, 1}, {"next of both", &bothNext, 1}, {"desk", &desk, 5}, {"tiles of both", &both, 5}} {
				var big Raster
				page := sceneOf(r, 190*time.Second).Draw(size[0], size[1], tt.l, &plainLook, &big).Plain()
				if n := strings.Count(glyphs.ReplaceAllString(page, ""), want); n < tt.least {
					t.Errorf("%v, %s: %s stands %d times, want %d, in\n%s", size, tt.what, want, n, tt.least, page)
				}
			}
		}
	}
}

// TestHashesAreAsLarge: what a terminal without blocks lacks in fineness, its digits
// do not lose in size.
func TestHashesAreAsLarge(t *testing.T) {
	t.Parallel()
	for _, size := range everySize {
		for _, tiles := range []int{1, 6, 16} {
			rows := func(m Mode) int {
				l := Lay(size[0], size[1], Ask{Mode: m, Tiles: tiles})
				return m.fit("88:88", l.Digits.W-2, l.Digits.H, l.Least).rows
			}
			if blocks, hashes := rows(Quadrants), rows(Hashes); 4*hashes < 3*blocks {
				t.Errorf("%v, %d people: the digits have %d rows of #, and %d of blocks", size, tiles, hashes, blocks)
			}
		}
	}
}
