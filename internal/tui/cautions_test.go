package tui

import (
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// plain is a screen's words without its line breaks and marks.
func plain(screens ...string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.NewReplacer("●", "", "▲", "").Replace(strings.Join(screens, " "))), " "))
}

// The board has every caution of its movements and those of every class, on the
// smallest screen too, page by page.
func TestBoardHasItsCautions(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{40, 12}, {80, 24}, {200, 60}} {
		d := newDesk(t, size)
		d.strike("n1Eve")
		d.to("movement")
		d.strike("b") // a backward drag
		d.strike("Ctrl-S", "Enter", "*", "Enter")
		screens := []string{d.screen()}
		for range 20 {
			d.m.on.key(d.m, input{key: "pgdown"})
			screens = append(screens, d.screen())
		}
		text := plain(screens...)
		mv, _ := movement.Find("backward drag")
		for _, caution := range append(mv.Cautions, movement.General()...) {
			words := strings.ToLower(caution)
			if words == "a newcomer does half" {
				continue // nobody here is one
			}
			if i := strings.LastIndex(words, " "); !strings.Contains(text, words) && !strings.Contains(text, words[:i]) {
				t.Errorf("%d × %d: no screen of the board says %q:\n%s", size[0], size[1], caution, strings.Join(screens, "\n"))
			}
		}
	}
}

// Before a ramp, and when somebody is stopped, the screen and line mode say what to
// look out for.
func TestRampAndStopSayTheirCaution(t *testing.T) {
	t.Parallel()
	st := floor.New()
	st.Apply(floor.Stamped{E: floor.Opened{Plan: class(session.Part{Format: session.Ramp, Rest: 3 * time.Minute, Cap: 20 * time.Minute}, 2, 1)}})
	for _, tt := range []struct {
		event floor.Event
		want  string
	}{
		{floor.Started{Part: 1, At: 10 * time.Second}, "part 1 starts in 0:10; stop at pain, a slip or dizziness"},
		{floor.Started{Part: 1}, "part 1 begins; stop at pain, a slip or dizziness"},
		{floor.Left{Who: "Maren"}, "Maren has stopped for today; chest pain or a faint: call for help"},
	} {
		if got, _ := sentence(st, floor.Stamped{E: tt.event}, nil); got != tt.want {
			t.Errorf("sentence(%T) = %q, want %q", tt.event, got, tt.want)
		}
	}
}
