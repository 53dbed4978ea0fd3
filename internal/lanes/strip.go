package lanes

import (
	"slices"
	"time"

	"hawser/internal/kit"
	"hawser/internal/measure"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// ropeHeld is how much of a rope is in the hands and round the sled.
const ropeHeld = measure.Metre

// Lengths cuts a distance to the strip: equal legs, and an even number of them
// where there is more than one, so that the sled ends where it began.
func Lengths(d, strip measure.Distance) (legs int, leg measure.Distance) {
	if d <= 0 {
		return 0, 0
	}
	if strip <= 0 || d <= strip {
		return 1, d
	}
	legs = up(d, strip)
	legs += legs % 2
	return legs, d / measure.Distance(legs)
}

// pulls says how often a rope is pulled in over a distance; 0 where it has no
// length to pull on.
func pulls(d, rope measure.Distance) int {
	if d <= 0 || rope <= ropeHeld {
		return 0
	}
	return up(d, rope-ropeHeld)
}

// up is d ÷ by, rounded up.
func up(d, by measure.Distance) int { return int((d-1)/by) + 1 }

// Back is the way that a sled stands from where the next one starts, at a metre
// a second, and the time to lay a rope out again.
func Back(m movement.Movement, d measure.Distance, legs int, ropeLay time.Duration) time.Duration {
	var t time.Duration
	if d > 0 && (m.OneWay || legs%2 == 1) {
		t = time.Duration(d) * (time.Second / time.Duration(measure.Metre))
	}
	if m.Need == movement.SledRope {
		t += ropeLay
	}
	return t
}

// strip fills in what this strip and the rope make of the station's distance.
func (p *planner) strip(st *Station, spec *session.Station) {
	m, _ := movement.Find(spec.Movement)
	style := p.in.House.Style()
	strip := p.in.Kit.Strip
	onStrip := m.Need == movement.Sled || m.Need == movement.SledRope || m.Pattern == "carry"
	st.Legs, st.Leg = Lengths(spec.Distance, strip.Length)
	st.Turns = max(0, st.Legs-1)
	if spec.Time == 0 {
		st.Return = Back(m, spec.Distance, st.Legs, p.in.House.RopeLay)
	}
	if st.Turns > 0 && onStrip {
		level, more := session.Note, ""
		if st.Leg < 5*measure.Metre {
			level, more = session.Warn, "; more turning than pulling: take a shorter distance, or pull by time"
		}
		p.say(level, "strip", "", st.Number, "%s is longer than the strip (%s): %d legs of %s, a turn at the cone each time%s",
			style.Distance(spec.Distance), style.Distance(strip.Length), st.Legs, style.Distance(st.Leg), more)
	}
	if m.Need == movement.SledRope {
		p.rope(st, spec)
	}
}

// rope says which rope a station pulls on, and how often.
func (p *planner) rope(st *Station, spec *session.Station) {
	style := p.in.House.Style()
	rope := p.ropeFor(st.Number, spec)
	switch {
	case rope == nil:
		p.say(session.Stop, "rope", "", st.Number, "the kit has no rope for this; add one to kit.toml, or choose a drag or a row")
	case rope.Length <= ropeHeld:
		p.say(session.Stop, "rope", "", st.Number, "a rope of %s leaves nothing to pull on; bring a longer one, or choose a drag or a row", style.Distance(rope.Length))
	default:
		st.Pulls = pulls(spec.Distance, rope.Length)
		st.Relays = max(0, st.Pulls-1)
		if st.Relays > 0 {
			p.say(session.Note, "rope", "", st.Number, "%s on a rope of %s is %d pulls, the rope laid out again %d times inside the split",
				style.Distance(spec.Distance), style.Distance(rope.Length), st.Pulls, st.Relays)
		}
	}
}

// ropeFor returns the rope of a station: the one that it names, else ropes are
// dealt in kit order, one a station; nil where the kit has none.
func (p *planner) ropeFor(station int, spec *session.Station) *kit.Rope {
	ropes := p.in.Kit.Ropes
	for i := range ropes {
		if slices.Contains(spec.On, ropes[i].Name) {
			return &ropes[i]
		}
	}
	if len(ropes) == 0 {
		return nil
	}
	before := 0
	for _, s := range p.spec.Stations[:station-1] {
		if m, _ := movement.Find(s.Movement); m.Need == movement.SledRope {
			before++
		}
	}
	return &ropes[before%len(ropes)]
}
