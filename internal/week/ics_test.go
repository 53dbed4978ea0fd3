package week

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/session"

	"pgregory.net/rapid"
)

// property is a content line as another reader understands it.
type property struct{ name, params, value string }

// contentLine is the grammar of RFC 5545, section 3.1, for lines without quoted
// parameters: name *(";" param) ":" value.
var contentLine = regexp.MustCompile(`^([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=[^";:,\x00-\x1f]*)*):([^\x00-\x08\x0a-\x1f\x7f]*)$`)

// parse reads iCalendar by the grammar, with nothing of this package in it.
func parse(data string) ([]property, error) {
	if !strings.HasSuffix(data, "\r\n") {
		return nil, fmt.Errorf("the last line does not end")
	}
	for raw := range strings.SplitSeq(data, "\r\n") {
		if len(raw) > 75 {
			return nil, fmt.Errorf("a line of %d octets: %q", len(raw), raw)
		}
	}
	unfolded := regexp.MustCompile("\r\n[ \t]").ReplaceAllString(data, "")
	var all []property
	for l := range strings.SplitSeq(strings.TrimSuffix(unfolded, "\r\n"), "\r\n") {
		m := contentLine.FindStringSubmatch(l)
		if m == nil {
			return nil, fmt.Errorf("not a content line: %q", l)
		}
		all = append(all, property{m[1], m[2], m[3]})
	}
	return all, nil
}

// unescape reads a value of type TEXT by section 3.3.11: no bare comma or
// semicolon, and a backslash only before one of \ ; , n N.
func unescape(v string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(v); i++ {
		switch c := v[i]; {
		case c == ',' || c == ';':
			return "", fmt.Errorf("%q has a bare %q", v, c)
		case c != '\\':
			b.WriteByte(c)
		case i+1 < len(v) && strings.IndexByte(`\;,nN`, v[i+1]) >= 0:
			i++
			if v[i] == 'n' || v[i] == 'N' {
				b.WriteByte('\n')
			} else {
				b.WriteByte(v[i])
			}
		default:
			return "", fmt.Errorf("%q has a lone backslash", v)
		}
	}
	return b.String(), nil
}

// TestReaderOfTheRFC holds the reader above, and our writing, to the examples that
// stand in RFC 5545 (read from memory): folding in 3.1, TEXT in 3.3.11.
func TestReaderOfTheRFC(t *testing.T) {
	t.Parallel()
	got, err := parse("DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n")
	if err != nil || len(got) != 1 || got[0].value != "This is a long description that exists on a long line." {
		t.Errorf("3.1: %v, %v", got, err)
	}
	const plain = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
	const escaped = `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`
	if back, err := unescape(escaped); back != plain || err != nil {
		t.Errorf("3.3.11: unescape = %q, %v", back, err)
	}
	if text(plain) != escaped {
		t.Errorf("text(%q) = %q, want %q", plain, text(plain), escaped)
	}
	if got, err := parse("DTSTART;VALUE=DATE:19970714\r\n"); err != nil || got[0] != (property{"DTSTART", ";VALUE=DATE", "19970714"}) {
		t.Errorf("3.3.4: %v, %v", got, err)
	}
}

func TestCalendar(t *testing.T) {
	t.Parallel()
	s := home()
	s[0].Title = "Slack water; rows, 8 × 20 m\\ \"the long one\": " + strings.Repeat("økt ", 30)
	f := Facts{File: &File{Days: []Day{day(1, 18, "press", "slack-water"), day(3, 0, "none", "buoy", "gone")}}, Sessions: s, Monday: monday}
	stamp := time.Date(2026, 11, 20, 9, 30, 0, 0, time.FixedZone("", 3600))
	data := Calendar([]Page{Make(f)}, stamp)
	got, err := parse(string(data))
	if err != nil {
		t.Fatal(err)
	}
	counts, uids := map[string]int{}, map[string]bool{}
	for _, p := range got {
		counts[p.name]++
		switch p.name {
		case "UID":
			uids[p.value] = true
		case "DTSTAMP":
			if p.value != "20261120T083000Z" {
				t.Errorf("DTSTAMP = %s, want UTC", p.value)
			}
		}
	}
	if counts["UID"] != 3 || len(uids) != 3 || counts["DTSTART"] != 3 || counts["VERSION"] != 1 || counts["PRODID"] != 1 || counts["BEGIN"] != counts["END"] {
		t.Errorf("properties = %v with %d UIDs", counts, len(uids))
	}
	if got[6].name != "DTSTART" || got[6].value != "20261123T180000" {
		t.Errorf("DTSTART = %v, want Monday 18:00 as a floating time", got[6])
	}
	if back, err := unescape(got[8].value); err != nil || back != s[0].Title {
		t.Errorf("SUMMARY = %q, %v, want %q", back, err, s[0].Title)
	}
	if again := Calendar([]Page{Make(f)}, stamp); string(again) != string(data) {
		t.Error("the same week gives another calendar")
	}
}

// TestCalendarOneAfterAnother: a day's sessions do not overlap, and each has the
// time it lasts, in whole fives of minutes; an hour where nobody knows.
func TestCalendarOneAfterAnother(t *testing.T) {
	t.Parallel()
	day := DayPlan{Date: monday, Sessions: []Placed{{Name: "a", Lasts: 31*time.Minute + time.Second}, {Name: "b"}, {Name: "c", Lasts: 20 * time.Minute}}}
	day.At = 17*time.Hour + 30*time.Minute
	got, err := parse(string(Calendar([]Page{{Days: []DayPlan{day}}}, monday)))
	if err != nil {
		t.Fatal(err)
	}
	var times []string
	for _, p := range got {
		if p.name == "DTSTART" || p.name == "DURATION" {
			times = append(times, p.value)
		}
	}
	want := []string{"20261123T173000", "PT35M", "20261123T180500", "PT60M", "20261123T190500", "PT20M"}
	if !slices.Equal(times, want) {
		t.Errorf("times = %v, want %v", times, want)
	}
}

// TestText: whatever a title holds, another reader gets it back, but for control
// characters, which no calendar may hold.
func TestText(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		title := rapid.StringOf(rapid.OneOf(rapid.SampledFrom([]rune("\\;,:\"n \n\t\x1b\x00økt𝄞")), rapid.Rune())).Draw(t, "title")
		page := Page{Days: []DayPlan{{Date: monday, Sessions: []Placed{{Name: "x", Session: &session.Session{Title: title}}}}}}
		got, err := parse(string(Calendar([]Page{page}, monday)))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range got {
			if p.name != "SUMMARY" || title == "" {
				continue
			}
			want := strings.Map(func(r rune) rune {
				if r != '\n' && r != '\t' && (r < ' ' || r == 0x7f || r == '\uFFFD') {
					return -1
				}
				return r
			}, strings.ReplaceAll(strings.ReplaceAll(title, "\r\n", "\n"), "\r", "\n"))
			if back, err := unescape(p.value); err != nil || back != want {
				t.Fatalf("SUMMARY of %q = %q, %v", title, back, err)
			}
		}
	})
}
