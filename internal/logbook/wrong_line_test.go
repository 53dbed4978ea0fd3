package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestWhatIsWrongWithALine: each way in which a line can be bad has its own word, so that
// somebody who looks into the file sees what happened to it.
func TestWhatIsWrongWithALine(t *testing.T) {
	t.Parallel()
	sealed := func(body string) string { return body + crcMark + sum([]byte(body)) + crcEnd }
	const start, at = `{"n":7,"t":0,`, `"at":"2026-11-25T18:02:00.123+01:00",`
	for _, c := range []struct {
		says, line string
		want       error
	}{
		{"a good one", sealed(start + at + `"e":"held","p":""`), nil},
		{"nothing", "", errEmpty},
		{"no sum", start + at + `"e":"held","p":""}`, errNoSum},
		{"shorter than a sum", `"}`, errNoSum},
		{"another sum", start + at + `"e":"held","p":""` + crcMark + "00000000" + crcEnd, errSum},
		{"a sum of nothing", sealed(""), errNoLine},
		{"it begins in the middle", sealed(`7,"t":0,` + at + `"e":"held","p":""`), errNoLine},
		{"no time", sealed(`{"n":7,` + at + `"e":"held","p":""`), errNoLine},
		{"no number", sealed(`{"n":x,"t":0,` + at + `"e":"held","p":""`), errNoLine},
		{"number 0", sealed(`{"n":0,"t":0,` + at + `"e":"held","p":""`), errNoLine},
		{"the line before is not closed", sealed(start + at + `"e":"held","p":"0123abcd`), errNoLine},
		{"something else in its place", sealed(start + at + `"e":"held","of":"0123abcd"`), errNoLine},
	} {
		_, err := decode([]byte(c.line + "\n"))
		if !errors.Is(err, c.want) {
			t.Errorf("decode(%s) = %v, want %v", c.says, err, c.want)
		}
	}
}

// TestRoomTimeIsRounded: a line's time is the nearest millisecond, its wall clock with it.
func TestRoomTimeIsRounded(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		t, want time.Duration
		at      string
	}{
		{93_412_499 * time.Microsecond, 93_412 * time.Millisecond, `"t":93412,"at":"2026-11-25T18:03:33.535+01:00"`},
		{93_412_500 * time.Microsecond, 93_413 * time.Millisecond, `"t":93413,"at":"2026-11-25T18:03:33.536+01:00"`},
	} {
		l := must[line](t)(encode(2, opening(), c.t, floor.Held{}, ""))
		if l.t != c.want || !strings.Contains(string(l.raw), c.at) {
			t.Errorf("%v stands in the log as %v: %s; want %s", c.t, l.t, l.raw, c.at)
		}
	}
}

// TestTextStandsAsWritten: a person who looks into the file reads what was written, and
// finds a name there as it is.
func TestTextStandsAsWritten(t *testing.T) {
	t.Parallel()
	l := must[line](t)(encode(2, opening(), 0, floor.Noted{Who: "Bo & Åse", Text: "sled <A>"}, ""))
	for _, text := range []string{"Bo & Åse", "sled <A>"} {
		if !strings.Contains(string(l.raw), text) {
			t.Errorf("%q does not stand in %s", text, l.raw)
		}
	}
}

// TestNoPlan: an opened without a plan is written and read like any other.
func TestNoPlan(t *testing.T) {
	t.Parallel()
	opened := floor.Opened{Run: run, Wall: opening().Truncate(time.Millisecond)}
	l := must[line](t)(encode(1, opening(), 0, opened, ""))
	if got := must[line](t)(decode(l.raw)); !equalEvent(got.event, opened) {
		t.Errorf("an opened without a plan comes back as %+v", got.event)
	}
	if got := pseudonym([]floor.Stamped{{N: 1, E: opened}}); got != "someone" {
		t.Errorf("where nobody is, the name is %q, want someone", got)
	}
}

// TestTooLong: a line is too long by its place: the first carries the plan, all others an event.
func TestTooLong(t *testing.T) {
	t.Parallel()
	noted := func(n, size int) []byte {
		body := fmt.Sprintf(`{"n":%d,"t":0,"at":"2026-11-25T18:02:00.123+01:00","e":"noted","who":"Maren","text":"`, n)
		const end = `","p":""`
		body += strings.Repeat("x", size-len(body)-len(end)-len(crcMark)-crcDigits-len(crcEnd)-1) + end
		return []byte(body + crcMark + sum([]byte(body)) + crcEnd + "\n")
	}
	for _, c := range []struct {
		n, size int
		want    error
	}{{2, lineLimit, nil}, {2, lineLimit + 1, errLong}, {1, lineLimit + 1, nil}, {1, firstLimit, nil}, {1, firstLimit + 1, errLong}} {
		raw := noted(c.n, c.size)
		if _, err := check(raw, true); len(raw) != c.size || !errors.Is(err, c.want) {
			t.Errorf("check(line %d of %d bytes) = %v, want %v", c.n, len(raw), err, c.want)
		}
	}
}

// TestSameNumberTwice: of two whole lines with one number the first is kept; whether the other
// is the same line again or another one is said, with its place.
func TestSameNumberTwice(t *testing.T) {
	t.Parallel()
	_, lines, events := wholeSession(t)
	third := must[line](t)(decode(lines[2]))
	other := must[line](t)(encode(3, third.at.Add(-third.t), third.t, floor.Held{}, third.p))
	for want, extra := range map[string][]byte{"event 3 again": lines[2], "another event 3 than on line 3": other.raw} {
		data := slices.Concat(slices.Concat(lines[:3]...), extra, slices.Concat(lines[3:]...))
		log := must[*Log](t)(Read("x", bytes.NewReader(data)))
		if !equal(log.Events, events) || len(log.Damage) != 1 || log.Damage[0].What != want || log.Damage[0].Line != 4 {
			t.Errorf("%s, %v; want all as it was and line 4: %s", say(log.Events), log.Damage, want)
		}
	}
}
