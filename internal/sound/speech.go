package sound

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

const (
	sayWithin = 3 * time.Second        // a voice that takes longer for a phrase is left
	breath    = 300 * time.Millisecond // between the last word and the first tick
	pause     = 200 * time.Millisecond // between two phrases
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
			return exec.CommandContext(ctx, path, "-a", "120", "-s", "190", "-w", file, "--", text)
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

// sentence is words for the starts at one time, one after the other so that the last ends
// shortly before it.
type sentence struct {
	words []cue.Said
	cues  []Cue // as many of the words as there was time for
}

func (s *sentence) ends() time.Duration {
	last := s.cues[len(s.cues)-1]
	return last.At + lasts(len(last.PCM))
}

// Speak makes these words all that is to be said. They are turned into sound in the
// background as soon as they are first named, and said so that all before one time
// are out in time: in brief where they are too long, so that everyone is named. What
// is not ready, or finds no time, stays unsaid: the tones say the rest. Naming the
// same words again changes nothing.
func (p *Player) Speak(words []cue.Said) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.voice == nil {
		return
	}
	now := p.timeline.clock()
	wanted := map[time.Duration][]cue.Said{}
	for _, w := range words {
		p.prepare(w.Text)
		p.prepare(w.Brief)
		if w.Before != floor.None {
			wanted[w.Before] = append(wanted[w.Before], w)
		}
	}
	maps.DeleteFunc(p.spoken, func(before time.Duration, s sentence) bool {
		begun := s.cues[0].At <= now
		return begun && s.ends() < now || !begun && !slices.Equal(s.words, wanted[before])
	})
	for _, before := range slices.Sorted(maps.Keys(wanted)) {
		if _, stands := p.spoken[before]; !stands {
			p.fit(wanted[before], now, before)
		}
	}
}

// fit plans a sentence: in full, in brief where not all of it fits, and without its
// last words where time is too short for that.
func (p *Player) fit(words []cue.Said, now, before time.Duration) {
	free := now
	for _, s := range p.spoken {
		free = max(free, s.ends()+pause)
	}
	var full, brief []string
	for _, w := range words {
		full, brief = append(full, w.Text), append(brief, w.Brief)
	}
	cues, ready := p.lay(full, free, before-breath)
	if ready && len(cues) < len(full) {
		cues, ready = p.lay(brief, free, before-breath)
	}
	if ready && len(cues) > 0 {
		p.spoken[before] = sentence{words, cues}
	}
}

// lay puts phrases one after the other between two times, the last of them up to the
// end and as many as there is room for; false while one that has room is not ready.
func (p *Player) lay(texts []string, free, end time.Duration) ([]Cue, bool) {
	var cues []Cue
	at := end
	for _, text := range texts {
		pcm := p.phrases[text]
		if len(pcm) == 0 {
			return nil, false
		}
		if at -= lasts(len(pcm)); at < free {
			break
		}
		at -= pause
		cues = append(cues, Cue{Name: cue.Name("say " + text), PCM: pcm})
	}
	at = end
	for i := range slices.Backward(cues) {
		at -= lasts(len(cues[i].PCM))
		cues[i].At = at
		at -= pause
	}
	return cues, true
}

// prepare turns a phrase into sound in the background, once.
func (p *Player) prepare(text string) {
	if _, known := p.phrases[text]; known {
		return
	}
	p.phrases[text] = nil
	p.work.Go(func() {
		defer p.rescue()
		p.speaking.Lock() // one at a time: the class comes first
		pcm, err := p.voice.say(p.ctx, text)
		p.speaking.Unlock()
		if err != nil {
			return
		}
		p.mu.Lock()
		defer p.mu.Unlock()
		p.phrases[text] = pcm
	})
}

// mute takes back all words and reports whether some are being said.
func (p *Player) mute() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.timeline.clock()
	said := false
	for _, s := range p.spoken {
		said = said || s.cues[0].At-Buffer <= now && now <= s.ends()
	}
	clear(p.spoken)
	return said
}
