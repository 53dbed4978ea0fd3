package cli_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
)

// TestCalendarSaysTheWeek: what the week says as JSON, a calendar has from its export.
func TestCalendarSaysTheWeek(t *testing.T) {
	t.Parallel()
	home := "../../sessions/boathouse"
	out, _ := hawser(t, home, "week", "--of", "2026-11-25", "--json")
	var plan struct {
		Days []struct {
			Day      string
			Sessions []struct{ Session string }
		}
	}
	if err := json.Unmarshal([]byte(out), &plan); err != nil {
		t.Fatal(err)
	}
	out, _ = hawser(t, home, "week", "--of", "2026-11-25", "--ics")
	cal, err := ical.NewDecoder(strings.NewReader(out)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	var events []string
	var free time.Time // the coach is, from then on
	for _, e := range cal.Events() {
		start, err := e.DateTimeStart(time.UTC)
		if err != nil {
			t.Fatal(err)
		}
		if start.Before(free) {
			t.Errorf("a session starts at %v, and the one before it ends at %v", start, free)
		}
		if free, err = e.DateTimeEnd(time.UTC); err != nil || !free.After(start) {
			t.Fatalf("a session from %v to %v, %v", start, free, err)
		}
		title, err := e.Props.Text(ical.PropSummary)
		if err != nil {
			t.Fatal(err)
		}
		events = append(events, start.Format("2006-01-02 15:04 ")+title)
	}
	want := []string{
		"2026-11-23 18:00 Slack water (lighter week)",
		"2026-11-25 18:00 Long oars (lighter week)",
		"2026-11-27 17:30 Heavy anchor (lighter week)",
		"2026-11-27 17:55 Out to the buoy (lighter week)",
	}
	if strings.Join(events, "\n") != strings.Join(want, "\n") {
		t.Errorf("events =\n%s\nwant\n%s", strings.Join(events, "\n"), strings.Join(want, "\n"))
	}
	n := 0
	for _, d := range plan.Days {
		n += len(d.Sessions)
	}
	if n != len(events) {
		t.Errorf("%d events, and %d sessions in the week", len(events), n)
	}
}
