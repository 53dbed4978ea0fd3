package logbook

import (
	"bytes"
	"cmp"
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
func right(got, want []floor.Stamped) (all bool, err error) {
	last := 0
	for _, e := range got {
		if e.N <= last || e.N > len(want) || e.T != want[e.N-1].T || !equalEvent(e.E, want[e.N-1].E) {
			return false, fmt.Errorf("event %d is wrong: %+v", e.N, e)
		}
		last = e.N
	}
	return len(got) == len(want), nil
}

func TestCutAtEveryByte(t *testing.T) {
	t.Parallel()
	if err := cutAtEveryByte(t, read); err != nil {
		t.Error(err)
	}
}

func cutAtEveryByte(t *testing.T, read reader) error {
	t.Helper()
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
		log, err := read(data[:size])
		if err != nil {
			return err
		}
		torn := size > 0 && data[size-1] != '\n'
		switch {
		case !equal(log.Events, events[:whole]):
			return fmt.Errorf("cut at byte %d: %s, want %d", size, say(log.Events), whole)
		case log.Err() != nil:
			return fmt.Errorf("cut at byte %d: %w, want no damage", size, log.Err())
		case torn != (len(log.Damage) == 1):
			return fmt.Errorf("cut at byte %d: torn %v, named %v", size, torn, log.Damage)
		case torn && (!errors.Is(log.Damage[0], ErrTorn) || log.Damage[0].Line != whole+1):
			return fmt.Errorf("cut at byte %d: %w, want line %d torn", size, log.Damage[0], whole+1)
		}
	}
	return nil
}

// TestFlipEveryBit: a changed line is never believed, and is named with its place.
// The short count flips every ninth bit. A flip makes one line of two, or two of one,
// where it makes or unmakes a newline.
func TestFlipEveryBit(t *testing.T) {
	t.Parallel()
	flips, err := flipEveryBit(t, read)
	if err != nil {
		t.Error(err)
	}
	t.Logf("%d bits flipped", flips)
}

func flipEveryBit(t *testing.T, read reader) (flips int, err error) {
	t.Helper()
	data, lines, events := wholeSession(t)
	row, offset, step := 0, 0, stride(9)
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
			log, err := read(data)
			if err != nil {
				return flips, err
			}
			all, err := right(log.Events, events)
			switch {
			case err != nil:
			case all:
				err = errors.New("not noticed")
			case len(log.Events) < len(events)-2:
				err = fmt.Errorf("%s, want all but two at most", say(log.Events))
			case len(log.Damage) == 0 || log.Damage[0].Offset != int64(offset) || log.Damage[0].Line != row+1:
				err = fmt.Errorf("%v, want line %d at %d named", log.Damage, row+1, offset)
			case row < len(lines)-2 && log.Err() == nil:
				err = errors.New("damage in the middle is said to be torn")
			}
			if err != nil {
				return flips, fmt.Errorf("byte %d, bit %d: %w", i, bit, err)
			}
			data[i] ^= 1 << bit
		}
	}
	return flips, nil
}

func TestLinesMoved(t *testing.T) {
	t.Parallel()
	if err := moveLines(t, read); err != nil {
		t.Error(err)
	}
}

// moveLines has a reader read a log in which each line is missing, changes places with each
// other, stands twice, or is another run's.
func moveLines(t *testing.T, read reader) error {
	t.Helper()
	_, lines, events := wholeSession(t)
	foreign, err := encode(5, opening().Add(time.Minute), 5*time.Second, floor.Held{}, "")
	if err != nil {
		t.Fatal(err)
	}
	// noticed reads some lines: no event is wrong, fewer are missing than may be, and it is said.
	noticed := func(what string, lines [][]byte, missing int, unsaid bool) error {
		log, err := read(bytes.Join(lines, nil))
		if err != nil {
			return err
		}
		if _, err := right(log.Events, events); err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
		if len(log.Events) != len(events)-missing || log.Err() == nil && !unsaid {
			return fmt.Errorf("%s: %s, and it says %v", what, say(log.Events), log.Damage)
		}
		return nil
	}
	for i := range lines {
		last := i == len(lines)-1 // nobody can miss it
		err := noticed(fmt.Sprintf("line %d missing", i+1), slices.Delete(slices.Clone(lines), i, i+1), 1, last)
		for j := range lines {
			if i != j {
				swapped := slices.Clone(lines)
				swapped[i], swapped[j] = swapped[j], swapped[i]
				err = cmp.Or(err, noticed(fmt.Sprintf("lines %d and %d swapped", i+1, j+1), swapped, 0, false))
			}
			err = cmp.Or(err, noticed(fmt.Sprintf("line %d doubled at %d", i+1, j+1), slices.Insert(slices.Clone(lines), j, lines[i]), 0, false))
		}
		if i > 0 { // a foreign first line makes it a log of that run
			instead := slices.Clone(lines)
			instead[i] = foreign.raw
			err = cmp.Or(err, noticed(fmt.Sprintf("a foreign line at %d", i+1), slices.Insert(slices.Clone(lines), i, foreign.raw), 0, false),
				noticed(fmt.Sprintf("a foreign line instead of %d", i+1), instead, 1, false))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// TestDamageControl: a reader that believes a line whatever its sum, and one that says
// nothing of what it leaves out, are found out.
func TestDamageControl(t *testing.T) {
	t.Parallel()
	_, flipped := flipEveryBit(t, credulous)
	_, unsaid := flipEveryBit(t, quiet)
	for what, err := range map[string]error{
		"believes a flipped bit": flipped, "believes a torn line": cutAtEveryByte(t, credulous),
		"is quiet about a flipped bit": unsaid, "is quiet about a torn line": cutAtEveryByte(t, quiet), "is quiet about lines moved": moveLines(t, quiet),
	} {
		if err == nil {
			t.Errorf("a reader that %s is said to be right: the suite cannot see", what)
		}
		t.Logf("a reader that %s: %v", what, err)
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
			if _, err := right(log.Events, events); err != nil {
				t.Errorf("%s: %v", name, err)
			}
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
