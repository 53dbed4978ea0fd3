package sound

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

// click is loud from its first sample, so that its onset is its time.
func click() [][2]float64 {
	return slices.Repeat([][2]float64{{0.5, 0.5}}, Rate.N(20*time.Millisecond))
}

// counts are the moments of 3, 2, 1, GO each five seconds up to end, GO at off
// past the full second.
func counts(end, off time.Duration) []floor.Moment {
	var all []floor.Moment
	for at := 5*time.Second + off; at <= end; at += 5 * time.Second {
		for n := 3; n >= 1; n-- {
			all = append(all, floor.Moment{At: at - time.Duration(n)*time.Second, Kind: floor.CountDown, Person: -1, Count: n})
		}
		all = append(all, floor.Moment{At: at, Kind: floor.Begin, Person: -1})
	}
	return all
}

// due returns those of all within a second after from, as an engine would.
func due(all []floor.Moment, from time.Duration) []floor.Moment {
	var near []floor.Moment
	for _, m := range all {
		if m.At > from && m.At <= from+Ahead+cue.Together {
			near = append(near, m)
		}
	}
	return near
}

// deaf returns a Player without devices on that clock.
func deaf(t *testing.T, clock func() time.Duration) *Player {
	t.Helper()
	bank, problems := loadBank("")
	if problems != nil {
		t.Fatal(problems)
	}
	return &Player{timeline: NewTimeline(clock, nil), bank: bank}
}

// attack is how many samples a built-in sound takes to pass the onset's threshold.
func attack(pcm [][2]float64) int {
	return slices.IndexFunc(pcm, func(s [2]float64) bool { return math.Abs(s[0]) > loud })
}

func TestEveryOnsetIsOnItsSample(t *testing.T) {
	t.Parallel()
	const length = 5 * time.Minute
	seeds := uint64(8)
	if testing.Short() {
		seeds = 2
	}
	for seed := range seeds {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(seed, 0))
			dev := newOffline()
			dev.block = func() int { return 1 + random.IntN(4800) }
			dev.full = int(seed%2) * 4800
			p := deaf(t, dev.clock)
			moments := counts(length, time.Duration(random.IntN(1000))*time.Millisecond/7)
			next := time.Duration(0)
			dev.run(p.timeline, length, func(now time.Duration) {
				if now >= next { // as the shell does it: now and then, the same ones again
					p.Schedule(due(moments, now-cue.Together))
					next = now + time.Duration(random.IntN(300))*time.Millisecond
				}
			})
			if len(dev.onsets) < len(moments)-4 {
				t.Fatalf("%d onsets, want %d", len(dev.onsets), len(moments))
			}
			for i, at := range dev.onsets {
				m := moments[i]
				want := sampleAt(m.At) + attack(p.bank[cue.Of(m.Kind)])
				if off := at - want; off < -1 || off > 1 {
					t.Fatalf("moment %d of kind %d at %v is off by %d samples", i, m.Kind, m.At, off)
				}
			}
		})
	}
}

// A device's clock that is fast or slow, and pulls that come late, move no cue by
// 2 ms, for as long as it runs. 300 parts in a million is worse than real devices are.
func TestDriftAndJitter(t *testing.T) {
	t.Parallel()
	length := 10 * time.Minute
	if testing.Short() {
		length = time.Minute
	}
	for _, ppm := range []float64{-300, 0, 300} {
		t.Run("", func(t *testing.T) {
			t.Parallel()
			random := rand.New(rand.NewPCG(7, 7))
			dev := newOffline()
			dev.ppm = ppm
			dev.late = func() time.Duration { // as a busy machine does it: a little mostly, much at times
				most := 2 * time.Millisecond
				if random.IntN(20) == 0 {
					most = 40 * time.Millisecond
				}
				return time.Duration(random.Int64N(int64(most)))
			}
			line := NewTimeline(dev.clock, nil)
			var cues []Cue
			for at := 2 * time.Second; at < length; at += 1100 * time.Millisecond {
				cues = append(cues, Cue{At: at, Name: cue.Tick, PCM: click()})
			}
			next := 0
			dev.run(line, length+time.Second, func(now time.Duration) {
				for ; next < len(cues) && cues[next].At < now+Ahead; next++ {
					line.Schedule(cues[next].At, cues[next])
				}
			})
			if len(dev.onsets) != len(cues) {
				t.Fatalf("%d onsets, want %d", len(dev.onsets), len(cues))
			}
			var worst time.Duration
			for i, c := range cues {
				off := dev.heard(dev.onsets[i]) - c.At
				worst = max(worst, off, -off)
			}
			t.Logf("%+.0f ppm, pulls up to 40 ms late: worst error %v of %d cues", ppm, worst, len(cues))
			if worst > 2*time.Millisecond {
				t.Errorf("worst error %v, want at most 2 ms", worst)
			}
		})
	}
}

