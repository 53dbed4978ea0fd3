package sound

import (
	"time"

	"github.com/jfreymuth/pulse/proto"
)

const (
	asking = 50 * time.Millisecond // between two questions
	prompt = 2 * time.Millisecond  // an answer that takes longer tells too little
)

// ask asks the server how much of the stream is still to be heard, with what its
// device, wireless ones among them, adds. Pulls come when the server and then this
// program get their turn on a busy machine; its answer has the time at which it was
// true. It is called between two pulls, so that server and timeline speak of the same
// sample.
func (s *pulseSink) ask() {
	asked := time.Now()
	var got proto.GetPlaybackLatencyReply
	if s.client.Request(&proto.GetPlaybackLatency{StreamIndex: s.stream}, &got) != nil {
		return
	}
	came := time.Now()
	took := came.Sub(asked)
	if !got.Running || took > prompt {
		return
	}
	stamp := time.Unix(int64(got.ReplyTime.Seconds), int64(got.ReplyTime.Microseconds)*int64(time.Microsecond))
	ago := came.Round(0).Sub(stamp)
	if ago < 0 || ago > took { // the clock of another machine
		ago = took / 2
	}
	ago += time.Since(came)
	at := s.timeline.clock() - ago // the clock last: late is allowed, early is not
	queued := time.Duration(got.WriteIndex-got.ReadIndex) * time.Second / time.Duration(int(Rate)*frameBytes)
	s.timeline.heard(at, queued+time.Duration(got.Latency)*time.Microsecond)
}
