package week

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"

	"hawser/internal/session"
)

// TestAnotherReader has a library that others wrote read what is written: every
// event, its time, its whole text. It then writes it again, for which it checks
// that each component has what RFC 5545, section 3.6, wants of it.
func TestAnotherReader(t *testing.T) {
	t.Parallel()
	hostile := []string{
		"END:VEVENT\r\nBEGIN:VALARM\r\nTRIGGER:-PT1M",
		`back\slash \n \, "quoted"; semi,comma:colon`,
		strings.Repeat("økt 𝄞 ", 40),
		strings.Repeat("x", 74) + "é",
		"two\nlines\tand a tab",
		"DTSTART;TZID=Nowhere:20200101T000000",
		"\x1b]0;title\x07",
	}
	page := Page{Lighter: true}
	for i, title := range hostile {
		d := DayPlan{Date: monday.AddDate(0, 0, i)}
		if i%2 == 0 {
			d.At = 18*time.Hour + 30*time.Minute
		}
		d.Sessions = []Placed{{Name: fmt.Sprintf("s%d", i), Session: &session.Session{Title: title}, Why: "why: " + title}}
		page.Days = append(page.Days, d)
	}
	stamp := time.Date(2026, 11, 20, 0, 30, 0, 0, time.FixedZone("", 2*3600))
	data := Calendar([]Page{page}, stamp)
	for line := range bytes.SplitSeq(data, []byte("\r\n")) {
		if len(line) > 75 {
			t.Errorf("a line of %d octets: %q", len(line), line)
		}
	}
	cal, err := ical.NewDecoder(bytes.NewReader(data)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	events := cal.Events()
	if len(events) != len(hostile) || len(cal.Children) != len(hostile) {
		t.Fatalf("%d events of %d components, want %d", len(events), len(cal.Children), len(hostile))
	}
	plain := strings.NewReplacer("\r\n", "\n", "\x1b", "", "\x07", "")
	oslo := time.FixedZone("Oslo", 3600)
	for i, e := range events {
		want := plain.Replace(hostile[i])
		if got, err := e.Props.Text(ical.PropSummary); err != nil || got != want+" (lighter week)" {
			t.Errorf("SUMMARY = %q, %v, want %q", got, err, want)
		}
		if got, err := e.Props.Text(ical.PropDescription); err != nil || got != "why: "+want {
			t.Errorf("DESCRIPTION = %q, %v, want %q", got, err, want)
		}
		if got, err := e.Props.DateTime(ical.PropDateTimeStamp, oslo); err != nil || !got.Equal(stamp) || got.Location() != time.UTC {
			t.Errorf("DTSTAMP = %v, %v, want %v in UTC", got, err, stamp)
		}
		date := monday.AddDate(0, 0, i)
		start, end := time.Date(date.Year(), date.Month(), date.Day(), 0, 0, 0, 0, oslo), 24*time.Hour
		if i%2 == 0 { // floating: half past six wherever it is read
			start, end = start.Add(18*time.Hour+30*time.Minute), time.Hour
		}
		from, err := e.DateTimeStart(oslo)
		if err != nil || !from.Equal(start) {
			t.Errorf("event %d starts %v, %v, want %v", i, from, err, start)
		}
		to, err := e.DateTimeEnd(oslo)
		if err != nil || !to.Equal(start.Add(end)) {
			t.Errorf("event %d ends %v, %v, want %v later", i, to, err, end)
		}
	}
	if err := ical.NewEncoder(io.Discard).Encode(cal); err != nil {
		t.Errorf("the components are not whole: %v", err)
	}
}
