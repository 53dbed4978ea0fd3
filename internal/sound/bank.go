package sound

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/gopxl/beep/v2"
	"github.com/gopxl/beep/v2/wav"

	"hawser/internal/cue"
	"hawser/sounds"
)

//go:generate go run ./gensounds ../../sounds

const (
	longest = 5 * time.Second // of a sound; what is behind it is cut off
	biggest = 4 << 20         // bytes: 5 s at 96 kHz, two channels, 24 bit, with room to spare
)

var errNotWAV = errors.New("not a WAV file of plain samples")

// loadBank returns the samples of every sound: those of a folder where it has
// them, NAME.wav, else the built-in ones. A file that cannot be used is left, with
// an error to show once; a folder that is not there is not an error.
func loadBank(folder string) (map[cue.Name][][2]float64, []error) {
	bank := map[cue.Name][][2]float64{}
	var problems []error
	for _, name := range cue.Names() {
		file := string(name) + ".wav"
		if own, err := readOwn(folder, file); err != nil {
			problems = append(problems, fmt.Errorf("%w; the built-in sound is used", err))
		} else if own != nil {
			bank[name] = own
			continue
		}
		data, err := sounds.FS.ReadFile(file) // a copy
		if err == nil {
			bank[name], err = decode(data)
		}
		if err != nil {
			problems = append(problems, fmt.Errorf("built-in sound %s: %w", name, err))
		}
	}
	return bank, problems
}

// readOwn returns the samples of a file of one's own, nil where there is none.
func readOwn(folder, file string) ([][2]float64, error) {
	if folder == "" {
		return nil, nil
	}
	f, err := os.Open(filepath.Join(folder, file))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("own sound: %w", err)
	}
	defer func() { _ = f.Close() }()
	data, err := io.ReadAll(io.LimitReader(f, biggest))
	if err != nil {
		return nil, fmt.Errorf("own sound: %w", err)
	}
	pcm, err := decode(data)
	if err != nil {
		return nil, fmt.Errorf("own sound %s: %w", f.Name(), err)
	}
	return pcm, nil
}

// decode returns the samples of a WAV file at Rate. Samples above full scale
// cannot be in one; what a broken header can do to the decoder is caught.
func decode(data []byte) (pcm [][2]float64, err error) {
	defer func() {
		if recover() != nil {
			pcm, err = nil, errNotWAV
		}
	}()
	data, ok := trusted(data)
	if !ok {
		return nil, errNotWAV
	}
	s, format, err := wav.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errNotWAV, err)
	}
	var from beep.Streamer = s
	if format.SampleRate != Rate {
		const quality = 4 // good; what a file is worth
		from = beep.Resample(quality, format.SampleRate, Rate, s)
	}
	from = beep.Take(Rate.N(longest), from)
	block := make([][2]float64, 4096)
	for {
		n, ok := from.Stream(block)
		if !ok {
			break
		}
		pcm = append(pcm, block[:n]...)
	}
	if len(pcm) == 0 {
		return nil, errNotWAV
	}
	return slices.Clip(pcm), nil
}

// trusted returns a WAV file that the decoder can take on trust, as it does: its
// chunks stay within it, its numbers within reason, and its samples are as many
// as it says, what a cut-off file promised and does not hold being left out.
func trusted(data []byte) ([]byte, bool) {
	const head, size, least, most = 12, 8, 4000, 400_000 // bytes; Hz
	if len(data) < head || string(data[:4]) != "RIFF" || string(data[8:head]) != "WAVE" {
		return nil, false
	}
	frame := 0
	for rest := data[head:]; len(rest) >= size; {
		n, body := int(binary.LittleEndian.Uint32(rest[4:])), rest[size:]
		switch chunk := string(rest[:4]); {
		case chunk == "data" && frame > 0:
			n = min(n, len(body)) / frame * frame
			binary.LittleEndian.PutUint32(rest[4:], uint32(n))
			return data, n > 0
		case n+n%2 > len(body):
			return nil, false
		case chunk == "fmt " && n >= 16:
			channels, hz := int(binary.LittleEndian.Uint16(body[2:])), binary.LittleEndian.Uint32(body[4:])
			align, bits := int(binary.LittleEndian.Uint16(body[12:])), int(binary.LittleEndian.Uint16(body[14:]))
			if channels < 1 || channels > 2 || hz < least || hz > most || align != channels*bits/8 {
				return nil, false
			}
			frame = align
		}
		rest = body[n+n%2:]
	}
	return nil, false
}
