package week

import (
	"fmt"
	"hash/fnv"
	"strings"
	"time"
	"unicode/utf8"
)

// Calendar writes weeks as iCalendar (RFC 5545): one event a chosen session, at
// the coach's local time (a "floating" time there), a whole day where no hour is
// written. The sessions of one day come one after another, each as long as it
// lasts, in whole fives of minutes; an hour where that is not known. stamp is the
// instant of writing; the same week gives the same UIDs, so that a calendar replaces
// what it has.
func Calendar(weeks []Page, stamp time.Time) []byte {
	var b strings.Builder
	line := func(name, value string) { fold(&b, name+":"+value) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", "-//hawser//week//EN")
	for i := range weeks {
		for k := range weeks[i].Days {
			d := &weeks[i].Days[k]
			begins := d.begins()
			for _, s := range d.Sessions {
				line("BEGIN", "VEVENT")
				line("UID", uid(d, s.Name))
				line("DTSTAMP", stamp.UTC().Format("20060102T150405Z"))
				if d.At == 0 {
					fold(&b, "DTSTART;VALUE=DATE:"+d.Date.Format("20060102"))
				} else {
					line("DTSTART", begins.Format("20060102T150405"))
					lasts := fives(s.Lasts)
					line("DURATION", fmt.Sprintf("PT%dM", int(lasts.Minutes())))
					begins = begins.Add(lasts)
				}
				line("SUMMARY", text(summary(&s, weeks[i].Lighter)))
				line("DESCRIPTION", text(s.Why))
				line("END", "VEVENT")
			}
		}
	}
	line("END", "VCALENDAR")
	return []byte(b.String())
}

// fives rounds a session's length up to five minutes, as a calendar wants it.
func fives(d time.Duration) time.Duration {
	if d <= 0 {
		return time.Hour
	}
	return (d + 5*time.Minute - 1).Truncate(5 * time.Minute)
}

func summary(s *Placed, lighter bool) string {
	title := s.Name
	if s.Session != nil && s.Session.Title != "" {
		title = s.Session.Title
	}
	if lighter {
		title += " (lighter week)"
	}
	return title
}

// uid is the same for the same session on the same date, and unlike any other's.
func uid(d *DayPlan, name string) string {
	h := fnv.New64a()
	h.Write([]byte(name))
	return fmt.Sprintf("%s-%05d-%016x@hawser", d.Date.Format("20060102"), int(d.At.Seconds()), h.Sum64())
}

// text escapes a value of type TEXT; what no calendar may hold is left out.
func text(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f || r == utf8.RuneError {
			return -1
		}
		return r
	}, strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`).Replace(s))
}

// fold ends a line, broken so that no piece is longer than 75 octets and no
// character is cut.
func fold(b *strings.Builder, line string) {
	room := 75
	for len(line) > room {
		cut := room
		for !utf8.RuneStart(line[cut]) {
			cut--
		}
		b.WriteString(line[:cut] + "\r\n ")
		line, room = line[cut:], 74
	}
	b.WriteString(line + "\r\n")
}
