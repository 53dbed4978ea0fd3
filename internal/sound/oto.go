package sound

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/ebitengine/oto/v3"
)

const (
	channels   = 2
	frameBytes = channels * 4 // 32-bit floats
)

var errSlow = errors.New("the sound device does not answer")

// otoSink is whatever device the system has, through oto: no C compiler is
// needed on any system. It can be opened once in a process, that is how oto is.
type otoSink struct {
	context *oto.Context
	player  *oto.Player
}

func openOto(ctx context.Context, t *Timeline) (sink, error) {
	// ALSA, met by oto on its way, writes dozens of lines to stderr where it
	// finds no card, right into a full screen.
	loud := quietStderr()
	defer loud()
	c, ready, err := oto.NewContext(&oto.NewContextOptions{
		SampleRate:      int(Rate),
		ChannelCount:    channels,
		Format:          oto.FormatFloat32LE,
		BufferSize:      Buffer / 2, // the other half is the player's
		ApplicationName: "hawser",
	})
	if err != nil {
		return nil, fmt.Errorf("open the sound device: %w", err)
	}
	ctx, cancel := context.WithTimeout(ctx, opening)
	defer cancel()
	select {
	case <-ready:
	case <-ctx.Done():
		return nil, errSlow
	}
	if err := c.Err(); err != nil { // NewContext does not tell
		return nil, fmt.Errorf("open the sound device: %w", err)
	}
	player := c.NewPlayer(&reader{from: t})
	player.SetBufferSize(Rate.N(Buffer/2) * frameBytes)
	player.Play()
	return &otoSink{context: c, player: player}, nil
}

// latency returns the buffer: oto does not ask the device for its own.
func (o *otoSink) latency() time.Duration { return Buffer }

func (o *otoSink) err() error {
	if err := o.context.Err(); err != nil {
		return fmt.Errorf("sound device: %w", err)
	}
	return nil
}

func (o *otoSink) close() { o.player.PauseAndStopReading() }

// reader reads a Timeline as bytes: 32-bit floats, little endian, both channels.
type reader struct {
	from  *Timeline
	full  int // samples that the device holds once it has what it asked for; 0: not known
	block [][2]float64
}

func (r *reader) Read(p []byte) (int, error) {
	n := len(p) / frameBytes
	for len(r.block) < n {
		r.block = append(r.block, [2]float64{})
	}
	held := time.Duration(0)
	if r.full > 0 {
		held = lasts(r.full - n)
	}
	r.from.pull(r.block[:n], held)
	for i, s := range r.block[:n] {
		binary.LittleEndian.PutUint32(p[frameBytes*i:], math.Float32bits(float32(s[0])))
		binary.LittleEndian.PutUint32(p[frameBytes*i+4:], math.Float32bits(float32(s[1])))
	}
	return n * frameBytes, nil
}
