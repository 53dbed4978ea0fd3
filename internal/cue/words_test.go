package cue_test

import (
	"testing"

	"hawser/internal/cue"
	"hawser/internal/floor"
)

func TestNext(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		spot floor.Spot
		want string
	}{
		{"Maren", floor.Spot{On: "A", Ends: 1, Stack: []string{"20 kg", "20 kg", "10 kg"}}, "Next: Maren, on A. 2 times 20 kilos and 10 kilos."},
		{"Eskil", floor.Spot{On: "B", Ends: 1}, "Next: Eskil, on B. Empty."},
		{"Eskil", floor.Spot{On: "trap bar", Ends: 2, Stack: []string{"45 lb", "2.5 kg"}}, "Next: Eskil, on trap bar. 45 pounds and 2.5 kilos, each end."},
		{"Maren", floor.Spot{On: "C", Ends: 2, Est: true}, "Next: Maren, on C. Empty. Estimated."},
		{"Maren", floor.Spot{On: "C", Ends: 1, Stack: []string{"15 kg", "10 kg", "5 kg"}}, "Next: Maren, on C. 15 kilos, 10 kilos and 5 kilos."},
		{"Maren", floor.Spot{}, "Next: Maren. Empty."},
	}
	for _, tt := range tests {
		if got := cue.Next(tt.name, tt.spot); got != tt.want {
			t.Errorf("Next(%q, %+v) = %q, want %q", tt.name, tt.spot, got, tt.want)
		}
	}
}
