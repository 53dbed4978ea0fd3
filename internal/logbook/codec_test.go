package logbook

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
)

// TestEveryEventHasAName holds the table against the engine's own source, so that no
// event can be added there and forgotten here.
func TestEveryEventHasAName(t *testing.T) {
	t.Parallel()
	src := must[*ast.File](t)(parser.ParseFile(token.NewFileSet(), filepath.Join("..", "floor", "event.go"), nil, 0))
	want := map[string]bool{}
	for _, decl := range src.Decls {
		if f, ok := decl.(*ast.FuncDecl); ok && f.Name.Name == "event" {
			want[f.Recv.List[0].Type.(*ast.Ident).Name] = true
		}
	}
	used := map[string]bool{}
	for _, known := range names {
		name := reflect.TypeOf(known.event).Name()
		if !want[name] {
			t.Errorf("%q names %s, which is no event of the engine, or twice", known.name, name)
		}
		if used[known.name] {
			t.Errorf("%q is the name of two events", known.name)
		}
		used[known.name] = true
		delete(want, name)
	}
	for name := range want {
		t.Errorf("%s has no name in the log", name)
	}
	if len(everyEvent()) != len(names) {
		t.Errorf("the tests write %d events, want all %d", len(everyEvent()), len(names))
	}
}

// TestFieldsDoNotClash: an event's fields stand beside the line's own.
func TestFieldsDoNotClash(t *testing.T) {
	t.Parallel()
	for _, known := range names {
		fields := map[string]json.RawMessage{}
		text := must[[]byte](t)(json.Marshal(known.event))
		if err := json.Unmarshal(text, &fields); err != nil {
			t.Fatal(err)
		}
		for _, own := range []string{"n", "t", "at", "e", "v", "p", "c"} {
			for name := range fields {
				if strings.EqualFold(name, own) {
					t.Errorf("%q has a field %q, which the line needs itself", known.name, name)
				}
			}
		}
	}
}

func TestEveryEventComesBack(t *testing.T) {
	t.Parallel()
	for i, e := range everyEvent() {
		l, err := encode(i+1, opening(), time.Duration(i)*time.Second, e, "0123abcd")
		if err != nil {
			t.Fatal(err)
		}
		got, err := decode(l.raw)
		if err != nil {
			t.Errorf("decode(%s) = %v", l.raw, err)
			continue
		}
		if got.n != i+1 || got.t != time.Duration(i)*time.Second || got.p != "0123abcd" || got.c != l.c || !equalEvent(got.event, e) {
			t.Errorf("decode(%s) = %+v, want %+v", l.raw, got.event, e)
		}
		if bytes.IndexByte(l.raw, '\n') != len(l.raw)-1 {
			t.Errorf("%q holds a newline before its end", l.raw)
		}
	}
}

// TestLine pins what a line looks like, byte for byte. The sum is checked against
// the CRC-32C of the same bytes from outside this program: Castagnoli's polynomial
// as in RFC 3720, appendix B.4, computed by hand with a bitwise loop below.
func TestLine(t *testing.T) {
	t.Parallel()
	l, err := encode(12, opening(), 93_412_400*time.Microsecond, floor.Pressed{Who: "Maren", Part: 1, Round: 3, As: "done"}, "5d0e1a77")
	if err != nil {
		t.Fatal(err)
	}
	body := `{"n":12,"t":93412,"at":"2026-11-25T18:03:33.535+01:00","e":"pressed","who":"Maren","part":1,"round":3,"as":"done","p":"5d0e1a77"`
	want := body + `,"c":"` + slowSum(body) + "\"}\n"
	if string(l.raw) != want {
		t.Errorf("encode = %s, want %s", l.raw, want)
	}
	// RFC 3720, appendix B.4: 32 bytes of zeros have CRC-32C aa 36 91 8a, low byte first.
	if got := slowSum(strings.Repeat("\x00", 32)); got != "8a9136aa" {
		t.Errorf("slowSum(32 zeros) = %s, want 8a9136aa", got)
	}
}

// slowSum is CRC-32C a bit at a time, reflected polynomial 82f63b78.
func slowSum(s string) string {
	crc := ^uint32(0)
	for _, b := range []byte(s) {
		crc ^= uint32(b)
		for range 8 {
			crc = crc>>1 ^ -(crc&1)&0x82f63b78
		}
	}
	const hex = "0123456789abcdef"
	var out [8]byte
	for i := range out {
		out[i] = hex[^crc>>(28-4*i)&15]
	}
	return string(out[:])
}

func TestHeldHasNoFields(t *testing.T) {
	t.Parallel()
	l, err := encode(2, opening(), time.Second, floor.Held{}, "")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(l.raw, []byte(`"e":"held","p":"","c":"`)) {
		t.Errorf("encode(held) = %s", l.raw)
	}
}

