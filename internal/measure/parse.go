package measure

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// The largest quantities that are taken, far above what stands on any floor, so
// that sums of thousands of them stay exact.
const (
	MaxMass     = 100_000 * Kilogram
	MaxDistance = 100_000 * Metre
	MaxShare    = 10 * Whole
	MaxClock    = 24 * time.Hour
)

// Error says what is wrong with a quantity as it was written, and what to write.
type Error struct {
	What  string
	Write string
}

func (e *Error) Error() string { return e.What + "; write " + e.Write }

// unit is one way to write a quantity: its size in the smallest unit, and how
// many decimals are taken.
type unit struct {
	name     string
	size     int64
	decimals int
}

// massUnits are what a mass is written in. kg is exact to the microgram. A pound
// is exact to 0.1 lb; further decimals ("1.25 lb" is 566 990 462.5 µg) are
// rounded to 1 µg, halves up.
func massUnits() []unit {
	return []unit{{"kg", int64(Kilogram), 9}, {"lb", int64(Pound), 3}}
}

// distanceUnits are what a distance is written in, m exact to the micrometre.
func distanceUnits() []unit {
	return []unit{{"m", int64(Metre), 6}, {"ft", int64(Foot), 3}, {"yd", int64(Yard), 3}}
}

// clockUnits are in milliseconds, to which times are kept.
func clockUnits() []unit {
	return []unit{{"s", 1000, 3}, {"min", 60_000, 3}, {"h", 3_600_000, 3}}
}

// ParseMass reads "27 kg", "45 lb" or "27,5 kg".
func ParseMass(s string) (Mass, error) {
	v, err := parse(s, massUnits(), int64(MaxMass), `"27 kg" or "45 lb"`)
	return Mass(v), err
}

// ParseDistance reads "20 m", "100 ft" or "30 yd".
func ParseDistance(s string) (Distance, error) {
	v, err := parse(s, distanceUnits(), int64(MaxDistance), `"20 m", "100 ft" or "30 yd"`)
	return Distance(v), err
}

// ParseShare reads "55%" or "62.5 %", up to 1000 %.
func ParseShare(s string) (Share, error) {
	v, err := parse(s, []unit{{"%", int64(Percent), 4}}, int64(MaxShare), `"55%"`)
	return Share(v), err
}

// ParseFactor reads a plain number, "2" or "1.5", as a share of one: 200 %.
func ParseFactor(s string) (Share, error) {
	v, err := parse(s, []unit{{"", int64(Whole), 4}}, int64(MaxShare), `"2" or "1.5"`)
	return Share(v), err
}

// ParseClock reads "1:30", "1:05:00", "0:39.7", "30 s", "2 min" or "1 h".
func ParseClock(s string) (time.Duration, error) {
	const write = `"1:30", "30 s" or "2 min"`
	if !strings.Contains(s, ":") {
		v, err := parse(s, clockUnits(), MaxClock.Milliseconds(), write)
		return time.Duration(v) * time.Millisecond, err
	}
	wrong := func() error {
		return &Error{quote(s) + " is not a time", `minutes and two digits of seconds, "1:30"; with hours "1:05:00"`}
	}
	var total int64
	left, last := strings.TrimSpace(s), false
	for i := 0; !last; i++ {
		field, after, more := strings.Cut(left, ":")
		left, last = after, !more
		decimals := 0
		if last {
			decimals = 3
		}
		v, bad := decimal(field, unit{"s", 1000, decimals}, MaxClock.Milliseconds())
		whole, _, _ := strings.Cut(strings.ReplaceAll(field, ",", "."), ".")
		if bad != "" || i > 2 || i > 0 && (len(whole) != 2 || v >= 60_000) {
			return 0, wrong()
		}
		total = total*60 + v
	}
	if total > MaxClock.Milliseconds() {
		return 0, &Error{quote(s) + " is more than a day", write}
	}
	return time.Duration(total) * time.Millisecond, nil
}

// parse reads a number and one of the units, at most limit of the smallest unit.
func parse(s string, units []unit, limit int64, write string) (int64, error) {
	text := strings.TrimSpace(s)
	end := strings.LastIndexAny(text, "0123456789.,") + 1
	number, name := text[:end], strings.ToLower(strings.TrimSpace(text[end:]))
	fail := func(what string) (int64, error) { return 0, &Error{quote(s) + " " + what, write} }
	switch {
	case text == "":
		return 0, &Error{"nothing is written here", write}
	case strings.HasPrefix(text, "-"), strings.HasPrefix(text, "−"):
		return fail("is below nothing")
	case number == "":
		return fail("has no number")
	}
	for _, u := range units {
		if u.name != name {
			continue
		}
		v, wrong := decimal(number, u, limit)
		if wrong != "" {
			return fail(wrong)
		}
		return v, nil
	}
	if name == "" {
		return fail("has no unit")
	}
	return fail("has a unit that is not known here")
}

// decimal returns number of u in the smallest unit, rounded to a whole one, halves
// up, or what is wrong with it. It takes digits with one "." or "," between them.
func decimal(number string, u unit, limit int64) (int64, string) {
	whole, fraction, marked := strings.Cut(strings.ReplaceAll(number, ",", "."), ".")
	plain := whole != "" && (!marked || fraction != "") && strings.Trim(whole+fraction, "0123456789") == ""
	fraction = strings.TrimRight(fraction, "0")
	switch {
	case !plain:
		return 0, "is not a plain number"
	case len(fraction) > u.decimals:
		return 0, fmt.Sprintf("has more than %d decimals", u.decimals)
	}
	n, err := strconv.ParseInt(whole, 10, 64)
	if err != nil || n > limit/u.size {
		return 0, "is too much"
	}
	ten, part := int64(1), int64(0)
	for _, c := range []byte(fraction) {
		ten, part = ten*10, part*10+int64(c-'0')
	}
	// part < ten ≤ 1e9 and size < 4e9: the product fits
	total := n*u.size + halvesUp(part*u.size, ten)
	if total > limit {
		return 0, "is too much"
	}
	return total, ""
}

// quote is s in double quotes, cut where it is long.
func quote(s string) string {
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
