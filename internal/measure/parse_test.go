package measure_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/measure"
)

// The pound, foot and yard: NIST SP 811 appendix B.8; the products are exact.
func TestParseMass(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		in   string
		want measure.Mass // µg
	}{
		{"27 kg", 27_000_000_000},
		{"27kg", 27_000_000_000},
		{"27,5 kg", 27_500_000_000},
		{" 27.50  KG ", 27_500_000_000},
		{"0 kg", 0},
		{"0.000000001 kg", 1},
		{"1 lb", 453_592_370},       // unit-lb-kg
		{"45 lb", 20_411_656_650},   // unit-45lb
		{"225 lb", 102_058_283_250}, // unit-225lb
		{"315 lb", 142_881_596_550}, // unit-315lb
		{"2.5 lb", 1_133_980_925},   // unit-2.5lb
		{"1.25 lb", 566_990_463},    // 566 990 462.5, halves up
		{"100000 kg", measure.MaxMass},
	} {
		if got, err := measure.ParseMass(test.in); err != nil || got != test.want {
			t.Errorf("ParseMass(%q) = %d, %v, want %d", test.in, got, err, test.want)
		}
	}
}

func TestParseDistance(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		in   string
		want measure.Distance // µm
	}{
		{"20 m", 20_000_000},
		{"7,5 m", 7_500_000},
		{"1 ft", 304_800},      // unit-1ft
		{"100 ft", 30_480_000}, // unit-100ft
		{"40 ft", 12_192_000},  // unit-40ft
		{"50 ft", 15_240_000},  // unit-50ft
		{"1 yd", 914_400},      // unit-yd
		{"0.001 ft", 305},      // 304.8
		{"0.000001 m", 1},
	} {
		if got, err := measure.ParseDistance(test.in); err != nil || got != test.want {
			t.Errorf("ParseDistance(%q) = %d, %v, want %d", test.in, got, err, test.want)
		}
	}
}

func TestParseShare(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		in   string
		want measure.Share
	}{
		{"55%", 55 * measure.Percent},
		{"62.5 %", 625_000},
		{"62,5%", 625_000},
		{"0%", 0},
		{"1000%", measure.MaxShare},
		{"0.0001%", 1},
	} {
		if got, err := measure.ParseShare(test.in); err != nil || got != test.want {
			t.Errorf("ParseShare(%q) = %d, %v, want %d", test.in, got, err, test.want)
		}
	}
	if got, err := measure.ParseFactor("1,5"); err != nil || got != 150*measure.Percent {
		t.Errorf("ParseFactor(1,5) = %d, %v, want 150%%", got, err)
	}
}

func TestParseClock(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		in   string
		want time.Duration
	}{
		{"1:30", 90 * time.Second},
		{"30 s", 30 * time.Second},
		{"90s", 90 * time.Second},
		{"12:00", 12 * time.Minute},
		{"90:00", 90 * time.Minute},
		{"1:05:00", 65 * time.Minute},
		{"0:39.7", 39_700 * time.Millisecond},
		{"0:39,700", 39_700 * time.Millisecond},
		{"2 min", 2 * time.Minute},
		{"1.5 min", 90 * time.Second},
		{"1 h", time.Hour},
		{"0.12 s", 120 * time.Millisecond},
		{"0:00", 0},
		{"24:00:00", measure.MaxClock},
	} {
		if got, err := measure.ParseClock(test.in); err != nil || got != test.want {
			t.Errorf("ParseClock(%q) = %v, %v, want %v", test.in, got, err, test.want)
		}
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	mass := func(s string) error { _, err := measure.ParseMass(s); return err }
	distance := func(s string) error { _, err := measure.ParseDistance(s); return err }
	share := func(s string) error { _, err := measure.ParseShare(s); return err }
	clock := func(s string) error { _, err := measure.ParseClock(s); return err }
	for _, test := range []struct {
		name  string
		parse func(string) error
		in    string
		want  string
	}{
		{"mass", mass, "", `nothing is written here; write "27 kg" or "45 lb"`},
		{"mass", mass, "27", `"27" has no unit; write "27 kg" or "45 lb"`},
		{"mass", mass, "-5 kg", `"-5 kg" is below nothing; write "27 kg" or "45 lb"`},
		{"mass", mass, "NaN kg", `"NaN kg" has no number; write "27 kg" or "45 lb"`},
		{"mass", mass, "kg", `"kg" has no number; write "27 kg" or "45 lb"`},
		{"mass", mass, "1e3 kg", `"1e3 kg" is not a plain number; write "27 kg" or "45 lb"`},
		{"mass", mass, "1,000.5 kg", `"1,000.5 kg" is not a plain number; write "27 kg" or "45 lb"`},
		{"mass", mass, "5. kg", `"5. kg" is not a plain number; write "27 kg" or "45 lb"`},
		{"mass", mass, ".5 kg", `".5 kg" is not a plain number; write "27 kg" or "45 lb"`},
		{"mass", mass, "٣ kg", `"٣ kg" has no number; write "27 kg" or "45 lb"`},
		{"mass", mass, "3 stone", `"3 stone" has a unit that is not known here; write "27 kg" or "45 lb"`},
		{"mass", mass, "0.0000000001 kg", `"0.0000000001 kg" has more than 9 decimals; write "27 kg" or "45 lb"`},
		{"mass", mass, "0.0001 lb", `"0.0001 lb" has more than 3 decimals; write "27 kg" or "45 lb"`},
		{"mass", mass, "100000.1 kg", `"100000.1 kg" is too much; write "27 kg" or "45 lb"`},
		{"mass", mass, "99999999999999999999 kg", `"99999999999999999999 kg" is too much; write "27 kg" or "45 lb"`},
		{"distance", distance, "20 kg", `"20 kg" has a unit that is not known here; write "20 m", "100 ft" or "30 yd"`},
		{"distance", distance, "20", `"20" has no unit; write "20 m", "100 ft" or "30 yd"`},
		{"share", share, "55", `"55" has no unit; write "55%"`},
		{"share", share, "1000.1%", `"1000.1%" is too much; write "55%"`},
		{"clock", clock, "30", `"30" has no unit; write "1:30", "30 s" or "2 min"`},
		{"clock", clock, "1:5", `"1:5" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, "1:60", `"1:60" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, "1:90:00", `"1:90:00" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, "1:2:3:4", `"1:2:3:4" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, ":30", `":30" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, "-1:30", `"-1:30" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, "0:39.1234", `"0:39.1234" is not a time; write minutes and two digits of seconds, "1:30"; with hours "1:05:00"`},
		{"clock", clock, "24:00:01", `"24:00:01" is more than a day; write "1:30", "30 s" or "2 min"`},
		{"clock", clock, strings.Repeat("9", 60) + " s", `"` + strings.Repeat("9", 40) + `…" is too much; write "1:30", "30 s" or "2 min"`},
	} {
		err := test.parse(test.in)
		if err == nil || err.Error() != test.want {
			t.Errorf("%s %q: got %v, want %s", test.name, test.in, err, test.want)
		}
		if wrong, ok := errors.AsType[*measure.Error](err); !ok || wrong.What == "" || wrong.Write == "" {
			t.Errorf("%s %q: %v does not say both what is wrong and what to write", test.name, test.in, err)
		}
	}
}

