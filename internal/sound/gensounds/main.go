// Command gensounds writes the cue sounds into a folder, from the score below.
//
// Meaning is carried by how many tones there are, how long they last and whether
// they rise or fall, never by pitch alone. Every fundamental lies between 1000
// and 1500 Hz: low enough for ears that lost their high notes, high enough for a
// laptop's speaker and for a hall full of bass. Mild harmonics put energy into
// several bands, so that no one noise hides a tone. All are equally loud by the
// K-weighting of ITU-R BS.1770, measured while they sound. No tone lasts near
// half a second: half a second on and off, three times, is the evacuation signal
// of ISO 8201, and a count-in must never begin like it.
//
//	go run ./internal/sound/gensounds sounds
package main

import (
	"fmt"
	"log"
	"math"
	"os"
	"path/filepath"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/wav"

	"hawser/internal/cue"
)

const rate = 48000

// tone is one tone or, without a frequency, a pause.
type tone struct {
	ms       int
	from, to float64 // Hz
}

// score returns every sound.
func score() map[cue.Name][]tone {
	return map[cue.Name][]tone{
		cue.Tick:     {{90, 1000, 1000}},
		cue.Go:       {{400, 1200, 1500}},
		cue.OwnStart: {{80, 1150, 1250}, {ms: 60}, {80, 1400, 1500}},
		cue.Rest:     {{400, 1500, 1000}},
		cue.Warn:     {{110, 1250, 1250}, {ms: 90}, {110, 1250, 1250}},
		cue.StopOver: {{70, 1500, 1400}, {ms: 60}, {70, 1300, 1200}, {ms: 60}, {70, 1100, 1000}},
		cue.RestOver: {{80, 1000, 1100}, {ms: 60}, {300, 1200, 1500}},
		cue.Over:     {{300, 1500, 1300}, {ms: 80}, {300, 1200, 1000}},
		cue.Done:     {{140, 1000, 1000}, {ms: 50}, {140, 1250, 1250}, {ms: 50}, {400, 1500, 1500}},
	}
}

// harmonics returns how strong each multiple of the fundamental is.
func harmonics() [4]float64 { return [...]float64{1, 0.30, 0.18, 0.10} }

func main() {
	if len(os.Args) != 2 {
		log.Fatal("usage: gensounds FOLDER")
	}
	for _, name := range cue.Names() {
		if err := write(filepath.Join(os.Args[1], string(name)+".wav"), sound(name)); err != nil {
			log.Fatal(err)
		}
	}
}

func write(path string, samples []float64) error {
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("write a sound: %w", err)
	}
	format := beep.Format{SampleRate: rate, NumChannels: 1, Precision: 2}
	if err := wav.Encode(f, stream(samples), format); err != nil {
		_ = f.Close()
		return fmt.Errorf("write %s: %w", path, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("write a sound: %w", err)
	}
	return nil
}

// stream plays samples once, on both channels.
func stream(samples []float64) beep.Streamer {
	return beep.StreamerFunc(func(p [][2]float64) (int, bool) {
		n := min(len(p), len(samples))
		for i, x := range samples[:n] {
			p[i] = [2]float64{x, x}
		}
		samples = samples[n:]
		return n, n > 0
	})
}

// sound returns a sound at the loudness that all have.
func sound(name cue.Name) []float64 {
	var samples []float64
	var sounding []bool
	for _, t := range score()[name] {
		for _, x := range t.samples() {
			samples = append(samples, x)
			sounding = append(sounding, t.from > 0)
		}
	}
	gain := math.Pow(10, (target-loudness(samples, sounding))/20)
	for i := range samples {
		samples[i] *= gain
	}
	return samples
}

// samples returns a tone at some loudness. Its pitch moves evenly; the edges are
// raised cosines, steep enough to be heard as the start and soft enough not to click.
func (t tone) samples() []float64 {
	const attack, release = 0.005 * rate, 0.015 * rate
	n := t.ms * rate / 1000
	out := make([]float64, n)
	if t.from == 0 {
		return out
	}
	turn := 0.0
	for i := range out {
		for k, strength := range harmonics() {
			out[i] += strength * math.Sin(2*math.Pi*turn*float64(k+1))
		}
		out[i] = math.Tanh(out[i]) * edge(float64(i)/attack) * edge(float64(n-1-i)/release)
		turn += (t.from + (t.to-t.from)*float64(i)/float64(n)) / rate
	}
	return out
}

// edge rises from 0 at 0 to 1 at 1 and stays there.
func edge(x float64) float64 { return (1 - math.Cos(math.Pi*min(x, 1))) / 2 }
