package sound

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

const (
	// Ahead is how far ahead of the clock moments are handed to Schedule.
	Ahead = time.Second

	patience = 500 * time.Millisecond // for the first look at the devices
)

// Options is what a Player may be told.
type Options struct {
	Quiet   bool          // no device at all
	Latency time.Duration // heard later than the device says, by a wireless speaker; negative: earlier
	Folder  string        // of one's own NAME.wav; "": none
	OnPanic func(any)     // called instead of crashing where a goroutine of the player panics
}

// Player plays the cues of a class. Its methods may be called from any goroutine.
type Player struct {
	options  Options
	timeline *Timeline
	bank     map[cue.Name][][2]float64
	voice    voice
	ctx      context.Context // of the player's goroutines
	stop     context.CancelFunc
	late     atomic.Int64   // Options.Latency, as it is now
	work     sync.WaitGroup // the player's goroutines

	speaking sync.Mutex // held while the voice is at work

	mu      sync.Mutex
	status  Status
	phrases map[string][][2]float64    // what can be said; nil: not yet, or never
	spoken  map[time.Duration]sentence // what will be said, by the time it is for
}

// NewPlayer returns a Player on a clock of room time, and warnings to show once
// about sounds that cannot be used. The devices were tried when it returns, but for
// one that takes long; Status tells how that went. The clock must be steady and
// safe to call from any goroutine.
func NewPlayer(ctx context.Context, clock func() time.Duration, o Options) (*Player, []error) {
	if o.OnPanic == nil {
		o.OnPanic = func(any) {}
	}
	bank, warnings := loadBank(o.Folder)
	p := &Player{
		options: o, timeline: NewTimeline(clock, o.OnPanic), bank: bank,
		voice: findVoice(), phrases: map[string][][2]float64{}, spoken: map[time.Duration]sentence{},
	}
	p.ctx, p.stop = context.WithCancel(ctx)
	p.Later(o.Latency)
	d := tender{timeline: p.timeline, devices: devices(), extra: func() time.Duration { return time.Duration(p.late.Load()) }, nobody: make([][2]float64, Rate.N(look))}
	if o.Quiet {
		d.devices = nil
	}
	tried := make(chan struct{}, 1)
	p.work.Go(func() {
		defer p.rescue()
		d.run(p.ctx, func(s Status) {
			p.tell(s)
			select {
			case tried <- struct{}{}:
			default:
			}
		})
	})
	select {
	case <-tried:
	case <-time.After(patience):
	}
	return p, warnings
}

// Schedule makes the sounds of these moments, and the words still to come, all
// that is to be heard from now on. Call it every few hundred milliseconds and
// after every event, with what is due from a little before now to Ahead of it;
// what has begun is not begun again.
func (p *Player) Schedule(moments []floor.Moment) {
	now := p.timeline.clock()
	var cues []Cue
	for _, c := range cue.Pick(nil, moments) {
		cues = append(cues, Cue{At: c.At, Name: c.Name, PCM: p.bank[c.Name]})
	}
	p.mu.Lock()
	for _, s := range p.spoken {
		cues = append(cues, s.cues...)
	}
	p.mu.Unlock()
	p.timeline.Schedule(now, cues...)
}

// Hold withdraws every sound and word from room time at on: the clock stopped. A
// tone rings out, a voice is cut off.
func (p *Player) Hold(at time.Duration) {
	if p.mute() {
		p.timeline.Silence()
	}
	p.timeline.CancelAfter(at)
}

// PlayNow plays a sound at once.
func (p *Player) PlayNow(name cue.Name) { p.timeline.PlayNow(p.bank[name]) }

// Later says how much later a speaker is heard than its device says; it counts
// within a quarter of a second.
func (p *Player) Later(d time.Duration) { p.late.Store(int64(d)) }

// ClockJumped tells that room time made a jump, as after a laptop's sleep.
func (p *Player) ClockJumped() { p.timeline.ResetPhase() }

// Status returns how the sound stands.
func (p *Player) Status() Status {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.status
}

func (p *Player) tell(s Status) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.status = s
}

// rescue hands a panic of this goroutine to whoever can put the terminal right.
func (p *Player) rescue() {
	if r := recover(); r != nil {
		p.options.OnPanic(r)
	}
}

// Close stops the sound. Nothing of the Player runs when it returns, and none of
// its methods may be called after it.
func (p *Player) Close() {
	p.stop()
	p.work.Wait()
}
