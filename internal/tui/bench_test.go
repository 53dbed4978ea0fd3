package tui

import (
	"testing"
	"time"
)

// BenchmarkSecond is what one second of the wall costs, from the state to the text
// that the renderer compares: once a second, and once a key.
func BenchmarkSecond(b *testing.B) {
	for _, size := range sizes {
		b.Run(itoa(size[0])+"x"+itoa(size[1]), func(b *testing.B) {
			s := begin(b, class(everyPart(), 16, 4))
			l := Lay(size[0], size[1], Ask{Tiles: 16})
			var big Raster
			var old *Scene
			for i := 0; b.Loop(); i++ {
				old = NewScene(s.st, ten+time.Duration(i%600)*time.Second, old)
				_ = old.Draw(size[0], size[1], &l, &plainLook, &big).String(plainLook.theme)
			}
		})
	}
}
