package main

import (
	"bytes"
	"math"
	"testing"

	"github.com/gopxl/beep/v2/wav"

	"hawser/internal/cue"
	"hawser/sounds"
)

// embedded returns the samples of a built-in sound.
func embedded(t *testing.T, name cue.Name) []float64 {
	t.Helper()
	data, err := sounds.FS.ReadFile(string(name) + ".wav")
	if err != nil {
		t.Fatal(err)
	}
	s, format, err := wav.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if format.SampleRate != rate || format.NumChannels != 1 || format.Precision != 2 {
		t.Fatalf("%s is %+v, want 48 kHz, one channel, 16 bit", name, format)
	}
	block := make([][2]float64, s.Len())
	n, _ := s.Stream(block)
	samples := make([]float64, n)
	for i := range samples {
		samples[i] = block[i][0]
	}
	return samples
}

// Sine and tanh may differ in their last bits from one machine to another, so
// one step of 16 bits is allowed.
func TestFilesAreWhatTheScoreSays(t *testing.T) {
	t.Parallel()
	for _, name := range cue.Names() {
		want, got := sound(name), embedded(t, name)
		if len(got) != len(want) {
			t.Errorf("%s has %d samples, want %d; run go generate ./internal/sound", name, len(got), len(want))
			continue
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1.6/(1<<15) { // a step, and the rounding of the encoder
				t.Errorf("%s sample %d is %v, want %v; run go generate ./internal/sound", name, i, got[i], want[i])
				break
			}
		}
	}
}

// Source: ITU-R BS.1770-4, annex 1: "If a 0 dB FS, 997 Hz sine wave is applied to
// the left, centre, or right channel input, the indicated loudness will equal
// −3.01 LKFS." Here both channels have it: 3.01 dB more.
func TestLoudnessMeterOnTheStandardsOwnTone(t *testing.T) {
	t.Parallel()
	sine := make([]float64, rate)
	sounding := make([]bool, len(sine))
	for i := range sine {
		sine[i] = math.Sin(2 * math.Pi * 997 * float64(i) / rate)
		sounding[i] = true
	}
	if got := loudness(sine, sounding); math.Abs(got) > 0.01 {
		t.Errorf("loudness of the tone on both channels = %.3f LKFS, want 0.00", got)
	}
}

func TestEqualLoudnessAndNoClipping(t *testing.T) {
	t.Parallel()
	for _, name := range cue.Names() {
		samples := embedded(t, name)
		sounding := make([]bool, len(samples))
		for _, seg := range segments(samples) {
			for i := seg.start; i < seg.end; i++ {
				sounding[i] = true
			}
		}
		peak := 0.0
		for _, x := range samples {
			peak = max(peak, math.Abs(x))
		}
		if got := loudness(samples, sounding); math.Abs(got-target) > 0.2 {
			t.Errorf("%s is %.2f LKFS loud, want %.1f ± 0.2", name, got, target)
		}
		if peak >= 0.75 {
			t.Errorf("%s peaks at %.3f, want below the limiter's knee at 0.75", name, peak)
		}
	}
}

// segment is a stretch in which a sound sounds.
type segment struct{ start, end int }

func (s segment) seconds() float64 { return float64(s.end-s.start) / rate }

// segments finds the tones of a sound by its envelope: pauses last 10 ms or more.
func segments(samples []float64) []segment {
	const pause = rate / 100
	var found []segment
	last := -pause - 1
	for i, x := range samples {
		if math.Abs(x) < 0.002 {
			continue
		}
		if i-last > pause {
			found = append(found, segment{start: i})
		}
		last = i
		found[len(found)-1].end = i + 1
	}
	return found
}

