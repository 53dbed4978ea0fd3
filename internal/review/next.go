package review

import "hawser/internal/measure"

// Verdict is up, same or down.
type Verdict string

// The verdicts.
const (
	Up   Verdict = "up"
	Same Verdict = "same"
	Down Verdict = "down"
)

// Next is what one person should pull next time, and why.
type Next struct {
	Verdict Verdict
	Moves   measure.Mass
	Added   measure.Mass
	Stack   []string
	Why     string
}
