package week

import (
	"strings"
	"testing"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"

	"pgregory.net/rapid"
)

var monday = time.Date(2026, 11, 23, 0, 0, 0, 0, time.UTC)

// pulls is a session of those movements, each at that share of max.
func pulls(name string, aim session.Aim, share measure.Share, movements ...string) *session.Session {
	p := session.Part{Format: session.Every}
	for _, m := range movements {
		p.Stations = append(p.Stations, session.Station{Movement: m, Loads: []session.Ask{{Basis: session.OfMax, Share: share}}})
	}
	return &session.Session{Name: name, Aim: aim, Parts: []session.Part{p}}
}

func day(d time.Weekday, hour int, main string, pull ...string) Day {
	return Day{Weekday: d, Main: strings.Fields(main), At: time.Duration(hour) * time.Hour, Pull: pull}
}

// home is the sessions of the invented boathouse.
func home() []*session.Session {
	const heavy, light = 90 * measure.Percent, 50 * measure.Percent
	return []*session.Session{
		pulls("slack-water", session.Conditioning, light, "sled row"),
		pulls("low-tide", session.Strength, heavy, "backward drag"),
		pulls("ebb", session.Strength, heavy, "forward drag"),
		pulls("mooring", session.Strength, heavy, "sled row"),
		pulls("buoy", session.Endurance, light, "forward drag"),
		pulls("hawsers", session.Conditioning, light, "sled row", "hand over hand pull", "handles carry"),
		pulls("keel", session.Strength, heavy, "deadlift"),
	}
}

// TestFits has the pairs that coaches use: rows on pressing days, backward drags on
// squat days, forward drags on hinge days (common practice, no single source).
func TestFits(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		main, name string
		want       bool
		why        string
	}{
		{"press", "mooring", true, "rows and rope pulls go with press"},
		{"squat", "low-tide", true, "backward drags go with squat"},
		{"hinge", "ebb", true, "forward drags go with hinge"},
		{"press", "ebb", false, "rows and rope pulls go with press, this is hinge"},
		{"press hinge", "ebb", true, "forward drags go with hinge"},
		{"mixed", "ebb", true, "strength on a mixed day"},
		{"none", "ebb", false, "strength pulls go on strength days, and this day has no main lift"},
		{"hinge", "buoy", true, "a finisher of the day's pattern: forward drags after hinge"},
		{"squat", "buoy", false, "backward drags go with squat, this is hinge"},
		{"none", "buoy", true, "endurance, alone: no main lift to follow"},
		{"squat", "slack-water", true, "conditioning goes on most days"},
		{"none", "slack-water", true, "conditioning, alone"},
	} {
		for _, s := range home() {
			if s.Name != tt.name {
				continue
			}
			if ok, why := fits(strings.Fields(tt.main), s); ok != tt.want || why != tt.why {
				t.Errorf("fits(%s, %s) = %v, %q, want %v, %q", tt.main, tt.name, ok, why, tt.want, tt.why)
			}
		}
	}
}

func TestTakes(t *testing.T) {
	t.Parallel()
	for main, want := range map[string]string{
		"press": "rows and rope pulls; conditioning", "press pull": "rows and rope pulls; conditioning",
		"squat hinge": "backward drags, forward drags; conditioning", "mixed": "every pull; conditioning",
		"none": "conditioning or endurance, alone", "": "conditioning or endurance, alone",
	} {
		d := day(1, 18, main)
		if got := d.Takes(); got != want {
			t.Errorf("Takes of %q = %q, want %q", main, got, want)
		}
	}
}

