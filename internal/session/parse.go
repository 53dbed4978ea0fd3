package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/measure"
	"hawser/internal/movement"
)

// What stands where a session file says nothing.
const (
	usualSets    = 3
	usualStopCap = time.Minute
)

// Parse reads a session file. The error is [coachfile.Faults], all of them. That
// the names in it exist is for [Check] to say, with roster and kit.
func Parse(name string, data []byte) (*Session, error) {
	file, top := coachfile.Read(name, data, coachfile.Limit)
	base := name[strings.LastIndexAny(name, `/\`)+1:]
	s := &Session{Path: name, Name: strings.TrimSuffix(base, ".toml")}
	s.Title = cmp.Or(coachfile.Get(top, "title", coachfile.Line), s.Name)
	if top.Need("aim", `aim = "strength", "endurance" or "conditioning"`) {
		s.Aim = coachfile.Get(top, "aim", coachfile.OneOf(Strength, Endurance, Conditioning))
	}
	if top.Need("part", `[[part]] and below it format = "every"`) {
		tables := top.Tables("part")
		for _, t := range tables {
			s.Parts = append(s.Parts, part(t))
		}
		switch n := len(s.Parts); {
		case n == 0:
			top.Fault("part", "there is no part", `write [[part]] and below it format = "every"`)
		case s.Parts[n-1].Format != "" && !s.Parts[n-1].Format.Pulls():
			tables[n-1].Fault("format", fmt.Sprintf("nothing comes after the %s at the end", s.Parts[n-1].Format), `leave that part out, or write a [[part]] to pull in below it`)
		}
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	return s, nil
}

// Formats returns every format to pull in.
func Formats() []Format {
	return []Format{Every, Amrap, Intervals, Ratio, Sets, LongPull, ForTime, Ramp}
}

// Breaks returns the formats in which nobody pulls.
func Breaks() []Format { return []Format{WarmUp, Break} }

// all is every format that a part may have.
func all() []Format { return slices.Concat(Formats(), Breaks()) }

func part(t *coachfile.Table) Part {
	p := Part{
		Title:    coachfile.Get(t, "title", coachfile.Line),
		CountIn:  coachfile.Get(t, "count_in", measure.ParseClock),
		Allocate: cmp.Or(coachfile.Get(t, "allocate", coachfile.OneOf("best", "in order")), "best"),
		PressAt:  "round",
	}
	known := t.Need("format", `format = "every"`)
	if known {
		p.Format = coachfile.Get(t, "format", coachfile.OneOf(all()...))
		known = p.Format != ""
	}
	if known {
		p.clock(t)
	}
	p.others(t)
	for _, station := range t.Tables("station") {
		p.Stations = append(p.Stations, p.station(station, known))
	}
	for _, lane := range t.Tables("lane") {
		lane.Need("on", `on = "A"`)
		lane.Need("who", `who = ["Maren", "Eskil"]`)
		p.Lanes = append(p.Lanes, LanePin{On: coachfile.Get(lane, "on", coachfile.Name), Who: coachfile.All(lane, "who", coachfile.Name)})
	}
	p.check(t)
	return p
}

// ClockKeys returns the keys of each format beside those every part has; the first
// ones, up to needs, must be written.
func ClockKeys(f Format) (keys []string, needs int) {
	switch f {
	case Every:
		return []string{"every", "rounds", "late", "sides"}, 2
	case Amrap:
		return []string{"cap", "press"}, 1
	case Intervals:
		return []string{"work", "rest", "rounds", "sides"}, 3
	case Ratio:
		return []string{"rest", "rounds", "cap"}, 2
	case Sets:
		return []string{"rest", "sets", "rest_ceiling", "cap"}, 1
	case LongPull:
		return []string{"stop_cap", "cap"}, 0
	case ForTime:
		return []string{"cap", "waves", "wave_every"}, 0
	case Ramp:
		return []string{"rest", "cap"}, 0
	case WarmUp, Break:
		return []string{"time"}, 1
	}
	return nil, 0
}

// example shows how each clock key is written.
func example(f Format, key string) string {
	if f == Ratio && key == "rest" {
		return `rest = "2 x work"`
	}
	for _, line := range []string{
		`every = "1:15"`, `rounds = 8`, `cap = "12:00"`, `time = "4:00"`, `work = "30 s"`, `rest = "2:00"`, `sets = 3`,
	} {
		if strings.HasPrefix(line, key+" ") {
			return line
		}
	}
	return key
}

// clock reads the keys of the part's format.
func (p *Part) clock(t *coachfile.Table) {
	keys, needs := ClockKeys(p.Format)
	for _, key := range keys[:needs] {
		t.Need(key, example(p.Format, key))
	}
	span := coachfile.Some(measure.ParseClock)
	for _, key := range keys {
		switch key {
		case "every":
			p.Every = coachfile.Get(t, key, span)
		case "cap":
			p.Cap = coachfile.Get(t, key, span)
		case "time":
			p.Time = coachfile.Get(t, key, span)
		case "work":
			p.Work = coachfile.Get(t, key, span)
		case "rest":
			if p.Format == Ratio {
				p.RestFactor = coachfile.Get(t, key, Factor)
			} else {
				p.Rest = coachfile.Get(t, key, measure.ParseClock)
			}
		case "rest_ceiling":
			p.RestCeiling = coachfile.Get(t, key, span)
		case "rounds":
			p.Rounds = t.Int(key, 1, 500)
		case "sets":
			p.Sets = t.Int(key, 1, 100)
		case "late":
			p.Late = coachfile.Get(t, key, coachfile.OneOf(SitOut, NoteIt, DropLoad, CutDistance, StopThem))
		case "stop_cap":
			p.StopCap = cmp.Or(coachfile.Get(t, key, span), usualStopCap)
		case "press":
			p.PressAt = cmp.Or(coachfile.Get(t, key, coachfile.OneOf("round", "station")), "round")
		case "sides":
			p.Sides = coachfile.Lists(t, key, coachfile.Name)
		case "waves":
			p.Waves = coachfile.Lists(t, key, coachfile.Name)
		case "wave_every":
			p.WaveEvery = coachfile.Get(t, key, span)
		}
	}
}

// others refuses the keys of other formats: what has no effect is not passed over.
// Where the format is not known, any of them may be right, or be what a slip was
// meant to be.
func (p *Part) others(t *coachfile.Table) {
	mine, _ := ClockKeys(p.Format)
	for _, f := range all() {
		keys, _ := ClockKeys(f)
		for _, key := range keys {
			switch written := slices.Contains(t.Keys(), key); {
			case p.Format == "":
				t.Has(key)
			case written && !slices.Contains(mine, key):
				mine = append(mine, key) // said once
				t.Has(key)
				t.Fault(key, fmt.Sprintf("%q means nothing in a part with format = %q", key, p.Format), "leave it out, or change the format")
			}
		}
	}
}

// Factor reads "2 x work" as 200 %.
func Factor(s string) (measure.Share, error) {
	wrong := &measure.Error{What: fmt.Sprintf("%q is not a multiple of the work", coachfile.Clean(s)), Write: `"2 x work" or "1.5 x work"`}
	number, ok := strings.CutSuffix(strings.ReplaceAll(strings.TrimSpace(s), "×", "x"), "work")
	number, times := strings.CutSuffix(strings.TrimSpace(number), "x")
	share, err := measure.ParseFactor(number)
	if !ok || !times || err != nil || share == 0 {
		return 0, wrong
	}
	return share, nil
}

func (p *Part) station(t *coachfile.Table, known bool) Station {
	t.Need("movement", `movement = "sled row"`)
	s := Station{
		Movement: coachfile.Get(t, "movement", coachfile.OneOf(movement.Names()...)),
		Distance: coachfile.Get(t, "distance", coachfile.Some(measure.ParseDistance)),
		Reps:     t.Int("reps", 1, 1000),
		Time:     coachfile.Get(t, "time", coachfile.Some(measure.ParseClock)),
		Times:    max(1, t.Int("times", 1, 100)),
		Loads:    coachfile.All(t, "load", ParseAsk),
		Expect:   coachfile.Get(t, "expect", coachfile.Some(measure.ParseClock)),
		Guess:    coachfile.Get(t, "guess", coachfile.Some(measure.ParseMass)),
		Slot:     coachfile.Get(t, "slot", coachfile.Some(measure.ParseClock)),
		On:       coachfile.All(t, "on", coachfile.Name),
	}
	written := 0
	for _, key := range []string{"distance", "reps", "time"} {
		if t.Has(key) {
			written++
		}
	}
	const write = `write one of distance = "20 m", reps = 5, time = "1:00"`
	switch {
	case written > 1:
		t.Fault("movement", "a station has one of distance, reps and time, not several", write)
	case written == 1 || !known:
	case p.Format == Intervals:
		s.Time = p.Work
	case p.Format == Ramp && lift(s.Movement):
		s.Reps = 1
	default:
		t.Fault("movement", "how much is pulled is missing", write)
	}
	if s.Times > 1 && s.Distance == 0 {
		t.Fault("times", "times repeats a distance, and there is none", `write distance = "20 m"`)
	}
	if known && p.Format != Ramp {
		for _, key := range []string{"guess", "slot"} {
			if t.Has(key) {
				t.Fault(key, fmt.Sprintf("%q belongs to a ramp", key), "leave it out")
			}
		}
	}
	if known && p.Format != Sets && len(s.Loads) > 1 {
		t.Fault("load", "a list of loads belongs to sets", `write one load, "60% max"`)
	}
	return s
}

// lift tells whether a movement is counted in repetitions: nothing moves along the strip.
func lift(name string) bool {
	m, ok := movement.Find(name)
	return ok && m.Need != movement.Sled && m.Need != movement.SledRope && m.Pattern != "carry"
}

// check says what does not go together in a part, and fills in what it leaves to us.
func (p *Part) check(t *coachfile.Table) {
	if p.Format != "" && !p.Format.Pulls() {
		for _, key := range []string{"station", "lane"} {
			if t.Has(key) {
				t.Fault(key, fmt.Sprintf("nobody pulls in a part with format = %q", p.Format), "leave [[part."+key+"]] out, or give it a part of its own")
			}
		}
		return
	}
	switch {
	case len(p.Stations) == 0 && !t.Has("station"):
		t.Need("station", `[[part.station]] and below it movement = "sled row"`)
	case len(p.Stations) == 0:
		t.Fault("station", "the part has no station", `write [[part.station]] and below it movement = "sled row"`)
	case p.Format == Every && len(p.Stations) > 4:
		t.Fault("station", fmt.Sprintf("%d stations alternate on one clock", len(p.Stations)), "write at most 4, or a second part")
	}
	if len(p.Sides) > max(1, len(p.Stations)) {
		t.Fault("sides", fmt.Sprintf("there are more sides (%d) than stations (%d)", len(p.Sides), len(p.Stations)), "write at most one side for each station")
	}
	once(t, "sides", p.Sides)
	once(t, "waves", p.Waves)
	if p.RestCeiling > 0 && p.RestCeiling < p.Rest {
		t.Fault("rest_ceiling", "the ceiling of the rest is below its floor", "write the longer of the two as rest_ceiling")
	}
	if p.Format == Sets && p.Sets == 0 {
		p.Sets = usualSets
		for _, s := range p.Stations {
			if len(s.Loads) > 1 {
				p.Sets = max(p.Sets, len(s.Loads))
			}
		}
	}
	pinned := map[string]bool{}
	for _, lane := range p.Lanes {
		for _, who := range lane.Who {
			if pinned[who] {
				t.Fault("lane", fmt.Sprintf("%s is pinned to two lanes", who), "keep one of the two")
			}
			pinned[who] = true
		}
	}
}

// once says that a person stands in two groups.
func once(t *coachfile.Table, key string, groups [][]string) {
	seen := map[string]bool{}
	for _, group := range groups {
		for _, who := range group {
			if seen[who] {
				t.Fault(key, fmt.Sprintf("%s stands in %s twice", who, key), "keep one of the two")
			}
			seen[who] = true
		}
	}
}
