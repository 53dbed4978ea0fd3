package floor

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hawser/internal/session"
)

// sixteen is a class of sixteen, sharing three sleds.
func sixteen(part session.Part) *Plan {
	var names, sleds []string
	for i := range 16 {
		names = append(names, fmt.Sprintf("P%d", i))
		sleds = append(sleds, string(rune('A'+i%3)))
	}
	return one(part, strings.Join(names, " "), strings.Join(sleds, " "))
}

// BenchmarkSteadyState is one press and one look at what is due, in a class of 16.
func BenchmarkSteadyState(b *testing.B) {
	for _, part := range []session.Part{
		{Format: session.Every, Every: 4 * time.Minute, Rounds: 400, Late: session.NoteIt},
		{Format: session.Amrap, Cap: 100 * time.Hour},
		{Format: session.Ratio, RestFactor: 1_000_000, Rounds: 400},
	} {
		b.Run(string(part.Format), func(b *testing.B) {
			r := begin(b, sixteen(part))
			at := 20 * time.Second
			var moments []Moment
			b.ReportAllocs()
			b.ResetTimer()
			for i := 0; b.Loop(); i++ {
				at += time.Millisecond
				events, _ := Decide(r.s, Press{Who: r.s.plan.People[i%16].Name}, at)
				moments = r.s.Due(moments[:0], at, at+time.Second)
				if len(events) > 0 && i%64 == 0 {
					r.s.Apply(events[0])
				}
			}
		})
	}
}
