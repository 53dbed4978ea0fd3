package logbook

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/floor"
)

// FuzzRead: whatever the bytes, reading ends, believes no line twice and none
// without its sum, and what it believes can be written again and applied.
func FuzzRead(f *testing.F) {
	p := ""
	var all []byte
	for i, e := range everyEvent() {
		l, err := encode(i+1, opening(), time.Duration(i)*time.Second, e, p)
		if err != nil {
			f.Fatal(err)
		}
		p, all = l.c, append(all, l.raw...)
		f.Add(l.raw)
	}
	f.Add(all)
	f.Fuzz(func(t *testing.T, data []byte) {
		checkRead(t, data)
		checkRead(t, seal(data))
	})
}

// seal gives every line its right sum, so that the fuzzer gets past it.
func seal(data []byte) []byte {
	var out []byte
	for l := range bytes.Lines(data) {
		body := bytes.TrimSuffix(l, []byte("\n"))
		if i := bytes.LastIndex(body, []byte(crcMark)); i >= 0 {
			body = body[:i]
		}
		out = append(append(out, body...), crcMark+sum(body)+crcEnd+"\n"...)
	}
	return out
}

func checkRead(t *testing.T, data []byte) {
	t.Helper()
	log, err := Read("x", bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	last := 0
	for _, e := range log.Events {
		if e.N <= last {
			t.Fatalf("event %d after event %d", e.N, last)
		}
		last = e.N
	}
	if int(log.end)+len(log.torn) != len(data) {
		t.Fatalf("%d bytes and %d torn of %d", log.end, len(log.torn), len(data))
	}
	_ = log.Err()
	for _, l := range log.lines {
		if l.event == nil {
			continue
		}
		again, err := encode(l.n, l.at.Add(-l.t), l.t, rename(l.event, "Maren", "someone"), l.p)
		if err != nil {
			continue // too long, or a year that cannot be written
		}
		if _, err := decode(again.raw); err != nil {
			t.Fatalf("%s was read, but not after it was written again: %v", l.raw, err)
		}
	}
}

// TestAnyText: a text comes back as it was, but for bytes that are no text.
func TestAnyText(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.SampledFrom([]rune("\",:{}c\\\n\r\x00\u2028\u202e\x1b<>&"))),
			rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "text")
		at := time.Duration(rapid.Int64Range(0, maxTime).Draw(t, "ms")) * time.Millisecond
		e := floor.Struck{Who: text, Part: rapid.Int().Draw(t, "part"), Reason: text}
		l, err := encode(7, opening(), at, e, "00000000")
		if err != nil {
			if len(text) < lineLimit/12 {
				t.Fatal(err)
			}
			return
		}
		got, err := decode(l.raw)
		if err != nil {
			t.Fatalf("decode(%q) = %v", l.raw, err)
		}
		e.Who, e.Reason = clean(e.Who), clean(e.Reason)
		if got.t != at || !got.at.Equal(l.at) || got.event != floor.Event(e) {
			t.Fatalf("decode(%q) = %+v, want %+v", l.raw, got, e)
		}
	})
}

// clean is what JSON makes of a text: one mark for each byte that is none.
func clean(text string) string {
	return strings.Map(func(r rune) rune { return r }, text)
}
