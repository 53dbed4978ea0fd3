package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"hawser/internal/floor"
)

// session is one whole session as it stands on the disk, and where its lines begin.
func wholeSession(t *testing.T) (data []byte, lines [][]byte, events []floor.Stamped) {
	t.Helper()
	m := newMemory()
	events = part(class(), public)
	r := keptClass(t, m, events)
	data = must[[]byte](t)(readAll(m, r.Path))
	return data, bytes.SplitAfter(data, []byte("\n"))[:len(events)], events
}

// right reports an event that is not one of want, and tells whether all are there.
func right(t *testing.T, what string, got, want []floor.Stamped) (all bool) {
	t.Helper()
	last := 0
	for _, e := range got {
		if e.N <= last || e.N > len(want) || e.T != want[e.N-1].T || !equalEvent(e.E, want[e.N-1].E) {
			t.Fatalf("%s: event %d is wrong: %+v", what, e.N, e)
		}
		last = e.N
	}
	return len(got) == len(want)
}

func TestCutAtEveryByte(t *testing.T) {
	t.Parallel()
	data, lines, events := wholeSession(t)
	whole, next := 0, len(lines[0])
	for size := range len(data) + 1 {
		if size >= next && whole < len(lines) {
			whole++
			if whole < len(lines) {
				next += len(lines[whole])
			}
		}
		if size%stride(1) != 0 {
			continue
		}
		log := must[*Log](t)(Read("x", bytes.NewReader(data[:size])))
		if !equal(log.Events, events[:whole]) {
			t.Fatalf("cut at byte %d: %s, want %d", size, say(log.Events), whole)
		}
		torn := size > 0 && data[size-1] != '\n'
		switch {
		case log.Err() != nil:
			t.Fatalf("cut at byte %d: %v, want no damage", size, log.Err())
		case torn != (len(log.Damage) == 1):
			t.Fatalf("cut at byte %d: torn %v, named %v", size, torn, log.Damage)
		case torn && (!errors.Is(log.Damage[0], ErrTorn) || log.Damage[0].Line != whole+1):
			t.Fatalf("cut at byte %d: %v, want line %d torn", size, log.Damage[0], whole+1)
		}
	}
}

// TestFlipEveryBit: a changed line is never believed, and is named with its place.
// The short count flips every ninth bit. A flip makes one line of two, or two of one, where it makes or unmakes a newline.
func TestFlipEveryBit(t *testing.T) {
	t.Parallel()
	data, lines, events := wholeSession(t)
	row, offset, flips, step := 0, 0, 0, stride(9)
	for i := range data {
		if i == offset+len(lines[row]) {
			offset += len(lines[row])
			row++
		}
		for bit := range 8 {
			if (8*i+bit)%step != 0 {
				continue
			}
			flips++
			data[i] ^= 1 << bit
			log := must[*Log](t)(Read("x", bytes.NewReader(data)))
			what := fmt.Sprintf("byte %d, bit %d", i, bit)
			if right(t, what, log.Events, events) {
				t.Fatalf("%s: not noticed", what)
			}
			if len(log.Events) < len(events)-2 {
				t.Fatalf("%s: %s, want all but two at most", what, say(log.Events))
			}
			if len(log.Damage) == 0 || log.Damage[0].Offset != int64(offset) || log.Damage[0].Line != row+1 {
				t.Fatalf("%s: %v, want line %d at %d named", what, log.Damage, row+1, offset)
			}
			if row < len(lines)-2 && log.Err() == nil {
				t.Fatalf("%s: damage in the middle is said to be torn", what)
			}
			data[i] ^= 1 << bit
		}
	}
	t.Logf("%d bits flipped", flips)
}

