package sound

import (
	"context"
	"errors"
	"fmt"
	"net"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// devices lists the kinds of device, best first: a sound server that can be
// found again after it was lost, then whatever else there is.
func devices() []device {
	return []device{{open: openPulse, again: true}, {open: openOto}}
}

var errKilled = errors.New("the sound server is gone")

// pulseSink is a stream to a PulseAudio server, or to PipeWire behaving as one.
// It speaks the protocol itself, below the library's own streams: those cannot be
// closed safely while the server asks for sound, nor tell the latency.
type pulseSink struct {
	timeline *Timeline
	client   *proto.Client
	conn     net.Conn
	stream   uint32

	wanted atomic.Int64  // bytes the server has asked for
	wake   chan struct{} // holds one when wanted grew
	stop   chan struct{}
	done   chan struct{}

	mu    sync.Mutex
	fault error
}

func openPulse(ctx context.Context, t *Timeline) (sink, error) {
	client, conn, err := connect(ctx)
	if err != nil {
		return nil, fmt.Errorf("find a sound server: %w", err)
	}
	s := &pulseSink{
		timeline: t, client: client, conn: conn,
		wake: make(chan struct{}, 1), stop: make(chan struct{}), done: make(chan struct{}),
	}
	client.Callback = s.met
	if err := s.create(); err != nil {
		_ = conn.Close()
		return nil, fmt.Errorf("open a sound stream: %w", err)
	}
	go s.fill()
	return s, nil
}

// connect finds the server. One on another machine may never answer, and the
// library would wait for it; here nobody does.
func connect(ctx context.Context) (*proto.Client, net.Conn, error) {
	type answer struct {
		client *proto.Client
		conn   net.Conn
		err    error
	}
	ctx, cancel := context.WithTimeout(ctx, opening)
	defer cancel()
	answers := make(chan answer)
	go func() {
		client, conn, err := proto.Connect("")
		select {
		case answers <- answer{client, conn, err}:
		case <-ctx.Done():
			if err == nil {
				_ = conn.Close()
			}
		}
	}()
	select {
	case a := <-answers:
		return a.client, a.conn, a.err
	case <-ctx.Done():
		return nil, nil, errSlow
	}
}

// create asks the server for a stream. Its first wish for sound is in the answer.
func (s *pulseSink) create() error {
	name := proto.PropList{"application.name": proto.PropListString("hawser"), "media.name": proto.PropListString("cues")}
	if err := s.client.Request(&proto.SetClientName{Props: name}, &proto.SetClientNameReply{}); err != nil {
		return err //nolint:wrapcheck // the caller says what was being done
	}
	bytes := uint32(Rate.N(Buffer) * frameBytes)
	ask := proto.CreatePlaybackStream{
		SampleSpec:            proto.SampleSpec{Format: proto.FormatFloat32LE, Channels: channels, Rate: uint32(Rate)},
		ChannelMap:            proto.ChannelMap{proto.ChannelLeft, proto.ChannelRight},
		ChannelVolumes:        proto.ChannelVolumes{0x10000, 0x10000},
		SinkIndex:             proto.Undefined,
		BufferMaxLength:       2 * bytes,
		BufferTargetLength:    bytes,
		BufferPrebufferLength: 0, // having run dry it goes on in time: what comes too late is not heard, all else is
		BufferMinimumRequest:  proto.Undefined,
		AdjustLatency:         true,
		Properties:            name,
	}
	var got proto.CreatePlaybackStreamReply
	if err := s.client.Request(&ask, &got); err != nil {
		return err //nolint:wrapcheck // the caller says what was being done
	}
	s.stream = got.StreamIndex
	s.want(int(got.Missing))
	return nil
}

// met takes what the server says by itself; it runs on the connection's goroutine.
func (s *pulseSink) met(message any) {
	switch m := message.(type) {
	case *proto.Request:
		s.want(int(m.Length))
	case *proto.PlaybackStreamKilled, *proto.ConnectionClosed:
		s.fail(errKilled)
	}
}

func (s *pulseSink) want(bytes int) {
	s.wanted.Add(int64(bytes))
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// fill sends what the server asks for.
func (s *pulseSink) fill() {
	defer close(s.done)
	r := reader{from: s.timeline, full: Rate.N(Buffer)}
	var block []byte
	var asked time.Time
	for {
		select {
		case <-s.stop:
			return
		case <-s.wake:
		}
		n := int(s.wanted.Swap(0)) / frameBytes * frameBytes
		if n == 0 {
			continue
		}
		block = slices.Grow(block[:0], n)[:n]
		_, _ = r.Read(block)
		if err := s.client.Send(s.stream, block); err != nil {
			s.fail(errKilled)
			return
		}
		if time.Since(asked) > asking {
			asked = time.Now()
			s.ask()
		}
	}
}

func (s *pulseSink) fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fault = err
}

// latency returns 0: see ask.
func (s *pulseSink) latency() time.Duration { return 0 }

func (s *pulseSink) err() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.fault
}

func (s *pulseSink) close() {
	close(s.stop)
	_ = s.conn.Close() // ends the connection's goroutine too
	<-s.done
}
