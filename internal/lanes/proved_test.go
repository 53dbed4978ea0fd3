package lanes

import "testing"

// The instances, and the plates that the best arrangement of each moves.
var instances = []struct {
	name   string
	plates int
}{
	{"nine-ample", 75},
	{"nine-mixed", 195},
	{"nine-short", 242},
	{"nine-ties", 0},
	{"twelve-mixed", 212},
}

func TestInstancesAreProved(t *testing.T) {
	t.Parallel()
	for _, c := range instances {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := Make(archive(t, "testdata/"+c.name+".txtar"))
			if !b.Proved || b.PlatesMoved != c.plates || b.Bound != c.plates {
				t.Errorf("Make(%s) moves %d plates, at least %d, proved %v, want %d, proved", c.name, b.PlatesMoved, b.Bound, b.Proved, c.plates)
			}
		})
	}
}

func BenchmarkInstances(b *testing.B) {
	for _, c := range instances {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			in := archive(b, "testdata/"+c.name+".txtar")
			for b.Loop() {
				Make(in)
			}
		})
	}
}