// What a device says of itself goes before its pulls, all of which come late here: each
// cue is on its sample, and earlier by what the device has left to be heard.
func TestDeviceSaysWhatIsHeard(t *testing.T) {
	t.Parallel()
	for _, left := range []time.Duration{0, 100 * time.Millisecond} {
		random := rand.New(rand.NewPCG(3, 3))
		dev := newOffline()
		dev.late = func() time.Duration { return time.Duration(20+random.IntN(20)) * time.Millisecond }
		line := NewTimeline(dev.clock, nil)
		at := []time.Duration{2 * time.Second, 3300 * time.Millisecond, 9 * time.Second}
		for _, c := range at {
			line.Schedule(c, Cue{At: c, Name: cue.Tick, PCM: click()})
		}
		dev.run(line, 10*time.Second, func(time.Duration) { line.heard(dev.heard(dev.played), left) })
		want := []int{Rate.N(at[0] - left), Rate.N(at[1] - left), Rate.N(at[2] - left)}
		if !slices.Equal(dev.onsets, want) {
			t.Errorf("with %v left onsets are %d, want %d", left, dev.onsets, want)
		}
	}
}

// A device that ran dry is late for good; the cues must not be, once it is seen.
func TestSlip(t *testing.T) {
	t.Parallel()
	dev := newOffline()
	line := NewTimeline(func() time.Duration {
		if dev.played > Rate.N(10*time.Second) {
			return dev.now + 100*time.Millisecond
		}
		return dev.now
	}, nil)
	at := []time.Duration{9 * time.Second, 10400 * time.Millisecond, 15 * time.Second}
	for _, c := range at {
		line.Schedule(c, Cue{At: c, Name: cue.Tick, PCM: click()})
	}
	dev.run(line, 16*time.Second, func(time.Duration) {})
	want := []int{Rate.N(at[0]), Rate.N(at[1] - 100*time.Millisecond), Rate.N(at[2] - 100*time.Millisecond)}
	if !slices.Equal(dev.onsets, want) {
		t.Errorf("onsets %d, want %d", dev.onsets, want)
	}
}