func TestLinesMoved(t *testing.T) {
	t.Parallel()
	_, lines, events := wholeSession(t)
	read := func(lines [][]byte) *Log {
		return must[*Log](t)(Read("x", bytes.NewReader(bytes.Join(lines, nil))))
	}
	foreign, err := encode(5, opening().Add(time.Minute), 5*time.Second, floor.Held{}, "")
	if err != nil {
		t.Fatal(err)
	}
	for i := range lines {
		missing := read(slices.Delete(slices.Clone(lines), i, i+1))
		if all := right(t, "missing", missing.Events, events); all || len(missing.Events) != len(events)-1 {
			t.Errorf("line %d missing: %s", i+1, say(missing.Events))
		}
		if i < len(lines)-1 && missing.Err() == nil { // the last one nobody can miss
			t.Errorf("line %d missing: not noticed", i+1)
		}
		for j := range lines {
			what := fmt.Sprintf("lines %d and %d", i+1, j+1)
			if i != j {
				swapped := slices.Clone(lines)
				swapped[i], swapped[j] = swapped[j], swapped[i]
				log := read(swapped)
				if !right(t, what+" swapped", log.Events, events) || log.Err() == nil {
					t.Errorf("%s swapped: %s, %v", what, say(log.Events), log.Err())
				}
			}
			doubled := read(slices.Insert(slices.Clone(lines), j, lines[i]))
			if !right(t, what+" doubled", doubled.Events, events) || doubled.Err() == nil {
				t.Errorf("line %d doubled at %d: %s, %v", i+1, j+1, say(doubled.Events), doubled.Err())
			}
		}
		if i == 0 {
			continue // a foreign first line makes it a log of that run
		}
		mixed := read(slices.Insert(slices.Clone(lines), i, foreign.raw))
		if !right(t, "foreign", mixed.Events, events) || mixed.Err() == nil {
			t.Errorf("foreign line at %d: %s, %v", i+1, say(mixed.Events), mixed.Err())
		}
		instead := slices.Clone(lines)
		instead[i] = foreign.raw
		log := read(instead)
		if right(t, "foreign instead", log.Events, events) || log.Err() == nil {
			t.Errorf("foreign line instead of %d: %s, %v", i+1, say(log.Events), log.Err())
		}
	}
}

// TestChangedLine: a line changed by hand, sum and all, does not follow any more.
func TestChangedLine(t *testing.T) {
	t.Parallel()
	_, lines, events := wholeSession(t)
	l := must[line](t)(decode(lines[3]))
	fake, err := encode(l.n, l.at.Add(-l.t), l.t, floor.Pressed{Who: "Maren", Part: 1, Round: 9, As: "done"}, l.p)
	if err != nil {
		t.Fatal(err)
	}
	lines[3] = fake.raw
	log := must[*Log](t)(Read("x", bytes.NewReader(bytes.Join(lines, nil))))
	if log.Err() == nil || len(log.Events) != len(events) || log.Damage[0].Line != 5 {
		t.Errorf("a changed line: %v, want line 5 named", log.Err())
	}
}

