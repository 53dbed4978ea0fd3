package floor

import (
	"slices"
	"testing"
	"time"

	"hawser/internal/session"
)

// The checks below hold the engine to interval arithmetic that is true whatever
// program keeps the clock. Their source is named beside each.

// start(k) = t0 + (k − 1)·T: by definition; ten rounds of a minute.
func TestEveryMinuteStarts(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(10), "Ada", "A"))
	var got []int
	for _, at := range r.s.Starts(1, r.zero+time.Hour) {
		got = append(got, int((at - r.zero).Seconds()))
	}
	if want := []int{0, 60, 120, 180, 240, 300, 360, 420, 480, 540}; !slices.Equal(got, want) {
		t.Errorf("starts = %v, want %v", got, want)
	}
	if end := r.s.End(r.zero+time.Second) - r.zero; end != 600*time.Second {
		t.Errorf("end = %v, want 10m", end)
	}
}

// rest = max(0, T − work), and work = T is just in time: by definition.
func TestJustInTimeIsInTime(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		work time.Duration
		late bool
	}{{32 * time.Second, false}, {41 * time.Second, false}, {60 * time.Second, false}, {63 * time.Second, true}} {
		r := begin(t, one(everyMinute(2), "Ada", "A"))
		_ = r.do(c.work, Press{"Ada"})
		got := r.s.Rounds(1, 0, r.zero+3*time.Minute)[0]
		if (got.State == LateRound) != c.late || got.Margin != time.Minute-c.work {
			t.Errorf("work %v: %s, margin %v; want late %v, margin %v", c.work, got.State, got.Margin, c.late, time.Minute-c.work)
		}
	}
}

// 12 rounds over 3 stations are 4 a station and 12 minutes: arithmetic.
func TestRoundsAlternateOverStations(t *testing.T) {
	t.Parallel()
	part := everyMinute(12)
	part.Stations = make([]session.Station, 3)
	r := begin(t, one(part, "Ada", "A"))
	var per [4]int
	for _, x := range r.s.Rounds(1, 0, r.zero+20*time.Minute) {
		per[x.Station]++
	}
	if per != [4]int{0, 4, 4, 4} {
		t.Errorf("rounds a station = %v, want 4 at each of 3", per[1:])
	}
}

// n sets take n·work + (n − 1)·rest, 560 s for 5 of 40 s with 90 s between; there
// is no rest after the last: by definition.
func TestNoRestAfterTheLast(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Intervals, Work: 40 * time.Second, Rest: 90 * time.Second, Rounds: 5}
	r := begin(t, one(part, "Ada", "A"))
	if end := r.s.End(r.zero+time.Second) - r.zero; end != 560*time.Second {
		t.Errorf("end = %v, want 9m20s", end)
	}
}

// Calls that come 15 ms late each must not add up: 20 of them would be 300 ms.
func TestLateCallsDoNotAddUp(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(1440), "Ada", "A"))
	for at := time.Duration(0); at < 24*time.Hour; at += time.Minute + 15*time.Millisecond {
		_ = r.do(at, Sleep{})
	}
	starts := r.s.Starts(1, r.zero+24*time.Hour)
	if last := starts[len(starts)-1] - r.zero; len(starts) != 1440 || last != 1439*time.Minute {
		t.Errorf("%d starts, the last at %v; want 1440, the last at 23h59m", len(starts), last)
	}
}

// Rounds done at 110, 228, 352, 480 and 615 s of a 720 s cap are 5 rounds, and
// lap(k) = split(k) − split(k − 1): by definition.
func TestLapsAreDifferencesOfSplits(t *testing.T) {
	t.Parallel()
	r := begin(t, one(session.Part{Format: session.Amrap, Cap: 12 * time.Minute}, "Ada", "A"))
	for _, s := range []int{110, 228, 352, 480, 615} {
		_ = r.do(time.Duration(s)*time.Second, Press{"Ada"})
	}
	var laps []int
	for _, x := range r.s.Rounds(1, 0, r.zero+12*time.Minute) {
		if x.State == Done {
			laps = append(laps, int(x.Work.Seconds()))
		}
	}
	if want := []int{110, 118, 124, 128, 135}; !slices.Equal(laps, want) {
		t.Errorf("laps = %v, want %v", laps, want)
	}
}

// Rest three times a work of 30 s is 90 s, a cycle of 120 s: by definition.
func TestRestIsAShareOfTheOwnWork(t *testing.T) {
	t.Parallel()
	part := session.Part{Format: session.Ratio, RestFactor: 3_000_000, Rounds: 3}
	r := begin(t, one(part, "Ada", "A"))
	_ = r.do(30*time.Second, Press{"Ada"})
	_ = r.do(150*time.Second, Press{"Ada"})
	r.want("Ada", 5*time.Minute, `
		1 0 30 done
		2 120 30 done due 120 waited 0
		3 240 - open due 240 waited 0`)
}

// Clocks that jump back or come twice change nothing that was kept.
func TestTimeThatGoesBack(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(3), "Ada", "A"))
	_ = r.do(30*time.Second, Press{"Ada"})
	before := r.sheet("Ada", 50*time.Second)
	_ = r.do(20*time.Second, Press{"Ada"})
	_ = r.do(-time.Hour, Press{"Ada"})
	if after := r.sheet("Ada", 50*time.Second); after != before {
		t.Errorf("after times that went back:\n%s\nwant\n%s", after, before)
	}
}

// In a flow shop of two machines a job takes the second one at max(done on the first,
// second one free). That is how a sled is taken by people who get warm one after another,
// so the last is done when the textbook says: Johnson, Optimal two- and three-stage
// production schedules with setup times included, Naval Res Logist Q 1 (1954), his example
// and the same in reverse (47 and 78, from memory, and worked out by enumeration); the
// Morris Machine Co. of Krajewski and Ritzman, Operations Management (65, computed).
func TestSharedSledIsTheSecondMachineOfAFlowShop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		jobs [][2]int // in the order of the schedule: first machine, second
		want int
	}{
		{[][2]int{{2, 3}, {4, 5}, {6, 30}, {30, 4}, {4, 1}}, 47},
		{[][2]int{{4, 1}, {30, 4}, {6, 30}, {4, 5}, {2, 3}}, 78},
		{[][2]int{{4, 5}, {12, 22}, {15, 16}, {10, 8}, {5, 3}}, 65},
	} {
		p := one(session.Part{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 1}, "Ada Bo Cleo Dag Eli", "- - - - -")
		p.House.HandoverBase = 0 // all pull the same plates
		p.Parts[0].Stations[0].On = p.Parts[0].Stations[0].On[:1]
		r := begin(t, p)
		warm := time.Duration(0)
		for i, job := range c.jobs {
			warm += time.Duration(job[0]) * time.Second
			r.at(0, Arrive{Who: p.People[i].Name, WarmUp: warm})
		}
		var done time.Duration
		for i, job := range c.jobs {
			starts := r.s.Rounds(1, i, r.zero+time.Hour)[0].Starts - r.zero
			done = starts + time.Duration(job[1])*time.Second
			r.at(done, Press{p.People[i].Name})
		}
		if done != time.Duration(c.want)*time.Second {
			t.Errorf("jobs %v are done after %v, want %d s", c.jobs, done, c.want)
		}
	}
}