// What a file is written with reads back as the same quantity.
func TestNotationReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := measure.Mass(rapid.Int64Range(0, int64(measure.MaxMass)).Draw(t, "mass"))
		if got, err := measure.ParseMass(m.String()); err != nil || got != m {
			t.Fatalf("ParseMass(%q) = %d, %v, want %d", m.String(), got, err, m)
		}
		d := measure.Distance(rapid.Int64Range(0, int64(measure.MaxDistance)).Draw(t, "distance"))
		if got, err := measure.ParseDistance(d.String()); err != nil || got != d {
			t.Fatalf("ParseDistance(%q) = %d, %v, want %d", d.String(), got, err, d)
		}
		s := measure.Share(rapid.Int64Range(0, int64(measure.MaxShare)).Draw(t, "share"))
		if got, err := measure.ParseShare(s.String()); err != nil || got != s {
			t.Fatalf("ParseShare(%q) = %d, %v, want %d", s.String(), got, err, s)
		}
		c := time.Duration(rapid.Int64Range(0, measure.MaxClock.Milliseconds()).Draw(t, "ms")) * time.Millisecond
		if got, err := measure.ParseClock(measure.Notation(c)); err != nil || got != c {
			t.Fatalf("ParseClock(%q) = %v, %v, want %v", measure.Notation(c), got, err, c)
		}
	})
}

func TestNotation(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ got, want string }{
		{(20 * measure.Kilogram).String(), "20 kg"},
		{(2500 * measure.Gram).String(), "2.5 kg"},
		{(45 * measure.Pound).String(), "45 lb"},
		{measure.Mass(566_990_463).String(), "1.25 lb"},
		{(-2500 * measure.Gram).String(), "-2.5 kg"},
		{(20 * measure.Metre).String(), "20 m"},
		{(100 * measure.Foot).String(), "100 ft"},
		{(30 * measure.Yard).String(), "90 ft"},
		{(55 * measure.Percent).String(), "55%"},
		{measure.Share(625_000).String(), "62.5%"},
		{measure.Notation(75 * time.Second), "1:15"},
		{measure.Notation(30 * time.Second), "30 s"},
		{measure.Notation(120 * time.Millisecond), "0.12 s"},
		{measure.Notation(90_500 * time.Millisecond), "1:30.5"},
		{measure.Notation(65 * time.Minute), "1:05:00"},
	} {
		if test.got != test.want {
			t.Errorf("notation = %q, want %q", test.got, test.want)
		}
	}
}

// Any text is read or refused with both halves of a message.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"27 kg", "45 lb", "27,5 kg", "20 m", "1:05:00", "0:39.7", "62.5 %", "-1 kg", "1e9 kg", "\x00", "٣ kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := measure.ParseMass(s)
		hold(t, s, int64(m), int64(measure.MaxMass), err)
		d, err := measure.ParseDistance(s)
		hold(t, s, int64(d), int64(measure.MaxDistance), err)
		p, err := measure.ParseShare(s)
		hold(t, s, int64(p), int64(measure.MaxShare), err)
		c, err := measure.ParseClock(s)
		hold(t, s, int64(c), int64(measure.MaxClock), err)
	})
}

func hold(t *testing.T, in string, got, limit int64, err error) {
	t.Helper()
	wrong, refused := errors.AsType[*measure.Error](err)
	switch {
	case err == nil && (got < 0 || got > limit):
		t.Errorf("%q is read as %d, outside 0 to %d", in, got, limit)
	case err != nil && (!refused || wrong.What == "" || wrong.Write == ""):
		t.Errorf("%q is refused with %v", in, err)
	}
}