func TestHostileBytes(t *testing.T) {
	t.Parallel()
	data, _, events := wholeSession(t)
	sealed := func(body string) string { return body + crcMark + sum([]byte(body)) + crcEnd + "\n" }
	const at = `"at":"2026-11-25T18:02:00.123+01:00",`
	for name, c := range map[string]struct {
		data string
		torn bool // only the last line is bad
	}{
		"nothing":             {"", true},
		"zeros at the end":    {string(data) + string(make([]byte, 4096)), true},
		"zeros alone":         {string(make([]byte, 4096)), true},
		"an empty line":       {string(data) + "\n", true},
		"windows newlines":    {string(bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))), false},
		"deep nesting":        {string(data) + sealed(`{"n":99,"x":`+string(bytes.Repeat([]byte("["), 30_000))), true},
		"a line too long":     {string(data) + sealed(`{"n":99,"x":"`+string(bytes.Repeat([]byte("x"), lineLimit))+`"`), true},
		"a megabyte":          {string(data) + string(bytes.Repeat([]byte("x"), firstLimit+1)), true},
		"a negative number":   {string(data) + sealed(`{"n":-1,"t":0,`+at+`"e":"held","p":""`), true},
		"a negative time":     {string(data) + sealed(`{"n":99,"t":-1,`+at+`"e":"held","p":""`), true},
		"a time past all":     {string(data) + sealed(`{"n":99,"t":31622400001,`+at+`"e":"held","p":""`), true},
		"a time past that":    {string(data) + sealed(`{"n":99,"t":9223372036854775807,`+at+`"e":"held","p":""`), true},
		"a time that is none": {string(data) + sealed(`{"n":99,"t":"0",`+at+`"e":"held","p":""`), true},
		"no wall time":        {string(data) + sealed(`{"n":99,"t":0,"at":"yesterday","e":"held","p":""`), true},
		"no name":             {string(data) + sealed(`{"n":99,"t":0,`+at+`"p":""`), true},
		"another order":       {string(data) + sealed(`{"t":0,"n":99,`+at+`"e":"held","p":""`), true},
		"a format of none":    {string(data) + sealed(`{"n":99,"t":0,`+at+`"e":"held","v":x,"p":""`), true},
		"no line before":      {string(data) + sealed(`{"n":99,"t":0,`+at+`"e":"held","of":1`), true},
		"not even an object":  {string(data) + sealed(`[1`), true},
		"a sum without words": {string(data) + sealed(``), true},
	} {
		log := must[*Log](t)(Read("x", bytes.NewReader([]byte(c.data))))
		if len(log.Events) > 0 {
			right(t, name, log.Events, events)
		}
		if (log.Err() == nil) != c.torn || c.data != "" && len(log.Damage) == 0 {
			t.Errorf("%s: %v, %v; want torn alone %v", name, log.Err(), log.Damage, c.torn)
		}
	}
}

// TestReaderFails: what was read before is there, and the error too.
func TestReaderFails(t *testing.T) {
	t.Parallel()
	data, _, _ := wholeSession(t)
	log, err := Read("x", &failing{data: data})
	if !errors.Is(err, errDisk) || len(log.Events) == 0 {
		t.Errorf("Read from a dying disk = %s, %v", say(log.Events), err)
	}
}

type failing struct{ data []byte }

func (f *failing) Read(b []byte) (int, error) {
	if len(f.data) == 0 {
		return 0, errDisk
	}
	n := copy(b, f.data)
	f.data = f.data[n:]
	return n, nil
}

// TestWhatIsSaid: an error names the place, and each kind can be asked for.
func TestWhatIsSaid(t *testing.T) {
	t.Parallel()
	data, lines, _ := wholeSession(t)
	data[len(lines[0])+3] ^= 1
	data[len(lines[0])+len(lines[1])+3] ^= 1
	log := must[*Log](t)(Read("x.jsonl", bytes.NewReader(data[:len(data)-3])))
	first := fmt.Sprintf("x.jsonl:2 (byte %d): its checksum does not fit", len(lines[0]))
	second := fmt.Sprintf("x.jsonl:3 (byte %d): its checksum does not fit", len(lines[0])+len(lines[1]))
	third := fmt.Sprintf("x.jsonl:4 (byte %d): events 2 to 3 are missing before this line", len(lines[0])+len(lines[1])+len(lines[2]))
	if got, want := log.Err().Error(), first+"\n"+second+"\n"+third; got != want {
		t.Errorf("Err = %s, want %s", got, want)
	}
	if !errors.Is(log.Err(), ErrDamaged) || errors.Is(log.Err(), ErrTorn) {
		t.Error("damage in the middle is ErrDamaged, and not ErrTorn")
	}
	if len(log.Damage) != 4 || !errors.Is(log.Damage[3], ErrTorn) {
		t.Errorf("damage %v, want a torn line at the end", log.Damage)
	}
	for pid, want := range map[int]string{
		0:  "/boats is in use by another program; end that one first, or use another --home",
		42: "/boats is in use by another hawser (process 42); end that one first, or use another --home",
	} {
		if got := (&InUseError{"/boats", pid}).Error(); got != want {
			t.Errorf("InUseError = %s, want %s", got, want)
		}
	}
}
