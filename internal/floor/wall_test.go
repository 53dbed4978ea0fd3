package floor

import (
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestWhatTheWallSays: phase, round, what is left and when the class ends, in seconds from GO,
// in each kind of clock, with heats and with another part to come.
func TestWhatTheWallSays(t *testing.T) {
	t.Parallel()
	const no = -1 // no boundary, no end
	every := everyMinute(2)
	amrap := session.Part{Format: session.Amrap, Cap: 2 * time.Minute, CountIn: 10 * time.Second}
	bouts := session.Part{Format: session.Intervals, Work: 20 * time.Second, Rest: 40 * time.Second, Rounds: 2, CountIn: 10 * time.Second}
	race := session.Part{Format: session.ForTime, Cap: time.Minute, CountIn: 10 * time.Second}
	waves := session.Part{Format: session.ForTime, Cap: time.Minute, WaveEvery: 30 * time.Second, CountIn: 10 * time.Second}
	sets := session.Part{Format: session.Sets, Sets: 2, Rest: time.Minute, CountIn: 10 * time.Second}
	type look struct {
		at           int
		phase        Phase
		part, heat   int
		round        int
		left         int
		up           bool
		next, ending int
	}
	for _, c := range []struct {
		says   string
		parts  []session.Part
		people []string
		looks  []look
	}{
		{"two heats by the minute", []session.Part{every}, []string{"Ada=A", "Bo=B/2"}, []look{
			{-5, CountIn, 1, 1, 0, 5, false, 0, 420},
			{0, Working, 1, 1, 1, 60, false, 60, 420},
			{60, Working, 1, 1, 2, 60, false, 120, 420},
			{120, Changing, 1, 1, 2, 180, false, 300, 420},
			{300, Working, 1, 2, 1, 60, false, 360, 420},
			{419, Working, 1, 2, 2, 1, false, 420, 420},
			{420, Over, 1, 2, 0, 0, false, no, 420},
		}},
		{"two parts", []session.Part{every, amrap}, []string{"Ada=A", "Bo=B"}, []look{
			{30, Working, 1, 1, 1, 30, false, 60, 420},
			{130, Changing, 1, 1, 0, 170, false, 300, 420},
			{310, Working, 2, 1, 0, 110, false, 420, 420},
		}},
		{"two parts of two heats", []session.Part{every, amrap}, []string{"Ada=A", "Bo=B/2"}, []look{
			{30, Working, 1, 1, 1, 30, false, 60, 1020},
			{330, Working, 1, 2, 1, 30, false, 360, 1020},
			{605, Working, 2, 1, 0, 115, false, 720, 1020},
			{720, Changing, 2, 1, 0, 180, false, 900, 1020},
			{1019, Working, 2, 2, 0, 1, false, 1020, 1020},
		}},
		{"bouts", []session.Part{bouts}, []string{"Ada=A", "Bo=B/2"}, []look{
			{19, Working, 1, 1, 1, 1, false, 20, 340},
			{20, Resting, 1, 1, 1, 40, false, 60, 340},
			{60, Working, 1, 1, 2, 20, false, 80, 340},
			{80, Changing, 1, 1, 2, 180, false, 260, 340},
			{340, Over, 1, 1, 0, 0, false, no, 340},
		}},
		{"for time, alone in the heat", []session.Part{race}, []string{"Ada=A", "Bo=B"}, []look{
			{10, Working, 1, 1, 0, 50, false, 60, 60},
			{59, Working, 1, 1, 0, 1, false, 60, 60},
			{60, Over, 1, 1, 0, 0, false, no, 60},
		}},
		{"for time in heats counts up", []session.Part{race}, []string{"Ada=A", "Bo=B/2"}, []look{{10, Working, 1, 1, 0, 10, true, no, 300}, {70, Changing, 1, 1, 0, 170, false, 240, 300}, {250, Working, 1, 2, 0, 10, true, no, 300}}},
		{"for time in waves counts up", []session.Part{waves}, []string{"Ada=A", "Bo=B"}, []look{{10, Working, 1, 1, 0, 10, true, no, 60}}},
		{"sets count up, and nobody knows the end", []session.Part{sets, every}, []string{"Ada=A", "Bo=B"}, []look{
			{-10, CountIn, 1, 1, 0, 10, false, 0, no},
			{0, Working, 1, 1, 0, 0, true, no, no},
			{95, Working, 1, 1, 0, 95, true, no, no},
		}},
	} {
		r := begin(t, ScenePlan(t, c.parts, c.people))
		for _, l := range c.looks {
			at := time.Duration(l.at) * time.Second
			_ = r.do(at, Sleep{})
			f := r.s.Face(r.zero + at)
			secs := func(x time.Duration) int {
				if x == None {
					return no
				}
				return int((x - r.zero).Seconds())
			}
			got := look{l.at, f.Phase, f.Part, f.Heat, f.Round, int(f.Left.Seconds()), f.Up, secs(f.Next), secs(f.Ends)}
			if got != l {
				t.Errorf("%s: at %d s the wall says %+v, want %+v", c.says, l.at, got, l)
			}
		}
	}
}

// TestStartsOfThePart: the starts of all heats up to now, that of this instant among them; none
// of a part that is not there or has not begun, and none after an early end.
func TestStartsOfThePart(t *testing.T) {
	t.Parallel()
	r := begin(t, ScenePlan(t, []session.Part{everyMinute(2), {Format: session.Sets, Sets: 1}}, []string{"Ada=A", "Bo=B/2"}))
	for _, c := range []struct {
		at, part int
		want     []int
	}{
		{0, 0, nil},
		{0, 3, nil},
		{0, 2, nil},
		{-1, 1, nil},
		{0, 1, []int{0}},
		{59, 1, []int{0}},
		{60, 1, []int{0, 60}},
		{299, 1, []int{0, 60}},
		{300, 1, []int{0, 60, 300}},
		{400, 1, []int{0, 60, 300, 360}},
		{700, 2, []int{600}},
	} {
		at := time.Duration(c.at) * time.Second
		_ = r.do(at, Sleep{})
		got := r.s.Starts(c.part, r.zero+at)
		same := len(got) == len(c.want)
		for i := range min(len(got), len(c.want)) {
			same = same && got[i]-r.zero == time.Duration(c.want[i])*time.Second
		}
		if !same {
			t.Errorf("the starts of part %d at %d s are %v, want %v", c.part, c.at, got, c.want)
		}
	}
	early := begin(t, one(everyMinute(5), "Ada", "A"))
	early.must("1:00", Skip{})
	if got := early.s.Starts(1, early.zero+time.Hour); len(got) != 1 {
		t.Errorf("a part that ended as its second round began has the starts %v, want the first alone", got)
	}
}

// TestSessionClock: it stands from the instant of a stop to the instant of the next start.
func TestSessionClock(t *testing.T) {
	t.Parallel()
	s := New()
	s.holds = []hold{{from: 10, to: 20, at: 10}, {from: 30, to: 50, at: 20}}
	for _, c := range []struct{ at, clock, after, stopped time.Duration }{
		{9, 9, 9, 9},
		{10, 10, 20, 10},
		{19, 10, 20, 10},
		{20, 10, 20, 20},
		{21, 11, 21, 21},
		{29, 19, 29, 29},
		{30, 20, 50, 30},
		{49, 20, 50, 30},
		{50, 20, 50, 50},
		{60, 30, 60, 60},
	} {
		if clock, after, stopped := s.clock(c.at), s.afterHold(c.at), s.stoppedAt(c.at); clock != c.clock || after != c.after || stopped != c.stopped {
			t.Errorf("at %d the clock reads %d, runs at %d, and stands since %d; want %d, %d, %d", c.at, clock, after, stopped, c.clock, c.after, c.stopped)
		}
		if held := s.held(c.at); held != (c.at >= 30 && c.at < 50) {
			t.Errorf("at %d the last stop holds: %v", c.at, held)
		}
	}
	for _, c := range []struct{ clock, room time.Duration }{{9, 9}, {10, 20}, {11, 21}, {19, 29}, {20, 50}, {25, 55}} {
		if got := s.room(c.clock, 60); got != c.room {
			t.Errorf("the clock reads %d at %d, want %d", c.clock, got, c.room)
		}
	}
	s.holds = append(s.holds, hold{from: 60, to: None, at: 30})
	if at, run := s.clock(99), s.room(35, 99); at != 30 || run != 104 || s.afterHold(70) != None || s.stoppedAt(70) != 60 || !s.held(1000) {
		t.Errorf("in a stop that lasts the clock reads %d and would read 35 at %d", at, run)
	}
}

// TestOrderOnASled: people go in the order that their places say, by the list where that is the
// same, and whoever is moved goes behind.
func TestOrderOnASled(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: measure.Whole, Rounds: 1}
	for _, c := range []struct {
		order [3]int
		want  string
	}{{[3]int{0, 1, 2}, "Ada Bo Cleo"}, {[3]int{2, 1, 0}, "Cleo Bo Ada"}, {[3]int{1, 0, 1}, "Bo Ada Cleo"}, {[3]int{0, 0, 0}, "Ada Bo Cleo"}} {
		p := one(part, "Ada Bo Cleo", "A A A")
		for i := range p.Parts[0].Places {
			p.Parts[0].Places[i].Spots[0].Order = c.order[i]
		}
		r := begin(t, p)
		got := ""
		for k := range 3 {
			r.at(time.Duration(20+40*k)*time.Second, PressSled{On: "A"})
			p, _ := firstPress(r.log[len(r.log)-1:])
			if k < 2 || p.Who != "" {
				got += p.Who + " "
			}
			if p.Who == "" { // the part ended with the last press
				p, _ = firstPress(r.log[len(r.log)-3:])
				got += p.Who + " "
			}
		}
		if got != c.want+" " {
			t.Errorf("with the places %v they go %q, want %q", c.order, got, c.want)
		}
	}
	r := begin(t, one(part, "Ada Bo Cleo", "A A B"))
	r.must("0:05", MoveTo{Who: "Bo", On: "B"})
	if got := r.s.Tiles(nil, 1, r.zero+8*time.Second)[1]; got.Place.On != "B" || got.State != TileWait {
		t.Errorf("Bo, moved to B, is %+v", got)
	}
	r.must("0:20", Press{"Cleo"})
	r.must("0:45", Press{"Bo"})
	if x := r.s.Rounds(1, 1, r.zero+time.Minute)[0]; x.On != "B" || x.Starts-r.zero != 30*time.Second || x.Work != 15*time.Second {
		t.Errorf("Bo's round is %+v, want it on B from 0:30", x)
	}
}
