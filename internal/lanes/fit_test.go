package lanes

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// station is a session of one part with one station.
func station(part, rest string) string {
	return "title = \"x\"\naim = \"strength\"\n[[part]]\n" + part + "\n[[part.station]]\n" + rest + "\n"
}

const minute = time.Minute

func TestWaysOut(t *testing.T) {
	t.Parallel()
	in := read(t,
		station("format = \"every\"\nevery = \"1:00\"\nrounds = 10", "movement = \"forward drag\"\ndistance = \"30 m\"\nload = \"50% max\"\nexpect = \"30 s\""),
		sleds(30)+pile("20 kg", 1, "10 kg", 1), crew("forward drag", 100, 80)) // 20 and 10 kg on the sled: two plates to move
	p := Make(in).Parts[0]
	f := p.Fit
	if want := 2 * (30*time.Second + 10*time.Second + 2*5*time.Second); f.Fits || f.Needs != want || f.Has != minute || f.On != "A" || f.Took != "heats" {
		t.Errorf("fit = %+v, want needs %v", f, want)
	}
	want := map[string]Way{
		"heats":           {Heats: 2, Ends: 1380 * time.Second},
		"longer interval": {Every: 105 * time.Second, Ends: 1050 * time.Second, WorkShare: 28.571428},
		"rotate stations": {PullsEach: 5, Ends: 600 * time.Second},
	}
	last := time.Duration(0)
	for _, w := range f.Ways {
		if w.Ends < last {
			t.Errorf("%s ends at %v and stands after one that ends at %v", w.Way, w.Ends, last)
		}
		last = w.Ends
		if x, ok := want[w.Way]; ok {
			if w.Heats != x.Heats || w.Every != x.Every || w.Ends != x.Ends || w.PullsEach != x.PullsEach || math.Abs(w.WorkShare-x.WorkShare) > 1e-5 {
				t.Errorf("way %+v, want %+v", w, x)
			}
			delete(want, w.Way)
		}
	}
	for way := range want {
		t.Errorf("%s is not offered", way)
	}
	if len(p.Heats) != 2 || p.Heats[1].Starts != 780*time.Second || p.Ends != 1380*time.Second {
		t.Errorf("%d heats, part ends at %v, want 2 and 23:00", len(p.Heats), p.Ends)
	}
	in.House.WhenItDoesNotFit = "longer interval"
	if p := Make(in).Parts[0]; p.Every != 105*time.Second || p.Ends != 1050*time.Second || len(p.Heats) != 1 {
		t.Errorf("longer interval: every %v, ends %v", p.Every, p.Ends)
	}
	in.House.WhenItDoesNotFit = "as written"
	if p := Make(in).Parts[0]; p.Every != minute || p.Ends != 10*minute || p.Fit.Took != "as written" {
		t.Errorf("as written: every %v, ends %v, took %s", p.Every, p.Ends, p.Fit.Took)
	}
}

func TestSharing(t *testing.T) {
	t.Parallel()
	// Two of like strength on one sled, 35 s a set, five sets: a cycle of
	// 2 × (35 + 10) s; each rests 55 s of the 2:00 that are the floor. With the
	// hold a start comes every 155 s, and the second one starts 45 s in.
	in := read(t, station("format = \"sets\"\nsets = 5\nrest = \"2:00\"", "movement = \"forward drag\"\ndistance = \"30 m\"\nload = \"85% max\"\nexpect = \"35 s\""),
		sleds(25)+pile("20 kg", 3), crew("forward drag", 100, 100))
	b := Make(in)
	want := Sharing{On: "A", People: 2, Cycle: 90 * time.Second, Rest: 55 * time.Second, Hold: 65 * time.Second, LastSetEnds: 700 * time.Second}
	if s := b.Parts[0].Sharing; len(s) != 1 || s[0] != want {
		t.Errorf("sharing = %+v, want %+v", s, want)
	}
	if b.Ends != 700*time.Second {
		t.Errorf("ends at %v, want 11:40", b.Ends)
	}
}