func TestFlags(t *testing.T) {
	t.Parallel()
	eight := func(days ...int) []Effort {
		var all []Effort
		for _, d := range days {
			all = append(all, Effort{"Maren", monday.AddDate(0, 0, d), 8})
		}
		return all
	}
	for _, tt := range []struct {
		name    string
		days    []Day
		efforts []Effort
		want    []string
	}{
		{"well apart", []Day{day(1, 18, "squat", "low-tide"), day(3, 18, "hinge", "ebb")}, nil, nil},
		{
			"47 h",
			[]Day{day(1, 18, "squat", "low-tide"), day(3, 17, "hinge", "ebb")},
			nil,
			[]string{"Monday and Wednesday: heavy leg or hinge work twice under 48 h apart (low-tide, ebb)"},
		},
		{"rows are no legs", []Day{day(1, 18, "squat", "low-tide"), day(2, 18, "press", "mooring")}, nil, nil},
		{
			"over the end of the week",
			[]Day{day(1, 7, "squat", "low-tide"), day(0, 18, "none", "ebb")},
			nil,
			[]string{"Sunday and Monday: heavy leg or hinge work twice under 48 h apart (ebb, low-tide)"},
		},
		{
			"grip before deadlifts",
			[]Day{day(2, 18, "press", "mooring"), day(3, 18, "none", "keel")},
			nil,
			[]string{"Tuesday: grip-heavy work (mooring) within 24 h before keel on Wednesday"},
		},
		{
			"grip before a hinge day",
			[]Day{day(2, 19, "press", "slack-water"), day(3, 18, "hinge")},
			nil,
			[]string{"Tuesday: grip-heavy work (slack-water) within 24 h before the main lift, a hinge on Wednesday"},
		},
		{"48 h and no minute less", []Day{day(1, 17, "squat", "low-tide"), day(3, 17, "hinge", "ebb")}, nil, nil},
		{"84 % is not heavy", []Day{day(1, 18, "squat", "light"), day(2, 18, "hinge", "ebb")}, nil, nil},
		{
			"24 h to the minute",
			[]Day{day(2, 18, "press", "slack-water"), day(3, 18, "hinge")},
			nil,
			[]string{"Tuesday: grip-heavy work (slack-water) within 24 h before the main lift, a hinge on Wednesday"},
		},
		{"two grip stations", []Day{day(6, 9, "none", "pair")}, nil, nil},
		{"third day at 7.5", []Day{day(3, 18, "none", "slack-water")}, []Effort{{"Maren", monday, 8}, {"Maren", monday.AddDate(0, 0, 1), 7.5}}, nil},
		{"25 h", []Day{day(2, 17, "press", "slack-water"), day(3, 18, "hinge")}, nil, nil},
		{
			"three grip stations",
			[]Day{day(6, 9, "none", "hawsers")},
			nil,
			[]string{`Saturday: "hawsers" has 3 grip stations, more than 2`},
		},
		{
			"third hard day",
			[]Day{day(3, 18, "none", "slack-water")},
			eight(0, 1),
			[]string{"Wednesday: a third day running at effort 8 or more for Maren"},
		},
		{"a day between", []Day{day(4, 18, "none", "slack-water")}, eight(0, 1), nil},
	} {
		sessions := append(home(),
			pulls("light", session.Strength, 85*measure.Percent-1, "backward drag"),
			pulls("pair", session.Strength, 50*measure.Percent, "sled row", "hand over hand pull"))
		page := Make(Facts{File: &File{Days: tt.days}, Sessions: sessions, Monday: monday, Efforts: tt.efforts})
		var got []string
		for _, f := range page.Flags {
			got = append(got, f.Text)
		}
		if strings.Join(got, "\n") != strings.Join(tt.want, "\n") {
			t.Errorf("%s: flags = %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestMake(t *testing.T) {
	t.Parallel()
	f := Facts{
		File:     &File{BlockStarts: monday.AddDate(0, 0, -21), Days: []Day{day(5, 18, "none"), day(1, 18, "squat"), day(3, 18, "press", "slack-water", "gone")}},
		Sessions: home(), Monday: monday, LighterEvery: 4,
		LastRun: map[string]time.Time{"buoy": monday.AddDate(0, 0, -3), "hawsers": monday.AddDate(0, 0, -10), "low-tide": monday.AddDate(0, 0, -7)},
	}
	p := Make(f)
	if !p.NextLighter.Equal(monday.AddDate(0, 0, 28)) {
		t.Errorf("the next lighter week begins on %v, want four weeks on", p.NextLighter)
	}
	if !p.Lighter || p.Days[0].Weekday != time.Monday || !p.Days[2].Date.Equal(monday.AddDate(0, 0, 4)) {
		t.Errorf("Make = %+v, want a lighter week from Monday to Friday", p)
	}
	if s := p.Days[1].Sessions; len(s) != 2 || !s[0].Fits || s[1].Session != nil || s[1].Why != "no session of that name" {
		t.Errorf("Wednesday = %+v", s)
	}
	var got []string
	for _, s := range p.Suggestions {
		got = append(got, s.Day.Weekday.String()+" "+s.Session.Name+": "+s.Why)
	}
	want := "Monday low-tide: backward drags go with squat; last run 7 days before\nFriday buoy: endurance, alone: no main lift to follow; last run 7 days before"
	if strings.Join(got, "\n") != want {
		t.Errorf("Suggestions = %q, want %q", strings.Join(got, "\n"), want)
	}
}

// TestSuggestionsRaiseNoFlag: taking a suggestion makes no week worse.
func TestSuggestionsRaiseNoFlag(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f := Facts{File: &File{}, Sessions: home(), Monday: monday}
		for d := range 7 {
			one := Day{Weekday: time.Weekday(d), At: time.Duration(rapid.IntRange(6, 20).Draw(t, "hour")) * time.Hour, Main: []string{rapid.SampledFrom(Patterns()).Draw(t, "main")}}
			if rapid.Bool().Draw(t, "chosen") {
				one.Pull = []string{rapid.SampledFrom(home()).Draw(t, "pull").Name}
			}
			f.File.Days = append(f.File.Days, one)
		}
		before := Make(f)
		for _, s := range before.Suggestions {
			g := f
			g.File = &File{}
			for _, d := range f.File.Days {
				if d.Weekday == s.Day.Weekday {
					d.Pull = []string{s.Session.Name}
				}
				g.File.Days = append(g.File.Days, d)
			}
			after := Make(g)
			if len(after.Flags) > len(before.Flags) {
				t.Fatalf("%s on %s: %v", s.Session.Name, s.Day.Weekday, after.Flags)
			}
		}
	})
}
