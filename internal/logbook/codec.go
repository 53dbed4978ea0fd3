package logbook

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"reflect"
	"strconv"
	"time"

	"hawser/internal/floor"
)

// Part of the format; do not change.
const (
	version    = 1
	wallLayout = "2006-01-02T15:04:05.000Z07:00"
	crcMark    = `,"c":"`
	crcEnd     = `"}`
	crcDigits  = 8

	firstLimit = 1 << 20  // bytes of line 1, which carries the plan
	lineLimit  = 64 << 10 // bytes of any other line
)

// names is what the log calls each event. Part of the format; do not change.
var names = []struct {
	name  string
	event floor.Event
}{
	{"opened", floor.Opened{}},
	{"started", floor.Started{}},
	{"heat started", floor.HeatStarted{}},
	{"pressed", floor.Pressed{}},
	{"attempt missed", floor.AttemptMissed{}},
	{"undone", floor.Undone{}},
	{"held", floor.Held{}},
	{"resumed", floor.Resumed{}},
	{"restarted", floor.Restarted{}},
	{"struck", floor.Struck{}},
	{"given", floor.Given{}},
	{"arrived", floor.Arrived{}},
	{"guest added", floor.GuestAdded{}},
	{"left", floor.Left{}},
	{"load changed", floor.LoadChanged{}},
	{"distance cut", floor.DistanceCut{}},
	{"swapped", floor.Swapped{}},
	{"sled out", floor.SledOut{}},
	{"sled back", floor.SledBack{}},
	{"sled left", floor.SledLeft{}},
	{"lane changed", floor.LaneChanged{}},
	{"typed", floor.Typed{}},
	{"partial", floor.Partial{}},
	{"part skipped", floor.PartSkipped{}},
	{"part lengthened", floor.PartLengthened{}},
	{"interval changed", floor.IntervalChanged{}},
	{"pull cut", floor.PullCut{}},
	{"part ended", floor.PartEnded{}},
	{"slept", floor.Slept{}},
	{"recovered", floor.Recovered{}},
	{"ended", floor.Ended{}},
	{"effort given", floor.EffortGiven{}},
	{"pain given", floor.PainGiven{}},
	{"noted", floor.Noted{}},
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// line is one whole line of a log. Its event is nil where this program cannot read it.
type line struct {
	n     int
	t     time.Duration
	at    time.Time
	v     int // on line 1; else 0
	event floor.Event
	p, c  string
	raw   []byte // with its newline
}

// private reports whether an event stands in the private file.
func private(e floor.Event) bool {
	switch e.(type) {
	case floor.EffortGiven, floor.PainGiven, floor.Noted:
		return true
	}
	return false
}

// encode writes event e as line n of the run that was opened at wall, after the
// line whose sum is p.
func encode(n int, wall time.Time, t time.Duration, e floor.Event, p string) (line, error) {
	t = t.Round(time.Millisecond)
	at := wall.Truncate(time.Millisecond).Add(t)
	if y := at.Year(); y < 0 || y > 9999 {
		return line{}, fmt.Errorf("write event %d: year %d", n, y)
	}
	name, v := nameOf(e), 0
	if name == "" {
		return line{}, fmt.Errorf("write event %d: %T has no name in the log", n, e)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, `{"n":%d,"t":%d,"at":"%s","e":"%s",`, n, t.Milliseconds(), at.Format(wallLayout), name)
	limit := lineLimit
	if n == 1 {
		v, limit = version, firstLimit
		fmt.Fprintf(&b, `"v":%d,`, v)
	}
	fields := json.NewEncoder(&b)
	fields.SetEscapeHTML(false)
	open := b.Len()
	if err := fields.Encode(withoutPaths(e)); err != nil {
		return line{}, fmt.Errorf("write event %d, %s: %w", n, name, err)
	}
	b.Truncate(b.Len() - len("}\n"))
	body := b.Bytes()
	body = append(body[:open], body[open+len("{"):]...)
	if body[len(body)-1] != ',' {
		body = append(body, ',')
	}
	body = fmt.Appendf(body, `"p":"%s"`, p)
	c := sum(body)
	body = append(body, crcMark+c+crcEnd+"\n"...)
	if len(body) > limit {
		return line{}, fmt.Errorf("write event %d, %s: %d bytes, more than the %d of a line", n, name, len(body), limit)
	}
	return line{n: n, t: t, at: at, v: v, event: e, p: p, c: c, raw: body}, nil
}

// What can be wrong with a line by itself.
var (
	errEmpty   = errors.New("empty")
	errNoSum   = errors.New("no checksum at its end")
	errSum     = errors.New("its checksum does not fit")
	errNoLine  = errors.New("whole, but no event")
	errNewline = errors.New("cut off before its end")
	errLong    = errors.New("longer than a line can be")
)

// decode reads one line with its newline. A line that it returns is whole.
func decode(raw []byte) (line, error) {
	body := bytes.TrimSuffix(raw, []byte("\n"))
	if len(body) == 0 {
		return line{}, errEmpty
	}
	i := len(body) - len(crcMark) - crcDigits - len(crcEnd)
	if i < 0 || !bytes.HasPrefix(body[i:], []byte(crcMark)) || !bytes.HasSuffix(body, []byte(crcEnd)) {
		return line{}, errNoSum
	}
	c := string(body[i+len(crcMark) : len(body)-len(crcEnd)])
	if c != sum(body[:i]) {
		return line{}, errSum
	}
	l, name, err := head(body[:i])
	if err != nil {
		return line{}, err
	}
	l.c, l.raw = c, raw
	l.event = Event(name, body)
	return l, nil
}

// head reads what every line has: its number, times, name and the sum before. They
// stand in this order in every line, and the sum before at its end.
func head(body []byte) (line, string, error) {
	rest := body
	field := func(before, after string) string {
		value, then, ok := bytes.Cut(bytes.TrimPrefix(rest, []byte(before)), []byte(after))
		if !ok || !bytes.HasPrefix(rest, []byte(before)) {
			rest = nil
			return ""
		}
		rest = then
		return string(value)
	}
	n, err1 := strconv.Atoi(field(`{"n":`, `,"t":`))
	t, err2 := strconv.ParseInt(field("", `,"at":"`), 10, 64)
	at, err3 := time.Parse(wallLayout, field("", `","e":"`))
	name := field("", `",`)
	if err := errors.Join(err1, err2, err3); err != nil || rest == nil || n < 1 || t < 0 || t > maxTime {
		return line{}, "", fmt.Errorf("%w: its number, time or name cannot be read", errNoLine)
	}
	v := 0
	if bytes.HasPrefix(rest, []byte(`"v":`)) {
		if v, err1 = strconv.Atoi(field(`"v":`, ",")); err1 != nil {
			return line{}, "", fmt.Errorf("%w: its format cannot be read", errNoLine)
		}
	}
	p, ok := bytes.CutSuffix(body, []byte(`"`))
	before := bytes.LastIndex(p, []byte(`"p":"`))
	if !ok || before < 0 {
		return line{}, "", fmt.Errorf("%w: it does not say which line it follows", errNoLine)
	}
	p = p[before+len(`"p":"`):]
	return line{n: n, t: time.Duration(t) * time.Millisecond, at: at, v: v, p: string(p)}, name, nil
}

// maxTime is the longest room time, in ms: a year is no class any more, and sums stay far from overflow.
const maxTime = 366 * 24 * 3600 * 1000

// Event reads an event of that name from the fields of a line. It is nil where this
// program does not know the name or cannot read the fields.
func Event(name string, body []byte) floor.Event {
	for _, known := range names {
		if known.name != name {
			continue
		}
		v := reflect.New(reflect.TypeOf(known.event))
		if err := json.Unmarshal(body, v.Interface()); err != nil {
			return nil
		}
		return v.Elem().Interface().(floor.Event) //nolint:forcetypeassert // the table holds events
	}
	return nil
}

func nameOf(e floor.Event) string {
	for _, known := range names {
		if reflect.TypeOf(known.event) == reflect.TypeOf(e) {
			return known.name
		}
	}
	return ""
}

// withoutPaths takes out of a plan where its files stood on this machine.
func withoutPaths(e floor.Event) floor.Event {
	opened, ok := e.(floor.Opened)
	if !ok || opened.Plan == nil {
		return e
	}
	plan := *opened.Plan
	if plan.Kit != nil {
		k := *plan.Kit
		k.Path, plan.Kit = "", &k
	}
	if plan.House != nil {
		h := *plan.House
		h.Path, plan.House = "", &h
	}
	opened.Plan = &plan
	return opened
}

func sum(b []byte) string { return fmt.Sprintf("%08x", crc32.Checksum(b, castagnoli)) }
