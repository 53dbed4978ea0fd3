package sound

import (
	"slices"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

const (
	few    = 9                    // latencies a median is taken of
	prompt = 2 * time.Millisecond // an answer that takes longer tells too little
	steady = time.Millisecond     // a change smaller than this is noise
)

// pace is how long to wait between two measurements: fast at first.
func (s *pulseSink) pace() time.Duration {
	if len(s.heard) < few {
		return 100 * time.Millisecond
	}
	return time.Second
}

// measure asks the server how far behind the stream is heard, with what its
// device, wireless ones among them, adds. It is called between two pulls, so that
// server and timeline speak of the same sample.
func (s *pulseSink) measure() {
	asked := time.Now()
	var got proto.GetPlaybackLatencyReply
	if s.client.Request(&proto.GetPlaybackLatency{StreamIndex: s.stream}, &got) != nil {
		return
	}
	took := time.Since(asked)
	queued := time.Duration(got.WriteIndex-got.ReadIndex) * time.Second / time.Duration(int(Rate)*frameBytes)
	heardIn := queued + time.Duration(got.Latency)*time.Microsecond - took/2
	latency, ok := s.timeline.LatencyFor(heardIn)
	if !ok || !got.Running || took > prompt {
		return
	}
	s.heard = append(s.heard, latency)
	s.heard = s.heard[max(0, len(s.heard)-few):]
	median := slices.Sorted(slices.Values(s.heard))[len(s.heard)/2]
	s.mu.Lock()
	defer s.mu.Unlock()
	if max(median-s.now, s.now-median) > steady {
		s.now = median
	}
}
