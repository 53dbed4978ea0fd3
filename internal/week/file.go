package week

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"hawser/internal/coachfile"
)

// File is week.toml: the days of a usual week, and when the block began.
type File struct {
	Path        string
	BlockStarts time.Time // midnight UTC of the day; zero: not written, no lighter weeks
	Days        []Day
}

// Day is one [[day]]. A weekday can stand twice: morning and evening.
type Day struct {
	Weekday time.Weekday
	Main    []string      // patterns of the main lifts, of Patterns
	At      time.Duration // since midnight; 0: not written
	Pull    []string      // sessions by name; one alone may stand without brackets
}

// Patterns returns what a main lift can be.
func Patterns() []string { return []string{"press", "squat", "hinge", "pull", "mixed", "none"} }

// Weekdays returns the names of the days as files write them, in the order of [time.Weekday].
func Weekdays() []string {
	names := make([]string, 7)
	for d := time.Sunday; d <= time.Saturday; d++ {
		names[d] = strings.ToLower(d.String())
	}
	return names
}

// Parse reads week.toml. The error is [coachfile.Faults], all of them. That the
// sessions exist is for the caller to say.
func Parse(name string, data []byte) (*File, error) {
	file, top := coachfile.Read(name, data, coachfile.Limit)
	f := &File{Path: name, BlockStarts: top.Date("block_starts")}
	for _, t := range top.Tables("day") {
		t.Need("day", `day = "monday"`)
		word := coachfile.Get(t, "day", coachfile.OneOf(Weekdays()...))
		d := Day{
			Main: coachfile.All(t, "main", coachfile.OneOf(Patterns()...)),
			At:   t.TimeOfDay("at"),
			Pull: coachfile.All(t, "pull", coachfile.Name),
		}
		for i, weekday := range Weekdays() {
			if weekday == word {
				d.Weekday = time.Weekday(i)
			}
		}
		f.Days = append(f.Days, d)
	}
	if err := file.Err(); err != nil {
		return nil, err
	}
	return f, nil
}

// Write writes a fresh week.toml.
func Write(f *File) []byte {
	var b bytes.Buffer
	if !f.BlockStarts.IsZero() {
		fmt.Fprintf(&b, "block_starts = %s\n", f.BlockStarts.Format(time.DateOnly))
	}
	for _, d := range f.Days {
		b.WriteString(d.block())
	}
	return b.Bytes()
}

func (d Day) block() string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n[[day]]\nday = %q\n", Weekdays()[d.Weekday])
	if len(d.Main) > 0 {
		fmt.Fprintf(&b, "main = %s\n", coachfile.QuoteAll(d.Main))
	}
	if d.At > 0 {
		fmt.Fprintf(&b, "at = %s\n", time.Time{}.Add(d.At).Format(time.TimeOnly))
	}
	switch len(d.Pull) {
	case 0:
	case 1:
		fmt.Fprintf(&b, "pull = %s\n", coachfile.Quote(d.Pull[0]))
	default:
		fmt.Fprintf(&b, "pull = %s\n", coachfile.QuoteAll(d.Pull))
	}
	return b.String()
}

// AddDay adds a day behind the others; comments and order stay.
func AddDay(name string, data []byte, d Day) ([]byte, error) {
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	_, top := coachfile.Read(name, data, coachfile.Limit)
	if !top.Written("day") {
		return nil, coachfile.Faults{{File: name, What: "the list of days stands in brackets", Write: "add to it by hand"}}
	}
	at := len(data)
	if all := top.Tables("day"); len(all) > 0 {
		at = all[len(all)-1].End()
	}
	data = coachfile.Insert(data, at, d.block())
	if _, err := Parse(name, data); err != nil {
		return nil, err
	}
	return data, nil
}