func TestSchedule(t *testing.T) {
	t.Parallel()
	const s = time.Second
	cues := func(at ...time.Duration) []Cue {
		var all []Cue
		for _, a := range at {
			all = append(all, Cue{At: a, Name: cue.Tick, PCM: click()})
		}
		return all
	}
	tests := []struct {
		name string
		do   map[time.Duration]func(*Timeline)
		want []time.Duration
	}{
		{"each once, however often it is scheduled", map[time.Duration]func(*Timeline){
			0:        func(l *Timeline) { l.Schedule(0, cues(1*s, 2*s)...) },
			s:        func(l *Timeline) { l.Schedule(s-cue.Together, cues(1*s, 2*s)...) },
			s + s/10: func(l *Timeline) { l.Schedule(s, cues(1*s, 2*s)...) },
		}, []time.Duration{1 * s, 2 * s}},
		{"what is no longer among them is withdrawn", map[time.Duration]func(*Timeline){
			0:     func(l *Timeline) { l.Schedule(0, cues(1*s, 2*s, 3*s)...) },
			s / 2: func(l *Timeline) { l.Schedule(s/2, cues(1*s, 3*s)...) },
		}, []time.Duration{1 * s, 3 * s}},
		{"a hold", map[time.Duration]func(*Timeline){
			0:         func(l *Timeline) { l.Schedule(0, cues(1*s, 2*s)...) },
			3 * s / 2: func(l *Timeline) { l.CancelAfter(3 * s / 2) },
		}, []time.Duration{1 * s}},
		{"the same again after a hold", map[time.Duration]func(*Timeline){
			0:     func(l *Timeline) { l.Schedule(0, cues(1*s)...) },
			s / 4: func(l *Timeline) { l.CancelAfter(s / 4) },
			s / 2: func(l *Timeline) { l.Schedule(s/2, cues(1*s)...) },
		}, []time.Duration{1 * s}},
		{"too late is not played", map[time.Duration]func(*Timeline){
			2 * s: func(l *Timeline) { l.Schedule(0, cues(2*s-MaxLate-time.Millisecond, 3*s)...) },
		}, []time.Duration{3 * s}},
		{"a little late is played late", map[time.Duration]func(*Timeline){
			2 * s: func(l *Timeline) { l.Schedule(0, cues(2*s-MaxLate+time.Millisecond)...) },
		}, []time.Duration{2 * s}},
		{"at once", map[time.Duration]func(*Timeline){
			s: func(l *Timeline) { l.PlayNow(click()) },
		}, []time.Duration{1 * s}},
		{"earlier by the latency", map[time.Duration]func(*Timeline){
			0: func(l *Timeline) { l.SetLatency(s / 4); l.Schedule(0, cues(2*s)...) },
		}, []time.Duration{2*s - s/4}},
		{"a clock that jumped", map[time.Duration]func(*Timeline){
			0: func(l *Timeline) { l.ResetPhase(); l.Schedule(0, cues(1*s)...) },
		}, []time.Duration{1 * s}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			dev := newOffline()
			line := NewTimeline(dev.clock, nil)
			dev.run(line, 4*time.Second, func(now time.Duration) {
				if do := tt.do[now]; do != nil {
					do(line)
				}
			})
			var got []time.Duration
			for _, o := range dev.onsets {
				got = append(got, dev.heard(o))
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("heard at %v, want %v", got, tt.want)
			}
		})
	}
}

func TestAllAtOnceStaysBelowFullScale(t *testing.T) {
	t.Parallel()
	dev := newOffline()
	p := deaf(t, dev.clock)
	for _, name := range cue.Names() {
		p.PlayNow(name)
	}
	dev.run(p.timeline, 2*time.Second, func(time.Duration) {})
	if dev.peak <= knee || dev.peak >= 1 {
		t.Errorf("peak of %d sounds at once is %.6f, want between %v and 1", len(cue.Names()), dev.peak, knee)
	}
}

func TestLimit(t *testing.T) {
	t.Parallel()
	last := -1.0
	for x := -2.0; x <= 2; x += 0.001 {
		y := Limit(x)
		if math.Abs(x) <= knee && y != x {
			t.Errorf("Limit(%v) = %v, want it untouched", x, y)
		}
		if y <= last || math.Abs(y) >= 1 {
			t.Errorf("Limit(%v) = %v, want above %v and within full scale", x, y, last)
		}
		last = y
	}
}

func TestPanicInAPullIsHandedOn(t *testing.T) {
	t.Parallel()
	var got any
	line := NewTimeline(func() time.Duration { panic("clock") }, func(r any) { got = r })
	p := make([][2]float64, 480)
	if n, ok := line.Stream(p); n != 480 || !ok || got != "clock" {
		t.Errorf("Stream = %d, %v with %v handed on, want 480, true with clock", n, ok, got)
	}
	if n, ok := NewTimeline(func() time.Duration { return 0 }, nil).Stream(p); n != 480 || !ok {
		t.Errorf("Stream = %d, %v, want 480, true", n, ok)
	}
}