func TestIntervalsWithAPartner(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rest string
		fits bool
	}{{"50 s", true}, {"49 s", false}} {
		in := read(t, station(fmt.Sprintf("format = \"intervals\"\nwork = \"30 s\"\nrest = %q\nrounds = 6", c.rest), "movement = \"forward drag\"\nload = \"40 kg\""),
			sleds(25)+pile("20 kg", 2), crew("forward drag", 100, 100))
		// the partner's 30 s and two handovers of 10 s
		if f := Make(in).Parts[0].Fit; f.Fits != c.fits || f.Needs != 50*time.Second {
			t.Errorf("rest %s: fit = %+v, want %v, needs 50 s", c.rest, f, c.fits)
		}
		if !c.fits {
			continue
		}
		b := Make(in)
		if want := 430 * time.Second; b.Ends != want { // six bouts, five rests: no rest trails
			t.Errorf("ends at %v, want %v", b.Ends, want)
		}
		if got := strings.Join(says(b, "rest"), "\n"); !strings.Contains(got, "ends 0:40 after") {
			t.Errorf("findings %q, want the partner's last bout 0:40 after the class's", got)
		}
	}
}

func TestSmallerGroupsHaveTheirFreePlaceInTheLastHeat(t *testing.T) {
	t.Parallel()
	// 14 on 4: ⌈14 ÷ 4⌉ heats, groups of 4, 4, 3 and 3 (definition: sizes differ by
	// at most one).
	bests := make([]float64, 14)
	for i := range bests {
		bests[i] = 100
	}
	in := read(t, station("format = \"every\"\nevery = \"0:45\"\nrounds = 4", "movement = \"forward drag\"\ndistance = \"30 m\"\nload = \"40 kg\"\nexpect = \"40 s\""),
		sleds(25, 25, 25, 25)+pile("20 kg", 8), crew("forward drag", bests...))
	heats := Make(in).Parts[0].Heats
	if len(heats) != 4 {
		t.Fatalf("%d heats, want 4", len(heats))
	}
	size := map[string]int{}
	for h, heat := range heats {
		if want := []int{4, 4, 4, 2}[h]; len(heat.Lanes) != want {
			t.Errorf("heat %d has %d lanes, want %d", h+1, len(heat.Lanes), want)
		}
		for _, lane := range heat.Lanes {
			size[lane.On.Name] += len(lane.Turns)
		}
	}
	for _, name := range []string{"A", "B", "C", "D"} {
		if n := size[name]; n != 4 && n != 3 {
			t.Errorf("%s has %d people, want 3 or 4", name, n)
		}
	}
}

func TestWavesGoInTheOrderOfTheKit(t *testing.T) {
	t.Parallel()
	in := read(t, station("format = \"for time\"\ncap = \"4:00\"\nwave_every = \"5:00\"\nwaves = [[\"Tove\", \"Maren\"], [\"Eskil\"]]", "movement = \"forward drag\"\ndistance = \"30 m\"\nload = \"40 kg\""),
		sleds(25, 20)+pile("20 kg", 4), crew("forward drag", 100, 80, 90))
	b := Make(in)
	got := map[string][]string{}
	for _, lane := range b.Parts[0].Heats[0].Lanes {
		for _, turn := range lane.Turns {
			got[lane.On.Name] = append(got[lane.On.Name], turn.Athlete)
		}
	}
	if fmt.Sprint(got) != "map[A:[Tove Eskil] B:[Maren]]" {
		t.Errorf("lanes %v, want Tove and Eskil on A, Maren on B", got)
	}
	if b.Ends != 9*minute { // the second wave starts at 5:00 and has 4:00
		t.Errorf("ends at %v, want 9:00", b.Ends)
	}
}

