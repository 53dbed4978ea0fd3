package cli

import (
	"math"
	"testing"
	"time"

	"github.com/adrg/xdg"
)

// TestReadFrom checks the reading distance. Source: h = 2 D tan(angle / 2); 16 minutes
// of arc the least and 20 preferred by ISO 9241-3 and NUREG-0700 rev 2, 1.3.1-4, whose
// own form of it gives the same heights.
func TestReadFrom(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ metres, at20, at16 float64 }{
		{2, 11.636, 9.308}, {5, 29.089, 23.271}, {10, 58.178, 46.542}, {15, 87.267, 69.813},
	} {
		if ease, _ := readFrom(tt.at20 / 1000); math.Abs(ease-tt.metres) > 0.001 {
			t.Errorf("%.3f mm are read with ease from %.4f m, want %.4f", tt.at20, ease, tt.metres)
		}
		if _, limit := readFrom(tt.at16 / 1000); math.Abs(limit-tt.metres) > 0.001 {
			t.Errorf("%.3f mm are at the limit from %.4f m, want %.4f", tt.at16, limit, tt.metres)
		}
	}
}

// The state folder is named in the environment: this test runs alone.
func TestSpeakerIsKept(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	xdg.Reload()
	t.Cleanup(xdg.Reload)
	if got := speakerLate(); got != 0 {
		t.Errorf("speakerLate = %v before anything was kept, want 0", got)
	}
	for _, late := range []time.Duration{140 * time.Millisecond, -30 * time.Millisecond, 0} {
		if _, err := keepSpeaker(late); err != nil {
			t.Fatal(err)
		}
		if got := speakerLate(); got != late {
			t.Errorf("kept %v, read %v", late, got)
		}
	}
}
