package review

import (
	"fmt"
	"time"
)

// Critique is the published doubt about the two numbers below, in one line.
const Critique = "Monotony and strain describe a week and do not predict injury: " +
	"ratios of training load did hardly better than chance when tested (Impellizzeri and others 2021, Sports Med 51:581-592)."

// SDNote says which standard deviation is meant: published weeks can only be
// reproduced with the one that divides by n, and spreadsheets use the other.
const SDNote = "population SD, rest days count as 0"

// SessionLoad is effort (0–10) times minutes, in arbitrary units (Foster 2001,
// J Strength Cond Res 15(1):109-115).
func SessionLoad(effort float64, worked time.Duration) float64 {
	return effort * worked.Minutes()
}

// Training is the load of a number of days, seven as a rule.
type Training struct {
	Load     float64
	Monotony *float64 // mean ÷ population SD of the days; nil where all days are alike
	Strain   *float64 // Load × Monotony; nil likewise
}

// TrainingOf sums days, a rest day being 0 (Foster 1998, MSSE 30(7):1164-1168).
func TrainingOf(daily []float64) Training {
	t := Training{Load: sum(daily)}
	if len(daily) == 0 {
		return t
	}
	if sd := populationSD(daily); sd > 0 {
		t.Monotony = new(mean(daily) / sd)
		t.Strain = new(t.Load * *t.Monotony)
	}
	return t
}

// String says the days in words. Where all are alike there is no monotony to speak of.
func (t Training) String() string {
	switch {
	case t.Load == 0:
		return "no session load given"
	case t.Monotony == nil:
		return fmt.Sprintf("load %.0f; every day alike: no monotony", t.Load)
	default:
		return fmt.Sprintf("load %.0f, monotony %.1f, strain %.0f", t.Load, *t.Monotony, *t.Strain)
	}
}