// The coach's hand goes before the house. Two pull 30 m in 30 s each, the sled
// comes back in 30 s, and a handover has 20 s more: 160 s; over 5 m it is 60 s.
func TestWayByHand(t *testing.T) {
	t.Parallel()
	in := read(t,
		station("format = \"every\"\nevery = \"1:00\"\nrounds = 10", "movement = \"forward drag\"\ndistance = \"30 m\"\nload = \"50% max\"\nexpect = \"30 s\""),
		strings.Replace(sleds(30), "25 m", "40 m", 1)+pile("20 kg", 1, "10 kg", 1), crew("forward drag", 100, 80))
	for _, c := range []struct {
		way, took string
		heats     int
		every     time.Duration
		metres    measure.Distance
		ends      time.Duration
	}{
		{"heats", "heats", 2, minute, 30, 1380 * time.Second},
		{"longer interval", "longer interval", 1, 165 * time.Second, 30, 1650 * time.Second},
		{"fewer metres", "fewer metres", 1, minute, 5, 600 * time.Second},
		{"as written", "as written", 1, minute, 30, 600 * time.Second},
		{"rotate stations", "as written", 1, minute, 30, 600 * time.Second}, // the session has no other station
	} {
		in.Edits = []Edit{{Part: 1, Way: c.way}}
		b := Make(in)
		p, spec := &b.Parts[0], &b.Session.Parts[0]
		if p.Fit.Took != c.took || len(p.Heats) != c.heats || p.Every != c.every || spec.Stations[0].Distance != c.metres*measure.Metre || p.Ends != c.ends {
			t.Errorf("%s: took %s, %d heats, every %v, %v, ends %v, want %s, %d, %v, %d m, %v",
				c.way, p.Fit.Took, len(p.Heats), p.Every, spec.Stations[0].Distance, p.Ends, c.took, c.heats, c.every, c.metres, c.ends)
		}
		if in.Session.Parts[0].Stations[0].Distance != 30*measure.Metre {
			t.Fatalf("%s changed the session that was read", c.way)
		}
	}
}

// Two people who change places at two stations change plates there each round: 45 s
// of work and a handover of 10 s and two plates do not fit a minute.
func TestFitCountsTheChangeBetweenStations(t *testing.T) {
	t.Parallel()
	b := Make(Input{
		Session: &session.Session{Name: "change", Aim: session.Conditioning, Parts: []session.Part{{
			Format: session.Every, Every: time.Minute, Rounds: 4, Stations: []session.Station{
				{Movement: "forward drag", Distance: 20 * measure.Metre, Times: 1, Expect: 45 * time.Second, Loads: []session.Ask{{Basis: session.OfBody, Share: measure.Whole}}},
				{Movement: "backward drag", Distance: 20 * measure.Metre, Times: 1, Expect: 45 * time.Second, Loads: []session.Ask{{Basis: session.OfBody, Share: measure.Whole}}},
			},
		}}},
		Roster: &roster.Roster{Athletes: []roster.Athlete{
			{Name: "Ada", Key: "a", BodyMass: 20 * measure.Kilogram}, {Name: "Bo", Key: "b", BodyMass: 60 * measure.Kilogram},
		}},
		Kit: &kit.Kit{
			Strip:  kit.Strip{Length: 10 * measure.Metre, Surface: "turf"},
			Sleds:  []kit.Sled{{Name: "A", Tare: 27 * measure.Kilogram, Posts: 1}, {Name: "B", Tare: 27 * measure.Kilogram, Posts: 1}},
			Plates: []kit.Plates{{Stamp: "20 kg", Mass: 20 * measure.Kilogram, Count: 8}},
		},
		House: house.Default(),
	})
	if f := b.Parts[0].Fit; f.Fits || f.Needs != 65*time.Second {
		t.Errorf("Fit = %+v, want 65 s needed of 60: 45 + 10 + 2 plates x 5", f)
	}
}
