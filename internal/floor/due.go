package floor

import (
	"slices"
	"time"

	"hawser/internal/session"
)

// tenLeft is how long before the end of a bout or a cap the room is warned.
const tenLeft = 10 * time.Second

// Due appends the moments after from and up to to, in order of time, as things
// stand: what a press may still change is not among them. A clock that stands has
// none but the count-in to its next start.
func (s *State) Due(dst []Moment, from, to time.Duration) []Moment {
	if s.plan == nil || s.on < 0 || s.stopped() {
		return dst
	}
	n := len(dst)
	d := due{s: s, from: from, to: to, out: dst}
	if h, ended := s.lastHold(), s.parts[s.on].ended; h != nil && (ended == None || ended >= h.to) {
		d.countDown(h.to, -1, 0)
		d.add(h.to, Begin, -1, s.classRound(h.to))
	}
	// lane clocks are looked at as far ahead as a start is counted in to
	p := s.view(s.on, to+3*time.Second)
	if s.over == None {
		d.part(p)
	}
	switch what, at := s.nextByClock(to); what {
	case partBegins:
		d.countDown(at, -1, 1)
	case heatBegins:
		d.countDown(at, -1, 1)
		d.add(s.room(d.end(p), to), HeatEnds, -1, 0)
	case partEnds:
		if s.spec(s.on).Format.Pulls() { // else the next part's GO says it
			d.add(at, PartEnds, -1, 0)
		}
		if s.on+1 == len(s.parts) {
			d.add(at, AllDone, -1, 0)
		}
	case nothing, runEnds: // the end of the run is silent: the last part's was heard
	}
	slices.SortStableFunc(d.out[n:], func(a, b Moment) int {
		if a.At != b.At {
			return int(min(1, max(-1, a.At-b.At)))
		}
		return int(a.Kind) - int(b.Kind)
	})
	return d.out
}

// due gathers the moments of one stretch of time.
type due struct {
	s        *State
	from, to time.Duration
	out      []Moment
}

func (d *due) add(at time.Duration, k Kind, person, round int) {
	if at == None || at <= d.from || at > d.to {
		return
	}
	d.out = append(d.out, Moment{At: at, Kind: k, Part: d.s.on + 1, Round: round, Person: person})
}

// countDown adds 3, 2, 1 before a start at at.
func (d *due) countDown(at time.Duration, person, round int) {
	if at == None {
		return
	}
	for n := 3; n >= 1; n-- {
		m := at - time.Duration(n)*time.Second
		if m > d.from && m <= d.to {
			d.out = append(d.out, Moment{At: m, Kind: CountDown, Part: d.s.on + 1, Round: round, Person: person, Count: n})
		}
	}
}

func (d *due) end(p *part) time.Duration {
	starts := p.heats[p.heatOn()].starts
	return starts[len(starts)-1]
}

// part adds the moments of the part that runs.
func (d *due) part(p *part) {
	s := d.s
	if p.ended != None && p.ended <= d.from {
		return
	}
	d.countDown(p.began, -1, 1)
	hi := p.heatOn()
	h := &p.heats[hi]
	if !classClock(s.spec(s.on).Format) {
		d.add(s.room(h.starts[0], d.to), Begin, -1, 0)
		d.lanes(p)
		return
	}
	last := len(h.starts) - 1
	if !s.spec(s.on).Format.Pulls() {
		d.pause(h)
		return
	}
	for k := max(1, h.roundAt(s.clock(d.from))-1); k <= last; k++ { // the last on a shared sled may start a round late
		at := s.room(h.starts[k-1], d.to)
		if at > d.to+3*time.Second {
			break
		}
		if k > 1 {
			d.countDown(at, -1, k)
		}
		d.add(at, Begin, -1, k)
		switch spec := s.spec(s.on); spec.Format {
		case session.Intervals:
			end := h.starts[k-1] + spec.Work
			d.add(s.room(end-tenLeft, d.to), TenLeft, -1, k)
			if k < last {
				d.add(s.room(end, d.to), RestBegins, -1, k)
			}
		case session.Amrap:
			d.add(s.room(h.starts[1]-tenLeft, d.to), TenLeft, -1, 0)
		default: // the count to the next start is warning enough
		}
		d.own(p, hi, k)
	}
}

// pause adds what a warm-up or a rest has: its start, and the count to the part
// that begins when it is over.
func (d *due) pause(h *heat) {
	s := d.s
	begin, end := s.room(h.starts[0], d.to), s.room(h.starts[1], d.to)
	if s.spec(s.on).Format == session.WarmUp {
		d.add(begin, Begin, -1, 0)
	} else {
		d.add(begin, RestBegins, -1, 0)
	}
	d.add(end-tenLeft, TenLeft, -1, 0)
	d.countDown(end, -1, 0)
	d.add(end, Begin, -1, 0)
}

// own adds the starts of those who share a sled in round k, where they differ
// from that of the class.
func (d *due) own(p *part, hi, k int) {
	s := d.s
	if s.spec(s.on).Format == session.Amrap {
		return
	}
	for i := range p.tracks {
		if p.tracks[i].Heat != hi+1 || !s.in(p, i, k) || p.tracks[i].get(k).has() {
			continue
		}
		if c := s.ownStart(s.on, i, k); c > p.heats[hi].starts[k-1] {
			d.add(s.room(c, d.to), OwnBegin, i, k)
		}
	}
}

// lanes adds what the lane clocks do.
func (d *due) lanes(p *part) {
	s := d.s
	for i := range p.tracks {
		tr := &p.tracks[i]
		for k := max(1, tr.done); k <= min(len(tr.cells), tr.done+1); k++ {
			c := tr.cells[k-1]
			if selfStarting(s.spec(s.on).Format) && c.start != p.began {
				d.countDown(c.start, i, k)
				d.add(c.start, OwnBegin, i, k)
			}
			if p.limit > 0 && (c.capped || c.start != None && c.press == None && tr.working) {
				d.add(s.room(s.clock(c.start)+p.limit-tenLeft, d.to), TenLeft, i, k)
			}
			d.stops(i, k, c)
		}
		if !selfStarting(s.spec(s.on).Format) && tr.done > 0 && !tr.working && !s.through(s.on, p, i) {
			d.add(tr.due, RestOver, i, tr.done+1)
		}
	}
}

// stops adds the warnings of a stop that lasts.
func (d *due) stops(i, k int, c cell) {
	limit := d.s.spec(d.s.on).StopCap
	if n := len(c.stops); limit > 0 && n > 0 && c.stops[n-1].To == None {
		over := d.s.room(d.s.clock(c.stops[n-1].From)+limit, d.to)
		d.add(over-tenLeft, StopSoon, i, k)
		d.add(over, StopOver, i, k)
	}
}
