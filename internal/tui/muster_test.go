package tui

import (
	"strings"
	"testing"

	"hawser/internal/kit"
	"hawser/internal/measure"
)

// TestEveryKindOfPlateIsSeen: a pile has more kinds of plate than a small screen has rows;
// the one that the arrows have come to is on it all the same.
func TestEveryKindOfPlateIsSeen(t *testing.T) {
	t.Parallel()
	w := world(everyPart(), 4, 4, &notebook{})
	w.Kit.Plates = nil
	for n := range measure.Mass(30) {
		w.Kit.Plates = append(w.Kit.Plates, kit.Plates{Stamp: "plate " + itoa(int(n)+1) + ".", Mass: (40 - n) * measure.Kilogram, Count: 2})
	}
	for _, size := range sizes {
		m := modelOn(w, size)
		v := newMuster(w, w.Sessions[0])
		for v.at = range w.Kit.Plates {
			if seen := v.draw(m).String(plainLook.theme); !strings.Contains(seen, w.Kit.Plates[v.at].Stamp) {
				t.Fatalf("at %d x %d the screen lacks %s:\n%s", size[0], size[1], w.Kit.Plates[v.at].Stamp, seen)
			}
		}
	}
}