func TestPathsStayAtHome(t *testing.T) {
	t.Parallel()
	o := openedBy(run, opening())
	o.Plan.Kit.Path, o.Plan.House.Path = "/home/coach/kit.toml", "/home/coach/house.toml"
	l, err := encode(1, opening(), 0, o, "")
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(l.raw, []byte("coach")) {
		t.Errorf("the log says where the files stood: %s", l.raw)
	}
	if o.Plan.Kit.Path == "" {
		t.Error("encode changed the plan")
	}
}

func TestLongLines(t *testing.T) {
	t.Parallel()
	empty, err := encode(2, opening(), 0, floor.Noted{}, "")
	if err != nil {
		t.Fatal(err)
	}
	most := lineLimit - len(empty.raw)
	for _, c := range []struct {
		n, size int
		ok      bool
	}{{1, 1_000_000, true}, {1, firstLimit, false}, {2, most, true}, {2, most + 1, false}} {
		l, err := encode(c.n, opening(), 0, floor.Noted{Text: strings.Repeat("x", c.size)}, "")
		if (err == nil) != c.ok {
			t.Errorf("encode(line %d of %d bytes and more) = %v, want ok %v", c.n, c.size, err, c.ok)
		}
		if c.ok {
			if _, err := check(l.raw, true); err != nil {
				t.Errorf("check(line %d of %d bytes) = %v", c.n, len(l.raw), err)
			}
		}
	}
}

// TestFirstFormat reads a log that was written when the format was made; this must
// work for ever. The file is written only where it is not there.
func TestFirstFormat(t *testing.T) {
	t.Parallel()
	const golden = "testdata/v1.jsonl"
	if *update {
		var all []byte
		p := ""
		for _, e := range part(class(), public)[:firstFormat] {
			l, err := encode(e.N, opening(), e.T, e.E, p)
			if err != nil {
				t.Fatal(err)
			}
			p, all = l.c, append(all, l.raw...)
		}
		if err := os.WriteFile(golden, all, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	data := must[[]byte](t)(os.ReadFile(golden))
	log := must[*Log](t)(Read(golden, bytes.NewReader(data)))
	if len(log.Damage) > 0 || log.Newer {
		t.Errorf("Read(%s): damage %v, newer %v", golden, log.Damage, log.Newer)
	}
	if want := part(class(), public)[:firstFormat]; !equal(log.Events, want) {
		t.Errorf("Read(%s) = %s, want %s", golden, say(log.Events), say(want))
	}
}

func TestNewerFormat(t *testing.T) {
	t.Parallel()
	first, err := encode(1, opening(), 0, openedBy(run, opening()), "")
	if err != nil {
		t.Fatal(err)
	}
	resum := func(raw []byte, old, now string) []byte {
		body := strings.Replace(string(raw[:bytes.LastIndex(raw, []byte(crcMark))]), old, now, 1)
		return []byte(body + crcMark + sum([]byte(body)) + crcEnd + "\n")
	}
	held, err := encode(2, opening(), time.Second, floor.Held{}, first.c)
	if err != nil {
		t.Fatal(err)
	}
	undone, err := encode(2, opening(), time.Second, floor.Undone{Of: 1}, first.c)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		data   []byte
		newer  bool
		events int
	}{
		{"this format", append(bytes.Clone(first.raw), held.raw...), false, 2},
		{"an event of tomorrow", append(bytes.Clone(first.raw), resum(held.raw, "held", "launched")...), true, 1},
		{"a field of tomorrow", append(bytes.Clone(first.raw), resum(undone.raw, `"of":1`, `"of":"all"`)...), true, 1},
		{"a format of tomorrow", resum(first.raw, `"v":1`, `"v":2`), true, 1},
	} {
		log := must[*Log](t)(Read("x", bytes.NewReader(c.data)))
		if log.Newer != c.newer || len(log.Events) != c.events || len(log.Damage) > 0 {
			t.Errorf("%s: newer %v, %s, damage %v; want newer %v, %d events", c.name, log.Newer, say(log.Events), log.Damage, c.newer, c.events)
		}
	}
}

func TestYears(t *testing.T) {
	t.Parallel()
	for year, ok := range map[int]bool{-1: false, 0: true, 1969: true, 9999: true, 10000: false} {
		_, err := encode(2, time.Date(year, 6, 1, 0, 0, 0, 0, time.UTC), time.Second, floor.Held{}, "")
		if (err == nil) != ok {
			t.Errorf("encode in the year %d: %v, want ok %v", year, err, ok)
		}
	}
}
