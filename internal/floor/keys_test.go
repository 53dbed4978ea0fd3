package floor

import (
	"testing"
	"time"
)

func TestHeldKeyIsOnePress(t *testing.T) {
	t.Parallel()
	var k Keys
	gap := 120 * time.Millisecond
	presses := 0
	// a press, the first repeat after half a second, then one every 30 ms for 5 s
	for at := time.Duration(0); at < 5*time.Second; at += 30 * time.Millisecond {
		if at > 0 && at < 500*time.Millisecond {
			continue
		}
		if !k.Repeat("m", at, gap) {
			presses++
		}
	}
	if presses != 2 { // the first repeat cannot be told from a second press; the 2 s rule takes it
		t.Errorf("presses = %d, want 2", presses)
	}
	if k.Repeat("t", 5*time.Second, gap) {
		t.Error("another key is a repeat, want a press")
	}
	if k.Repeat("m", 5110*time.Millisecond, gap) {
		t.Error("140 ms after the last repeat is a repeat, want a press")
	}
	if !k.Repeat("m", 5229*time.Millisecond, gap) || k.Repeat("m", 5349*time.Millisecond, gap) {
		t.Error("119 ms after is a press, or 120 ms a repeat")
	}
}
