package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
)

// TestSlowDisk holds that presses keep their instants and their order while the
// log takes its time, and that the digits go on.
func TestSlowDisk(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		if err := unmoved(slowly(t).kept); err != nil {
			t.Error(err)
		}
	})
}

// TestSlowDiskControl: a class that stamps a press when the disk has it, and one that keeps
// them in another order, is found out.
func TestSlowDiskControl(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		log := slowly(t)
		late := slices.Clone(log.kept)
		for i := range late {
			late[i].T = log.when[i].Sub(log.when[0])
		}
		slices.Reverse(log.kept)
		for what, kept := range map[string][]floor.Stamped{"stamped when they were kept": late, "kept the other way round": log.kept} {
			if unmoved(kept) == nil {
				t.Errorf("presses %s are said to be right: the suite cannot see", what)
			}
		}
	})
}

// slowly is four presses, one right after the other, on a disk that takes three seconds for each.
func slowly(t *testing.T) *notebook {
	t.Helper()
	log := &notebook{slow: 3 * time.Second}
	play(t, world(everyPart(), 4, 4, log), 100, 36, func(s *stage) {
		s.keys("enter", "enter", "enter", "space")
		s.wait(40 * time.Second)
		s.keys("m", "e", "t", "o")
		var at time.Duration
		s.m.see(func(m *Model) { at = m.live.st.Face(m.live.shown()).Left })
		s.wait(4 * time.Second)
		s.wantDigits(measure.Clock(ceil(at - 4*time.Second)))
		s.wait(12 * time.Second)
	})
	return log
}

// unmoved wants the presses to bear the time of their key, and to be in its order.
func unmoved(kept []floor.Stamped) error {
	var order []string
	var last time.Duration
	for _, e := range kept {
		if p, ok := e.E.(floor.Pressed); ok {
			order = append(order, p.Who)
			if last > 0 && e.T-last > time.Second {
				return fmt.Errorf("%s bears %v, the press before %v: the disk has moved it", p.Who, e.T, last)
			}
			last = e.T
		}
	}
	if got := strings.Join(order, " "); got != "Maren Eskil Tuva Odd" {
		return fmt.Errorf("presses were kept as %s", got)
	}
	return nil
}
