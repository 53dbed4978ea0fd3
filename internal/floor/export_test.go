package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

// StoryPlan is the plan of a story: see testdata/README.md.
func StoryPlan(part session.Part, names, on string) *Plan { return one(part, names, on) }

// StorySheet prints the rounds of one person, times from the first GO.
func StorySheet(tb testing.TB, s *State, who string, now time.Duration) string {
	tb.Helper()
	r := &run{t: tb, s: s, zero: s.first}
	return r.sheet(who, now-s.first)
}
