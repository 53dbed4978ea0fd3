package week_test

import (
	"reflect"
	"testing"
	"time"

	"hawser/internal/week"
)

func TestFile(t *testing.T) {
	t.Parallel()
	const text = `block_starts = 2026-11-02

[[day]]
day = "monday"
main = ["press"]
at = 18:00:00
pull = "slack-water"

[[day]]
day = "friday"
main = ["hinge", "pull"]
at = 17:30:00
pull = ["heavy-anchor", "out-to-the-buoy"]

[[day]]
day = "sunday"
`
	want := &week.File{Path: "week.toml", BlockStarts: time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC), Days: []week.Day{
		{Weekday: time.Monday, Main: []string{"press"}, At: 18 * time.Hour, Pull: []string{"slack-water"}},
		{Weekday: time.Friday, Main: []string{"hinge", "pull"}, At: 17*time.Hour + 30*time.Minute, Pull: []string{"heavy-anchor", "out-to-the-buoy"}},
		{Weekday: time.Sunday},
	}}
	got, err := week.Parse("week.toml", []byte(text))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Fatalf("Parse = %+v, %v, want %+v", got, err, want)
	}
	if back := string(week.Write(got)); back != text {
		t.Errorf("Write = %s, want %s", back, text)
	}
}

func TestBadFile(t *testing.T) {
	t.Parallel()
	const text = `block_starts = "2026-11-02"
[[day]]
day = "mondey"
main = ["press", "sqat"]
at = 25:00:00
pull = 7
[[day]]
days = "tuesday"
`
	const want = `week.toml:1:16: block_starts cannot be read; write 2026-11-02, without quotes
week.toml:3:7: day: "mondey" is not known here; write "monday"
week.toml:4:18: main: "sqat" is not known here; write "squat"
week.toml:5:6: at cannot be read; write 18:00:00, without quotes
week.toml:6:8: pull is not a text in double quotes; write some text in double quotes
week.toml:7:3: "day" is missing; write day = "monday"
week.toml:8:1: "days" is not a key here; write "day"`
	if _, err := week.Parse("week.toml", []byte(text)); err == nil || err.Error() != want {
		t.Errorf("Parse = %v, want %s", err, want)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("block_starts = 2026-11-02\n[[day]]\nday=\"monday\"\nmain=[\"press\"]\nat=18:00:00\npull=\"x\""))
	f.Fuzz(func(t *testing.T, data []byte) {
		w, err := week.Parse("week.toml", data)
		if err != nil {
			return
		}
		if back, err := week.Parse("week.toml", week.Write(w)); err != nil || !reflect.DeepEqual(back, w) {
			t.Errorf("Parse(Write(w)) = %+v, %v, want %+v", back, err, w)
		}
	})
}