// pitch returns the fundamental around sample at: the lag, of 600 to 2000 Hz, at
// which a stretch of 20 ms is most like itself.
func pitch(samples []float64, at int) float64 {
	const window = rate / 50
	at = max(0, min(at, len(samples)-window))
	part := samples[at : at+window]
	best, bestLag := 0.0, 1
	for lag := rate / 2000; lag <= rate/600; lag++ {
		sum, a, b := 0.0, 0.0, 0.0
		for i := range part[lag:] {
			sum += part[i] * part[i+lag]
			a += part[i] * part[i]
			b += part[i+lag] * part[i+lag]
		}
		if r := sum / math.Sqrt(a*b+1e-12); r > best+0.02 {
			best, bestLag = r, lag
		}
	}
	return rate / float64(bestLag)
}

// shape is what tells sounds apart without an ear for pitch.
type shape struct {
	tones   int
	long    int // which of them last over 200 ms, a bit each
	contour int // −1 falling, 0 level, 1 rising, from the first to the last
}

func shapeOf(samples []float64) shape {
	segs := segments(samples)
	s := shape{tones: len(segs)}
	for i, seg := range segs {
		if seg.seconds() > 0.2 {
			s.long |= 1 << i
		}
	}
	const edge = rate / 100 // past attack and release
	first, last := pitch(samples, segs[0].start+edge), pitch(samples, segs[len(segs)-1].end-edge-rate/50)
	switch {
	case last > 1.08*first:
		s.contour = 1
	case last < first/1.08:
		s.contour = -1
	}
	return s
}

func TestNoTwoSoundsHaveOneShape(t *testing.T) {
	t.Parallel()
	want := map[cue.Name]shape{
		cue.Tick: {1, 0, 0}, cue.Go: {1, 1, 1}, cue.OwnStart: {2, 0, 1}, cue.Rest: {1, 1, -1}, cue.Warn: {2, 0, 0},
		cue.StopOver: {3, 0, -1}, cue.RestOver: {2, 2, 1}, cue.Over: {2, 3, -1}, cue.Done: {3, 4, 1},
	}
	taken := map[shape]cue.Name{}
	for _, name := range cue.Names() {
		got := shapeOf(embedded(t, name))
		if got != want[name] {
			t.Errorf("shape of %s = %+v, want %+v", name, got, want[name])
		}
		if other, ok := taken[got]; ok {
			t.Errorf("%s and %s have the same shape", name, other)
		}
		taken[got] = name
	}
}

func TestPitchStaysWhereOldEarsAndLaptopsHearIt(t *testing.T) {
	t.Parallel()
	for _, name := range cue.Names() {
		samples := embedded(t, name)
		for _, seg := range segments(samples) {
			for at := seg.start + rate/200; at+rate/50 < seg.end; at += rate / 100 {
				if hz := pitch(samples, at); hz < 950 || hz > 1575 { // 1000 to 1500 and a twentieth
					t.Errorf("%s has a fundamental of %.0f Hz at %.3f s, want 1000 to 1500", name, hz, float64(at)/rate)
				}
			}
		}
	}
}

// Source: ISO 8201 as described in the Ontario Building Code, appendix
// A-3.2.4.18.(2): 0.5 ± 0.05 s on and 0.5 ± 0.05 s off, three times, then 1.5 s off.
func TestNothingBeginsLikeTheEvacuationSignal(t *testing.T) {
	t.Parallel()
	const least, most = 0.45, 0.55
	within := func(s float64) bool { return s >= least && s <= most }
	count := make([]float64, 5*rate) // 3, 2, 1, GO
	for i, name := range []cue.Name{cue.Tick, cue.Tick, cue.Tick, cue.Go} {
		copy(count[i*rate:], embedded(t, name))
	}
	all := map[cue.Name][]float64{"3, 2, 1, GO": count}
	for _, name := range cue.Names() {
		all[name] = embedded(t, name)
	}
	for name, samples := range all {
		segs := segments(samples)
		for i, seg := range segs {
			if within(seg.seconds()) {
				t.Errorf("%s sounds for %.3f s, want nothing from %v to %v", name, seg.seconds(), least, most)
			}
			if i > 0 && within(segment{segs[i-1].end, seg.start}.seconds()) {
				t.Errorf("%s pauses for about half a second", name)
			}
		}
	}
}
