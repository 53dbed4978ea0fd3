package measure

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// String returns m as the coach's files write it, exactly: in kg, or in lb where
// that is the shorter number.
func (m Mass) String() string {
	return notation(int64(m), massUnits())
}

// String returns d as the coach's files write it, exactly: in m, or in ft or yd
// where that is the shorter number.
func (d Distance) String() string {
	return notation(int64(d), distanceUnits())
}

// String returns s as the coach's files write it, exactly.
func (s Share) String() string {
	return strings.Replace(notation(int64(s), []unit{{"%", int64(Percent), 4}}), " ", "", 1)
}

// Notation returns a time as the coach's files write it: seconds below a minute,
// else m:ss, exact to the millisecond.
func Notation(d time.Duration) string {
	ms := d.Milliseconds()
	if ms < 60_000 {
		return notation(ms, clockUnits()[:1])
	}
	text := Clock(time.Duration(ms/1000) * time.Second)
	if rest := ms % 1000; rest > 0 {
		text += strings.TrimRight("."+strconv.Itoa(int(1000 + rest))[1:], "0")
	}
	return text
}

// notation writes v in the unit that needs the fewest decimals, the first of equals.
func notation(v int64, units []unit) string {
	best, least := "", 100
	for _, u := range units {
		if number, ok := exact(v, u); ok {
			_, fraction, _ := strings.Cut(number, ".")
			if len(fraction) < least {
				best, least = number+" "+u.name, len(fraction)
			}
		}
	}
	return best
}

// exact returns the number of u that reads back as v, if so many decimals can say it.
func exact(v int64, u unit) (string, bool) {
	whole, rest := v/u.size, v%u.size
	sign := ""
	if v < 0 {
		sign, whole, rest = "-", -whole, -rest
	}
	ten := int64(1)
	for range u.decimals {
		ten *= 10
	}
	// rest < 1e9 and ten ≤ 1e9 or rest is smaller still: the product fits
	part := (2*rest*ten + u.size) / (2 * u.size)
	if part == ten {
		whole, part = whole+1, 0
	}
	number := strconv.FormatInt(whole, 10)
	if part > 0 {
		number += strings.TrimRight("."+strconv.FormatInt(ten+part, 10)[1:], "0")
	}
	back, wrong := decimal(number, u, math.MaxInt64)
	return sign + number, wrong == "" && (back == v || back == -v)
}
