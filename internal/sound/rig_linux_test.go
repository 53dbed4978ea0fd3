package sound

import (
	"encoding/binary"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"testing"
	"time"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

// rig is a private PulseAudio server with a sink that nobody hears and a recorder
// at its end, both with the priority that a desktop gives its sound server where
// they may have it, so that what is measured is the player. It is for measuring, by
// hand, on a machine with pulseaudio and pulseaudio-utils; a busy machine makes its
// figures worse, so that nothing of it is asked of a plain test run:
//
//	HAWSER_RIG=60s go test ./internal/sound -run Rig -v
type rig struct {
	folder string
	start  time.Time
	server *exec.Cmd
	up     time.Time // when the server began to answer

	mu      sync.Mutex
	samples []int16 // left channel
	reads   []read
}

// read is a piece of recording: how many samples there were after it, and when.
type read struct {
	samples int
	at      time.Duration
}

func newRig(t *testing.T) (*rig, time.Duration) {
	t.Helper()
	length, err := time.ParseDuration(os.Getenv("HAWSER_RIG"))
	if err != nil {
		t.Skip("HAWSER_RIG is not set to how long to play")
	}
	r := &rig{folder: t.TempDir(), start: time.Now()}
	for _, v := range []string{"XDG_RUNTIME_DIR", "PULSE_RUNTIME_PATH", "PULSE_STATE_PATH"} {
		t.Setenv(v, r.folder)
	}
	t.Setenv("PULSE_COOKIE", filepath.Join(r.folder, "cookie"))
	t.Setenv("PULSE_SERVER", "unix:"+filepath.Join(r.folder, "native"))
	r.serve(t)
	t.Cleanup(func() { r.kill() })
	return r, length
}

// serve starts a server and a recorder, and waits until both are at work.
func (r *rig) serve(t *testing.T) {
	t.Helper()
	r.server = exec.Command("pulseaudio", "-n", "--daemonize=no", "--use-pid-file=no", "--exit-idle-time=-1",
		"--disable-shm=yes", "--realtime=yes", "--high-priority=yes", "--log-target=file:"+filepath.Join(r.folder, "log"),
		"-L", "module-native-protocol-unix auth-anonymous=1 socket="+filepath.Join(r.folder, "native"),
		"-L", "module-null-sink sink_name=rig rate=48000 channels=2 format=s16le")
	if err := r.server.Start(); err != nil {
		t.Fatal(err)
	}
	for exec.Command("pactl", "info").Run() != nil {
		time.Sleep(20 * time.Millisecond)
	}
	r.up = time.Now()
	rec := exec.Command("parec", "-d", "rig.monitor", "--raw", "--format=s16le", "--rate=48000", "--channels=2", "--latency-msec=10")
	out, err := rec.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := rec.Start(); err != nil {
		t.Fatal(err)
	}
	_ = syscall.Setpriority(syscall.PRIO_PROCESS, rec.Process.Pid, -15)
	r.samples, r.reads = nil, nil
	first := make(chan struct{})
	go r.record(out, first)
	t.Cleanup(func() { _ = rec.Process.Kill(); _ = rec.Wait() })
	<-first
}

func (r *rig) record(from io.Reader, first chan struct{}) {
	p := make([]byte, 1<<14)
	odd := 0
	for {
		n, err := from.Read(p[odd:])
		if err != nil {
			return
		}
		n += odd
		r.mu.Lock()
		for i := 0; i+4 <= n; i += 4 {
			r.samples = append(r.samples, int16(binary.LittleEndian.Uint16(p[i:])))
		}
		r.reads = append(r.reads, read{len(r.samples), time.Since(r.start)})
		if len(r.reads) == 1 {
			close(first)
		}
		r.mu.Unlock()
		odd = copy(p, p[n/4*4:n])
	}
}

func (r *rig) kill() {
	_ = r.server.Process.Kill()
	_ = r.server.Wait()
}

// heard returns when sounds began. A read of the recorder is never early: the clock
// of the recording is the highest line that lies under all reads of some seconds
// around the sound, so that a fast or slow sink does not blur it.
func (r *rig) heard() []time.Duration {
	r.mu.Lock()
	defer r.mu.Unlock()
	var all []time.Duration
	last := -quiet - 1
	for i, s := range r.samples {
		if math.Abs(float64(s)/(1<<15)) <= loud {
			continue
		}
		if i-last > quiet {
			all = append(all, r.under(i)+lasts(i))
		}
		last = i
	}
	return all
}

// under is the height at sample i of the lower hull of the reads within four seconds
// of it, each read being as high as it came after the time of its last sample.
func (r *rig) under(i int) time.Duration {
	var hull []read
	height := func(a read) float64 { return float64(a.at - lasts(a.samples)) }
	for _, rd := range r.reads {
		if rd.samples < i-4*int(Rate) || rd.samples > i+4*int(Rate) {
			continue
		}
		for len(hull) > 1 {
			a, b := hull[len(hull)-2], hull[len(hull)-1]
			if (height(b)-height(a))*float64(rd.samples-a.samples) < (height(rd)-height(a))*float64(b.samples-a.samples) {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, rd)
	}
	for k := 1; k < len(hull); k++ {
		if a, b := hull[k-1], hull[k]; b.samples >= i {
			return time.Duration(height(a) + (height(b)-height(a))*float64(i-a.samples)/float64(b.samples-a.samples))
		}
	}
	return time.Duration(height(hull[len(hull)-1]))
}

// play plays counts through a player and logs how far the onsets are from their times.
func (r *rig) play(t *testing.T, length time.Duration) {
	t.Helper()
	clock := func() time.Duration { return time.Since(r.start) }
	p, _ := NewPlayer(t.Context(), clock, Options{})
	defer p.Close()
	if p.Status().State != On {
		t.Fatalf("status = %+v, want %v", p.Status(), On)
	}
	begin := clock()
	var moments []floor.Moment
	for i, m := range counts(length, 0) {
		m.At += begin + 2*time.Second + time.Duration(i%4*i*7919%100_000)*time.Microsecond
		moments = append(moments, m)
	}
	for clock() < begin+length+3*time.Second {
		p.Schedule(due(moments, clock()-cue.Together))
		time.Sleep(100 * time.Millisecond)
	}
	var offs []float64
	heard := r.heard()
	for _, m := range moments {
		attack := lasts(attack(p.bank[cue.Of(m.Kind)]))
		for _, h := range heard {
			if off := h - attack - m.At; off > -100*time.Millisecond && off < 400*time.Millisecond {
				offs = append(offs, off.Seconds()*1000)
				break
			}
		}
	}
	if len(offs) < len(moments) {
		t.Errorf("%d of %d onsets heard", len(offs), len(moments))
	}
	logSpread(t, offs)
}

func logSpread(t *testing.T, ms []float64) {
	t.Helper()
	if len(ms) == 0 {
		return
	}
	sorted := slices.Sorted(slices.Values(ms))
	median := sorted[len(sorted)/2]
	sum, mean := 0.0, 0.0
	for _, x := range ms {
		mean += x / float64(len(ms))
	}
	var devs []float64
	for _, x := range ms {
		sum += (x - mean) * (x - mean)
		devs = append(devs, math.Abs(x-median))
	}
	slices.Sort(devs)
	t.Logf("%d onsets, in ms: median %.3f, sd %.3f; from the median: 95 %% within %.3f, worst %.3f",
		len(ms), median, math.Sqrt(sum/float64(len(ms))), devs[len(devs)*95/100], devs[len(devs)-1])
}

//nolint:paralleltest // the server is named in the environment
func TestRig(t *testing.T) {
	r, length := newRig(t)
	r.play(t, length)
}

//nolint:paralleltest // the server is named in the environment
func TestRigBusy(t *testing.T) {
	r, length := newRig(t)
	for range 2 {
		loop := exec.Command("sh", "-c", "while :; do :; done")
		if err := loop.Start(); err != nil {
			t.Fatal(err)
		}
		defer func() { _ = loop.Process.Kill(); _ = loop.Wait() }()
	}
	r.play(t, length/2)
}

// How long the sound is away when the server was killed and is there again.
//
//nolint:paralleltest // the server is named in the environment
func TestRigLost(t *testing.T) {
	r, _ := newRig(t)
	p, _ := NewPlayer(t.Context(), func() time.Duration { return time.Since(r.start) }, Options{})
	defer p.Close()
	until := func(s State) time.Duration {
		from := time.Now()
		for p.Status().State != s {
			time.Sleep(5 * time.Millisecond)
		}
		return time.Since(from)
	}
	until(On)
	time.Sleep(3 * time.Second)
	r.kill()
	t.Logf("lost after %v", until(Lost))
	time.Sleep(2 * time.Second)
	found := make(chan time.Time)
	go func() { until(On); found <- time.Now() }()
	r.serve(t)
	t.Logf("found %v after the server answered", (<-found).Sub(r.up))
	back := time.Since(r.start)
	p.PlayNow(cue.Tick)
	time.Sleep(time.Second)
	if heard := r.heard(); len(heard) != 1 {
		t.Errorf("heard %v, want one tick", heard)
	} else {
		t.Logf("heard %v after", heard[0]-back)
	}
}
