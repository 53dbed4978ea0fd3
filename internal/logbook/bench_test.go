package logbook

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"hawser/internal/floor"
)

// BenchmarkAppend is one press kept: on the disk, and in memory, where a sync costs
// nothing and what is left is the line itself.
func BenchmarkAppend(b *testing.B) {
	for _, c := range []struct {
		name string
		open func() (*Home, error)
	}{
		{"synced", func() (*Home, error) { return Open(b.TempDir()) }},
		{"in memory", func() (*Home, error) {
			return &Home{files: nowhere{newMemory()}, close: func() error { return nil }}, nil
		}},
	} {
		b.Run(c.name, func(b *testing.B) {
			h, err := c.open()
			if err != nil {
				b.Fatal(err)
			}
			defer h.Close()
			w, err := h.Create(floor.Stamped{N: 1, E: openedBy(run, opening())})
			if err != nil {
				b.Fatal(err)
			}
			n := 1
			b.ReportAllocs()
			for b.Loop() {
				n++
				err := w.Append(floor.Stamped{N: n, T: time.Duration(n) * time.Millisecond, E: floor.Pressed{Who: "Maren", Part: 1, Round: 3, As: "done"}})
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// nowhere takes bytes and keeps none.
type nowhere struct{ *memory }

func (n nowhere) Create(name string) (file, error) {
	f, err := n.memory.Create(name)
	return sink{f}, err
}

type sink struct{ file }

func (sink) Write(b []byte) (int, error) { return len(b), nil }
func (sink) Sync() error                 { return nil }

// BenchmarkRead is a class of 16 people and 300 presses read back.
func BenchmarkRead(b *testing.B) {
	var all []byte
	p := ""
	for n := 1; n <= 320; n++ {
		var e floor.Event = floor.Pressed{Who: "Maren", Part: 1, Round: 3, As: "done"}
		if n == 1 {
			e = openedBy(run, opening())
		}
		l, err := encode(n, opening(), time.Duration(n)*time.Second, e, p)
		if err != nil {
			b.Fatal(err)
		}
		p, all = l.c, append(all, l.raw...)
	}
	b.SetBytes(int64(len(all)))
	b.ReportAllocs()
	for b.Loop() {
		log, err := Read("x", bytes.NewReader(all))
		if err != nil || len(log.Events) != 320 {
			b.Fatal(fmt.Sprint(log.Damage), err)
		}
	}
}
