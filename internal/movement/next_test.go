package movement

import "testing"

// TestNext goes round the rack: what is done with the same implement follows, and a
// name that is on no rack stays what it is.
func TestNext(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"handles deadlift": "handles carry",
		"handles carry":    "handles deadlift",
		"deadlift":         "deadlift",
		"rowing a boat":    "rowing a boat",
	} {
		if got := Next(name); got != want {
			t.Errorf("Next(%q) = %q, want %q", name, got, want)
		}
	}
	seen := map[string]bool{}
	for at := "sled row"; !seen[at]; at = Next(at) {
		seen[at] = true
	}
	if len(seen) < 3 || seen["vehicle pull"] {
		t.Errorf("from the sled row one comes by %v; want the sled's movements, no vehicle", seen)
	}
}
