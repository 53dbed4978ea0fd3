package history

import (
	"bytes"
	"encoding/json"
	"hash/crc32"
	"strconv"
	"time"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// scanner takes a log apart from front to back. It knows one shape, the logbook's.
type scanner struct {
	rest []byte
	ok   bool
	same *same
}

// same holds what was met before and is the same in most logs: words, and the kits
// and house rules that are a good part of a plan. Nothing changes them once read.
type same struct {
	words  map[string]string
	kits   map[string]*kit.Kit
	houses map[string]*house.House
}

func newSame() *same {
	return &same{words: map[string]string{}, kits: map[string]*kit.Kit{}, houses: map[string]*house.House{}}
}

// most is how many of each it holds before it begins anew.
const most = 1000

func (m *same) word(b []byte) string {
	w, ok := m.words[string(b)]
	if !ok {
		if len(m.words) >= most {
			clear(m.words)
		}
		w = string(b)
		m.words[w] = w
	}
	return w
}

// scan reads the events of a log in their order; false where any line is not what
// an undamaged log of this version has.
func scan(data []byte, known *same) ([]floor.Stamped, bool) {
	events := make([]floor.Stamped, 0, len(data)/160+1)
	var sum []byte
	for n := 1; len(data) > 0; n++ {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			return nil, false
		}
		body, c, whole := seal(data[:end], sum)
		if !whole {
			return nil, false
		}
		s := scanner{body, true, known}
		s.word(`{"n":`)
		s.ok = s.ok && s.number() == n
		s.word(`,"t":`)
		t := time.Duration(s.number()) * time.Millisecond
		s.word(`,"at":"`)
		s.text()
		s.word(`,"e":"`)
		name := s.text()
		if n == 1 {
			s.word(`,"v":1`)
		}
		e := s.event(known.word(name), data[:end])
		if !s.ok {
			return nil, false
		}
		events = append(events, floor.Stamped{N: n, T: t, E: e})
		sum, data = c, data[end+1:]
	}
	return events, len(events) > 0
}

// seal checks a line's own sum and that it follows the line before. It returns the
// line without both, and its sum.
func seal(line, before []byte) (body, sum []byte, ok bool) {
	body, sum, ok = cutSum(line, `,"c":"`, len(`01234567`), `"}`)
	if want, err := strconv.ParseUint(string(sum), 16, 32); !ok || err != nil || uint32(want) != crc32.Checksum(body, castagnoli) {
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

// word steps over exactly that.
func (s *scanner) word(w string) {
	if s.ok = s.ok && len(s.rest) >= len(w) && string(s.rest[:len(w)]) == w; s.ok {
		s.rest = s.rest[len(w):]
	}
}

// number reads digits.
func (s *scanner) number() int {
	n, i := 0, 0
	for i < len(s.rest) && i < 12 && s.rest[i] >= '0' && s.rest[i] <= '9' {
		n = 10*n + int(s.rest[i]-'0')
		i++
	}
	s.ok = s.ok && i > 0
	s.rest = s.rest[i:]
	return n
}

// text reads to the closing quote; an escape is not for this scanner.
func (s *scanner) text() []byte {
	end := bytes.IndexByte(s.rest, '"')
	if s.ok = s.ok && end >= 0 && bytes.IndexByte(s.rest[:max(end, 0)], '\\') < 0; !s.ok {
		return nil
	}
	t := s.rest[:end]
	s.rest = s.rest[end+1:]
	return t
}

// event reads the fields of an event: of a press, of which a log is full, here, of
// the rest as JSON.
func (s *scanner) event(name string, line []byte) floor.Event {
	if name == "pressed" {
		var e floor.Pressed
		s.word(`,"who":"`)
		e.Who = s.same.word(s.text())
		s.word(`,"part":`)
		e.Part = s.number()
		s.word(`,"round":`)
		e.Round = s.number()
		s.word(`,"as":"`)
		e.As = s.same.word(s.text())
		s.ok = s.ok && len(s.rest) == 0
		return e
	}
	if s.ok && name == "opened" {
		return s.opened(line)
	}
	read := kinds[name]
	if s.ok = s.ok && read != nil; !s.ok {
		return nil
	}
	e, err := read(line)
	s.ok = err == nil
	return e
}

// opened reads the first event, but for the kit and the house rules if they are
// known already.
func (s *scanner) opened(line []byte) floor.Event {
	var e struct {
		floor.Opened
		Plan struct {
			floor.Plan
			Kit   json.RawMessage `json:"kit"`
			House json.RawMessage `json:"house"`
		} `json:"plan"`
	}
	if s.ok = json.Unmarshal(line, &e) == nil; !s.ok {
		return nil
	}
	plan := e.Plan.Plan
	plan.Kit, plan.House = remember(s, s.same.kits, e.Plan.Kit), remember(s, s.same.houses, e.Plan.House)
	e.Opened.Plan = &plan
	return e.Opened
}

// remember returns what raw says, from known where it stood there before.
func remember[T any](s *scanner, known map[string]*T, raw []byte) *T {
	if v, ok := known[string(raw)]; ok {
		return v
	}
	var v *T
	s.ok = s.ok && len(raw) > 0 && json.Unmarshal(raw, &v) == nil
	if len(known) >= most {
		clear(known)
	}
	known[string(raw)] = v
	return v
}

// kinds reads the other events by the names that the log has for them.
var kinds = map[string]func([]byte) (floor.Event, error){
	"started":         decode[floor.Started],
	"heat started":    decode[floor.HeatStarted],
	"attempt missed":  decode[floor.AttemptMissed],
	"undone":          decode[floor.Undone],
	"held":            decode[floor.Held],
	"resumed":         decode[floor.Resumed],
	"restarted":       decode[floor.Restarted],
	"struck":          decode[floor.Struck],
	"given":           decode[floor.Given],
	"arrived":         decode[floor.Arrived],
	"guest added":     decode[floor.GuestAdded],
	"left":            decode[floor.Left],
	"load changed":    decode[floor.LoadChanged],
	"distance cut":    decode[floor.DistanceCut],
	"swapped":         decode[floor.Swapped],
	"sled out":        decode[floor.SledOut],
	"sled back":       decode[floor.SledBack],
	"sled left":       decode[floor.SledLeft],
	"lane changed":    decode[floor.LaneChanged],
	"typed":           decode[floor.Typed],
	"partial":         decode[floor.Partial],
	"part skipped":    decode[floor.PartSkipped],
	"part lengthened": decode[floor.PartLengthened],
	"part ended":      decode[floor.PartEnded],
	"slept":           decode[floor.Slept],
	"recovered":       decode[floor.Recovered],
	"ended":           decode[floor.Ended],
	"effort given":    decode[floor.EffortGiven],
	"pain given":      decode[floor.PainGiven],
	"noted":           decode[floor.Noted],
}

func decode[E floor.Event](line []byte) (floor.Event, error) {
	var e E
	err := json.Unmarshal(line, &e)
	return e, err //nolint:wrapcheck // whatever it is, the logbook says it better
}
