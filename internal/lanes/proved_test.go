package lanes

import (
	"os"
	"path/filepath"
	"testing"
)

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

// What is too large to prove is held to what a search by chance elsewhere found in
// half a minute: 45 plates.
func TestLargeClassComesNear(t *testing.T) {
	t.Parallel()
	in := archive(t, "testdata/sixteen.txtar")
	b := Make(in)
	if b.Proved || b.PlatesMoved > 47 || b.Bound > 44 || b.Bound < 20 {
		t.Errorf("Make(sixteen) moves %d plates, at least %d, proved %v, want 47 or fewer, 20 to 44, not proved", b.PlatesMoved, b.Bound, b.Proved)
	}
	if again := Make(in); again.PlatesMoved != b.PlatesMoved || again.Parts[0].Heats[0].Lanes[0].Turns[0].Athlete != b.Parts[0].Heats[0].Lanes[0].Turns[0].Athlete {
		t.Error("the same class makes two boards")
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

// The demo sessions are of every format, with lanes of their own clock and a pile
// that is short among them.
func BenchmarkDemoSessions(b *testing.B) {
	const home = "../../sessions/boathouse/"
	text := func(name string) string {
		data, err := os.ReadFile(name)
		if err != nil {
			b.Fatal(err)
		}
		return string(data)
	}
	sessions, err := filepath.Glob(home + "sessions/*.toml")
	if err != nil || len(sessions) == 0 {
		b.Fatal("no demo sessions", err)
	}
	for _, name := range sessions {
		b.Run(filepath.Base(name), func(b *testing.B) {
			b.ReportAllocs()
			in := read(b, text(name), text(home+"kit.toml"), text(home+"roster.toml"))
			for b.Loop() {
				Make(in)
			}
		})
	}
}
