package sound

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hawser/internal/cue"
)

// wave returns a WAV file of that many samples of half scale, one channel, 16 bit.
func wave(hz, samples int) []byte {
	var b bytes.Buffer
	put := func(v ...any) {
		for _, x := range v {
			_ = binary.Write(&b, binary.LittleEndian, x) // to memory
		}
	}
	b.WriteString("RIFF")
	put(uint32(36 + 2*samples))
	b.WriteString("WAVEfmt ")
	put(uint32(16), uint16(1), uint16(1), uint32(hz), uint32(2*hz), uint16(2), uint16(16))
	b.WriteString("data")
	put(uint32(2 * samples))
	for range samples {
		put(int16(1 << 14))
	}
	return b.Bytes()
}

func TestOwnSounds(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	for name, data := range map[string][]byte{
		"go.wav":   wave(48000, 960),
		"rest.wav": wave(44100, 44100),
		"warn.wav": wave(48000, 10*48000),
		"tick.wav": []byte("not a sound"),
		"done.wav": wave(48000, 480)[:44+2*100], // cut off
	} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	builtIn, problems := loadBank("")
	if problems != nil {
		t.Fatal(problems)
	}
	bank, problems := loadBank(folder)
	if len(problems) != 1 || !strings.Contains(problems[0].Error(), "tick.wav") {
		t.Errorf("problems = %v, want one, with tick.wav", problems)
	}
	tests := []struct {
		name        cue.Name
		least, most int
	}{
		{cue.Go, 960, 960},
		{cue.Rest, Rate.N(990 * time.Millisecond), Rate.N(1010 * time.Millisecond)},
		{cue.Warn, Rate.N(5 * time.Second), Rate.N(5 * time.Second)},
		{cue.Tick, len(builtIn[cue.Tick]), len(builtIn[cue.Tick])},
		{cue.Done, 100, 100},
		{cue.Over, len(builtIn[cue.Over]), len(builtIn[cue.Over])},
	}
	for _, tt := range tests {
		if n := len(bank[tt.name]); n < tt.least || n > tt.most {
			t.Errorf("%s has %d samples, want %d to %d", tt.name, n, tt.least, tt.most)
		}
	}
	if _, problems := loadBank(filepath.Join(folder, "nowhere")); problems != nil {
		t.Errorf("a folder that is not there: %v, want no problem", problems)
	}
}

func FuzzDecode(f *testing.F) {
	good := wave(48000, 50)
	f.Add(good)
	f.Add(wave(8000, 10))
	f.Add(good[:30])
	f.Add([]byte("RIFF\x00\x00\x00\x00WAVE"))
	f.Fuzz(func(t *testing.T, data []byte) {
		pcm, err := decode(bytes.Clone(data))
		if (err == nil) != (len(pcm) > 0) {
			t.Errorf("decode = %d samples and %v, want either", len(pcm), err)
		}
		if len(pcm) > Rate.N(longest) {
			t.Errorf("decode = %d samples, want at most %v", len(pcm), longest)
		}
	})
}
