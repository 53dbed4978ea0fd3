package sound

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"hawser/internal/cue"
)

const (
	sayWithin = 3 * time.Second        // a voice that takes longer for a phrase is left
	breath    = 300 * time.Millisecond // between the last word and the first tick
	voicePeak = 0.7                    // below the knee, like the cues
)

var errNoVoice = errors.New("no voice on this machine; espeak-ng would be one")

// voice is a program of the system that turns a phrase into a WAV file.
type voice func(ctx context.Context, text, file string) *exec.Cmd

// findVoice returns the voice of this machine, nil where it has none. No shell
// sees the text, and no text is taken for an option.
func findVoice() voice {
	if path, err := exec.LookPath("espeak-ng"); err == nil {
		return func(ctx context.Context, text, file string) *exec.Cmd {
			return exec.CommandContext(ctx, path, "-a", "120", "-w", file, "--", text)
		}
	}
	if path, err := exec.LookPath("say"); err == nil { // macOS
		return func(ctx context.Context, text, file string) *exec.Cmd {
			cmd := exec.CommandContext(ctx, path, "-o", file, "--file-format=WAVE", "--data-format=LEI16@22050", "-f", "-")
			cmd.Stdin = strings.NewReader(text)
			return cmd
		}
	}
	return nil
}

// say returns the samples of a phrase, as loud as a cue, without the silence
// before and behind it.
func (v voice) say(ctx context.Context, text string) ([][2]float64, error) {
	if v == nil {
		return nil, errNoVoice
	}
	folder, err := os.MkdirTemp("", "hawser-")
	if err != nil {
		return nil, fmt.Errorf("speak: %w", err)
	}
	defer func() { _ = os.RemoveAll(folder) }()
	ctx, cancel := context.WithTimeout(ctx, sayWithin)
	defer cancel()
	file := filepath.Join(folder, "say.wav")
	if err := v(ctx, text, file).Run(); err != nil {
		return nil, fmt.Errorf("speak: %w", err)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("speak: %w", err)
	}
	pcm, err := decode(data)
	if err != nil {
		return nil, fmt.Errorf("speak: %w", err)
	}
	return level(pcm), nil
}

// level trims silence from both ends and brings the peak to voicePeak.
func level(pcm [][2]float64) [][2]float64 {
	const silent = 0.005
	peak, first, last := 0.0, -1, 0
	for i, s := range pcm {
		a := math.Abs(s[0])
		peak = max(peak, a)
		if a > silent {
			if first < 0 {
				first = i
			}
			last = i + 1
		}
	}
	if first < 0 {
		return nil
	}
	pcm = pcm[first:last]
	for i := range pcm {
		pcm[i][0] *= voicePeak / peak
		pcm[i][1] *= voicePeak / peak
	}
	return pcm
}

// Prepare turns phrases into sound in the background, for Say. Without a voice on
// this machine, or where it fails, they stay unsaid: the tones say the rest.
func (p *Player) Prepare(phrases []string) {
	p.work.Go(func() {
		defer p.rescue()
		for _, text := range phrases {
			pcm, err := p.voice.say(p.ctx, text)
			if err != nil {
				return
			}
			p.mu.Lock()
			p.phrases[text] = pcm
			p.mu.Unlock()
		}
	})
}

// Say says a prepared phrase so that it ends shortly before a room time, that of
// the first tick. It reports whether it will: not where the phrase is not ready,
// or too long for what is left. Saying it twice says it once.
func (p *Player) Say(text string, before time.Duration) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	pcm := p.phrases[text]
	c := Cue{At: before - breath - lasts(len(pcm)), Name: cue.Name("say " + text), PCM: pcm}
	if slices.ContainsFunc(p.spoken, c.is) {
		return true
	}
	if len(pcm) == 0 || c.At < p.timeline.clock() {
		return false
	}
	p.spoken = append(p.spoken, c)
	return true
}
