package history

import (
	"bytes"
	"hash/crc32"
	"time"

	"hawser/internal/floor"
	"hawser/internal/logbook"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// The longest lines that a log can have, with the newline.
const (
	firstLimit = 1 << 20
	lineLimit  = 64 << 10
)

// maxTime is the longest room time of a log, in ms.
const maxTime = 366 * 24 * 3600 * 1000

// scan appends the events of a log in their order; false where any line is not what
// an undamaged log of this version has. Most of a log are events that other logs
// have too, such as the press of one person in one round: those are read once.
func scan(data []byte, known *same, events []floor.Stamped) ([]floor.Stamped, bool) {
	var sum []byte
	var opened int64
	clock := wall{}
	for n, limit := 1, firstLimit; len(data) > 0; n, limit = n+1, lineLimit {
		end := bytes.IndexByte(data, '\n')
		if end < 0 || end >= limit {
			return nil, false
		}
		body, c, whole := seal(data[:end], sum)
		if !whole {
			return nil, false
		}
		s := scanner{body, true}
		s.word(`{"n":`)
		if s.number() != n {
			return nil, false
		}
		s.word(`,"t":`)
		t := s.number()
		s.word(`,"at":"`)
		at, ok := clock.read(s.text())
		s.word(`,"e":"`)
		if n == 1 {
			opened = at - int64(t)
		}
		if !ok || !s.ok || t > maxTime || at-int64(t) != opened {
			return nil, false
		}
		e := known.event(s.rest, data[:end], n == 1)
		if e == nil {
			return nil, false
		}
		events = append(events, floor.Stamped{N: n, T: time.Duration(t) * time.Millisecond, E: e})
		sum, data = c, data[end+1:]
	}
	return events, len(events) > 0
}

// seal checks a line's own sum and that it follows the line before. It returns the
// line without both, and its sum.
func seal(line, before []byte) (body, sum []byte, ok bool) {
	body, sum, ok = cutSum(line, `,"c":"`, len(`01234567`), `"}`)
	if !ok || !isHex(sum, crc32.Checksum(body, castagnoli)) {
		return nil, nil, false
	}
	body, follows, ok := cutSum(body, `,"p":"`, len(before), `"`)
	return body, sum, ok && bytes.Equal(follows, before)
}

// cutSum takes a sum of n digits between those marks off the end of a line.
func cutSum(line []byte, open string, n int, end string) (rest, sum []byte, ok bool) {
	at := len(line) - len(open) - n - len(end)
	if at < 0 || string(line[at:at+len(open)]) != open || string(line[len(line)-len(end):]) != end {
		return nil, nil, false
	}
	return line[:at], line[at+len(open) : len(line)-len(end)], true
}

// isHex reports whether eight digits are how a log writes sum.
func isHex(digits []byte, sum uint32) bool {
	for i := 7; i >= 0; i-- {
		if digits[i] != "0123456789abcdef"[sum&15] {
			return false
		}
		sum >>= 4
	}
	return true
}

// wall reads the wall times of one log. Nearly all of them are of one day in one
// zone, so that only the time of day is new.
type wall struct {
	day, zone string
	midnight  int64 // of that day in that zone, in ms since 1970
}

// read returns a time such as 2026-11-25T18:02:41.412+01:00, in ms since 1970.
func (w *wall) read(b []byte) (int64, bool) {
	const day, clock = len("2026-11-25T"), len("18:02:41.412")
	if len(b) < day+clock {
		return 0, false
	}
	c := b[day : day+clock]
	if c[2] != ':' || c[5] != ':' || c[8] != '.' {
		return 0, false
	}
	hour, ok1 := digits(c[:2], 23)
	minute, ok2 := digits(c[3:5], 59)
	second, ok3 := digits(c[6:8], 59)
	ms, ok4 := digits(c[9:], 999)
	if string(b[:day]) != w.day || string(b[day+clock:]) != w.zone {
		w.day, w.zone = string(b[:day]), string(b[day+clock:])
		midnight, err := time.Parse("2006-01-02TZ07:00", w.day+w.zone)
		if err != nil {
			return 0, false
		}
		w.midnight = midnight.UnixMilli()
	}
	return w.midnight + int64((hour*60+minute)*60+second)*1000 + int64(ms), ok1 && ok2 && ok3 && ok4
}

// digits reads a number that is all of b, up to most.
func digits(b []byte, most int) (int, bool) {
	n := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	return n, n <= most
}

// event reads what stands in a line from the event's name on; nil where that is not
// known here. line is all of it.
func (m *same) event(body, line []byte, first bool) floor.Event {
	const opened = `opened","v":1,`
	if first && bytes.HasPrefix(body, []byte(opened)) {
		return m.opened(body[len(opened):])
	}
	if e := m.events[string(body)]; e != nil {
		return e
	}
	name, fields, ok := bytes.Cut(body, []byte(`"`))
	if !ok || len(fields) > 0 && fields[0] != ',' || first != bytes.HasPrefix(fields, []byte(`,"v":1,`)) || !first && bytes.HasPrefix(fields, []byte(`,"v":`)) {
		return nil
	}
	e := logbook.Event(string(name), line)
	if e != nil && !first {
		room(m.events)
		m.events[string(body)] = e
	}
	return e
}
